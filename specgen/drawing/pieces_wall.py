"""The pieces of the wall: boards, studs, plaster, gap, barrier, weep screed, seal at the roof."""

from __future__ import annotations

from collections.abc import Iterator

from specgen.drawing.frame import Frame, Strip
from specgen.drawing.materials import MEMBRANES, cavity_hatch, hatch_of
from specgen.drawing.piece import (
    BEYOND,
    DRAINAGE,
    MATERIAL,
    METAL,
    OUTLINE,
    Build,
    Piece,
    Side,
    sheet,
)
from specgen.drawing.pieces_roof import turn_up_piece
from specgen.drawing.shapes import Area, Item, Point, Stroke, rectangle
from specgen.model.project import Component
from specgen.wall.facts import studs, wood_studs
from specgen.wall.order import lapping_screed


def wall_pieces(build: Build) -> Iterator[Piece]:
    for strip in build.frame.strips:
        if strip.part is None:
            if strip.name == "space":
                yield _space(build, strip)
        elif strip.part.role == "plaster":
            yield from _plaster(build, strip, strip.part)
        elif strip.part.role == "drainage layer":
            yield _gap(build, strip, strip.part)
        elif studs(strip.part):
            yield _studs(build, strip, strip.part)
        elif strip.part.role == "roof turn-up":
            yield turn_up_piece(build, strip, strip.part)
        elif strip.part.role in MEMBRANES:
            yield _membrane(build, strip, strip.part)
        else:
            yield _board(build, strip, strip.part)


def _side(frame: Frame, strip: Strip) -> Side:
    return "outer" if strip.middle <= frame.strips[frame.core].middle else "roof"


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
    if screed is not None and part is lapping_screed(build.job.parapet) and not _screed_over(build):
        top, lap = _flange_top(build), build.job.lap(build.job.joint(part, screed), "outlet.lap_barrier")
        step = 1.5 * build.frame.film
        end = max(top - lap.value, build.levels.outlet + 0.01)
        points = ((on_board, high), (on_board, top + step), (over, top), (over, end))
        items = sheet(part.role, points) + sheet(part.role, ((on_board, top - step), (on_board, low)))
    return Piece(part.id, items, side, on_board, low, high, points)


def _space(build: Build, strip: Strip) -> Piece:
    high, low = build.levels.wall_top, build.levels.deck_top
    outline = rectangle(strip.x0, low, strip.x1, high)
    edge = Stroke(OUTLINE, outline, "fine", "dashed", closed=True)
    cross = (
        Stroke(OUTLINE, (outline[0], outline[2]), "fine", "dashed"),
        Stroke(OUTLINE, (outline[1], outline[3]), "fine", "dashed"),
    )
    return Piece("space", (edge, *cross), "roof", strip.middle, low, high)


def _plaster(build: Build, strip: Strip, part: Component) -> Iterator[Piece]:
    frame, side = build.frame, _side(build.frame, strip)
    low, high = _clad(build, side)
    # The face that the weather meets, and the back: mirrored on the roof side.
    face, back, out = (strip.x0, strip.x1, -1.0) if side == "outer" else (strip.x1, strip.x0, 1.0)
    area = Area(MATERIAL, rectangle(strip.x0, low, strip.x1, high), "plaster")
    items: list[Item] = [area]
    if part.word("top_edge") in (None, "casing bead"):
        lip = face + out * frame.film * 0.4
        bead = ((lip, high - 0.012), (lip, high), (back, high), (back, high - 0.03))
        items.append(Stroke(METAL, bead, "medium"))
    yield Piece(part.id, tuple(items), side, strip.middle, low, high)
    laths = build.job.parapet.all_of("lath")
    lath = next((one for one in laths if _nearer(build, one, part)), None)
    if lath is not None:
        x = back + 0.28 * (face - back)
        line = Stroke(METAL, ((x, high - 0.004), (x, low + 0.004)), "medium", "dashed")
        yield Piece(lath.id, (line,), side, x, low, high)


def _nearer(build: Build, lath: Component, plaster: Component) -> bool:
    """Whether this is the plaster that the lath lies in: the nearest of the build-up."""
    order = [one.id for one in build.job.parapet.build_up]
    every = build.job.parapet.all_of("plaster")
    return min(every, key=lambda one: abs(order.index(one.id) - order.index(lath.id))) is plaster


def _clad(build: Build, side: Side) -> tuple[float, float]:
    """From where to where plaster and gap run: on the roof side they end above the roof, as high as is stated."""
    levels, screed = build.levels, build.job.parapet.part("weep screed")
    if side == "outer":
        return (levels.outlet if screed else levels.bottom), levels.plaster_top
    above = build.job.size(screed, "above_roof", "outlet.above_roof", 0.2).value
    return min(above, levels.plaster_top / 2.0), levels.plaster_top


def _gap(build: Build, strip: Strip, part: Component) -> Piece:
    side = _side(build.frame, strip)
    low, high = _clad(build, side)
    items: list[Item] = []
    if part.kind == "dimpled sheet":
        points = _dimples(strip, low, high, build.frame.film)
        if side == "roof":
            points = tuple((2.0 * strip.middle - x, y) for x, y in points)
        items.append(Stroke(MATERIAL, points, "fine"))
    elif part.kind == "grooved mat":
        for number in range(1, 4):
            x = strip.x0 + (strip.x1 - strip.x0) * number / 4.0
            items.append(Stroke(MATERIAL, ((x, low), (x, high)), "fine", "long"))
    else:
        items.append(
            Area(MATERIAL, rectangle(strip.x0, low, strip.x1, high), hatch_of(part.role, part.kind), None)
        )
        if part.flag("filter_fabric"):
            items.append(Stroke(MATERIAL, ((strip.x0, low), (strip.x0, high)), "medium", "dotted"))
    items += _drops(build, strip, low, high, side)
    return Piece(
        part.id, tuple(items), side, strip.middle, low, high, ((strip.middle, high), (strip.middle, low))
    )


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


def _drops(build: Build, strip: Strip, low: float, high: float, side: Side) -> Iterator[Stroke]:
    """Arrows down the gap, and one out of it where it opens."""
    film = build.frame.film
    long, pitch = 5.0 * film, 30.0 * film
    y = high - 8.0 * film
    while y - long > low + 6.0 * film:
        yield Stroke(DRAINAGE, ((strip.middle, y), (strip.middle, y - long)), "medium", arrow=True)
        y -= max(pitch, (high - low) / 40.0)
    screed = build.job.parapet.part("weep screed")
    if screed is not None and screed.flag("open") is not False:
        start = (strip.middle, low + 3.0 * film)
        beyond = strip.x0 - 5.0 * film if side == "outer" else strip.x1 + 5.0 * film
        out = ((strip.middle, low - 3.0 * film), (beyond, low - 7.0 * film))
        yield Stroke(DRAINAGE, (start, *out), "medium", arrow=True)


def _studs(build: Build, strip: Strip, part: Component) -> Piece:
    levels, wood = build.levels, wood_studs(part)
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
    level = (
        levels.deck_top + feet
    ) / 2.0  # what crosses the wall at roof level crosses it in the thermal break
    spine = (strip.x1, level), (strip.x0, level)
    return Piece(part.id, tuple(items), side, strip.middle, feet, levels.wall_top, spine)


def _bay(strip: Strip, part: Component, low: float, high: float) -> Iterator[Item]:
    flange = min(0.012, (strip.x1 - strip.x0) / 6.0)
    yield Area(MATERIAL, rectangle(strip.x0, low, strip.x1, high), cavity_hatch(part), "fine")
    if not wood_studs(part):
        for x in (strip.x0 + flange, strip.x1 - flange):  # the stud beyond the cut
            yield Stroke(BEYOND, ((x, low), (x, high)), "fine", "dashed")


def _plate(strip: Strip, low: float, high: float, wood: bool, top: bool) -> Iterator[Item]:
    if wood:
        outline = rectangle(strip.x0, low, strip.x1, high)
        yield Area(MATERIAL, outline, "blank", "medium")
        yield Stroke(MATERIAL, (outline[0], outline[2]))
        yield Stroke(MATERIAL, (outline[1], outline[3]))
        return
    web, edge = (high, low) if top else (low, high)
    yield Stroke(METAL, ((strip.x0, edge), (strip.x0, web), (strip.x1, web), (strip.x1, edge)), "heavy")


def edge_pieces(build: Build) -> Iterator[Piece]:
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
            bent = ((nose, y + 0.008), (nose, y - 0.004), (behind, y + 0.004), (behind, _flange_top(build)))
            items: list[Item] = [Stroke(METAL, bent, "heavy")]
            yield Piece(
                screed.id, tuple(items), "outer", nose, y - 0.004, y + 0.008, tuple(reversed(bent[1:]))
            )
    seal = parapet.part("base seal")
    if seal is not None:
        x0, x1 = frame.structure
        points = ((x1, levels.deck_top), (x0, levels.deck_top))
        middle = x0 + 0.7 * (x1 - x0)
        yield Piece(
            seal.id, sheet(seal.role, points), "roof", middle, levels.deck_top, levels.deck_top, points
        )


def _behind_barrier(build: Build) -> float:
    """Where the flange of the screed stands: behind the barrier that laps it, or before one that it laps."""
    barrier = lapping_screed(build.job.parapet)
    strip = build.frame.named(barrier.id) if barrier else None
    if strip is None:
        return build.frame.structure[0]
    on_board, over = _barrier_lines(build, strip)
    return over if _screed_over(build) else (on_board + over) / 2.0


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
    screed, barrier = build.job.parapet.part("weep screed"), lapping_screed(build.job.parapet)
    joint = build.job.joint(screed, barrier)
    return joint is not None and screed is not None and joint.word("upper") == screed.id
