"""The pieces of a section, each component as what is drawn of it, in meters: x from the outer face, y from the roof."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from specgen.drawing.coping import folded
from specgen.drawing.frame import Frame, Laps, Strip, laps_of
from specgen.drawing.levels import Course, Levels
from specgen.drawing.materials import MEMBRANES, cavity_hatch, hatch_of, is_studs
from specgen.drawing.shapes import Area, Dash, Item, Line, Pen, Point, rectangle
from specgen.drawing.sizes import Job
from specgen.model.project import Component

OUTLINE, MATERIAL, MEMBRANE, METAL, BEYOND, DRAINAGE = "outline", "material", "membrane", "metal", "beyond", "drainage"
ROOF_SHOWN = 0.9  # how far the roof field is drawn before the sheet cuts it [m]
# A membrane is a fine line with strokes upon it, so that each kind reads without color.
STROKES: dict[str, Dash] = {
    "barrier": "blocks",
    "top flashing": "solid",
    "roof turn-up": "chain",
    "bridging tape": "dotted",
    "base seal": "dashed",
}

Side = Literal["outer", "roof"]


@dataclass(frozen=True)
class Piece:
    """What is drawn of one component, and where its note may point: at ``x``, from ``low`` to ``high``."""

    name: str  # component id, or a word for what is no component
    items: tuple[Item, ...]
    side: Side
    x: float
    low: float
    high: float
    spine: tuple[Point, ...] = ()  # the line a control layer runs along in it, from the roof toward the wall below


@dataclass(frozen=True)
class Build:
    """What the pieces are made from."""

    job: Job
    frame: Frame
    levels: Levels
    laps: Laps


def pieces(job: Job, frame: Frame, levels: Levels) -> tuple[Piece, ...]:
    """Every piece, what lies behind first."""
    build = Build(job, frame, levels, laps_of(job))
    return (*_roof(build), *_wall(build), *_edges(build), *_top(build))


def sheet(part_role: str, points: tuple[Point, ...], layer: str = MEMBRANE) -> tuple[Line, ...]:
    """A membrane along points."""
    return Line(layer, points, "fine"), Line(layer, points, "heavy", STROKES.get(part_role, "solid"))


def _side(frame: Frame, strip: Strip) -> Side:
    return "outer" if strip.middle <= frame.strips[frame.core].middle else "roof"


def _wall(build: Build) -> Iterator[Piece]:
    for strip in build.frame.strips:
        if strip.part is None:
            if strip.name == "space":
                yield _space(build, strip)
        elif strip.part.role == "plaster":
            yield from _plaster(build, strip, strip.part)
        elif strip.part.role == "drainage layer":
            yield _gap(build, strip, strip.part)
        elif strip.part.role == "framing" and is_studs(strip.part):
            yield _studs(build, strip, strip.part)
        elif strip.part.role == "roof turn-up":
            yield _turn_up(build, strip, strip.part)
        elif strip.part.role in MEMBRANES:
            yield _membrane(build, strip, strip.part)
        else:
            yield _board(build, strip, strip.part)


def _low(build: Build, strip: Strip) -> float:
    """Where a layer ends below: on the roof side at the roof, else out of the sheet."""
    if _side(build.frame, strip) == "roof" and strip is not build.frame.strips[build.frame.core]:
        return build.levels.deck_top
    return build.levels.bottom


def _board(build: Build, strip: Strip, part: Component) -> Piece:
    low, high = _low(build, strip), build.levels.wall_top
    area = Area(MATERIAL, rectangle(strip.x0, low, strip.x1, high), hatch_of(part.role, part.kind))
    spine = ((strip.middle, high), (strip.middle, low))
    return Piece(part.id, (area,), _side(build.frame, strip), strip.middle, low, high, spine)


def _membrane(build: Build, strip: Strip, part: Component) -> Piece:
    """A barrier on its board; where a weep screed stands before it, over the flange, and on again from behind it."""
    high, low = build.levels.wall_top, build.levels.bottom
    screed = build.job.parapet.part("weep screed")
    side = _side(build.frame, strip)
    on_board, over = _barrier_lines(build, strip)
    points: tuple[Point, ...] = (on_board, high), (on_board, low)
    items = sheet(part.role, points)
    if screed is not None and part is build.job.parapet.part("barrier") and not _screed_over(build):
        top, lap = _flange_top(build), build.job.lap(build.job.joint(part, screed), "outlet.lap_barrier")
        step = 1.5 * build.frame.film
        end = max(top - lap.value, build.levels.outlet + 0.01)
        points = ((on_board, high), (on_board, top + step), (over, top), (over, end))
        items = sheet(part.role, points) + sheet(part.role, ((on_board, top - step), (on_board, low)))
    return Piece(part.id, items, side, on_board, low, high, points)


def _barrier_lines(build: Build, strip: Strip) -> tuple[float, float]:
    """Where a barrier runs: on its board, and over the flange of a weep screed."""
    if strip.x1 - strip.x0 < 1.5 * build.frame.film:
        return strip.middle, strip.middle
    inner, outer = strip.x1 - 0.4 * build.frame.film, strip.x0 + 0.4 * build.frame.film
    return (inner, outer) if _side(build.frame, strip) == "outer" else (outer, inner)


def _flange_top(build: Build) -> float:
    screed = build.job.parapet.part("weep screed")
    return build.levels.outlet + build.job.size(screed, "flange", "weep.flange", 0.089).value


def _screed_over(build: Build) -> bool:
    """Whether the flange of the weep screed is stated to lie over the barrier: against the water."""
    screed, barrier = build.job.parapet.part("weep screed"), build.job.parapet.part("barrier")
    joint = build.job.joint(screed, barrier)
    return joint is not None and screed is not None and joint.word("upper") == screed.id


def _space(build: Build, strip: Strip) -> Piece:
    high, low = build.levels.wall_top, build.levels.deck_top
    outline = rectangle(strip.x0, low, strip.x1, high)
    edge = Line(OUTLINE, outline, "fine", "dashed", closed=True)
    cross = (Line(OUTLINE, (outline[0], outline[2]), "fine", "dashed"), Line(OUTLINE, (outline[1], outline[3]), "fine", "dashed"))
    return Piece("space", (edge, *cross), "roof", strip.middle, low, high)


def _plaster(build: Build, strip: Strip, part: Component) -> Iterator[Piece]:
    levels, frame = build.levels, build.frame
    low = levels.outlet if build.job.parapet.part("weep screed") else levels.bottom
    high = levels.plaster_top
    area = Area(MATERIAL, rectangle(strip.x0, low, strip.x1, high), "plaster")
    items: list[Item] = [area]
    if part.word("top_edge") in (None, "casing bead"):
        lip = strip.x0 - frame.film * 0.4
        bead = ((lip, high - 0.012), (lip, high), (strip.x1, high), (strip.x1, high - 0.03))
        items.append(Line(METAL, bead, "medium"))
    yield Piece(part.id, tuple(items), "outer", strip.middle, low, high)
    lath = build.job.parapet.part("lath")
    if lath is not None:
        x = strip.x1 - 0.28 * (strip.x1 - strip.x0)
        line = Line(METAL, ((x, high - 0.004), (x, low + 0.004)), "medium", "dashed")
        yield Piece(lath.id, (line,), "outer", x, low, high)


def _gap(build: Build, strip: Strip, part: Component) -> Piece:
    levels = build.levels
    low = levels.outlet if build.job.parapet.part("weep screed") else levels.bottom
    high = levels.plaster_top
    items: list[Item] = []
    if part.kind == "dimpled sheet":
        items.append(Line(MATERIAL, _dimples(strip, low, high, build.frame.film), "fine"))
    elif part.kind == "grooved mat":
        for number in range(1, 4):
            x = strip.x0 + (strip.x1 - strip.x0) * number / 4.0
            items.append(Line(MATERIAL, ((x, low), (x, high)), "fine", "long"))
    else:
        items.append(Area(MATERIAL, rectangle(strip.x0, low, strip.x1, high), hatch_of(part.role, part.kind), None))
        if part.flag("filter_fabric"):
            items.append(Line(MATERIAL, ((strip.x0, low), (strip.x0, high)), "medium", "dotted"))
    items += _drops(build, strip, low, high)
    return Piece(part.id, tuple(items), "outer", strip.middle, low, high, ((strip.middle, high), (strip.middle, low)))


def _dimples(strip: Strip, low: float, high: float, film: float) -> tuple[Point, ...]:
    """The sheet with its dimples toward the wall: they hold the plaster off it."""
    pitch = max(4.5 * film, (high - low) / 150.0)
    flat, deep = strip.x0 + 0.1 * film, strip.x1 - 0.1 * film
    points: list[Point] = [(flat, low)]
    for number in range(int((high - low) / pitch)):
        y = low + number * pitch
        shares = ((0.0, flat), (0.35, flat), (0.45, deep), (0.75, deep), (0.85, flat))
        points += [(x, y + share * pitch) for share, x in shares]
    return (*points, (flat, high))


def _drops(build: Build, strip: Strip, low: float, high: float) -> Iterator[Line]:
    """Arrows down the gap, and one out of it where it opens."""
    film = build.frame.film
    long, pitch = 5.0 * film, 30.0 * film
    y = high - 8.0 * film
    while y - long > low + 6.0 * film:
        yield Line(DRAINAGE, ((strip.middle, y), (strip.middle, y - long)), "medium", arrow=True)
        y -= max(pitch, (high - low) / 40.0)
    screed = build.job.parapet.part("weep screed")
    if screed is not None and screed.flag("open") is not False:
        start = (strip.middle, low + 3.0 * film)
        out = ((strip.middle, low - 3.0 * film), (strip.x0 - 5.0 * film, low - 7.0 * film))
        yield Line(DRAINAGE, (start, *out), "medium", arrow=True)


def _studs(build: Build, strip: Strip, part: Component) -> Piece:
    levels, wood = build.levels, part.kind == "wood studs"
    feet = levels.deck_top + (levels.thermal_break.value if levels.thermal_break else 0.0)
    feet = min(feet, levels.wall_top - 0.02)
    plate = min(0.038 if wood else 0.032, (levels.wall_top - feet) / 3.0)
    items: list[Item] = []
    for low, high in ((feet, levels.wall_top), (levels.bottom, levels.deck_bottom)):
        items += _bay(strip, part, low, high)
        ends = [high - plate, *([low] if low == feet else [])]
        for y in ends:
            items += _plate(strip, y, y + plate, wood, top=y != low)
    side: Side = "outer" if build.frame.core == 0 else "roof"
    level = (levels.deck_top + feet) / 2.0  # what crosses the wall at roof level crosses it in the thermal break
    spine = (strip.x1, level), (strip.x0, level)
    return Piece(part.id, tuple(items), side, strip.middle, feet, levels.wall_top, spine)


def _bay(strip: Strip, part: Component, low: float, high: float) -> Iterator[Item]:
    flange = min(0.012, (strip.x1 - strip.x0) / 6.0)
    yield Area(MATERIAL, rectangle(strip.x0, low, strip.x1, high), cavity_hatch(part), "fine")
    if part.kind != "wood studs":
        for x in (strip.x0 + flange, strip.x1 - flange):  # the stud beyond the cut
            yield Line(BEYOND, ((x, low), (x, high)), "fine", "dashed")


def _plate(strip: Strip, low: float, high: float, wood: bool, top: bool) -> Iterator[Item]:
    if wood:
        outline = rectangle(strip.x0, low, strip.x1, high)
        yield Area(MATERIAL, outline, "blank", "medium")
        yield Line(MATERIAL, (outline[0], outline[2]))
        yield Line(MATERIAL, (outline[1], outline[3]))
        return
    web, edge = (high, low) if top else (low, high)
    yield Line(METAL, ((strip.x0, edge), (strip.x0, web), (strip.x1, web), (strip.x1, edge)), "heavy")


def _turn_up(build: Build, strip: Strip, part: Component) -> Piece:
    levels = build.levels
    x, end = strip.middle, strip.middle + ROOF_SHOWN
    foot = 0.0 if part.word("cant") != "cant strip" else 4.0 * build.frame.film * 4.0
    corner = ((x + foot, 0.0), (x, foot)) if foot else ((x, 0.0),)
    points = ((end, 0.0), *corner, (x, levels.turn_up_top))
    items: list[Item] = [*sheet(part.role, points)]
    if foot:
        items.append(Area(MATERIAL, ((x, 0.0), (x + foot, 0.0), (x, foot)), "rigid insulation", "fine"))
    if part.word("termination") in ("termination bar under a counterflashing", "sealed termination bar"):
        y = levels.turn_up_top
        bar = build.frame.film
        items.append(Area(METAL, rectangle(x + bar / 2, y - 4 * bar, x + bar, y - bar), "solid", "fine"))
    return Piece(part.id, tuple(items), "roof", x, foot, levels.turn_up_top, points)


def _roof(build: Build) -> Iterator[Piece]:
    """Insulation and deck of the roof field; dashed where they are not described."""
    levels, frame, building = build.levels, build.frame, build.job.project.building
    inner, end = frame.structure[1], frame.right + ROOF_SHOWN
    kind, deck = building.word("roof_insulation"), building.word("roof_deck")
    y0, y1 = levels.deck_top, -frame.film / 2.0
    items: tuple[Item, ...]
    box = rectangle(inner, y0, end, y1)
    if kind:
        items = (Area(MATERIAL, box, hatch_of("roof insulation", kind), "fine"),)
    else:
        items = (Line(OUTLINE, box, "fine", "dashed", closed=True),)
    middle = (y0 + y1) / 2.0
    spine = ((end, middle), (inner, middle))
    yield Piece("roof insulation", items, "roof", inner + 0.05, y0, y1, spine)
    start = frame.strips[frame.core].x0 if frame.strips else 0.0
    box = rectangle(start, levels.deck_bottom, end, levels.deck_top)
    if deck:
        items = (Area(MATERIAL, box, hatch_of("roof deck", deck), "medium"),)
        if deck == "steel":
            items = (*items, *_ribs(box, frame.film))
    else:
        items = (Line(OUTLINE, box, "fine", "dashed", closed=True),)
    yield Piece("roof deck", items, "roof", inner + 0.05, levels.deck_bottom, levels.deck_top)
    if levels.thermal_break is not None:
        strip = frame.strips[frame.core]
        high = min(levels.deck_top + levels.thermal_break.value, levels.wall_top - 0.02)
        area = Area(MATERIAL, rectangle(strip.x0, levels.deck_top, strip.x1, high), "rigid insulation")
        at = strip.x0 + 0.8 * (strip.x1 - strip.x0)
        yield Piece("thermal break", (area,), "roof", at, levels.deck_top, high)


def _ribs(box: tuple[Point, ...], film: float) -> Iterator[Line]:
    (x0, y0), _, (x1, y1), _ = box
    step = (x1 - x0) / 8.0
    points: list[Point] = []
    for number in range(8):
        x = x0 + number * step
        points += [(x, y0), (x + 0.4 * step, y0), (x + 0.5 * step, y1 - film / 2), (x + 0.9 * step, y1 - film / 2)]
    yield Line(METAL, tuple(points), "heavy")


def _edges(build: Build) -> Iterator[Piece]:
    """The weep screed at the foot of the plaster, and the seal across the wall at roof level."""
    levels, frame, parapet = build.levels, build.frame, build.job.parapet
    screed = parapet.part("weep screed")
    if screed is not None:
        plaster = parapet.part("plaster")
        outer = (frame.named(plaster.id) if plaster else None) or (frame.strips[0] if frame.strips else None)
        behind = _behind_barrier(build)
        if outer is not None:
            y = levels.outlet
            nose = outer.x0 - 0.3 * frame.film
            points = ((nose, y + 0.008), (nose, y - 0.004), (behind, y + 0.004), (behind, _flange_top(build)))
            items: list[Item] = [Line(METAL, points, "heavy")]
            yield Piece(screed.id, tuple(items), "outer", nose, y - 0.004, y + 0.008, tuple(reversed(points[1:])))
    seal = parapet.part("base seal")
    if seal is not None:
        x0, x1 = frame.structure
        points = ((x1, levels.deck_top), (x0, levels.deck_top))
        middle = x0 + 0.7 * (x1 - x0)
        yield Piece(seal.id, sheet(seal.role, points), "roof", middle, levels.deck_top, levels.deck_top, points)


def _behind_barrier(build: Build) -> float:
    """Where the flange of the screed stands: behind the barrier that laps it, or before one that it laps."""
    barrier = build.job.parapet.part("barrier")
    strip = build.frame.named(barrier.id) if barrier else None
    if strip is None:
        return build.frame.structure[0]
    on_board, over = _barrier_lines(build, strip)
    return over if _screed_over(build) else (on_board + over) / 2.0


def _top(build: Build) -> Iterator[Piece]:
    first, last = build.frame.structure
    for course in build.levels.courses:
        if course.part.role == "top flashing":
            yield _flashing(build, course)
            continue
        outline = (first, course.under[0]), (last, course.under[1]), (last, course.upper[1]), (first, course.upper[0])
        area = Area(MATERIAL, outline, hatch_of(course.part.role, course.part.kind))
        low, high = min(course.under), min(course.upper)
        x = first + 0.35 * (last - first)
        middle = [(sum(pair) / 2.0) for pair in zip(course.under, course.upper, strict=True)]
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
        (laps.roof_tape, "roof tape", levels.turn_up_top, "roof"),
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


def _legs(build: Build) -> tuple[float, float]:
    """Where the legs of the coping stand: off the faces by what the drip does not project itself."""
    shape, frame = build.levels.coping, build.frame
    assert shape is not None
    out = max(shape.outer_drip.value - shape.projects, 0.6 * frame.film)
    inward = max(shape.inner_drip.value - shape.projects, 0.6 * frame.film)
    return frame.left - out, frame.right + inward


def _cleat(build: Build) -> Iterator[Piece]:
    cleat, levels, frame = build.job.parapet.part("cleat"), build.levels, build.frame
    if cleat is None or levels.coping is None or not levels.coping.metal:
        return
    shape = levels.coping
    left, right = _legs(build)
    outer = frame.named("outer lap")
    face = (outer.x0 if outer else frame.structure[0]) - 0.2 * frame.film
    crown = levels.crown[0]
    bend = max(levels.plaster_top, levels.wall_top) + 0.5 * frame.film
    hang = left + 1.1 * frame.film
    foot = levels.coping_low + shape.rise(right - left)[0] - max(shape.outer_face.value, 0.02)
    points = ((face, max(crown - 0.004, bend)), (face, bend), (hang, bend), (hang, min(foot + 0.012, bend - 0.002)))
    nail = (face - 0.4 * frame.film, (bend + crown) / 2.0), (face + 0.03, (bend + crown) / 2.0)
    items: tuple[Item, ...] = (Line(METAL, points, "heavy"), Line(METAL, nail, "medium", arrow=True))
    yield Piece(cleat.id, items, "outer", hang, min(foot + 0.02, bend), bend)


def _coping(build: Build, part: Component) -> Piece:
    shape, levels = build.levels.coping, build.levels
    assert shape is not None
    left, right = _legs(build)
    pen: Pen = "sheet"
    if shape.metal:
        points = folded(shape, left, right, levels.coping_low)
        foot = min(point[1] for point in points if point[0] <= left + 1e-9)
        edge = levels.coping_low + shape.rise(right - left)[0]
        return Piece(part.id, (Line(METAL, points, pen),), "outer", left, foot, edge, tuple(reversed(points)))
    return _slab(build, part, left, right)


def _slab(build: Build, part: Component, left: float, right: float) -> Piece:
    """A stone, a precast slab, or plaster over the top: its upper side sloped, a drip groove at each edge."""
    shape, levels, film = build.levels.coping, build.levels, build.frame.film
    assert shape is not None
    thick, covered = shape.thickness.value, part.kind == "plaster-covered"
    if covered:
        left, right, thick = build.frame.left, build.frame.right, 0.022
    low = max(levels.crown) + film * 0.5 if not covered else levels.crown[1]
    rises = shape.rise(right - left)
    upper = (low + thick + rises[0], low + thick + rises[1])
    ridge = (((left + right) / 2.0, low + thick + (right - left) / 2.0 * shape.fall),) if shape.toward == "both sides" else ()
    outline = ((left, low), (right, low), (right, upper[1]), *reversed(ridge), (left, upper[0]))
    items: list[Item] = [Area(MATERIAL, outline, hatch_of(part.role, part.kind))]
    if not covered:
        for x in (left + 0.012, right - 0.022):
            items.append(Area(MATERIAL, rectangle(x, low, x + 0.010, low + 0.010), "blank", "medium"))
    return Piece(part.id, tuple(items), "outer", left + 0.3 * (right - left), low, low + thick)
