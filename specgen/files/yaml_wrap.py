"""Lines that a change made too long: broken behind a comma, and indented as their neighbors are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import takewhile

from specgen.files.yaml_nodes import Splicing, YamlEntry, YamlNode, YamlText, spliced

LONGEST = 118
_STEP = 2


@dataclass(frozen=True)
class _Break:
    """A comma behind which a line can end: where it ends, where the next begins, how deep in brackets it stands."""

    end: int
    start: int
    depth: int
    indent: int


def wrapped(before: YamlText, now: YamlText) -> str:
    """A changed text with the lines broken that grew too long."""
    old, new = before.text, now.text
    start = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(old, new, strict=False)))
    most = min(len(old), len(new)) - start
    tail = sum(1 for _ in takewhile(lambda n: old[-n] == new[-n], range(1, most + 1)))
    longest = max(LONGEST, max((len(line) for _, line in _lines(before, start, len(old) - tail)), default=0))
    edits: list[Splicing] = []
    for at, line in _lines(now, start, len(new) - tail):
        if len(line) > longest:
            edits += _broken(now, at, line)
    return spliced(new, edits)


def _lines(one: YamlText, start: int, stop: int) -> Iterator[tuple[int, str]]:
    """The lines that a stretch of text touches, without their comments, with their beginnings."""
    at = one.line_start(start)
    while True:
        end = one.line_end(at)
        comments = one.comments(at, end)
        cut = comments[0][0] if comments and one.text[at : comments[0][0]].strip() else end
        yield at, one.text[at:cut].rstrip()
        following = one.after_line(at)
        if following >= stop or following == at or following == len(one.text):
            return
        at = following


def _broken(one: YamlText, at: int, line: str) -> Iterator[Splicing]:
    stop = at + len(line)
    breaks = [
        found for found in _breaks(one, one.root, None, None, 0) if at <= found.end and found.start <= stop
    ]
    begin, width = at, 0
    while width + stop - begin > LONGEST:
        room = begin + LONGEST - width
        ahead = [found for found in breaks if found.end > begin]
        fitting = [found for found in ahead if found.end <= room]
        if not ahead:
            return
        least = min((found.depth for found in fitting), default=0)
        best = max((one for one in fitting if one.depth == least), key=lambda one: one.end, default=ahead[0])
        yield best.end, best.start, one.line_break + " " * best.indent
        begin, width = best.start, best.indent


def _breaks(
    one: YamlText, node: YamlNode, entry: YamlEntry | None, outer: YamlNode | None, depth: int
) -> Iterator[_Break]:
    """Every comma of the text that parts entries in one line; ``entry``: the innermost that goes by indentation."""
    if node.flow:
        outer = outer or node
        for before, after in zip(node.entries, node.entries[1:], strict=False):
            comma = one.sign(",", before.end, after.at)
            if comma >= 0 and one.line_start(comma) == one.line_start(after.at):
                yield _Break(comma + 1, after.at, depth, _indent(one, entry, outer))
    for child in node.entries:
        within = entry if node.flow else child
        yield from _breaks(one, child.value, within, outer if node.flow else None, depth + node.flow)


def _indent(one: YamlText, entry: YamlEntry | None, outer: YamlNode) -> int:
    second = one.after_line(outer.start)
    if second < outer.end and one.free_line(second) == second:
        return len(one.indent(second))
    return (one.column(entry.at) if entry else 0) + _STEP
