"""What a path of keys and numbers leads to in a YAML text: the data, the mark, the words as they are written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from specgen.files.marks import InputError, InputProblem, Mark
from specgen.files.names import PROJECT_FILE
from specgen.files.yaml_nodes import BREAK, YamlEntry, YamlNode, YamlText, source
from specgen.files.yaml_splice import region_start

Path = Sequence[str | int]
NAME = PROJECT_FILE
IN_FILE = "change it in the text file"
_SIGN = "\ufeff"  # a byte order mark at the beginning stays


@dataclass(frozen=True)
class YamlPlace:
    """What a path leads to: the entries on the way, the last one last."""

    source: YamlText
    entries: tuple[YamlEntry, ...]

    @property
    def node(self) -> YamlNode:
        return self.entries[-1].value if self.entries else self.source.root

    @property
    def entry(self) -> YamlEntry | None:
        return self.entries[-1] if self.entries else None

    @property
    def above(self) -> tuple[YamlNode, ...]:
        """The collections that hold it, the outermost first."""
        return (self.source.root, *(one.value for one in self.entries))[: len(self.entries)]

    @property
    def in_flow(self) -> bool:
        return any(node.flow for node in self.above)

    def refuse(self, message: str, fix: str = IN_FILE, at: int | None = None) -> InputError:
        where = at if at is not None else self.entry.at if self.entry else self.node.start
        return InputError([InputProblem(self.source.mark(where), message, fix)])


def data_of(text: str, name: str = NAME) -> Any:
    """What a text says, as plain data that nobody may change.

    Raises:
        InputError: the reader does not accept it.
    """
    return opened(text, name)[1].data


def mark_of(text: str, path: Path, name: str = NAME) -> Mark:
    """Where what a path names begins, or the innermost that is there of what it names.

    Raises:
        InputError: the reader does not accept the text.
    """
    there = found(opened(text, name)[1], path)
    return there.source.mark(there.entry.at if there.entry else there.node.start)


def words_at(text: str, path: Path, name: str = NAME) -> str:
    """What stands at a path, as it is written there, with the comments between its lines; "" where nothing does.

    Raises:
        InputError: the reader does not accept the text.

    >>> words_at("a:\\n  - b  # c\\n  - {d: 1}\\n", ("a",))
    '- b  # c\\n- {d: 1}'
    """
    there = found(opened(text, name)[1], path)
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


def opened(text: str, name: str) -> tuple[str, YamlText]:
    bare = text.removeprefix(_SIGN)
    return text[: len(text) - len(bare)], source(bare, name)


def found(base: YamlText, path: Path) -> YamlPlace:
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
    return YamlPlace(base, tuple(entries))
