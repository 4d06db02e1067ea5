"""The pieces of the top: courses, flashing, tapes, cleat, coping."""

from __future__ import annotations

from collections.abc import Iterator
from math import fsum

from specgen.drawing.coping import CopingShape, folded
from specgen.drawing.frame import Frame
from specgen.drawing.levels import Course
from specgen.drawing.materials import hatch_of
from specgen.drawing.near import SAME_M
from specgen.drawing.piece import (
    DRAINAGE,
    MATERIAL,
    METAL,
    Build,
    Piece,
    Side,
    sheet,
)
from specgen.drawing.shapes import Area, Item, Pen, Stroke, rectangle
from specgen.model.project import Component
from specgen.wall.facts import plaster_covered


def top_pieces(build: Build) -> Iterator[Piece]:
    first, last = build.frame.structure
    for course in build.levels.courses:
        if course.part.role == "top flashing":
            yield _flashing(build, course)
            continue
        outline = (
            (first, course.under[0]),
            (last, course.under[1]),
            (last, course.upper[1]),
            (first, course.upper[0]),
        )
        area = Area(MATERIAL, outline, hatch_of(course.part.role, course.part.kind))
        low, high = min(course.under), min(course.upper)
        x = first + 0.35 * (last - first)
        middle = [(fsum(pair) / 2.0) for pair in zip(course.under, course.upper, strict=True)]
        yield Piece(course.part.id, (area,), "outer", x, low, high, ((last, middle[1]), (first, middle[0])))
    yield from _tapes(build)
    coping = build.job.parapet.part("coping")
    yield from _cleat(build)
    if coping is not None and build.levels.coping is not None:
        yield _coping(build, coping)


def _flashing(build: Build, course: Course) -> Piece:
    frame, levels = build.frame, build.levels
    outer, inner = frame.named("outer lap"), frame.named("roof lap")
    first, last = frame.structure
    x0, x1 = (outer.middle if outer else first), (inner.middle if inner else last)
    y = [(a + b) / 2.0 for a, b in zip(course.under, course.upper, strict=True)]
    points = ((x1, levels.roof_lap_end), (x1, y[1]), (x0, y[0]), (x0, levels.outer_lap_end))
    high = min(y)
    side: Side = "roof"
    return Piece(course.part.id, sheet(course.part.role, points), side, x1, levels.roof_lap_end, high, points)


def _tapes(build: Build) -> Iterator[Piece]:
    frame, levels, laps = build.frame, build.levels, build.laps
    for tape, name, at, side in (
        (laps.outer_tape, "outer tape", levels.wall_top, "outer"),
        (laps.roof_tape, "roof tape", levels.roof_lap_top, "roof"),
    ):
        strip = frame.named(name)
        if tape is None or strip is None:
            continue
        each = build.job.size(tape, "each_side", "tape.each_side", 0.050).value
        crown = levels.crown[0 if side == "outer" else 1]
        low, high = max(at - each, frame.film), max(min(at + each, crown - frame.film), at)
        points = (strip.middle, low), (strip.middle, high)
        kind: Side = "outer" if side == "outer" else "roof"
        yield Piece(tape.id, sheet(tape.role, points), kind, strip.middle, low, high, points)


def legs_of(frame: Frame, shape: CopingShape) -> tuple[float, float]:
    """Where the legs of a coping stand: off the faces by what the drip does not project itself."""
    out = max(shape.outer_drip.value - shape.projects, 0.6 * frame.film)
    inward = max(shape.inner_drip.value - shape.projects, 0.6 * frame.film)
    return frame.left - out - frame.clear, frame.right + inward + frame.clear


def overhang_of(frame: Frame, shape: CopingShape | None) -> tuple[float, float]:
    """How far the edges of a coping stand out from the outer and the roof-side face [m], drips included."""
    if shape is None:
        return 0.0, 0.0
    left, right = legs_of(frame, shape)
    return frame.left - left + shape.projects, right - frame.right + shape.projects


def _cleat(build: Build) -> Iterator[Piece]:
    cleat, levels, frame = build.job.parapet.part("cleat"), build.levels, build.frame
    if cleat is None or levels.coping is None or not levels.coping.metal:
        return
    shape = levels.coping
    left, right = legs_of(frame, shape)
    outer = frame.named("outer lap")
    face = (outer.x0 if outer else frame.structure[0]) - 0.2 * frame.film
    crown = levels.crown[0]
    bend = max(levels.plaster_top, levels.wall_top) + 0.5 * frame.film
    hang = left + 1.1 * frame.film
    foot = levels.coping_low + shape.rise(right - left)[0] - max(shape.outer_face.value, 0.02)
    points = (
        (face, max(crown - 0.004, bend)),
        (face, bend),
        (hang, bend),
        (hang, min(foot + 0.012, bend - 0.002)),
    )
    nail = (face - 0.4 * frame.film, (bend + crown) / 2.0), (face + 0.03, (bend + crown) / 2.0)
    items: tuple[Item, ...] = (Stroke(METAL, points, "heavy"), Stroke(METAL, nail, "medium", arrow=True))
    yield Piece(cleat.id, items, "outer", hang, min(foot + 0.02, bend), bend)


def _coping(build: Build, part: Component) -> Piece:
    shape, levels = build.levels.coping, build.levels
    assert shape is not None
    left, right = legs_of(build.frame, shape)
    pen: Pen = "sheet"
    if shape.metal:
        points = folded(shape, left, right, levels.coping_low)
        foot = min(point[1] for point in points if point[0] <= left + SAME_M)
        edge = levels.coping_low + shape.rise(right - left)[0]
        return Piece(
            part.id, (Stroke(METAL, points, pen),), "outer", left, foot, edge, tuple(reversed(points))
        )
    return _slab(build, part, left, right)


def _slab(build: Build, part: Component, left: float, right: float) -> Piece:
    """A stone, a precast slab, or plaster over the top: its upper side sloped, a drip groove at each edge."""
    shape, levels, film = build.levels.coping, build.levels, build.frame.film
    assert shape is not None
    thick, covered = shape.thickness.value, plaster_covered(part)
    if covered and shape.toward != "both sides":
        return _plaster_over(build, part)
    if covered:
        left, right = build.frame.left, build.frame.right
    rest = film + build.frame.clear
    under = levels.crown[0] + rest, levels.crown[1] + rest
    rises = shape.rise(right - left)
    high = max(under) + thick
    upper = high + rises[0], high + rises[1]
    peak = high + (right - left) / 2.0 * shape.fall
    ridge = (((left + right) / 2.0, peak),) if shape.toward == "both sides" else ()
    outline = ((left, under[0]), (right, under[1]), (right, upper[1]), *ridge, (left, upper[0]))
    items: list[Item] = [Area(MATERIAL, outline, hatch_of(part.role, part.kind))]
    if not covered:
        for x, y in ((left + 0.012, under[0]), (right - 0.022, under[1])):  # drip grooves
            items.append(Area(MATERIAL, rectangle(x, y, x + 0.010, y + 0.010), "blank", "medium"))
    low = max(under)
    return Piece(part.id, tuple(items), "outer", left + 0.3 * (right - left), low, high)


def _plaster_over(build: Build, part: Component) -> Piece:
    """Plaster turned over the top: the band of the face goes on over the gap, and both follow the slope below."""
    levels, frame, parapet = build.levels, build.frame, build.job.parapet
    assert levels.coping is not None
    strips = [frame.named(one.id) for role in ("plaster", "drainage layer") if (one := parapet.part(role))]
    face, gap = (*strips, None, None)[:2]
    band = (face.x1 - face.x0) if face else levels.coping.thickness.value
    clear = (gap.x1 - gap.x0) if gap and part.flag("drainage_over_top") else 0.0
    share = levels.coping.thickness.value / (band + clear)  # both together are as thick as the top is taken
    band, clear = band * share, clear * share
    (start, end), (first, last) = frame.structure, levels.crown
    fall = (last - first) / (end - start)
    left, right = frame.left, frame.right

    def at(x: float, up: float) -> tuple[float, float]:
        return x, first + (x - start) * fall + frame.film + frame.clear + up

    back = face.x1 if face else left
    outline = (
        (left, levels.plaster_top),
        (back, levels.plaster_top),
        at(back, clear),
        at(right, clear),
        at(right, clear + band),
        at(left, clear + band),
    )
    items: list[Item] = [Area(MATERIAL, outline, "plaster")]
    if clear and gap:
        run = ((gap.middle, levels.plaster_top), at(gap.middle, clear / 2.0), at(right, clear / 2.0))
        items.append(Stroke(DRAINAGE, run, "medium", "dashed"))
    middle = (left + right) / 2.0
    return Piece(part.id, tuple(items), "outer", middle, at(middle, clear)[1], at(middle, clear + band)[1])
