"""A view of a detail in meters, and the layers that run through it along a path."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from math import cos, hypot, pi, sin

from specgen.drawing.frame import Frame, Strip
from specgen.drawing.labels import Measure
from specgen.drawing.materials import MEMBRANES, cavity_hatch, hatch_of
from specgen.drawing.piece import BEYOND, MATERIAL, METAL, OUTLINE, sheet
from specgen.drawing.shapes import Area, Box, Dash, Item, Pen, Point, Stroke, Text, bounds
from specgen.model.project import Component
from specgen.wall.facts import studs, wood_studs

Run = Callable[[float], tuple[Point, ...]]  # depth from the outer face to the line along it
STUD_WOOD, STUD_STEEL = 0.038, 0.041  # [m] along the wall
LETTERS = 2.2


@dataclass(frozen=True)
class Sketch:
    """One view of a detail [m]. ``targets``: where the steps of the work on a part may point at.

    ``zones`` are heights that must be seen where plain wall may be left out between them.
    """

    title: str
    items: tuple[Item, ...]
    targets: Mapping[str, Point]
    level: tuple[Measure, ...] = ()
    upright: tuple[Measure, ...] = ()
    ends: tuple[tuple[Point, Point], ...] = ()  # where the drawing is broken off
    zones: tuple[tuple[float, float], ...] = ()

    @property
    def box(self) -> Box:
        """The box around what is drawn."""
        drawn = [point for item in self.items for point in points_of(item)]
        return bounds((*drawn, *(point for end in self.ends for point in end)))


@dataclass
class Pencil:
    """What is drawn of one view while it grows."""

    film: float  # how thick a membrane is drawn [m]
    items: list[Item] = field(default_factory=list)
    targets: dict[str, Point] = field(default_factory=dict)

    def metal(self, *points: Point, pen: Pen = "sheet", dash: Dash = "solid") -> None:
        """Sheet metal along points."""
        self.items.append(Stroke(METAL, points, pen, dash))

    def membrane(self, role: str, *points: Point) -> None:
        """A membrane along points."""
        self.items += sheet(role, points)

    def beyond(self, *points: Point) -> None:
        """An edge that lies over or behind the cut."""
        self.items.append(Stroke(BEYOND, points, "fine", "dashed"))

    def solid(self, outline: tuple[Point, ...], role: str = "", kind: str | None = None) -> None:
        """A part with the hatch of its kind."""
        self.items.append(Area(MATERIAL, outline, hatch_of(role, kind)))

    def bead(self, at: Point, across: float, up: float) -> None:
        """A bead of sealant in the corner of two parts."""
        x, y = at
        self.items.append(Area(METAL, ((x, y), (x + across, y), (x, y + up)), "solid", "fine"))

    def fastener(self, at: Point, to: Point) -> None:
        """A fastener from its head to its point."""
        self.items.append(Stroke(METAL, (at, to), "medium", arrow=True))

    def arrow(self, words: str, start: Point, end: Point, beside: Point) -> None:
        """A slope or another direction, with its words."""
        self.items.append(Stroke("dimension", (start, end), "medium", arrow=True))
        self.items.append(Text("dimension", beside, words, LETTERS, halo=True))

    def word(self, at: Point, words: str) -> None:
        """Lettering in the middle of a place."""
        self.items.append(Text("note", at, words, LETTERS, "middle", halo=True))

    def aim(self, at: Point, *names: str) -> None:
        """The place that the notes on some parts point at; the first one counts."""
        for name in names:
            self.targets.setdefault(name, at)

    def strips(self, frame: Frame, run: Run, aim: float = 0.6) -> None:
        """The layers of a wall along a path; ``aim``: where on its last stretch the notes point at."""
        for strip in frame.strips:
            self.items += layer_items(strip, run, self.film)
            line = run(strip.middle)
            (x0, y0), (x1, y1) = line[-2:]
            at = x0 + aim * (x1 - x0), y0 + aim * (y1 - y0)
            if strip.part is not None:
                self.aim(at, strip.part.role)
            elif strip.name in ("outer lap", "roof lap"):
                self.aim(at, f"{strip.name} of the flashing")

    def sketch(
        self,
        title: str,
        level: Iterable[Measure] = (),
        upright: Iterable[Measure] = (),
        ends: Iterable[tuple[Point, Point]] = (),
        zones: Iterable[tuple[float, float]] = (),
    ) -> Sketch:
        """The view as it stands."""
        return Sketch(
            title,
            tuple(self.items),
            dict(self.targets),
            tuple(level),
            tuple(upright),
            tuple(ends),
            tuple(zones),
        )


def points_of(item: Item) -> tuple[Point, ...]:
    """The points of what is drawn of an item."""
    match item:
        case Stroke():
            return item.points
        case Area():
            return item.outline
        case Text():
            return (item.at,)
        case _:
            return ()


def straight(start: Point, way: Point, inward: Point, long: float) -> Run:
    """A path along a straight face: from a point of it in a direction; ``inward`` points into the wall."""

    def run(depth: float) -> tuple[Point, ...]:
        x, y = start[0] + depth * inward[0], start[1] + depth * inward[1]
        return (x, y), (x + long * way[0], y + long * way[1])

    return run


def around(turn: float, long: float, upright: float) -> Run:
    """A path around a corner in plan: outdoors above and, outside of it (``turn`` 1), at the left; inside, at the right.

    ``long`` and ``upright`` are measured on the level and the upright leg from the corner of the outer face.
    """

    def run(depth: float) -> tuple[Point, ...]:
        aside = (depth, -upright) if turn > 0 else (-depth, upright)
        return aside, (turn * depth, -depth), (long, -depth)

    return run


def layer_items(strip: Strip, run: Run, film: float) -> Iterator[Item]:
    """One layer along a path."""
    part, line = strip.part, run(strip.middle)
    if part is None:
        if strip.name == "space":
            yield from (Stroke(OUTLINE, run(at), "fine", "dashed") for at in (strip.x0, strip.x1))
        else:
            yield from sheet("bridging tape" if "tape" in strip.name else "top flashing", line)
    elif part.role in MEMBRANES:
        yield from sheet(part.role, line)
    elif part.role == "drainage layer":
        yield from _drainage(strip, part, run, film)
    else:
        yield from _filled(strip, part, run)


def _filled(strip: Strip, part: Component, run: Run) -> Iterator[Item]:
    yield from _hatched(strip, part, run)
    for at in (strip.x0, strip.x1):
        yield Stroke(MATERIAL, run(at), "medium")
    if part.role == "plaster":  # the lath lies in its back
        yield Stroke(METAL, run(strip.x1 - 0.28 * (strip.x1 - strip.x0)), "medium", "dashed")


def _hatched(strip: Strip, part: Component, run: Run) -> Iterator[Area]:
    """The hatch of a layer on each stretch of the path."""
    hatch = cavity_hatch(part) if studs(part) else hatch_of(part.role, part.kind)
    for (a, b), (d, c) in zip(pairwise(run(strip.x0)), pairwise(run(strip.x1)), strict=True):
        yield Area(MATERIAL, (a, b, c, d), hatch, None)


def _drainage(strip: Strip, part: Component, run: Run, film: float) -> Iterator[Item]:
    if part.kind != "dimpled sheet":
        yield from _hatched(strip, part, run)
        yield Stroke(MATERIAL, run(strip.middle), "fine", "long")
        return
    flat, deep = run(strip.x0 + 0.1 * film), run(strip.x1 - 0.1 * film)
    points: list[Point] = []
    for (a, b), (d, c) in zip(pairwise(flat), pairwise(deep), strict=True):
        count = max(int(hypot(b[0] - a[0], b[1] - a[1]) / max(4.5 * film, 0.02)), 1)
        for number in range(count):
            for share, pair in (
                (0.0, (a, b)),
                (0.35, (a, b)),
                (0.45, (d, c)),
                (0.75, (d, c)),
                (0.85, (a, b)),
            ):
                points.append(between(*pair, (number + share) / count))
        points.append(b)
    yield Stroke(MATERIAL, tuple(points), "fine")


def between(a: Point, b: Point, share: float) -> Point:
    """A point on the way from one to another."""
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def stud_items(strip: Strip | None, run: Run, places: Iterable[tuple[int, float]]) -> Iterator[Item]:
    """Studs cut across, square to the face: on which stretch of the path, and how far from where it is whole [m].

    A distance below 0 counts from the end of the stretch.
    """
    if strip is None or strip.part is None or not studs(strip.part):
        return
    wood = wood_studs(strip.part)
    wide = STUD_WOOD if wood else STUD_STEEL
    outer, inner = run(strip.x0), run(strip.x1)
    for stretch, away in places:
        a, b, d, c = outer[stretch], outer[stretch + 1], inner[stretch], inner[stretch + 1]
        long = hypot(b[0] - a[0], b[1] - a[1])
        way = (b[0] - a[0]) / long, (b[1] - a[1]) / long
        start, end = max(_along(a, way), _along(d, way)), min(_along(b, way), _along(c, way))
        at = start + away if away >= 0.0 else end + away - wide
        low, high = (_moved(one, way, at - _along(one, way)) for one in (a, d))
        box = (low, _moved(low, way, wide), _moved(high, way, wide), high)
        yield Area(MATERIAL, box, "blank", "medium" if wood else None)
        if wood:
            yield Stroke(MATERIAL, (box[0], box[2]))
            yield Stroke(MATERIAL, (box[1], box[3]))
        else:
            yield Stroke(METAL, (box[1], box[0], box[3], box[2]), "heavy")


def _along(point: Point, way: Point) -> float:
    return point[0] * way[0] + point[1] * way[1]


def _moved(point: Point, way: Point, by: float) -> Point:
    return point[0] + way[0] * by, point[1] + way[1] * by


def round_points(center: Point, radius: float) -> tuple[Point, ...]:
    """The outline of a circle."""
    return tuple(
        (center[0] + radius * cos(n * pi / 16), center[1] + radius * sin(n * pi / 16)) for n in range(32)
    )


def looped(start: Point, end: Point, deep: float, along: str = "x") -> tuple[Point, ...]:
    """A loop that hangs from one point to another across a joint; ``deep`` [m] below 0 hangs the other way."""
    points = []
    for number in range(13):
        share = number / 12.0
        x, y = between(start, end, share)
        sag = deep * sin(pi * share)
        points.append((x, y - sag) if along == "x" else (x - sag, y))
    return tuple(points)
