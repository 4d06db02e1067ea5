"""Places labels so that none covers another, and finds those that would."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from specgen.drawing.lettering import width
from specgen.drawing.shapes import Axis, Box, Dimension, Point


@dataclass(frozen=True)
class Wish:
    """A key that wants to stand level with its part: the part may be pointed at from ``low`` to ``high``."""

    key: str
    x: float
    low: float
    high: float


def in_lane(
    wishes: Sequence[Wish], low: float, high: float, pitch: float, closed: Sequence[tuple[float, float]] = ()
) -> dict[str, tuple[float, float]]:
    """Heights for the keys of one lane: of the key, and of the point its leader ends at.

    Level leaders cannot cross, so a key takes a free place level with its part where there is one: from above, the
    part that runs out of room first goes first. What is left takes the nearest free place and a slanting leader.
    No key stands level with a closed stretch, a break of the drawing, unless there are more keys than places: then
    the places move together.
    """
    count = max(int((high - low) / pitch) + 1, 1)
    places = [high - number * pitch for number in range(count)]
    places = [at for at in places if not any(a < at < b for a, b in closed)]
    if len(wishes) > len(places):
        pitch = (high - low) / max(len(wishes) - 1, 1)
        places = [high - number * pitch for number in range(len(wishes))]
    waiting = sorted(wishes, key=lambda wish: (-wish.low, wish.high, wish.x, wish.key))
    found: dict[str, tuple[float, float]] = {}
    free = []
    for place in places:
        wish = next((one for one in waiting if one.low <= place <= one.high), None)
        if wish is None:
            free.append(place)
        else:
            waiting.remove(wish)
            found[wish.key] = (place, place)
    slanting = sorted(waiting, key=lambda wish: (-(wish.low + wish.high), wish.x, wish.key))
    taken = []
    for wish in slanting:
        middle = (wish.low + wish.high) / 2.0
        taken.append(min(free, key=lambda one: (abs(one - middle), -one)))
        free.remove(taken[-1])
    for wish, place in zip(
        slanting, sorted(taken, reverse=True), strict=True
    ):  # in order, or they would cross
        found[wish.key] = (place, min(max(place, wish.low), wish.high))
    return found


@dataclass(frozen=True)
class Measure:
    """A size to be shown beside the drawing: between two points, in words; ``up``: above it where they are long."""

    first: Point
    second: Point
    words: str
    up: bool = False


def chained(
    measures: Iterable[Measure], along: Axis, start: float, step: float, layer: str, height: float = 2.2
) -> tuple[Dimension, ...]:
    """Dimension lines side by side, the shortest nearest to the drawing; no words over others.

    Args:
        measures: what to show.
        along: ``x`` or ``y``, the direction of the lines.
        start: where the first line runs, on the other axis.
        step: distance of the lines; below 0 away toward lower values.
        layer: of the dimensions.
        height: of the lettering.
    """
    axis = 1 if along == "y" else 0
    lanes: list[list[tuple[float, float]]] = []
    found = []
    for one in sorted(
        measures, key=lambda m: (abs(m.first[axis] - m.second[axis]), m.first, m.second, m.words)
    ):
        low, high = sorted((one.first[axis], one.second[axis]))
        long = width(one.words, height)
        past = long + 1.6 > high - low
        more = long + 2.7 if past else -0.01  # a chain shares its ends
        higher = along == "x" or one.up
        taken = (low - (-0.01 if higher else more), high + (more if higher else -0.01))
        lane = next(
            (n for n, used in enumerate(lanes) if all(taken[1] < a or b < taken[0] for a, b in used)), None
        )
        if lane is None:
            lane = len(lanes)
            lanes.append([])
        lanes[lane].append(taken)
        found.append(
            Dimension(
                layer, one.first, one.second, start + lane * step, along, one.words, past, one.up, height
            )
        )
    return tuple(found)


def holds(box: Box, point: Point) -> bool:
    """Whether a point lies in a box."""
    return box[0] < point[0] < box[2] and box[1] < point[1] < box[3]
