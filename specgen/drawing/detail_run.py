"""Details cut along the parapet: its end at a rising wall, a step between heights, a joint of the building."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import fsum

from specgen.drawing.coping import CopingShape, leg_points
from specgen.drawing.detail_plan import slope_above
from specgen.drawing.frame import Frame, Strip, frame_of
from specgen.drawing.labels import Measure
from specgen.drawing.levels import Levels, levels_of
from specgen.drawing.materials import cavity_hatch, hatch_of
from specgen.drawing.piece import DRAINAGE, MATERIAL, METAL
from specgen.drawing.pieces_top import overhang_of
from specgen.drawing.shapes import Area, Point, Stroke, rectangle
from specgen.drawing.sizes import Job, Size
from specgen.drawing.sketch import Pencil, Sketch, layer_items, looped, straight
from specgen.model.project import Record
from specgen.wall.facts import studs, wood_studs

SIDE = 0.30  # of the parapet shown beside the place [m]
BEHIND = 0.10  # of the framing of a rising wall that is shown
BELOW = 0.14  # of the parapet below its top
ABOVE = 0.10  # of a rising wall above what is joined to it


@dataclass(frozen=True)
class Cut:
    """A parapet cut along its middle. Zero is the upper side of what lies on the wall; depths of a flank from its face.

    ``barrier``, ``metal``, ``membrane``: where in a flank the barrier, the metal and the flashing turned up stand.
    """

    job: Job
    frame: Frame
    levels: Levels
    barrier: float
    metal: float
    membrane: float
    board: float
    strips: tuple[Strip, ...]  # of the flank, plaster to framing

    @property
    def film(self) -> float:
        """How thick a membrane is drawn."""
        return self.frame.film

    @property
    def crown(self) -> float:
        """The upper side of the courses in the middle of the wall, above the roof."""
        return fsum(self.levels.crown) / 2.0


def _cut(job: Job, factor: float) -> Cut:
    """The flank is built like the outer face: its layers as far as the framing, with room for what is turned up."""
    frame = frame_of(job, factor)
    film, at, strips = frame.film, 0.0, []
    named = {"barrier": 0.0, "board": 0.0}
    for strip in frame.strips[: frame.core + 1]:
        if strip.part is None or strip.part.role == "roof turn-up":
            continue
        if strip.part.role == "barrier" and not named["barrier"]:
            named["barrier"] = at + 0.5 * film
            strips.append(Strip(strip.name, at, at + film, strip.size, strip.part))
            at += 3.2 * film
            named["board"] = at
            continue
        wide = BEHIND if strip is frame.strips[frame.core] else strip.x1 - strip.x0
        strips.append(Strip(strip.name, at, at + wide, strip.size, strip.part))
        at += wide
    board = named["board"] or (strips[-1].x0 if strips else 0.0)
    barrier = named["barrier"] or board - 2.7 * film
    metal, membrane = board - 1.6 * film, board - 0.6 * film
    return Cut(job, frame, levels_of(job, frame), barrier, metal, membrane, board, tuple(strips))


def _top(pencil: Pencil, cut: Cut, start: float, end: float, base: float, low: float = -BELOW) -> None:
    """What carries the top and lies on it, from ``start`` to ``end``; ``base`` is its upper side."""
    y = base
    for course in reversed(cut.levels.courses):
        if course.part.role == "top flashing":
            continue
        thick = (fsum(course.upper) - fsum(course.under)) / 2.0
        hatch = hatch_of(course.part.role, course.part.kind)
        hatch = "wood grain" if hatch == "wood end grain" else hatch  # cut along its grain
        pencil.items.append(Area(MATERIAL, rectangle(start, y - thick, end, y), hatch))
        pencil.aim((start + 0.3 * (end - start), y - 0.5 * thick), course.part.role)
        y -= thick
    core = cut.frame.strips[cut.frame.core].part if cut.frame.strips else None
    if core is None:
        return
    low = min(low, y - 0.05)
    if not studs(core):
        pencil.solid(rectangle(start, low, end, y), core.role, core.kind)
        return
    plate = 0.038 if wood_studs(core) else 0.0
    pencil.items.append(Area(MATERIAL, rectangle(start, low, end, y), cavity_hatch(core), "fine"))
    if plate:
        pencil.items.append(Area(MATERIAL, rectangle(start, y - plate, end, y), "wood grain"))
    else:
        pencil.metal((start, y - 0.032), (start, y), (end, y), (end, y - 0.032), pen="heavy")


def _line(cut: Cut) -> float:
    """How high the coping is drawn over what it lies on."""
    return 2.4 * cut.film


def _coping(pencil: Pencil, cut: Cut, start: float, end: float, base: float) -> None:
    """The top in section: a line of metal, or a slab."""
    part, shape = cut.job.parapet.part("coping"), cut.levels.coping
    if part is None or shape is None:
        return
    y = base + _line(cut)
    if shape.metal:
        pencil.metal((start, y), (end, y))
    else:
        pencil.solid(
            rectangle(start, y - 0.5 * cut.film, end, y + shape.thickness.value), "coping", part.kind
        )
    pencil.aim((start + 0.25 * (end - start), y), "coping")


def _flank(pencil: Pencil, cut: Cut, strips: Iterable[Strip], top: float, ends: tuple[float, float]) -> None:
    """The layers of a flank: plaster and gap from ``ends[0]``, all before the board from ``ends[1]``, the rest whole."""
    for strip in strips:
        assert strip.part is not None
        role = strip.part.role
        foot = (
            ends[0] if role in ("plaster", "drainage layer") else ends[1] if strip.x0 < cut.board else -BELOW
        )
        run = straight((0.0, top), (0.0, -1.0), (1.0, 0.0), top - foot)
        pencil.items += layer_items(strip, run, cut.film)
        above = (
            0.25 if role in ("plaster", "drainage layer") else 0.5
        )  # and near its foot, where the wall is not left out
        pencil.aim((strip.middle, foot + min(above * (top - foot), 0.2 * above + 0.06)), f"flank {role}")
    plaster = next((one for one in cut.strips if one.part and one.part.role == "plaster"), None)
    if plaster is not None:
        y = ends[0]
        back = cut.barrier + 0.5 * cut.film
        pencil.metal(
            (-0.3 * cut.film, y + 0.008),
            (-0.3 * cut.film, y - 0.004),
            (back, y + 0.004),
            (back, y + 0.07),
            pen="heavy",
        )
        pencil.aim((plaster.middle, y), "weep screed of the flank")


def _size(job: Job, key: str) -> Size:
    value = job.practice.quantity(key)
    return Size(value.value, True, job.words(value))


def _dammed(cut: Cut, place: Record) -> bool:
    """Whether an end dam is drawn: it is of metal, and nobody says that there is none."""
    return cut.levels.coping is not None and cut.levels.coping.metal and place.flag("end_dam") is not False


def end(job: Job, factor: float, place: Record) -> tuple[Sketch, ...]:
    """The end at a rising wall: flashing turned up, end dam, counterflashing, barrier over them; and from above."""
    cut = _cut(job, factor)
    dam, lap = (
        _size(job, "field.end_dam"),
        job.size(place, "wall_lap", "", job.practice.quantity("end.wall_lap").value),
    )
    pencil = Pencil(cut.film)
    y = _line(cut)
    foot = y + 0.45 * dam.value
    top = foot + max(lap.value, dam.value) + ABOVE
    has_dam = _dammed(cut, place)
    _top(pencil, cut, -SIDE, cut.board, 0.0)
    _flank(pencil, cut, cut.strips, top, (y + 0.6 * dam.value, foot))
    _flashing_up(pencil, cut, foot + lap.value)
    _coping(pencil, cut, -SIDE, cut.metal if has_dam else -0.004, 0.0)
    if has_dam:
        pencil.metal((cut.metal, y), (cut.metal, y + dam.value))
        pencil.aim((cut.metal, y + 0.85 * dam.value), "end dam")
    _counterflashing(pencil, cut, place, y, dam.value, foot)
    pencil.items.append(Stroke(DRAINAGE, ((-0.02, y + 0.06), (-0.09, y + 0.008)), "medium", arrow=True))
    pencil.word((-0.6 * SIDE, top - 0.03), "outdoors")
    raised = f"lap {lap.brief}" + (" assumed" if lap.assumed else "")
    sizes = [Measure((cut.membrane, foot), (cut.membrane, foot + lap.value), raised)]
    if has_dam:
        sizes.append(Measure((-0.02, y), (-0.02, y + dam.value), f"end dam {dam.words}", up=True))
    last = cut.strips[-1].x1 if cut.strips else cut.board
    ends = (
        ((-SIDE, y + 0.02), (-SIDE, -BELOW)),
        ((-SIDE, -BELOW), (last, -BELOW)),
        ((last, top), (last, -BELOW)),
        ((0.0, top), (last, top)),
    )
    along = pencil.sketch("Section along the parapet", upright=sizes, ends=ends)
    return along, _end_above(cut, place)


def _flashing_up(pencil: Pencil, cut: Cut, top: float) -> None:
    """The flashing along the top, turned up in the flank."""
    if cut.job.parapet.part("top flashing") is None:
        return
    y = 0.5 * cut.film
    pencil.membrane("top flashing", (-SIDE, y), (cut.membrane, y), (cut.membrane, top))
    pencil.aim((cut.membrane, top - 0.02), "flashing turned up")
    pencil.aim((-0.5 * SIDE, y), "top flashing")


def _counterflashing(pencil: Pencil, cut: Cut, place: Record, y: float, dam: float, foot: float) -> None:
    made = place.word("counterflashing")
    low, x = y + 0.25 * dam, cut.barrier + 1.0 * cut.film
    points: tuple[Point, ...]
    if made == "behind the wall barrier":
        points = ((x, y + dam + 0.06), (x, foot), (x - 0.012, low), (x - 0.006, low + 0.008))
    elif made == "let into the wall":
        reach = cut.board + 0.01
        points = ((reach, y + dam + 0.035), (x, y + dam + 0.03), (x, foot), (x - 0.012, low))
    elif made == "surface mounted and sealed":
        face = -0.5 * cut.film
        points = ((face, y + dam + 0.06), (face, low), (face - 0.01, low - 0.004))
        pencil.bead((face, y + dam + 0.06), cut.film, 0.012)
    else:
        return
    pencil.metal(*points, pen="heavy")
    pencil.aim(points[1], "counterflashing")


def _end_above(cut: Cut, place: Record) -> Sketch:
    """The end of the coping from above, the rising wall cut over it."""
    pencil, deep = Pencil(cut.film), cut.frame.right - cut.frame.left
    out, inward = overhang_of(cut.frame, cut.levels.coping)
    high, low = out + 0.07, -deep - inward - 0.07
    for strip in cut.strips:
        run = straight((0.0, high), (0.0, -1.0), (1.0, 0.0), high - low)
        pencil.items += layer_items(strip, run, cut.film)
    for y in (out, -deep - inward):
        pencil.items.append(Stroke(METAL, ((-SIDE, y), (0.0, y)), "heavy"))
        pencil.beyond((0.0, y), (cut.metal, y))
    for y in (0.0, -deep):
        pencil.beyond((-SIDE, y), (0.0, y))
    saddle = place.word("saddle_flashing")
    if saddle not in (None, "none"):
        ear = 0.06
        line = ((cut.metal, out + ear), (cut.metal, -deep - inward - ear))
        pencil.metal(*line, pen="heavy")
        pencil.aim((cut.metal, out + 0.5 * ear), "saddle")
    slope_above(pencil, cut.job, -0.75 * SIDE, deep)
    pencil.word((-0.5 * SIDE, out + 2.0 * cut.film), "outdoors")
    pencil.word((-0.5 * SIDE, -deep - inward - 4.0 * cut.film), "roof")
    last = cut.strips[-1].x1 if cut.strips else 0.1
    ends = (
        ((-SIDE, out + 0.015), (-SIDE, -deep - inward - 0.015)),
        ((0.0, high), (last, high)),
        ((0.0, low), (last, low)),
    )
    return pencil.sketch("From above, the rising wall cut over the coping", ends=ends)


def step(job: Job, factor: float, place: Record) -> tuple[Sketch, ...]:
    """A step between two heights: the lower top ends in the flank, the upper one over it; and from above."""
    cut = _cut(job, factor)
    rise = job.stated(place, "height")
    high = max(rise.value if rise else 0.3, 0.02)
    dam, lap = _size(job, "field.end_dam"), _size(job, "end.wall_lap")
    pencil, y = Pencil(cut.film), _line(cut)
    up = min(dam.value, high)  # as far as the line of the upper coping
    foot = min(y + 0.45 * up, 0.4 * high)
    _top(pencil, cut, -SIDE, cut.board, 0.0)
    last = cut.strips[-1].x0 if cut.strips else 0.0
    right = last + SIDE
    _top(pencil, cut, last, right, high)
    blocking = fsum(
        (fsum(c.upper) - fsum(c.under)) / 2.0 for c in cut.levels.courses if c.part.role != "top flashing"
    )
    body = high - blocking
    _flank(pencil, cut, cut.strips[:-1], body, (min(y + 0.6 * up, 0.5 * high), foot))
    _flashing_up(pencil, cut, min(foot + lap.value, body - cut.film))
    has_dam = _dammed(cut, place)
    _coping(pencil, cut, -SIDE, cut.metal if has_dam else -0.004, 0.0)
    if has_dam:
        pencil.metal((cut.metal, y), (cut.metal, y + up))
        pencil.aim((cut.metal, y + 0.85 * up), "end dam")
    _upper_end(pencil, cut, high, right)
    pencil.word((-0.6 * SIDE, min(high, y + 0.2)), "outdoors")
    sizes = [Measure((-0.02, 0.0), (-0.02, high), f"step {rise.full if rise else job.shown(high)}")]
    if has_dam:
        fits = "" if up == dam.value else f"; {job.shown(up)} fits"
        sizes.append(Measure((-0.02, y), (-0.02, y + up), f"end dam {dam.words}{fits}", up=not fits))
    ends = (
        ((-SIDE, y + 0.02), (-SIDE, -BELOW)),
        ((-SIDE, -BELOW), (right, -BELOW)),
        ((right, high + y + 0.02), (right, -BELOW)),
    )
    zones = ((-BELOW, min(foot + lap.value + 0.05, high)), (max(high - 0.24, 0.0), high + 0.08))
    return pencil.sketch("Section along the parapet", upright=sizes, ends=ends, zones=zones), _step_above(
        cut, right
    )


def _upper_end(pencil: Pencil, cut: Cut, high: float, right: float) -> None:
    """The flashing of the upper top turned down over the barrier of the flank, and the closed end of its coping."""
    lap, y = cut.levels.outer_lap.value, high + _line(cut)
    if cut.job.parapet.part("top flashing") is not None:
        x = cut.barrier - 0.9 * cut.film
        pencil.membrane(
            "top flashing",
            (right, high + 0.5 * cut.film),
            (x, high + 0.5 * cut.film),
            (x, max(high - lap, 0.3 * high)),
        )
        pencil.aim((x, high - 0.6 * lap), "flashing turned down")
    shape = cut.levels.coping
    if shape is None:
        return
    _coping(pencil, cut, _end_face(cut, shape), right, high)
    if shape.metal:
        face = min(shape.outer_face.value, 0.8 * high)  # over the lower top, whatever the step
        points = leg_points(shape, _end_face(cut, shape), y, face, -1.0, shape.outer_drip.value)
        pencil.metal(*points)
        pencil.aim((points[0][0], y - 0.5 * face), "closed end")


def _end_face(cut: Cut, shape: CopingShape) -> float:
    return (
        -max(shape.outer_drip.value - shape.projects, 0.6 * cut.film)
        if shape.metal
        else -shape.outer_drip.value
    )


def _step_above(cut: Cut, right: float) -> Sketch:
    pencil, deep = Pencil(cut.film), cut.frame.right - cut.frame.left
    out, inward = overhang_of(cut.frame, cut.levels.coping)
    edge = _end_face(cut, cut.levels.coping) - cut.levels.coping.projects if cut.levels.coping else 0.0
    for y in (out, -deep - inward):
        pencil.items.append(Stroke(METAL, ((-SIDE, y), (edge, y)), "heavy"))
        pencil.items.append(Stroke(METAL, ((edge, y), (right, y)), "sheet"))
        pencil.beyond((edge, y), (cut.metal, y))
    pencil.metal((edge, out), (edge, -deep - inward))
    pencil.beyond((cut.metal, out), (cut.metal, -deep - inward))
    pencil.beyond((0.0, 0.0), (0.0, -deep))
    slope_above(pencil, cut.job, -0.75 * SIDE, deep)
    pencil.word((-0.5 * SIDE, out + 2.0 * cut.film), "outdoors")
    pencil.word((-0.5 * SIDE, -deep - inward - 4.0 * cut.film), "roof")
    ends = tuple(((x, out + 0.015), (x, -deep - inward - 0.015)) for x in (-SIDE, right))
    return pencil.sketch("From above, the lower top at the left", ends=ends)


def joint_top(job: Job, factor: float, place: Record) -> tuple[Sketch, ...]:
    """The top across a joint of the building: both sides end, the flashing hangs in a loop, the cover slides."""
    cut = _cut(job, factor)
    width, moves = job.stated(place, "width"), job.stated(place, "movement")
    half = (width.value if width else 0.05) / 2.0
    pencil, y = Pencil(cut.film), _line(cut)
    _top(pencil, cut, -half - SIDE, -half, 0.0)
    _top(pencil, cut, half, half + SIDE, 0.0)
    if job.parapet.part("top flashing") is not None and place.word("flashing") != "cut":
        deep = 0.0 if place.word("flashing") == "flat" else max(1.4 * half, 6.0 * cut.film)
        f = 0.5 * cut.film
        line = ((-half - SIDE, f), *looped((-half, f), (half, f), deep), (half + SIDE, f))
        pencil.membrane("top flashing", *line)
        pencil.aim(line[7], "loop of the top flashing")
    through = place.word("coping") == "runs through"
    _coping(pencil, cut, -half - SIDE, half if through else -half, 0.0)
    _coping(pencil, cut, -half if through else half, half + SIDE, 0.0)
    shape = cut.levels.coping
    if place.word("coping") == "sliding cover" and shape is not None and shape.metal:
        reach = half + (moves.value if moves else half) + 0.05
        over = y + 1.6 * cut.film
        pencil.metal(
            (-reach, over), (-0.2 * half, over), (0.0, over + 0.5 * half), (0.2 * half, over), (reach, over)
        )
        pencil.fastener((-reach + 0.02, over + 0.012), (-reach + 0.02, -0.025))
        pencil.aim((reach - 0.01, over), "cover")
    words = f"joint {width.full}" if width else "joint"
    sizes = (Measure((-half, -BELOW), (half, -BELOW), words),)
    sides = (-half - SIDE, -half), (half, half + SIDE)
    upright = (((x, y + 0.02), (x, -BELOW)) for x in (sides[0][0], sides[1][1]))
    ends = (*upright, *(((a, -BELOW), (b, -BELOW)) for a, b in sides))
    return (pencil.sketch("Section along the parapet", level=sizes, ends=ends),)
