"""The format number of each kind of file, and the steps that make a current file of an older one.

A file without a number is of format 1. The steps rename keys and words in the tree that was read, so that every reader
sees the current format; `rewriting` makes the same changes in the text.
"""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fnmatch import fnmatchcase
from pathlib import Path
from typing import Any

from specgen.files.marks import InputError, InputProblem, Mark
from specgen.files.yaml_reader import MarkedList, MarkedMap, read_yaml, read_yaml_text
from specgen.intake.values import described
from specgen.intake.wrong_file import KEYS, file_words, refuse_other_kind

FORMAT = "format"


@dataclass(frozen=True)
class Renamed:
    """A key, or a word that stands as a value, has another name from one format on."""

    at: str  # where: `parapets/*/height`; `*` is any keys, and an item of a list counts from 0
    to: str
    word: str = ""  # the value that is renamed; "" for the key itself


# What changes from format 1 to 2, from 2 to 3, and so on. Format 2 brought the number and renamed nothing. The steps of
# a register count its formats; what one renames is to be renamed where the register's states are read.
STEPS: Mapping[str, tuple[tuple[Renamed, ...], ...]] = dict.fromkeys((*KEYS, "register"), ((),))


@dataclass(frozen=True)
class Splice:
    """What shall stand in place of the key or value at a mark."""

    mark: Mark
    now: str


def current(kind: str) -> int:
    """The format number that files of a kind bear now."""
    return 1 + len(STEPS[kind])


def checked(number: object, kind: str, mark: Mark) -> int:
    """A format number as written.

    Args:
        number: what stands there.
        kind: of file.
        mark: where it stands.

    Raises:
        InputError: it is no whole number of at least 1, or one that this program does not know.
    """
    newest = current(kind)
    if isinstance(number, bool) or not isinstance(number, int) or number < 1:
        what = f"`{FORMAT}`: {described(number)} stands where a whole number of at least 1 is wanted"
        raise InputError([InputProblem(mark, what, f"write `{FORMAT}: {newest}`")])
    if number > newest:
        what = f"{FORMAT} {number} is written for a newer specgen; this one knows {file_words(kind)} to format {newest}"
        raise InputError([InputProblem(mark, what, "use the specgen that wrote it, or a newer one")])
    return number


def steps_after(number: int, kind: str) -> Iterator[Renamed]:
    """What was renamed since a format, in order."""
    for step in STEPS[kind][number - 1 :]:
        yield from step


def brought_up(root: MarkedMap, kind: str) -> tuple[int, list[Splice]]:
    """Rename in a tree what later formats call otherwise, and number it as current.

    Returns:
        The number that the file bears, and the same changes for its text.

    Raises:
        InputError: the number cannot be used, or a key stands there under both its names.
    """
    at = root.values_at.get(FORMAT, root.mark)
    number, newest = checked(root.get(FORMAT, 1), kind, at), current(kind)
    splices = [one for change in steps_after(number, kind) for one in _renamed(root, change, "")]
    if FORMAT in root and number < newest:
        splices.append(Splice(at, str(newest)))
    root[FORMAT] = newest
    return number, splices


def _renamed(node: MarkedMap | MarkedList, change: Renamed, above: str) -> Iterator[Splice]:
    entries: list[tuple[Any, Any]] = list(node.items() if isinstance(node, MarkedMap) else enumerate(node))
    for key, value in entries:
        path = f"{above}{key}"
        if isinstance(value, MarkedMap | MarkedList):
            yield from _renamed(value, change, f"{path}/")
        if not fnmatchcase(path, change.at):
            continue
        if not change.word and isinstance(node, MarkedMap):
            yield Splice(node.keys_at[key], change.to)
            _rename_key(node, key, change.to)
        elif change.word and value == change.word:
            yield Splice(
                node.values_at[key] if isinstance(node, MarkedMap) else node.items_at[key], change.to
            )
            node[key] = change.to


def _rename_key(node: MarkedMap, old: str, new: str) -> None:
    if new in node:
        what = f"`{new}` stands here, and `{old}`, its former name, in line {node.keys_at[old].line}"
        raise InputError([InputProblem(node.keys_at[new], what, "delete one of them")])
    maps: tuple[dict[str, Any], ...] = (node, node.keys_at, node.values_at)
    for held in maps:
        items = [(new if key == old else key, value) for key, value in held.items()]
        held.clear()
        held.update(items)


def read_file(path: Path, kind: str) -> MarkedMap:
    """The tree of a file of a kind, in the current format; an older file is told on the log.

    Raises:
        InputError: it is no such file, or of a format that this program does not know.
    """
    return _of_kind(read_yaml(path), path, kind)


def read_file_text(text: str, path: Path, kind: str) -> MarkedMap:
    """As :func:`read_file`, of what a file holds or is about to hold.

    Raises:
        InputError: it is no such file, or of a format that this program does not know.
    """
    return _of_kind(read_yaml_text(text, str(path)), path, kind)


def _of_kind(root: MarkedMap | MarkedList, path: Path, kind: str) -> MarkedMap:
    if not isinstance(root, MarkedMap):
        what = f"the file holds a list, not {file_words(kind)}"
        raise InputError([InputProblem(root.mark, what, f"start with a line `{KEYS[kind][0]}:`")])
    refuse_other_kind(root, kind)
    number, _ = brought_up(root, kind)
    tell_older(path, kind, number, f"to rewrite it: specgen upgrade {shlex.quote(str(path))} --write")
    return root


def tell_older(path: Path, kind: str, number: int, then: str) -> None:
    """Log that a file is of an older format, and what becomes of it; without a set-up the log is standard error."""
    if number < current(kind):
        import logging  # wanted by older files alone

        log = logging.getLogger(__name__)
        log.warning("%s: format %d, read as format %d; %s", path, number, current(kind), then)
