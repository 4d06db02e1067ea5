"""Changes of a YAML text at one place: comments, order, spelling and line ends of everything else stay as they are.

The text is spliced at the marks of its nodes, as ``specgen upgrade`` does; a library that writes the whole text anew
wraps lines and maps in brackets its own way, which changed 8 to 36 lines of each worked example where nothing was
changed. After each change the text is read again and held against the data it was meant to hold.
"""

from __future__ import annotations

import copy
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from specgen.files.marks import InputError, InputProblem, Mark
from specgen.files.yaml_nodes import BREAK, Edit, Entry, Node, Source, source, spliced
from specgen.files.yaml_scalars import text_as_written
from specgen.files.yaml_splice import (
    Words,
    as_lines,
    hoisted,
    into_empty,
    moved,
    region_start,
    replaced,
    with_item,
    with_key,
    without,
    words_of,
)
from specgen.files.yaml_wrap import wrapped

Path = Sequence[str | int]
NAME = "project.yaml"
_SIGN = "\ufeff"  # a byte order mark at the beginning stays
_IN_FILE = "change it in the text file"


@dataclass(frozen=True)
class _Place:
    """What a path leads to: the entries on the way, the last one last."""

    source: Source
    entries: tuple[Entry, ...]

    @property
    def node(self) -> Node:
        return self.entries[-1].value if self.entries else self.source.root

    @property
    def entry(self) -> Entry | None:
        return self.entries[-1] if self.entries else None

    @property
    def above(self) -> tuple[Node, ...]:
        """The collections that hold it, the outermost first."""
        return (self.source.root, *(one.value for one in self.entries))[: len(self.entries)]

    @property
    def in_flow(self) -> bool:
        return any(node.flow for node in self.above)

    def refuse(self, message: str, fix: str = _IN_FILE, at: int | None = None) -> InputError:
        where = at if at is not None else self.entry.at if self.entry else self.node.start
        return InputError([InputProblem(self.source.mark(where), message, fix)])


def set_value(text: str, path: Path, words: str, name: str = NAME) -> str:
    """The text with another value at a path; the key is added where it is not there, and the maps above it as well.

    Args:
        text: that the YAML reader accepts.
        path: keys of maps, and numbers of items counted from 0.
        words: the value as it is written in YAML: a word, brackets, or lines that go by indentation.
        name: of the file, for messages.

    Raises:
        InputError: the text or the words cannot be read, or nothing else could stay as it is.

    >>> set_value("site: {place: inland}  # of us\\n", ("site", "wind_speed"), "115 mph")
    'site: {place: inland, wind_speed: 115 mph}  # of us\\n'
    """
    sign, base = _opened(text, name)
    made = words_of(words or "~", name)
    there = _found(base, path)
    if len(there.entries) == len(path):
        assert there.entry is not None
        _unread(there, there.entry.value)
        edits = replaced(base, there.entry, there.in_flow, made)
        return sign + _checked(base, edits, lambda data: _put(data, path, made.data), made)
    if len(there.entries) < len(path) - 1:
        return set_value(text, path[:-1], _below(path[-1], made), name)
    key, holder = path[-1], there.node
    _open_to(there, "map")
    if not isinstance(key, str):
        raise there.refuse(f"there is no item {key + 1} here")
    if holder.entries:
        at, edits = with_key(base, holder, key, made)
        return sign + _checked(base, edits, lambda data: _put_at(data, path, made.data, at), made)
    below = words_of(_below(key, made), name)
    edits = into_empty(base, holder, there.entry, there.in_flow, below, item=False)
    return sign + _checked(base, edits, lambda data: _put(data, path[:-1], {key: made.data}), made)


def remove(text: str, path: Path, name: str = NAME) -> str:
    """The text without a key or an item; a comment above or beside it stays, on a line of its own.

    Raises:
        InputError: nothing stands at the path, or nothing else could stay as it is.

    >>> remove("a: 1  # why\\nb: 2\\n", ("a",))
    '# why\\nb: 2\\n'
    """
    sign, base = _opened(text, name)
    there = _found(base, path)
    if not path or len(there.entries) < len(path):
        raise there.refuse(f"`{path[-1] if path else ''}` does not stand here", "read the file again")
    entry, holder = there.entries[-1], there.above[-1]
    _unread(there, entry.value, entry.key)
    number = holder.entries.index(entry)

    def less(data: Any) -> Any:
        del _at(data, path[:-1])[path[-1]]
        return data

    several = len(holder.entries) > 1
    edits = without(base, holder, number) if several else _emptied(_Place(base, there.entries[:-1]))
    return sign + _checked(base, edits, less)


def insert_item(text: str, path: Path, index: int, words: str, name: str = NAME) -> str:
    """The text with one more item in the list at a path; the list is begun where it is not there.

    Args:
        text: that the YAML reader accepts.
        path: of the list.
        index: the place of the new item, from 0 to the length of the list.
        words: the item as it is written in YAML.
        name: of the file, for messages.

    Raises:
        InputError: no list can stand there, or nothing else could stay as it is.

    >>> insert_item("top:\\n  # first\\n  - a\\n", ("top",), 1, "{role: cleat}")
    'top:\\n  # first\\n  - a\\n  - {role: cleat}\\n'
    """
    sign, base = _opened(text, name)
    made = words_of(words or "~", name)
    there = _found(base, path)
    lines = "\n".join(f"{'  ' if number else '- '}{line}" for number, line in enumerate(made.lines))
    if len(there.entries) < len(path):
        return set_value(text, path, lines if not there.node.flow else f"[{made.in_brackets}]", name)
    holder = there.node
    _open_to(there, "list")
    if not 0 <= index <= len(holder.entries):
        raise there.refuse(f"there is no place {index + 1} in this list", "read the file again")
    if holder.entries:
        edits = with_item(base, holder, index, made)
    else:
        first = words_of(lines if made.block else f"[{made.in_brackets}]", name)
        edits = into_empty(base, holder, there.entry, there.in_flow, first, item=True)

    def more(data: Any) -> Any:
        if not holder.entries:
            return _put(data, path, [made.data])
        _at(data, path).insert(index, made.data)
        return data

    return sign + _checked(base, edits, more, made)


def remove_item(text: str, path: Path, index: int, name: str = NAME) -> str:
    """The text without one item of a list; otherwise as :func:`remove`."""
    return remove(text, (*path, index), name)


def move_item(text: str, path: Path, index: int, to: int, name: str = NAME) -> str:
    """The text with an item of a list at another place; the comments above it go along.

    Args:
        text: that the YAML reader accepts.
        path: of the list.
        index: of the item.
        to: its place when it is moved.
        name: of the file, for messages.

    Raises:
        InputError: there is no such place, or nothing else could stay as it is.

    >>> move_item("- a\\n# of b\\n- b\\n", (), 1, 0)
    '# of b\\n- b\\n- a\\n'
    """
    sign, base = _opened(text, name)
    there = _found(base, path)
    holder = there.node
    count = len(holder.entries) if holder.kind == "list" and len(there.entries) == len(path) else 0
    if not (0 <= index < count and 0 <= to < count):
        raise there.refuse("there is no such place in this list", "read the file again")
    _unread(there, holder)

    def other(data: Any) -> Any:
        items = _at(data, path)
        items.insert(to, items.pop(index))
        return data

    return sign + _checked(base, moved(base, holder, index, to) if index != to else [], other)


def data_of(text: str, name: str = NAME) -> Any:
    """What a text says, as plain data that nobody may change.

    Raises:
        InputError: the reader does not accept it.
    """
    return _opened(text, name)[1].data


def mark_of(text: str, path: Path, name: str = NAME) -> Mark:
    """Where what a path names begins, or the innermost that is there of what it names.

    Raises:
        InputError: the reader does not accept the text.
    """
    there = _found(_opened(text, name)[1], path)
    return there.source.mark(there.entry.at if there.entry else there.node.start)


def words_at(text: str, path: Path, name: str = NAME) -> str:
    """What stands at a path, as it is written there, with the comments between its lines; "" where nothing does.

    Raises:
        InputError: the reader does not accept the text.

    >>> words_at("a:\\n  - b  # c\\n  - {d: 1}\\n", ("a",))
    '- b  # c\\n- {d: 1}'
    """
    there = _found(_opened(text, name)[1], path)
    if len(there.entries) < len(path):
        return ""
    base, node = there.source, there.node
    if not node.block:
        return base.text[node.start : node.end]
    first = node.entries[0].at
    start = region_start(base, node) if base.leads(first) else first
    lines = BREAK.split(base.text[start : base.line_end(node.end)])
    column = base.column(first)
    return "\n".join(line.removeprefix(" " * column) if line[:column].isspace() else line for line in lines)


def _opened(text: str, name: str) -> tuple[str, Source]:
    bare = text.removeprefix(_SIGN)
    return text[: len(text) - len(bare)], source(bare, name)


def _found(base: Source, path: Path) -> _Place:
    """As far as a path leads."""
    node, entries = base.root, []
    for key in path:
        if node.kind == "alias":
            message = "what stands here is written at another place, behind a name with `*`"
            raise InputError([InputProblem(base.mark(node.start), message, "write it out here")])
        if node.kind == "list" and isinstance(key, int):
            entry = node.entries[key] if 0 <= key < len(node.entries) else None
        elif node.kind == "map" and isinstance(key, str):
            entry = next((one for one in node.entries if one.key and one.key.text == key), None)
        else:
            entry = None
        if entry is None:
            break
        entries.append(entry)
        node = entry.value
    return _Place(base, tuple(entries))


def _open_to(there: _Place, kind: str) -> None:
    """Hold that a key or an item can be put into a node."""
    node = there.node
    empty = node.kind == "scalar" and not node.style and node.text in ("", "~", "null")
    if node.kind != kind and not empty:
        wanted = "keys are" if kind == "map" else "a list is"
        raise there.refuse(f"{wanted} wanted here, and something else stands here", _IN_FILE, node.start)
    _unread(there, None if node.entries else node)


def _unread(there: _Place, *nodes: Node | None) -> None:
    """Hold that no other place reads what is changed: neither a collection on the way nor anything inside a node."""
    changed = [*there.above, there.node, *(one for node in nodes if node for one in node.below())]
    for node in changed:
        if node.readers:
            line = there.source.mark(node.readers[0].start).line
            message = f"`&{node.anchor}` is read in line {line} as well, which would change with it"
            raise there.refuse(message, "write the values out at both places in the text file", node.start)


def _below(key: str | int, words: Words) -> str:
    """A map or a list of one entry, as it is written."""
    head = f"{text_as_written(key)}:" if isinstance(key, str) else "-"
    if not words.block:
        return f"{{{head} {words.in_brackets}}}" if isinstance(key, str) else f"[{words.in_brackets}]"
    if isinstance(words.data, str):
        first, *rest = words.lines
        return "\n".join([f"{head} {first}", *(f"  {line}" for line in rest)])
    return "\n".join([head, *(f"  {line}" for line in as_lines(words))])


def _emptied(there: _Place) -> list[Edit]:
    """What is left of a collection whose only entry goes."""
    node, base = there.node, there.source
    empty = words_of("{}" if node.kind == "map" else "[]", base.name)
    if there.entry is not None:
        return replaced(base, there.entry, there.in_flow, empty)
    kept = [one for _, one in base.comments(node.start, node.end)]
    return [*hoisted(base, node.start, kept), (node.start, node.end, empty.lines[0])]


def _at(data: Any, path: Path) -> Any:
    for key in path:
        data = data[key]
    return data


def _put(data: Any, path: Path, value: Any) -> Any:
    if not path:
        return value
    _at(data, path[:-1])[path[-1]] = value
    return data


def _put_at(data: Any, path: Path, value: Any, at: int) -> Any:
    held = _at(data, path[:-1])
    items = list(held.items())
    items.insert(at, (path[-1], value))
    held.clear()
    held.update(items)
    return data


def _checked(base: Source, edits: list[Edit], meant: Callable[[Any], Any], words: Words | None = None) -> str:
    """The text with the changes made and long lines broken, if it then holds what is meant, and every comment.

    Raises:
        InputError: it would not.
    """
    if not edits:
        return base.text
    try:
        now = source(wrapped(base, source(spliced(base.text, edits), base.name)), base.name)
        wanted = meant(copy.deepcopy(base.data))
        kept = Counter(_comments(base)) <= Counter(_comments(now))
        same = repr(now.data) == repr(wanted) and kept
    except InputError:
        same = False
    if not same:
        mark = base.mark(min(start for start, _, _ in edits))
        message = "this cannot be changed here without changing something else"
        raise InputError([InputProblem(mark, message, _IN_FILE)])
    return now.text


def _comments(one: Source) -> Iterator[str]:
    return (words for _, words in one.comments(0, len(one.text)))
