"""The hatches of materials as strokes and dots, by the drafting convention of each; the same ones for an outline.

Cast concrete: dots and triangles. Concrete masonry: pairs of diagonals. Stone: long diagonals. Wood across its grain:
growth rings; along it: grain lines. Plywood: veneers along the face; strand board: short strokes. Gypsum: rows of
dots. Plaster: dense stipple. Rigid insulation: crossed diagonals; loose insulation: loops; foam: a zigzag.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from math import cos, dist, pi, radians, sin, sqrt

from specgen.drawing.near import PARALLEL, SAME_MM, between
from specgen.drawing.shapes import Hatch, Point, bounds, rectangle

Segment = tuple[Point, Point]
MOST_DOTS = 2500  # of one area; a larger one is stippled more widely


@dataclass(frozen=True)
class Strokes:
    """What a hatch is drawn with: line segments and dots, all inside the outline."""

    lines: tuple[Segment, ...] = ()
    dots: tuple[Point, ...] = ()

    @cached_property
    def runs(self) -> tuple[tuple[Point, ...], ...]:
        """The segments, those that go on where the one before ends as one line."""
        found: list[list[Point]] = []
        for start, end in self.lines:
            if found and dist(found[-1][-1], start) < SAME_MM:
                found[-1].append(end)
            else:
                found.append([start, end])
        return tuple(map(tuple, found))


@lru_cache(maxsize=256)  # each file format of a sheet asks again
def strokes(outline: tuple[Point, ...], hatch: Hatch) -> Strokes:
    """The strokes and dots of a hatch inside an outline, in millimeters of the sheet."""
    if len(outline) < 3:
        return Strokes()
    left, lower, right, upper = bounds(outline)
    if right - left < SAME_MM or upper - lower < SAME_MM:
        return Strokes()
    match hatch:
        case "concrete":
            triangles = [s for at in _scatter(outline, 5.5, 7) for s in _triangle(at)]
            return Strokes(_clipped(triangles, outline), tuple(_scatter(outline, 1.3, 3)))
        case "plaster":
            return Strokes((), tuple(_scatter(outline, 0.62, 1)))
        case "gypsum":
            return Strokes((), tuple(_rows(outline, 0.95)))
        case "mesh":
            return Strokes(_clipped(_tangle(outline), outline))
        case "strands":
            return Strokes(_clipped(_flakes(outline), outline))
        case "masonry":
            pairs = [*_diagonals(outline, 4.0, 45.0), *_diagonals(outline, 4.0, 45.0, 0.8)]
            return Strokes(_clipped(pairs, outline))
        case "stone":
            return Strokes(_clipped([*_diagonals(outline, 2.6, 60.0)], outline))
        case "rigid insulation":
            crossed = [*_diagonals(outline, 2.4, 45.0), *_diagonals(outline, 2.4, -45.0)]
            return Strokes(_clipped(crossed, outline))
        case "wood end grain":
            return Strokes(_clipped([*_rings(outline)], outline))
        case "wood grain":
            return Strokes(_clipped([*_along(outline, 1.5)], outline))
        case "plywood":
            return Strokes(_clipped([*_along(outline, 0.75)], outline))
        case "batt insulation":
            return Strokes(_clipped([*_wave(outline, loops=True)], outline))
        case "foam":
            return Strokes(_clipped([*_wave(outline, loops=False)], outline))
    return Strokes()


def inside(point: Point, outline: tuple[Point, ...]) -> bool:
    """Whether a point lies in an outline, by crossings to its right."""
    x, y = point
    within = False
    for (x0, y0), (x1, y1) in pairwise((*outline, outline[0])):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            within = not within
    return within


def _clipped(segments: list[Segment], outline: tuple[Point, ...]) -> tuple[Segment, ...]:
    return tuple(piece for one in segments for piece in _pieces(one, outline))


def _pieces(segment: Segment, outline: tuple[Point, ...]) -> Iterator[Segment]:
    (x0, y0), (x1, y1) = segment
    dx, dy = x1 - x0, y1 - y0
    at = [0.0, 1.0]
    for (u0, v0), (u1, v1) in pairwise((*outline, outline[0])):
        eu, ev = u1 - u0, v1 - v0
        cross = dx * ev - dy * eu
        if abs(cross) < PARALLEL:
            continue
        t = ((u0 - x0) * ev - (v0 - y0) * eu) / cross
        s = ((u0 - x0) * dy - (v0 - y0) * dx) / cross
        if 0.0 < t < 1.0 and between(s, 0.0, 1.0):
            at.append(t)
    at.sort()
    for a, b in pairwise(at):
        middle = (a + b) / 2.0
        if b - a > SAME_MM and inside((x0 + middle * dx, y0 + middle * dy), outline):
            yield (x0 + a * dx, y0 + a * dy), (x0 + b * dx, y0 + b * dy)


def _chance(i: int, j: int, salt: int) -> float:
    """A number from 0 to 1 that looks random and is always the same."""
    mixed = (i * 374761393 + j * 668265263 + salt * 2147483647) & 0xFFFFFFFF
    mixed = ((mixed ^ (mixed >> 13)) * 1274126177) & 0xFFFFFFFF
    return ((mixed ^ (mixed >> 16)) & 0xFFFF) / 65535.0


def _grid(outline: tuple[Point, ...], pitch: float) -> Iterator[tuple[int, int, float, float, float]]:
    left, lower, right, upper = bounds(outline)
    pitch = max(pitch, sqrt((right - left) * (upper - lower) / MOST_DOTS))
    for i in range(int((right - left) / pitch) + 1):
        for j in range(int((upper - lower) / pitch) + 1):
            yield i, j, left + (i + 0.5) * pitch, lower + (j + 0.5) * pitch, pitch


def _scatter(outline: tuple[Point, ...], pitch: float, salt: int) -> Iterator[Point]:
    within = _within(outline)
    for i, j, x, y, step in _grid(outline, pitch):
        at = x + (_chance(i, j, salt) - 0.5) * step, y + (_chance(i, j, salt + 1) - 0.5) * step
        if within(at):
            yield at


def _within(outline: tuple[Point, ...]) -> Callable[[Point], bool]:
    """Whether a point lies in an outline: most are upright rectangles, and each holds thousands of dots."""
    left, lower, right, upper = bounds(outline)
    if set(outline) == set(rectangle(left, lower, right, upper)) and len(outline) == 4:
        return lambda at: left <= at[0] < right and lower <= at[1] < upper
    return lambda at: inside(at, outline)


def _rows(outline: tuple[Point, ...], pitch: float) -> Iterator[Point]:
    within = _within(outline)
    for _, j, x, y, step in _grid(outline, pitch):
        at = x + (step / 2.0 if j % 2 else 0.0), y
        if within(at):
            yield at


def _triangle(at: Point, size: float = 0.75) -> Iterator[Segment]:
    turn = _chance(round(at[0] * 10), round(at[1] * 10), 5) * 2.0 * pi
    corners = [(at[0] + size * cos(turn + k * 2.1), at[1] + size * sin(turn + k * 2.1)) for k in range(3)]
    return pairwise((*corners, corners[0]))


def _tangle(outline: tuple[Point, ...]) -> list[Segment]:
    found = []
    for i, j, x, y, step in _grid(outline, 0.7):
        turn = _chance(i, j, 11) * 2.0 * pi
        found.append(((x, y), (x + 1.3 * step * cos(turn), y + 1.3 * step * sin(turn))))
    return found


def _flakes(outline: tuple[Point, ...]) -> list[Segment]:
    across = _is_upright(outline)
    found: list[Segment] = []
    for i, j, x, y, step in _grid(outline, 1.0):
        slant = (_chance(i, j, 13) - 0.5) * 0.5
        along, aside = 0.75 * step, 0.75 * step * slant
        ends = (aside, along) if across else (along, aside)
        found.append(((x - ends[0], y - ends[1]), (x + ends[0], y + ends[1])))
    return found


def _diagonals(
    outline: tuple[Point, ...], pitch: float, degrees: float, offset: float = 0.0
) -> Iterator[Segment]:
    left, lower, right, upper = bounds(outline)
    reach = (right - left) + (upper - lower)
    pitch = max(pitch, reach / 400.0)
    run, rise = cos(radians(degrees)), sin(radians(degrees))
    # Lines stand at multiples of the pitch on the sheet, so that neighbors of one material match.
    corners = [x * -rise + y * run for x in (left, right) for y in (lower, upper)]
    middle = (left + right) / 2.0 * run + (lower + upper) / 2.0 * rise
    for number in range(int(min(corners) / pitch) - 1, int(max(corners) / pitch) + 2):
        away = number * pitch + offset
        x, y = middle * run - away * rise, middle * rise + away * run
        yield (x - reach * run, y - reach * rise), (x + reach * run, y + reach * rise)


def _is_upright(outline: tuple[Point, ...]) -> bool:
    left, lower, right, upper = bounds(outline)
    return upper - lower > right - left


def _along(outline: tuple[Point, ...], pitch: float) -> Iterator[Segment]:
    left, lower, right, upper = bounds(outline)
    upright = _is_upright(outline)
    thick = right - left if upright else upper - lower
    count = min(max(round(thick / pitch), 2), 400)
    for number in range(1, count):
        at = thick * number / count
        yield (
            ((left + at, lower), (left + at, upper)) if upright else ((left, lower + at), (right, lower + at))
        )


def _rings(outline: tuple[Point, ...]) -> Iterator[Segment]:
    left, lower, right, upper = bounds(outline)
    high = upper - lower
    x, y = left + 0.38 * (right - left), lower - 0.35 * high
    farthest = sqrt(max(right - x, x - left) ** 2 + (upper - y) ** 2)
    pitch = max(1.1, farthest / 60.0)
    for number in range(1, int(farthest / pitch) + 1):
        r = number * pitch
        arc = [(x + r * cos(t * pi / 48), y + r * sin(t * pi / 48)) for t in range(49)]
        yield from pairwise(arc)


def _wave(outline: tuple[Point, ...], loops: bool) -> Iterator[Segment]:
    left, lower, right, upper = bounds(outline)
    upright = _is_upright(outline)
    thick, long = (right - left, upper - lower) if upright else (upper - lower, right - left)
    pitch = max(min(thick * 0.55, 5.0), long / 200.0, 0.8)
    steps = 16 if loops else 2
    points = []
    for number in range(int(long / pitch * steps) + 2):
        t = number / steps
        # A loop leans back at its turns, which sets insulation apart from a plain wave.
        along = (t + (0.28 * sin(2.0 * pi * t) if loops else 0.0)) * pitch
        aside = (0.5 - 0.46 * cos(pi * t) if loops else abs((t % 2.0) - 1.0)) * thick
        points.append((left + aside, lower + along) if upright else (left + along, lower + aside))
    yield from pairwise(points)
