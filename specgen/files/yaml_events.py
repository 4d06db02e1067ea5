"""From a parser's events to maps and lists that remember where every key and value stands.

Works on events and keeps its own stack, so that depth, size and aliases are limited before anything is
built and no input can exhaust Python's stack.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, NoReturn

from yaml import YAMLError, events

from specgen.files.marks import InputError, InputProblem, Mark, in_order, shown
from specgen.files.yaml_scalars import bad_characters, plain_value, type_names, why_bad

_MOST_PROBLEMS = 100
_NO_KEY = object()
_BAD_KEY = object()


@dataclass(frozen=True, slots=True)
class Limits:
    """The largest YAML file that is read.

    `bytes` of the file, `depth` of maps and lists inside each other, `nodes` (keys, values, maps and lists),
    `aliases` (`*name`) and `expanded`, the nodes that the aliases stand for.
    """

    bytes: int = 5_000_000
    depth: int = 50
    nodes: int = 200_000
    aliases: int = 100
    expanded: int = 10_000


class MarkedMap(dict[str, Any]):
    """A mapping read from YAML. `keys_at` and `values_at` give the place of each key and of its value.

    A value that an alias (`*name`) stands for is placed at the alias; what is inside it, where it is written.
    """

    __slots__ = ("keys_at", "mark", "values_at")

    def __init__(self, mark: Mark) -> None:
        super().__init__()
        self.mark = mark
        self.keys_at: dict[str, Mark] = {}
        self.values_at: dict[str, Mark] = {}


class MarkedList(list[Any]):
    """A list read from YAML. `items_at` gives the place of each item, in order."""

    __slots__ = ("items_at", "mark")

    def __init__(self, mark: Mark) -> None:
        super().__init__()
        self.mark = mark
        self.items_at: list[Mark] = []


class DoubtError(YAMLError):
    """The parser written in C let something pass that the one written in Python may refuse or place elsewhere."""


class _Frame:
    """A map or list whose end has not been read yet; `key` is the map's key that waits for its value."""

    __slots__ = ("in_brackets", "is_map", "key", "node")

    def __init__(self, node: MarkedMap | MarkedList, in_brackets: bool) -> None:
        self.node = node
        self.in_brackets = in_brackets
        self.is_map = type(node) is MarkedMap
        self.key: Any = _NO_KEY


class TreeBuilder:
    """Builds the tree of one file; `problems` collects what can be reported without stopping.

    With `doubting`, what PyYAML's two parsers read differently raises DoubtError.
    """

    def __init__(self, name: str, limits: Limits, doubting: bool) -> None:
        self.problems: list[InputProblem] = []
        self.root: Any = None
        self.root_mark: Mark | None = None
        self._name = name
        self._limits = limits
        self._doubting = doubting
        self._frames: list[_Frame] = []
        self._top: _Frame | None = None
        self._anchors: dict[str, Any] = {}
        self._good_keys: set[str] = set()
        self._nodes = self._aliases = self._expanded = self._documents = 0

    def build(self, next_event: Callable[[], Any]) -> None:
        """Read events to the end of the stream into `root`.

        Raises:
            InputError: at a limit, a second document, or too many problems.
            yaml.YAMLError: from the parser, at a syntax error.
        """
        act: dict[type, Callable[[Any], None]] = {
            events.ScalarEvent: self._scalar,
            events.MappingStartEvent: self._start_map,
            events.SequenceStartEvent: self._start_list,
            events.MappingEndEvent: self._end,
            events.SequenceEndEvent: self._end,
            events.AliasEvent: self._alias,
            events.DocumentStartEvent: self._document,
            events.DocumentEndEvent: _pass_over,
            events.StreamStartEvent: _pass_over,
        }
        while type(event := next_event()) is not events.StreamEndEvent:
            act[type(event)](event)

    def _mark(self, event: Any) -> Mark:
        start = event.start_mark
        return Mark(self._name, start.line + 1, start.column + 1)

    def _report(self, mark: Mark, message: str, fix: str = "") -> None:
        self.problems.append(InputProblem(mark, message, fix))
        if len(self.problems) >= _MOST_PROBLEMS:
            self._stop(mark, f"more than {_MOST_PROBLEMS} problems; the rest of the file was not read")

    def _doubt(self) -> None:
        if self._doubting:
            raise DoubtError

    def _stop(self, mark: Mark, message: str, fix: str = "") -> NoReturn:
        raise InputError(in_order([*self.problems, InputProblem(mark, message, fix)]))

    def _count(self, mark: Mark) -> None:
        self._nodes += 1
        if self._nodes > self._limits.nodes:
            self._stop(
                mark, f"the file has {self._nodes} keys and values or more, limit {self._limits.nodes}"
            )

    def _document(self, event: Any) -> None:
        self._documents += 1
        if self._documents > 1:
            self._stop(
                self._mark(event), "a second document starts here", "remove the '---' line, or use two files"
            )

    def _scalar(self, event: Any) -> None:
        mark = self._mark(event)
        self._count(mark)
        if event.tag is not None:
            self._refuse_tag(event, mark)
        text = event.value
        if event.style == '"' and (bad := bad_characters(text)):
            self._report(mark, f"the text holds the character {bad}: {why_bad(bad)}", "remove it")
        frame = self._top
        if frame is not None and frame.in_brackets and not event.style and "?" in text:
            self._doubt()
        if frame is not None and frame.is_map and frame.key is _NO_KEY:
            self._key(frame, event, mark)
            return
        value: Any = text
        if not event.style:
            try:
                value = plain_value(text)
            except ValueError as error:
                self._report(mark, str(error), "correct it, or put it in quotes if it is text")
        if event.anchor is not None:
            self._anchors[event.anchor] = value
        self._place(value, mark)

    def _place(self, value: Any, mark: Mark) -> None:
        frame = self._top
        if frame is None:
            self.root, self.root_mark = value, mark
        elif frame.is_map:
            key, frame.key = frame.key, _NO_KEY
            if key is not _BAD_KEY:
                frame.node[key] = value
                frame.node.values_at[key] = mark  # type: ignore[union-attr]
        else:
            frame.node.append(value)  # type: ignore[union-attr]
            frame.node.items_at.append(mark)  # type: ignore[union-attr]

    def _key(self, frame: _Frame, event: Any, mark: Mark) -> None:
        text = event.value
        keys_at = frame.node.keys_at  # type: ignore[union-attr]
        if text in keys_at:
            frame.key = _BAD_KEY
            self._report(
                mark,
                f"key {shown(text)} is here twice; first in line {keys_at[text].line}",
                "remove one of them",
            )
        elif event.style or text in self._good_keys or self._is_good_key(text, mark):
            frame.key = text
            keys_at[text] = mark
            if event.anchor is not None:
                self._anchors[event.anchor] = text
        else:
            frame.key = _BAD_KEY

    def _is_good_key(self, text: str, mark: Mark) -> bool:
        if text == "<<":
            self._report(mark, "the merge key '<<' is not accepted", "write the keys out here")
            return False
        try:
            value = plain_value(text)
        except ValueError:
            value = 0
        if isinstance(value, str):
            self._good_keys.add(text)
            return True
        if not text:
            self._doubt()
            self._report(mark, "a key is missing before the colon", "write the key before the colon")
        else:
            kind = type_names[type(value)]
            self._report(
                mark, f"key {shown(text)} is not text but {kind}", f'put it in quotes: "{shown(text)[1:-1]}"'
            )
        return False

    def _start_map(self, event: Any) -> None:
        self._start(event, MarkedMap)

    def _start_list(self, event: Any) -> None:
        self._start(event, MarkedList)

    def _start(self, event: Any, kind: type[MarkedMap] | type[MarkedList]) -> None:
        mark = self._mark(event)
        self._count(mark)
        if len(self._frames) >= self._limits.depth:
            depth = len(self._frames) + 1
            self._stop(mark, f"maps and lists are {depth} levels deep or more, limit {self._limits.depth}")
        if event.tag is not None:
            self._refuse_tag(event, mark)
        node = kind(mark)
        if not self._refused_as_key(mark, "a map or a list"):
            self._place(node, mark)
        if event.anchor is not None:
            self._anchors[event.anchor] = node
        self._top = _Frame(node, event.flow_style)
        self._frames.append(self._top)

    def _refused_as_key(self, mark: Mark, what: str) -> bool:
        frame = self._top
        if frame is None or not frame.is_map or frame.key is not _NO_KEY:
            return False
        frame.key = _BAD_KEY
        self._report(
            mark, f"{what} stands where a key is wanted", "write the key as a word; put braces in quotes"
        )
        return True

    def _end(self, _event: Any) -> None:
        self._frames.pop()
        self._top = self._frames[-1] if self._frames else None

    def _refuse_tag(self, event: Any, mark: Mark) -> None:
        self._doubt()
        self._report(
            mark,
            f"the tag {shown(event.tag)} is not accepted",
            "remove it; put the value in quotes if it is text",
        )

    def _alias(self, event: Any) -> None:
        mark, name = self._mark(event), event.anchor
        self._aliases += 1
        if self._aliases > self._limits.aliases:
            self._stop(mark, f"the file has {self._aliases} aliases or more, limit {self._limits.aliases}")
        if self._refused_as_key(mark, f"the alias {shown('*' + name)}"):
            return
        value: Any = None
        if name not in self._anchors:
            self._report(
                mark, f"the alias {shown('*' + name)} names nothing above", "put text with a '*' in quotes"
            )
        elif any(frame.node is self._anchors[name] for frame in self._frames):
            self._report(
                mark, f"the alias {shown('*' + name)} stands inside what it names", "write the value out"
            )
        else:
            value = self._anchors[name]
            self._measure(value, mark)
        self._place(value, mark)

    def _measure(self, value: Any, mark: Mark) -> None:
        """Add what an alias stands for to the count of expanded nodes, and check its depth at this place."""
        level: list[Any] = [value]
        depth = len(self._frames)
        while level:
            self._expanded += len(level)
            if self._expanded > self._limits.expanded:
                self._stop(
                    mark,
                    f"the aliases stand for {self._expanded} values or more, limit {self._limits.expanded}",
                )
            holders = [node for node in level if isinstance(node, (MarkedMap, MarkedList))]
            depth += bool(holders)
            if depth > self._limits.depth:
                self._stop(
                    mark, f"maps and lists are {depth} levels deep or more, limit {self._limits.depth}"
                )
            level = []
            for node in holders:
                level.extend(node.values() if isinstance(node, MarkedMap) else node)
                if len(level) > self._limits.expanded:
                    break


def _pass_over(_event: Any) -> None:
    """The start and end of a stream or document carry nothing to keep."""
