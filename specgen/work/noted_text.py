"""A tree of values as the text of a project file, with comments above, beside and below its keys."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from textwrap import wrap
from typing import Any

from specgen.files.yaml_comments import Comment
from specgen.files.yaml_reader import MarkedMap
from specgen.intake.start import scalar

_WIDTH = 112
_KEY = re.compile(r"[a-z]+(_[a-z0-9]+)+")
_Place = tuple[int, int, "Noted", str]  # line, column, the mapping, its key


class Noted(dict[str, Any]):
    """A mapping with lines above it, and above, beside and below its keys; what begins with # is printed as it is."""

    def __init__(self, values: Mapping[str, Any], above: tuple[str, ...] = ()) -> None:
        super().__init__(values)
        self.above = above
        self.above_key: dict[str, tuple[str, ...]] = {}
        self.beside_key: dict[str, str] = {}
        self.below_key: dict[str, tuple[str, ...]] = {}
        self.take(values)

    def take(self, other: object) -> None:
        """Take over the lines of another mapping."""
        if isinstance(other, Noted):
            self.above = self.above or other.above
            self.above_key.update(other.above_key)
            self.beside_key.update(other.beside_key)
            self.below_key.update(other.below_key)


def noted(root: MarkedMap, typed: Iterable[Comment]) -> Noted:
    """A copy of a tree that may be changed, each comment of its text at the key that it belongs to."""
    places: list[_Place] = []
    tree = _copied(root, places)
    assert isinstance(tree, Noted)
    places.sort(key=lambda one: one[:2])
    order = [place[:2] for place in places]
    for one in typed:
        _attach(one, places, order)
    return tree


def _copied(node: Any, places: list[_Place]) -> Any:
    if isinstance(node, dict):
        out = Noted({key: _copied(value, places) for key, value in node.items()})
        if isinstance(node, MarkedMap):
            places += [(mark.line, mark.column, out, key) for key, mark in node.keys_at.items()]
        return out
    return [_copied(one, places) for one in node] if isinstance(node, list) else node


def _attach(one: Comment, places: list[_Place], order: list[tuple[int, int]]) -> None:
    """Above the key that follows a line of its own, below the one before where it stands deeper; else beside its key."""
    before = bisect_right(order, (one.line, one.column))
    if one.alone:
        after = bisect_left(order, (one.line + 1, 0))
        if after < len(places) and one.column <= places[after][1]:
            _above(places[after], one.text)
        else:
            shallow = (places[at] for at in range(before - 1, -1, -1) if places[at][1] <= one.column)
            _, _, node, key = next(shallow, places[-1])
            node.below_key[key] = (*node.below_key.get(key, ()), one.text)
        return
    _, _, node, key = place = places[before - 1]
    if key in node.beside_key:
        _above(place, one.text)
    else:
        node.beside_key[key] = one.text


def _above(place: _Place, text: str) -> None:
    _, _, node, key = place
    node.above_key[key] = (*node.above_key.get(key, ()), text)


def lines_of(node: Mapping[str, Any], indent: str = "") -> Iterator[str]:
    """The lines of a tree."""
    notes = node if isinstance(node, Noted) else Noted({})
    for key, value in node.items():
        yield from _comment(notes.above_key.get(key, ()), indent)
        name = key if isinstance(key, str) and _KEY.fullmatch(key) else scalar(str(key))
        first, *rest = _entry(f"{indent}{name}:", value, indent)
        yield f"{first}  {notes.beside_key[key]}" if key in notes.beside_key else first
        yield from rest
        yield from _comment(notes.below_key.get(key, ()), indent)


def _entry(start: str, value: Any, indent: str) -> Iterator[str]:
    if isinstance(value, dict) and value:
        yield start
        yield from lines_of(value, f"{indent}  ")
    elif isinstance(value, list) and value and all(not isinstance(one, dict | list) for one in value):
        yield f"{start} [{', '.join(map(_leaf, value))}]"
    elif isinstance(value, list) and value:
        yield start
        for one in value:
            yield from _item(one, f"{indent}  ")
    else:
        yield f"{start} {_leaf(value)}".rstrip()


def _item(value: Any, indent: str) -> Iterator[str]:
    if not isinstance(value, dict):
        yield f"{indent}- {_leaf(value)}"
        return
    yield from _comment(getattr(value, "above", ()), indent)
    lines = list(lines_of(value, f"{indent}  "))
    first = next(place for place, line in enumerate(lines) if not line.lstrip().startswith("#"))
    yield from (f"{indent}{line.lstrip()}" for line in lines[:first])
    yield f"{indent}- {lines[first].lstrip()}"
    yield from lines[first + 1 :]


def _comment(lines: tuple[str, ...], indent: str) -> Iterator[str]:
    for text in lines:
        if text.startswith("#"):
            yield f"{indent}{text}"
        else:
            yield from (f"{indent}# {line}" for line in wrap(text, _WIDTH - len(indent)))


def _leaf(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, dict):
        return "{}"
    return "[]" if isinstance(value, list) else scalar(str(value))
