"""Changes of a YAML text drawn by chance, and the oracle: the same change of plain data, and the lines that must stay."""

from __future__ import annotations

import copy
import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import yaml

from specgen.files.yaml_comments import comments
from specgen.files.yaml_edit import insert_item, move_item, remove, remove_item, set_value
from specgen.files.yaml_reader import read_yaml_text
from specgen.files.yaml_scalars import as_written

VALUES: tuple[Any, ...] = (
    *("1/2 in", "a, b: {c}", True, 12, [], {}, "long " * 12, "7", ""),
    *(["a", {"b": "c"}], {"x": 1, "y": [2, {"z": "~"}]}),
)
BLOCKS = (
    ("- a\n- b: c  # kept\n  d: 1", ["a", {"b": "c", "d": 1}]),
    ("x: 1\ny:\n  - 2", {"x": 1, "y": [2]}),
)


@dataclass(frozen=True)
class Drawn:
    """One change: its name and arguments, what it makes of a text, and of plain data."""

    what: str
    path: tuple[Any, ...]
    words: str = ""
    data: Any = None
    index: int = 0
    to: int = 0

    def of_text(self, text: str) -> str:
        match self.what:
            case "set":
                return set_value(text, self.path, self.words)
            case "remove":
                return remove(text, self.path)
            case "remove item":
                return remove_item(text, self.path, self.index)
            case "insert":
                return insert_item(text, self.path, self.index, self.words)
            case _:
                return move_item(text, self.path, self.index, self.to)

    def of_data(self, data: Any) -> Any:
        data = copy.deepcopy(data)
        held = data
        for key in self.path[:-1] if self.what in ("set", "remove") else self.path:
            held = held[key]
        match self.what:
            case "set":
                held[self.path[-1]] = self.data
            case "remove":
                del held[self.path[-1]]
            case "remove item":
                del held[self.index]
            case "insert":
                held.insert(self.index, self.data)
            case _:
                held.insert(self.to, held.pop(self.index))
        return data


def places(node: Any, at: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], Any]]:
    yield at, node
    for key, value in (
        node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    ):
        yield from places(value, (*at, key))


def drawn(data: Any, chance: random.Random) -> Drawn:
    """A change of some data."""
    every = list(places(data))
    inner = [path for path, _ in every if path]
    maps = [path for path, value in every if isinstance(value, dict)]
    lists = [(path, value) for path, value in every if isinstance(value, list)]
    full = [(path, value) for path, value in lists if value]
    words, value = chance.choice([*((as_written(one), one) for one in VALUES), *BLOCKS])
    what = chance.choice(("set", "set", "add", "remove", "remove item", "insert", "move"))
    if what == "add" and maps:
        return Drawn("set", (*chance.choice(maps), "new: key"), words, value)
    if what == "insert" and lists:
        path, held = chance.choice(lists)
        return Drawn("insert", path, words, value, chance.randint(0, len(held)))
    if what in ("remove item", "move") and full:
        path, held = chance.choice(full)
        return Drawn(what, path, index=chance.randrange(len(held)), to=chance.randrange(len(held)))
    if not inner:
        return (
            Drawn("set", ("new",), words, value)
            if isinstance(data, dict)
            else Drawn("insert", (), words, value)
        )
    return Drawn("set" if what == "set" else "remove", chance.choice(inner), words, value)


def plain(text: str) -> Any:
    """What a text says, as plain data."""

    def copied(node: Any) -> Any:
        if isinstance(node, dict):
            return {key: copied(value) for key, value in node.items()}
        return [copied(one) for one in node] if isinstance(node, list) else node

    return copied(read_yaml_text(text, "p.yaml"))


def typed(node: Any) -> Any:
    """Data in which `1` and `yes` differ, and the order of keys does not count."""
    if isinstance(node, dict):
        return {key: typed(value) for key, value in node.items()}
    return [typed(one) for one in node] if isinstance(node, list) else (type(node), node)


@dataclass(frozen=True)
class Step:
    """An entry on the way to what changes: its lines (counted from 0, the last one behind it), by another's marks."""

    first: int
    last: int
    leads: bool
    value: yaml.Node
    siblings: int
    following: int  # the line of the next entry; -1 where there is none

    @property
    def flow(self) -> bool:
        return isinstance(self.value, yaml.CollectionNode) and bool(self.value.flow_style)


def last_line(node: yaml.Node) -> int:
    """The line behind a node."""
    if isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
        last = node.value[-1]
        return last_line(last[1] if isinstance(last, tuple) else last)
    mark: Any = node.end_mark
    return int(mark.line if mark.column == 0 else mark.line + 1)


def steps(text: str, path: tuple[Any, ...]) -> list[Step]:
    """The entries on the way of a path, as far as it leads."""
    bare = text.removeprefix("\ufeff")
    node = yaml.compose(bare, yaml.SafeLoader)
    lines, found = bare.splitlines(), []
    for key in path:
        entries: list[tuple[yaml.Node, yaml.Node]] = [
            one if isinstance(one, tuple) else (one, one) for one in node.value if not isinstance(one, str)
        ]
        names = (
            [one[0].value for one in entries]
            if isinstance(node, yaml.MappingNode)
            else list(range(len(entries)))
        )
        if key not in names:
            break
        number = names.index(key)
        start: Any = entries[number][0].start_mark
        line, column = start.line, start.column
        if isinstance(key, int) and not node.flow_style:
            column = node.start_mark.column  # of its dash, which may stand on a line of its own
            while lines[line][column : column + 1] != "-":
                line -= 1
        after: Any = entries[number + 1][0].start_mark if number + 1 < len(entries) else None
        node = entries[number][1]
        leads = line < len(lines) and not lines[line][:column].strip()
        end = max(last_line(node), start.line + 1)
        found.append(Step(line, end, leads, node, len(entries), after.line if after else -1))
    return found


def region(text: str, change: Drawn) -> tuple[int, int]:
    """The first line that a change may touch, and the one behind the last."""
    path = (*change.path, change.index) if change.what == "remove item" else change.path
    way = steps(text, path)
    inside = change.what in ("insert", "move") or len(way) < len(path)
    flow = next((one for one in (way if inside else way[:-1]) if one.flow), None)
    whole = (0, len(text.splitlines()))
    if not way or (len(way) == 1 and len(path) == 1 and way[0].siblings == 1):
        return whole
    if yaml.compose(text.removeprefix("\ufeff"), yaml.SafeLoader).flow_style:
        return whole
    if flow is not None:
        return flow.first, flow.last
    last = way[-1]
    if change.what in ("remove", "remove item"):
        if last.siblings == 1:
            return way[-2].first, way[-2].last
        return last.first, last.last if last.leads else max(last.last, last.following + 1)
    return last.first, last.last


def held(text: str, change: Drawn) -> str:
    """Make a change, and hold the outcome against the oracle: data, comments, line ends, and the lines around it."""
    now = change.of_text(text)
    assert typed(plain(now)) == typed(change.of_data(plain(text))), change
    before = Counter(one.text for one in comments(text))
    assert before <= Counter(one.text for one in comments(now)), change
    if "\r\n" in text:
        assert now.count("\n") == now.count("\r\n"), change
    assert now.startswith("\ufeff") == text.startswith("\ufeff")
    assert text.endswith("\n") or not now.endswith("\n") or not text.splitlines()[-2].strip(), change
    old, new = (one.removeprefix("\ufeff").splitlines() for one in (text, now))
    first, last = region(text, change)
    if not text.endswith("\n"):  # where the last line goes, a blank one above it becomes the end of the text
        old, new = [*old, ""], [*new, ""]
    assert new[:first] == old[:first], change
    assert old[last:] == (new[last - len(old) :] if last < len(old) else []), change
    return now
