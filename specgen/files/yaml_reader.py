"""YAML files in: every key and value with its file, line and column, every fault as an InputError.

The parser written in C reads sound files. At a syntax error, and where the two are known to differ, the
parser written in Python gives the verdict, so that what is accepted and what is said do not depend on how
PyYAML was built.
"""

from __future__ import annotations

import codecs
import contextlib
import os
import re
from typing import Any, overload

import yaml

from specgen.files.foreign import foreign_bytes, refused
from specgen.files.marks import InputError, InputProblem, Mark, in_order
from specgen.files.yaml_events import Limits, MarkedList, MarkedMap, TreeBuilder
from specgen.files.yaml_scalars import bad_characters, why_bad
from specgen.files.yaml_words import mark_at, plain_words

__all__ = ["Limits", "MarkedList", "MarkedMap", "parsers_differ", "read_yaml", "read_yaml_text"]

_DEFAULT = Limits()
_SAVE_UTF8 = "save the file as UTF-8"
# UTF-32 first: its little-endian mark begins with the one of UTF-16.
_OTHER_ENCODINGS = (
    (codecs.BOM_UTF32_LE, "UTF-32"),
    (codecs.BOM_UTF32_BE, "UTF-32"),
    (codecs.BOM_UTF16_LE, "UTF-16"),
    (codecs.BOM_UTF16_BE, "UTF-16"),
)
_NO_TEXT_STARTS = frozenset((b"%", b"\x89", b"\xff", b"G", b"\xd0", b"\x1f", b"7", b"{", b"P"))
# What the two parsers read differently: a tab outside a whole-line comment, and '#' right after '|' or '>'.
_BREAKS = "\n\r\x85\u2028\u2029"
_TAB = re.compile(f"(?:\\A|(?<=[{_BREAKS}]))(?! *#)[^\t{_BREAKS}]*\t")
_BLOCK_SIGN_GLUED = re.compile(r"[|>][-+0-9]{0,2}#")


@overload
def read_yaml(
    path: str | os.PathLike[str], limits: Limits = ..., *, want: type[dict[Any, Any]]
) -> MarkedMap: ...
@overload
def read_yaml(path: str | os.PathLike[str], limits: Limits = ..., *, want: type[list[Any]]) -> MarkedList: ...
@overload
def read_yaml(
    path: str | os.PathLike[str], limits: Limits = ..., *, want: None = ...
) -> MarkedMap | MarkedList: ...
def read_yaml(
    path: str | os.PathLike[str], limits: Limits = _DEFAULT, *, want: type | None = None
) -> MarkedMap | MarkedList:
    """Read one YAML file.

    Parameters:
        path: the file; marks show it as given here.
        limits: the largest file accepted.
        want: `dict` or `list`, if only that is accepted at the top.

    Raises:
        InputError: with every problem found; a syntax error ends the search.
    """
    name = os.fspath(path)
    return _read_text(_decoded(foreign_bytes(name, limits.bytes, "a YAML file"), name), name, limits, want)


@overload
def read_yaml_text(
    text: str, name: str, limits: Limits = ..., *, want: type[dict[Any, Any]]
) -> MarkedMap: ...
@overload
def read_yaml_text(text: str, name: str, limits: Limits = ..., *, want: type[list[Any]]) -> MarkedList: ...
@overload
def read_yaml_text(
    text: str, name: str, limits: Limits = ..., *, want: None = ...
) -> MarkedMap | MarkedList: ...
def read_yaml_text(
    text: str, name: str, limits: Limits = _DEFAULT, *, want: type | None = None
) -> MarkedMap | MarkedList:
    """Read YAML from a string; `name` stands for the file in marks. Otherwise as `read_yaml`.

    >>> project = read_yaml_text("height: 30 in\\nlayers: [wrb]\\n", "p.yaml")
    >>> project["height"], str(project.values_at["height"]), str(project["layers"].items_at[0])
    ('30 in', 'p.yaml:1:9', 'p.yaml:2:10')
    """
    size = len(text.encode("utf-8", "surrogatepass"))
    if size > limits.bytes:
        raise refused(name, f"the file has {size} bytes, limit {limits.bytes}")
    return _read_text(text.removeprefix("\ufeff"), name, limits, want)


def _decoded(data: bytes, name: str) -> str:
    if data[:1] in _NO_TEXT_STARTS:
        from specgen.files.other_files import other_kind, what_to_give  # zipfile is slow to load

        if what := other_kind(data):
            raise refused(name, f"this is {what}, not a YAML file", what_to_give(what))
    for start, encoding in _OTHER_ENCODINGS:
        if data.startswith(start):
            raise refused(name, f"the file is in {encoding}, not in UTF-8", _SAVE_UTF8)
    if b"\0" in data[:4]:
        raise refused(name, "the file is not text in UTF-8; it may be in UTF-16", _SAVE_UTF8)
    data = data.removeprefix(codecs.BOM_UTF8)
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8")
        byte = f"0x{data[error.start]:02X}"
        problem = InputProblem(
            mark_at(before, len(before), name), f"the byte {byte} is not UTF-8", _SAVE_UTF8
        )
        raise InputError([problem]) from None


def _read_text(text: str, name: str, limits: Limits, want: type | None) -> MarkedMap | MarkedList:
    bad = bad_characters(text)
    if bad:
        mark = mark_at(text, text.index(chr(int(bad[2:], 16))), name)
        raise InputError(
            [
                InputProblem(
                    mark, f"the character {bad} is not accepted in a file: {why_bad(bad)}", "remove it"
                )
            ]
        )
    builder = _built(text, name, limits)
    root = builder.root
    if root is None and not builder.problems:
        raise refused(name, "the file is empty", "write the keys, or name another file")
    if not isinstance(root, want or (dict, list)):
        builder.problems.append(_wrong_top(builder, name, want))
    if builder.problems:
        raise InputError(in_order(builder.problems))
    found: MarkedMap | MarkedList = root
    return found


def _wrong_top(builder: TreeBuilder, name: str, want: type | None) -> InputProblem:
    found = {MarkedMap: "a map of keys", MarkedList: "a list"}.get(type(builder.root), "a single value")
    if want is list:
        need, fix = "a list", "write lines '- item'"
    else:
        need = "a map of keys" if want is dict else "a map of keys or a list"
        fix = "write lines 'key: value'"
    return InputProblem(builder.root_mark or Mark(name, 1, 1), f"the file holds {found}, not {need}", fix)


def parsers_differ(text: str) -> bool:
    """Whether a text holds what PyYAML's two parsers are known to read differently."""
    return bool(("\t" in text and _TAB.search(text)) or _BLOCK_SIGN_GLUED.search(text))


def _built(text: str, name: str, limits: Limits) -> TreeBuilder:
    if yaml.__with_libyaml__ and not parsers_differ(text):
        builder = TreeBuilder(name, limits, doubting=True)
        # At an error or a doubt the parser below reads the file again, and says more about it.
        with contextlib.suppress(yaml.YAMLError):
            builder.build(yaml.CSafeLoader(text).get_event)
            return builder
    builder = TreeBuilder(name, limits, doubting=False)
    parser = yaml.SafeLoader(text)
    try:
        builder.build(parser.get_event)
    except yaml.MarkedYAMLError as error:
        raise InputError(in_order([*builder.problems, plain_words(error, text, name)])) from None
    except (ValueError, OverflowError):
        # PyYAML lets Python's own error out at "\UFFFFFFFF" and at a %YAML line of thousands of digits.
        at = parser.get_mark()
        problem = InputProblem(
            Mark(name, at.line + 1, at.column + 1),
            "there is no such character or number",
            "correct it, or remove it",
        )
        raise InputError(in_order([*builder.problems, problem])) from None
    return builder
