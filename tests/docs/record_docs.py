"""What the source says of each key of a record: the comment at its field, else the words of the docstring on it."""

from __future__ import annotations

import ast
import inspect
import io
import re
import sys
import tokenize
import typing
from collections.abc import Iterator, Mapping
from dataclasses import fields
from functools import cache, cached_property
from pathlib import Path
from typing import Any


@cache
def _tree(module: str) -> tuple[ast.Module, Mapping[int, tuple[str, bool]]]:
    """The syntax tree of a module, and its comments by line: the words, and whether nothing else stands there."""
    text = Path(str(sys.modules[module].__file__)).read_text("utf-8")
    found: dict[int, tuple[str, bool]] = {}
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type == tokenize.COMMENT:
            words = token.string.lstrip("# ")
            found[token.start[0]] = (words, not token.line[: token.start[1]].strip())
    return ast.parse(text), found


@cache
def names_for_types(module: str) -> Mapping[str, Any]:
    """The names of a module with those that it imports for the type checker alone."""
    found = dict(vars(sys.modules[module]))
    for node in _tree(module)[0].body:
        if isinstance(node, ast.If) and getattr(node.test, "id", "") == "TYPE_CHECKING":
            exec(compile(ast.Module(node.body, []), module, "exec"), found)
    return found


def types_of(record: type) -> Mapping[str, Any]:
    """The types of a record's fields, then those of the properties that the encoder prints beside them."""
    found: dict[str, Any] = {}
    for base in bases(record):
        found |= typing.get_type_hints(base, dict(names_for_types(base.__module__)), {})
    if typing.is_typeddict(record):
        return found
    own = {one.name: found[one.name] for one in fields(record)}
    for name in getattr(record, "ALSO_PLAIN", ()):
        asked = getattr(record, name)
        call = asked.func if isinstance(asked, cached_property) else asked.fget
        own[name] = typing.get_type_hints(call, dict(names_for_types(call.__module__)), {})["return"]
    return own


def bases(record: type) -> tuple[type, ...]:
    """The record and what it is made of, the base first; a typed dict keeps its bases by themselves."""
    if typing.is_typeddict(record):
        names = [base.id for base in _class_at(record).bases if isinstance(base, ast.Name)]
        above = [
            one for one in map(names_for_types(record.__module__).get, names) if typing.is_typeddict(one)
        ]
        return (*(one for base in above for one in bases(base)), record)
    return tuple(reversed(record.__mro__[:-1]))


def docs_of(record: type) -> Mapping[str, str]:
    """The description of each key, as far as the source has one."""
    found = dict(_of_docstring(record))
    for base in bases(record):
        found |= dict(_of_comments(base))
    for name in getattr(record, "ALSO_PLAIN", ()):
        found[name] = sentence(inspect.getdoc(getattr(record, name)) or "")
    return found


def sentence(words: str) -> str:
    """The first paragraph of a docstring in one line.

    >>> sentence("What stands\\nabove.\\n\\nMore.")
    'What stands above.'
    """
    return " ".join(words.split("\n\n")[0].split()).replace("``", "`")


def _class_at(record: type) -> ast.ClassDef:
    """The place of a record in its source."""
    every = ast.walk(_tree(record.__module__)[0])
    return next(one for one in every if isinstance(one, ast.ClassDef) and one.name == record.__name__)


def _of_comments(record: type) -> Iterator[tuple[str, str]]:
    comments = _tree(record.__module__)[1]
    for one in _class_at(record).body:
        if not (isinstance(one, ast.AnnAssign) and isinstance(one.target, ast.Name)):
            continue
        lines = range(one.lineno, (one.end_lineno or one.lineno) + 1)
        words = [comments[line][0] for line in lines if line in comments]
        before, above = one.lineno - 1, list[str]()
        while before in comments and comments[before][1]:
            above.insert(0, comments[before][0])
            before -= 1
        words = [word for word in words or above if not word.startswith("noqa")]
        if words:
            yield one.target.id, " ".join(words)


def _of_docstring(record: type) -> Iterator[tuple[str, str]]:
    keys = record.__annotations__ if typing.is_typeddict(record) else [one.name for one in fields(record)]
    names = "|".join(sorted(keys, key=len, reverse=True))
    text = " ".join((record.__doc__ or "").split(">>>")[0].split())
    head = rf"(?:^|(?<=[.;:] ))(?:``)?((?:{names})(?:``)?(?:,? (?:and )?(?:``)?(?:{names})(?:``)?)*): "
    places = [*re.finditer(head, text)]
    for place, after in zip(places, [*places[1:], None][: len(places)], strict=True):
        words = text[place.end() : after.start() if after else len(text)].strip()
        for name in re.findall(rf"\b(?:{names})\b", place[1]):
            yield name, words.rstrip(";").replace("``", "`")
    before = text[: places[0].start()] if places else text
    for name in re.findall(rf"``({names})``", before):
        for one in re.split(r"(?<=\.) ", before):
            if one.startswith(f"``{name}``"):
                yield name, one.replace("``", "`")
