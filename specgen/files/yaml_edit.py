"""Changes of a YAML text at one place: comments, order, spelling and line ends of everything else stay as they are.

The text is spliced at the marks of its nodes, as ``specgen upgrade`` does; a library that writes the whole text anew
wraps lines and maps in brackets its own way, which changed 8 to 36 lines of each worked example where nothing was
changed. After each change the text is read again and held against the data it was meant to hold.
"""

from __future__ import annotations

import copy
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from specgen.files.marks import InputError, InputProblem
from specgen.files.yaml_nodes import BREAK, Splicing, YamlNode, YamlText, source, spliced
from specgen.files.yaml_places import IN_FILE, NAME, Path, YamlPlace, found, opened
from specgen.files.yaml_scalars import text_as_written
from specgen.files.yaml_splice import (
    YamlWords,
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
    sign, base = opened(text, name)
    made = words_of(words or "~", name)
    there = found(base, path)
    if len(there.entries) == len(path):
        assert there.entry is not None
        _unread(there, there.entry.value)
        edits = replaced(base, there.entry, there.in_flow, made)
        return sign + _checked(base, edits, lambda data: _put(data, path, made.data))
    if len(there.entries) < len(path) - 1:
        return set_value(text, path[:-1], _below(path[-1], made), name)
    key, holder = path[-1], there.node
    _open_to(there, "map")
    if not isinstance(key, str):
        raise there.refuse(f"there is no item {key + 1} here")
    if holder.entries:
        at, edits = with_key(base, holder, key, made)
        return sign + _checked(base, edits, lambda data: _put_at(data, path, made.data, at))
    below = words_of(_below(key, made), name)
    edits = into_empty(base, holder, there.entry, there.in_flow, below, item=False)
    return sign + _checked(base, edits, lambda data: _put(data, path[:-1], {key: made.data}))


def remove(text: str, path: Path, name: str = NAME) -> str:
    """The text without a key or an item; a comment above or beside it stays, on a line of its own.

    Raises:
        InputError: nothing stands at the path, or nothing else could stay as it is.

    >>> remove("a: 1  # why\\nb: 2\\n", ("a",))
    '# why\\nb: 2\\n'
    """
    sign, base = opened(text, name)
    there = found(base, path)
    if not path or len(there.entries) < len(path):
        raise there.refuse(f"`{path[-1] if path else ''}` does not stand here", "read the file again")
    entry, holder = there.entries[-1], there.above[-1]
    _unread(there, entry.value, entry.key)
    number = holder.entries.index(entry)

    def less(data: Any) -> Any:
        del _at(data, path[:-1])[path[-1]]
        return data

    several = len(holder.entries) > 1
    edits = without(base, holder, number) if several else _emptied(YamlPlace(base, there.entries[:-1]))
    return sign + _checked(base, edits, less)


def take_out(text: str, path: Path, name: str = NAME) -> tuple[str, str]:
    """The text without a key that has lines of its own, and those lines with the comments above them.

    Raises:
        InputError: nothing stands at the path, it is the only key there, or it has no lines of its own.

    >>> take_out("a: 1\\n# of b\\nb:\\n  - 2  # two\\n", ("b",))
    ('a: 1\\n', '# of b\\nb:\\n  - 2  # two')
    """
    sign, base = opened(text, name)
    there = found(base, path)
    if not path or len(there.entries) < len(path):
        raise there.refuse(f"`{path[-1] if path else ''}` does not stand here", "read the file again")
    entry, holder = there.entries[-1], there.above[-1]
    _unread(there, entry.value, entry.key)
    if holder.flow or not base.leads(entry.at) or len(holder.entries) == 1:
        raise there.refuse("this has no lines of its own", IN_FILE)
    number = holder.entries.index(entry)
    start = base.behind(holder.entries[number - 1].end) if number else region_start(base, holder)
    stop = base.behind(entry.end)
    taken = [words for _, words in base.comments(start, stop)]
    lines = BREAK.split(base.text[start:stop].rstrip("\r\n"))
    column = base.column(entry.at)
    words = "\n".join(line.lstrip(" ") if line[:column].strip() else line[column:] for line in lines)

    def less(data: Any) -> Any:
        del _at(data, path[:-1])[path[-1]]
        return data

    return sign + _checked(base, [(start, stop, "")], less, taken=taken), words


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
    sign, base = opened(text, name)
    made = words_of(words or "~", name)
    there = found(base, path)
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

    return sign + _checked(base, edits, more)


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
    sign, base = opened(text, name)
    there = found(base, path)
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


def _open_to(there: YamlPlace, kind: str) -> None:
    """Hold that a key or an item can be put into a node."""
    node = there.node
    empty = node.kind == "scalar" and not node.style and node.text in ("", "~", "null")
    if node.kind != kind and not empty:
        wanted = "keys are" if kind == "map" else "a list is"
        raise there.refuse(f"{wanted} wanted here, and something else stands here", IN_FILE, node.start)
    _unread(there, None if node.entries else node)


def _unread(there: YamlPlace, *nodes: YamlNode | None) -> None:
    """Hold that no other place reads what is changed: neither a collection on the way nor anything inside a node."""
    changed = [*there.above, there.node, *(one for node in nodes if node for one in node.below())]
    for node in changed:
        if node.readers:
            line = there.source.mark(node.readers[0].start).line
            message = f"`&{node.anchor}` is read in line {line} as well, which would change with it"
            raise there.refuse(message, "write the values out at both places in the text file", node.start)


def _below(key: str | int, words: YamlWords) -> str:
    """A map or a list of one entry, as it is written."""
    head = f"{text_as_written(key)}:" if isinstance(key, str) else "-"
    if not words.block:
        return f"{{{head} {words.in_brackets}}}" if isinstance(key, str) else f"[{words.in_brackets}]"
    if isinstance(words.data, str):
        first, *rest = words.lines
        return "\n".join([f"{head} {first}", *(f"  {line}" for line in rest)])
    return "\n".join([head, *(f"  {line}" for line in as_lines(words))])


def _emptied(there: YamlPlace) -> list[Splicing]:
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


def _checked(
    base: YamlText, edits: list[Splicing], meant: Callable[[Any], Any], taken: Sequence[str] = ()
) -> str:
    """The text with the changes made and long lines broken, if it then holds what is meant, and every comment.

    Raises:
        InputError: it would not.
    """
    if not edits:
        return base.text
    try:
        now = source(wrapped(base, source(spliced(base.text, edits), base.name)), base.name)
        wanted = meant(copy.deepcopy(base.data))
        kept = Counter(_comments(base)) - Counter(taken) <= Counter(_comments(now))
        same = repr(now.data) == repr(wanted) and kept
    except InputError:
        same = False
    if not same:
        mark = base.mark(min(start for start, _, _ in edits))
        message = "this cannot be changed here without changing something else"
        raise InputError([InputProblem(mark, message, IN_FILE)])
    return now.text


def _comments(one: YamlText) -> Iterator[str]:
    return (words for _, words in one.comments(0, len(one.text)))
