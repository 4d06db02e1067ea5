"""Where a part of a picture is pressed: on its outlines, and on its lines as broad as its neighbors leave room."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import pairwise
from math import inf

from specgen.drawing.near import SAME_MM
from specgen.drawing.picture import Picture, PicturePart
from specgen.drawing.shapes import Area, Box, Stroke, bounds, rectangle

FINE_LINE = 24  # a line of more points is pressed as the box around it
MOST, LEAST = 1.7, 0.55  # half the breadth of a line [mm]
SHARE = 0.25  # of a filled part, that a line beside it or in it may take
TALL = 3.0  # a shorter stretch says nothing of the neighbors


def outlines(part: PicturePart) -> tuple[Area | Stroke, ...]:
    """What is pressed of a part, each once: neither the lines within its outlines nor the arrows of drained water."""
    areas = [item for item in part.shapes if isinstance(item, Area)]
    lines = [
        item if len(item.points) < FINE_LINE else Area(item.layer, rectangle(*bounds(item.points)))
        for item in part.shapes
        if isinstance(item, Stroke) and (item.layer == "membrane" or (not areas and item.layer != "drainage"))
    ]
    return tuple({_points(item): item for item in (*areas, *lines)}.values())


@lru_cache(maxsize=64)
def breadths(drawing: Picture) -> Mapping[str, float]:
    """How broad the lines of each part are pressed [mm]: half way to the next line, a little into what is filled."""
    every = {part.id: [box for item in outlines(part) for box in _upright(item)] for part in drawing.parts}
    found = {}
    for name, own in every.items():
        others = [box for other, boxes in every.items() if other != name for box in boxes]
        room = min((_room(line, box) for line in own if _is_line(line) for box in others), default=MOST)
        found[name] = 2.0 * min(MOST, max(LEAST, room))
    return found


def _points(item: Area | Stroke) -> tuple[tuple[float, float], ...]:
    return item.outline if isinstance(item, Area) else item.points


def _upright(item: Area | Stroke) -> Iterator[Box]:
    """The box of a filled part, and each tall upright stretch of a line."""
    if isinstance(item, Area):
        yield bounds(item.outline)
        return
    for pair in pairwise(item.points):
        left, low, right, high = bounds(pair)
        if right - left < SAME_MM and high - low > TALL:
            yield left, low, right, high


def _is_line(box: Box) -> bool:
    return box[2] - box[0] < SAME_MM


def _room(line: Box, other: Box) -> float:
    """How far a line may reach toward another part; without end where they do not stand side by side."""
    if min(line[3], other[3]) - max(line[1], other[1]) <= SAME_MM:
        return inf
    x, (left, _, right, _) = line[0], other
    if left < x < right:
        return SHARE * (right - left)
    away = left - x if x <= left else x - right
    return away / 2.0 if _is_line(other) else away + SHARE * (right - left)
