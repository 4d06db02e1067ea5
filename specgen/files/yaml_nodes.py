"""A YAML text as a tree of nodes that know where they begin and end, and its comments: what splicing goes by."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, Literal

import yaml

from specgen.files.marks import Mark
from specgen.files.yaml_reader import MarkedList, MarkedMap, parsers_differ, read_yaml_text

BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
_BLOCK_HEAD = re.compile(r"[|>][-+0-9]*")
_COMMENT = re.compile("#[^\n\r\x85\u2028\u2029]*")
Splicing = tuple[int, int, str]  # from, to, what shall stand there


@dataclass(slots=True, eq=False)
class YamlNode:
    """A value of the text. ``end`` is behind its last character, without the line ends that follow it."""

    kind: Literal["scalar", "alias", "map", "list"]
    start: int
    end: int
    flow: bool = False  # a collection in brackets
    style: str = ""
    anchor: str = ""
    text: str = ""  # of a scalar
    entries: list[YamlEntry] = field(default_factory=list)
    readers: list[YamlNode] = field(default_factory=list)  # the aliases that name it

    @property
    def block(self) -> bool:
        """Whether it is a collection that goes by indentation."""
        return self.kind in ("map", "list") and not self.flow

    def below(self) -> Iterator[YamlNode]:
        """The node and every one inside it."""
        yield self
        for entry in self.entries:
            if entry.key is not None:
                yield entry.key
            yield from entry.value.below()


@dataclass(slots=True, eq=False)
class YamlEntry:
    """A key with its value, or an item of a list; ``at``: where the key, the item, or the dash of the item begins."""

    at: int
    key: YamlNode | None
    value: YamlNode

    @property
    def end(self) -> int:
        """Behind its last character."""
        return max(self.value.end, self.key.end if self.key else 0)


class YamlText:
    """A text that the reader accepts: what it says, its nodes, lines and comments. No byte order mark is in it."""

    def __init__(self, text: str, name: str) -> None:
        self.text, self.name = text, name
        self.data = unshared(read_yaml_text(text, name))
        found = BREAK.search(text)
        self.line_break = found[0] if found else "\n"
        self._ends = [(one.start(), one.end()) for one in BREAK.finditer(text)]
        self._breaks = [start for start, _ in self._ends]
        self._leaves: list[tuple[int, int]] = []
        self.root = self._built()
        self._leaves.sort()

    def _built(self) -> YamlNode:
        text = self.text
        # A question mark is where the parsers place things differently, beside what the reader knows of.
        fast = yaml.__with_libyaml__ and "?" not in text and not parsers_differ(text)
        loader: Any = yaml.CSafeLoader if fast else yaml.SafeLoader
        anchors: dict[str, YamlNode] = {}
        open_: list[tuple[YamlNode, YamlNode | None]] = []  # a collection, and its key that waits for a value
        root: YamlNode | None = None
        for event in yaml.parse(text, loader):
            if isinstance(event, yaml.CollectionEndEvent):
                node, _ = open_.pop()
                closed: Any = event.end_mark
                node.end = closed.index if node.flow else _last_end(node)
                continue
            if not isinstance(event, yaml.NodeEvent):
                continue
            node = self._node(event, anchors)
            if not open_:
                root = node
            else:
                holder, key = open_[-1]
                if holder.kind == "map" and key is None:
                    open_[-1] = holder, node
                else:
                    at = key.start if key else self._item_at(holder, node)
                    if (
                        key
                        and not node.anchor
                        and node.start == node.end
                        and not self._colon(key.end, node.start)
                    ):
                        node.start = node.end = key.end  # a key alone in brackets
                    holder.entries.append(YamlEntry(at, key, node))
                    open_[-1] = holder, None
            if node.kind in ("map", "list"):
                open_.append((node, None))
        assert root is not None  # the reader refuses an empty file
        return root

    def _node(self, event: Any, anchors: dict[str, YamlNode]) -> YamlNode:
        start, end = event.start_mark.index, event.end_mark.index
        if isinstance(event, yaml.AliasEvent):
            node = YamlNode("alias", start, end)
            anchors[str(event.anchor)].readers.append(node)
            self._leaves.append((start, end))
            return node
        anchor = event.anchor or ""
        if isinstance(event, yaml.ScalarEvent):
            node = YamlNode("scalar", start, end, style=event.style or "", anchor=anchor, text=event.value)
            if node.style in ("|", ">"):
                self._block_scalar(node)
            else:
                self._leaves.append((start, end))
        else:
            kind: Literal["map", "list"] = "map" if isinstance(event, yaml.MappingStartEvent) else "list"
            node = YamlNode(kind, start, end, bool(event.flow_style), anchor=anchor)
            if anchor:
                self._leaves.append((start, start + 1 + len(anchor)))
        if anchor:
            anchors[anchor] = node
        return node

    def _block_scalar(self, node: YamlNode) -> None:
        """Its first line may end in a comment; blank lines behind it belong to it where its head has a plus."""
        head = _BLOCK_HEAD.search(self.text, node.start + len(node.anchor))
        assert head is not None
        written = self.text[node.start : node.end]
        if "+" not in head[0]:
            node.end = node.start + len(written.rstrip(" \n\r\x85\u2028\u2029"))
        first = BREAK.search(self.text, head.end())
        self._leaves.append((node.start, head.end()))
        if first is not None and first.start() < node.end:
            self._leaves.append((first.start(), node.end))

    def _colon(self, at: int, stop: int) -> bool:
        """Whether a colon stands behind a key."""
        while at < stop and self.text[at] != ":":
            found = _COMMENT.match(self.text, at)
            at = found.end() if found else at + 1
        return at < stop

    def _item_at(self, holder: YamlNode, item: YamlNode) -> int:
        """Where an item begins: in a block, at its dash."""
        if holder.flow:
            return item.start
        after = holder.entries[-1].end if holder.entries else holder.start + bool(holder.anchor)
        if holder.anchor and not holder.entries:
            after += len(holder.anchor)
        at = after
        while self.text[at] != "-":
            found = _COMMENT.match(self.text, at)
            at = found.end() if found else at + 1
        return at

    def line_start(self, at: int) -> int:
        """Where the line begins in which a character stands."""
        count = bisect_right(self._ends, at, key=lambda one: one[1])
        return self._ends[count - 1][1] if count else 0

    def line_end(self, at: int) -> int:
        """Where a line ends, without its line break."""
        count = bisect_left(self._breaks, at)
        return self._breaks[count] if count < len(self._breaks) else len(self.text)

    def after_line(self, at: int) -> int:
        """Where the next line begins; the end of the text behind its last line."""
        count = bisect_left(self._breaks, at)
        return self._ends[count][1] if count < len(self._ends) else len(self.text)

    def behind(self, end: int) -> int:
        """Where the line begins that follows what ends at a character; a text may end with its line breaks."""
        return end if end and BREAK.match(self.text, end - 1) else self.after_line(end)

    def column(self, at: int) -> int:
        """How many characters stand before one in its line."""
        return at - self.line_start(at)

    def indent(self, at: int) -> str:
        """The spaces that the line of a character begins with."""
        line = self.text[self.line_start(at) : self.line_end(at)]
        return line[: len(line) - len(line.lstrip(" "))]

    def leads(self, at: int) -> bool:
        """Whether only spaces stand before a character in its line."""
        return not self.text[self.line_start(at) : at].strip(" ")

    def free_line(self, at: int) -> int:
        """The beginning of the line of a character, or of the last one above it that is not inside a value."""
        start = self.line_start(at)
        count = bisect_left(self._leaves, (start, 0)) - 1
        if count >= 0 and self._leaves[count][1] > start:
            return self.free_line(self._leaves[count][0])
        return start

    def comments(self, start: int, stop: int) -> list[tuple[int, str]]:
        """The comments between two characters with their places, in order."""
        found = []
        for begin, end in self._gaps(start, stop):
            found += [(one.start(), one[0].rstrip()) for one in _COMMENT.finditer(self.text, begin, end)]
        return found

    def _gaps(self, start: int, stop: int) -> Iterator[tuple[int, int]]:
        at = start
        for begin, end in self._leaves[max(0, bisect_left(self._leaves, (start, 0)) - 1) :]:
            if begin >= stop:
                break
            if end <= start:
                continue
            if begin > at:
                yield at, begin
            at = max(at, end)
        if at < stop:
            yield at, stop

    def sign(self, sign: str, start: int, stop: int) -> int:
        """Where a sign (a colon, a comma) stands between two nodes, outside of comments; -1 if it does not."""
        for begin, end in self._gaps(start, stop):
            at = begin
            while at < end:
                found = _COMMENT.match(self.text, at)
                if found:
                    at = found.end()
                elif self.text[at] == sign:
                    return at
                else:
                    at += 1
        return -1

    def mark(self, at: int) -> Mark:
        """The place of a character."""
        return Mark(self.name, bisect_right(self._ends, at, key=lambda one: one[1]) + 1, self.column(at) + 1)


def _last_end(node: YamlNode) -> int:
    return node.entries[-1].end if node.entries else node.end


@lru_cache(maxsize=4)
def source(text: str, name: str) -> YamlText:
    """The tree of a text; the last few are kept, for one change follows the other.

    Raises:
        InputError: the reader does not accept the text.
    """
    return YamlText(text, name)


def unshared(node: Any) -> Any:
    """Plain data, in which what an alias stands for is written out."""
    if isinstance(node, MarkedMap):
        return {key: unshared(value) for key, value in node.items()}
    return [unshared(one) for one in node] if isinstance(node, MarkedList) else node


def spliced(text: str, edits: Iterable[Splicing]) -> str:
    """The text with other words at some places, the last place first; of what goes in at one place, in that order."""
    ordered = sorted(enumerate(edits), key=lambda one: (one[1][0], one[1][1], one[0]), reverse=True)
    for _, (start, stop, now) in ordered:
        text = text[:start] + now + text[stop:]
    return text
