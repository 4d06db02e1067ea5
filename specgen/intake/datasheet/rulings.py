"""Rulings to the frames of tables: where their rows and columns part."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from specgen.model.datasheet import Box

SNAP = 2.0  # rulings nearer than that are one [pt]
TOUCH = 3.0  # rulings whose ends are nearer than that meet [pt]
SHORTEST = 6.0  # a shorter path is a glyph or an ornament [pt]

Span = tuple[float, float, float]  # where it stands, from, to


@dataclass(frozen=True)
class Frame:
    """A drawn table: its rows, its columns if they are drawn, and the rulings between."""

    xs: tuple[float, ...]
    ys: tuple[float, ...]
    level: tuple[Span, ...]
    upright: tuple[Span, ...]

    def below(self, row: int, column: int) -> bool:
        """Whether a ruling parts a cell from the one below it."""
        middle = (self.xs[column] + self.xs[column + 1]) / 2
        return _covered(self.level, self.ys[row + 1], middle)

    def right(self, row: int, column: int) -> bool:
        """Whether a ruling parts a cell from the one to its right."""
        middle = (self.ys[row] + self.ys[row + 1]) / 2
        return _covered(self.upright, self.xs[column + 1], middle)


def _covered(spans: Iterable[Span], at: float, middle: float) -> bool:
    return any(abs(span[0] - at) <= SNAP and span[1] - TOUCH <= middle <= span[2] + TOUCH for span in spans)


def frames_of(rulings: Sequence[Box]) -> tuple[Frame, ...]:
    """The tables that rulings draw, those without upright rulings too; from top to bottom.

    Args:
        rulings: boxes of level or upright lines.

    Returns:
        Frames of at least two rows or columns.
    """
    level, upright = _spans(rulings, level=True), _spans(rulings, level=False)
    found = []
    for lines, posts in _groups(level, upright):
        xs, ys = _places(posts), _places(lines)
        if len(ys) < 2 or (len(xs) < 3 and len(ys) < 3):
            continue
        if len(xs) < 2:
            xs = (min(line[1] for line in lines), max(line[2] for line in lines))
        found.append(Frame(xs, ys, tuple(lines), tuple(posts)))
    return tuple(sorted(found, key=lambda frame: (frame.ys[0], frame.xs[0])))


def _spans(rulings: Sequence[Box], level: bool) -> list[Span]:
    raw = []
    for left, top, right, bottom in rulings:
        wide, high = right - left, bottom - top
        if level and wide >= high and wide >= SHORTEST:
            raw.append(((top + bottom) / 2, left, right))
        elif not level and high > wide and high >= SHORTEST:
            raw.append(((left + right) / 2, top, bottom))
    return _merged(raw)


def _merged(raw: Iterable[Span]) -> list[Span]:
    """Rulings drawn in pieces, or twice, as one."""
    merged: list[Span] = []
    shelves: list[tuple[float, list[Span]]] = []
    for span in sorted(raw):
        if shelves and span[0] - shelves[-1][0] <= SNAP:
            shelves[-1][1].append(span)
        else:
            shelves.append((span[0], [span]))
    for at, spans in shelves:
        start, end = None, 0.0
        for _, low, high in sorted(spans, key=lambda span: span[1]):
            if start is None:
                start, end = low, high
            elif low <= end + TOUCH:
                end = max(end, high)
            else:
                merged.append((at, start, end))
                start, end = low, high
        if start is not None:
            merged.append((at, start, end))
    return merged


def _groups(level: list[Span], upright: list[Span]) -> list[tuple[list[Span], list[Span]]]:
    """Rulings that meet, together; level rulings of one width and place without uprights are a group too."""
    parent = list(range(len(level) + len(upright)))

    def root(at: int) -> int:
        while parent[at] != at:
            parent[at] = parent[parent[at]]
            at = parent[at]
        return at

    for i, (y, left, right) in enumerate(level):
        for j, (x, top, bottom) in enumerate(upright):
            if left - TOUCH <= x <= right + TOUCH and top - TOUCH <= y <= bottom + TOUCH:
                parent[root(i)] = root(len(level) + j)
    met: dict[int, tuple[list[Span], list[Span]]] = {}
    for i, line in enumerate(level):
        met.setdefault(root(i), ([], []))[0].append(line)
    for j, post in enumerate(upright):
        met.setdefault(root(len(level) + j), ([], []))[1].append(post)
    groups = [group for group in met.values() if group[0] and group[1]]
    loose: dict[tuple[int, int], list[Span]] = {}
    for lines, posts in met.values():
        if not posts:
            for line in lines:
                loose.setdefault((round(line[1] / TOUCH), round(line[2] / TOUCH)), []).append(line)
    return groups + [(lines, []) for lines in loose.values() if len(lines) >= 3]


def _places(spans: Sequence[Span]) -> tuple[float, ...]:
    places: list[float] = []
    for span in sorted(spans):
        if not places or span[0] - places[-1] > SNAP:
            places.append(span[0])
    return tuple(places)
