"""Every entry of a project file with the place where it stands: what can be taken away, or be written `unknown`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import yaml

from tests.chain.sweep.values import PARTS, RECORDS
from tests.rules.mutations.sweep import VOCABULARY

TAKEN_AWAY, UNKNOWN = "taken away", "unknown"
CHANGES = (TAKEN_AWAY, UNKNOWN)


@dataclass(frozen=True)
class Entry:
    """A key with its value, or one item of a list."""

    field: str  # what the table of reasons calls it: ``coping.outer_drip``, ``coping``, ``transition``
    name: str  # the key; "" of an item
    text: str  # of the value, its first line
    line: int  # counted from 1
    start: int
    end: int
    value: int  # where the value begins
    value_end: int
    alone: bool  # whether it is the only item of its list

    def without(self, file: str) -> str:
        """The file with nothing where this stands; every other line keeps its number."""
        return file[: self.start] + _empty(file[self.start : self.end]) + file[self.end :]

    def left_open(self, file: str) -> str:
        """The file with `unknown` in place of the value."""
        lines = _empty(file[self.value : self.value_end])
        return f"{file[: self.value]}unknown{lines}{file[self.value_end :]}"


@dataclass(frozen=True)
class Loss:
    """One entry taken away, or written `unknown`."""

    entry: Entry
    change: str  # one of CHANGES

    def of(self, file: str) -> str:
        """The file with this one change."""
        return self.entry.without(file) if self.change == TAKEN_AWAY else self.entry.left_open(file)

    @property
    def id(self) -> str:
        """Line, field, what stands there, and the change."""
        return f"{self.entry.line} {self.entry.field} {self.entry.text}: {self.change}"


def losses(file: str) -> Iterator[Loss]:
    """Every loss of every entry of a project file; `unknown` stands in place of values alone."""
    for entry in entries(file):
        yield Loss(entry, TAKEN_AWAY)
        if entry.name:
            yield Loss(entry, UNKNOWN)


def entries(file: str) -> tuple[Entry, ...]:
    """Every key and every item of a project file, in its order."""
    return tuple(_below(yaml.compose(file, Loader=yaml.CSafeLoader), "", file, _roles(file)))


def _below(node: Any, what: str, file: str, roles: Mapping[str, str]) -> Iterator[Entry]:
    """The entries below a node that describes ``what``: a role, a record, or a key of the file itself."""
    if not isinstance(node, yaml.MappingNode):
        return
    for number, (key, value) in enumerate(node.value):
        name = str(key.value)
        start, end = key.start_mark.index, _end(value, file)
        if node.flow_style:
            start, end = _between(node.value, number, start, end)
        own = f"{what}.{name}" if what else name
        at, empty = value.start_mark.index, value.start_mark.index == value.end_mark.index
        if not empty:
            yield _entry(own, name, file, start, end, at, _end(value, file))
        yield from _inside(value, name, what, own, file, roles)


def _inside(
    value: Any, name: str, what: str, own: str, file: str, roles: Mapping[str, str]
) -> Iterator[Entry]:
    """The entries below the value of a key: a list, a record of its own, or a map of reasons or changes."""
    if isinstance(value, yaml.SequenceNode):
        yield from _items(value, name, own, file, roles)
    elif name in ("types", "changes"):
        for key, below in getattr(value, "value", ()):
            inner = "parapet" if name == "types" else roles.get(str(key.value), str(key.value))
            end = _end(below, file)
            yield _entry(own, "", file, key.start_mark.index, end, below.start_mark.index, end)
            yield from _below(below, inner, file, roles)
    elif name in VOCABULARY.records and not what:
        yield from _below(value, name, file, roles)
    elif name == "existing":
        yield from _below(value, "existing", file, roles)
    else:
        yield from _below(value, own, file, roles)


def _items(node: Any, name: str, own: str, file: str, roles: Mapping[str, str]) -> Iterator[Entry]:
    for number, item in enumerate(node.value):
        start, end = item.start_mark.index, _end(item, file)
        if node.flow_style:
            start, end = _between([(one, one) for one in node.value], number, start, end)
        else:
            start = file.rindex("-", 0, start)
        what = _value(item, "role") if name in PARTS else RECORDS.get(name, own)
        alone = len(node.value) == 1
        yield _entry(what, "", file, start, end, item.start_mark.index, _end(item, file), alone)
        yield from _below(item, what, file, roles)


def _entry(
    field: str, name: str, file: str, start: int, end: int, value: int, value_end: int, alone: bool = False
) -> Entry:
    text = file[value:value_end].partition("\n")[0].strip()
    return Entry(field, name, text, file.count("\n", 0, start) + 1, start, end, value, value_end, alone)


def _between(pairs: list[Any], number: int, start: int, end: int) -> tuple[int, int]:
    """An entry of a map or list in brackets, with the comma that parts it from its neighbor."""
    if number + 1 < len(pairs):
        return start, pairs[number + 1][0].start_mark.index
    if number:
        return pairs[number - 1][1].end_mark.index, end
    return start, end


def _end(node: Any, file: str) -> int:
    """Where a value ends: what stands in lines of its own ends where the next thing begins."""
    start, end = node.start_mark.index, node.end_mark.index
    return start + len(file[start:end].rstrip())


def _empty(text: str) -> str:
    """The lines of a text without what stands in them."""
    return "\n" * text.count("\n")


def _roles(file: str) -> dict[str, str]:
    """The role of every component by its id."""
    found: dict[str, str] = {}

    def look(node: Any) -> None:
        if isinstance(node, yaml.SequenceNode):
            for one in node.value:
                look(one)
        elif isinstance(node, yaml.MappingNode):
            if role := _value(node, "role"):
                found[_value(node, "id") or role] = role
            for _, below in node.value:
                look(below)

    look(yaml.compose(file, Loader=yaml.CSafeLoader))
    return found


def _value(node: Any, name: str) -> str:
    pairs = node.value if isinstance(node, yaml.MappingNode) else ()
    return next((str(value.value) for key, value in pairs if key.value == name), "")
