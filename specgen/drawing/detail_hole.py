"""A penetration cut through the layers it passes, and its flange seen from the front."""

from __future__ import annotations

from collections.abc import Callable

from specgen.drawing.frame import Frame, Strip, frame_of
from specgen.drawing.labels import Measure
from specgen.drawing.levels import levels_of
from specgen.drawing.materials import MEMBRANES
from specgen.drawing.piece import BEYOND, MATERIAL, METAL, sheet
from specgen.drawing.shapes import Area, Point, Stroke, rectangle
from specgen.drawing.sizes import Job, Size
from specgen.drawing.sketch import Pencil, Sketch, layer_items, round_points, straight
from specgen.model.project import Record

SIDE = 0.20  # of the layers above and below the hole [m]
OUT = 0.14  # of what passes, beyond the face
# Drawn where no diameter is stated [m].
ACROSS = {
    "railing post": 0.048,
    "davit": 0.089,
    "fall-protection anchor": 0.048,
    "sign anchor": 0.019,
    "lightning conductor": 0.012,
    "cable": 0.016,
    "gas vent": 0.076,
}
ANCHORED = ("railing post", "davit", "fall-protection anchor", "sign anchor", "lightning conductor")
To = Callable[[float, float], Point]  # along the layer, and deep into the wall


def penetration(job: Job, factor: float, place: Record) -> tuple[Sketch, ...]:
    """What passes through, its closure in shingle order, and the flange from the front."""
    frame = frame_of(job, factor)
    strips, to, top = _stack(job, frame, place)
    size = job.size(place, "diameter", "", ACROSS.get(str(place.word("what")), 0.05))
    flange = job.size(None, "", "penetration.flange", job.practice.quantity("penetration.flange").value)
    reach = max(SIDE, size.value / 2.0 + flange.value + 0.06)
    pencil = Pencil(frame.film)
    through = next(
        (one for one in strips if one.part is not None and one.part.id == place.word("through")), None
    )
    for strip in strips:
        if strip is through and strip.part is not None and strip.part.role in MEMBRANES:
            continue
        line = straight(to(-reach, 0.0), _way(to, 1.0, 0.0), _way(to, 0.0, 1.0), 2.0 * reach)
        pencil.items += layer_items(strip, line, frame.film)
        if strip.part is not None:
            pencil.aim(to(-0.8 * reach, strip.middle), strip.part.role)
    deep = strips[-1].x1 if strips else 0.1
    radius = size.value / 2.0
    _passing(pencil, to, place, radius, deep)
    if through is not None:
        _closure(pencil, to, place, through, radius, flange.value, reach, top)
    words = f"flange {flange.words}"
    a, b = to(radius, -0.02), to(radius + flange.value, -0.02)
    upright, level = ((Measure(a, b, words),), ()) if not top else ((), (Measure(a, b, words),))
    if not top:
        x, _ = to(0.0, -OUT)
        pencil.word((x, -radius - 0.05), "outdoors" if x < 0.0 else "roof")
    ends = ((to(-reach, -0.02), to(-reach, deep + 0.02)), (to(reach, -0.02), to(reach, deep + 0.02)))
    cut = pencil.sketch("Section through the penetration", level=level, upright=upright, ends=ends)
    return cut, _front(frame, radius, flange, place, top)


def _way(to: To, along: float, deep: float) -> Point:
    (x0, y0), (x1, y1) = to(0.0, 0.0), to(along, deep)
    return x1 - x0, y1 - y0


def _stack(job: Job, frame: Frame, place: Record) -> tuple[list[Strip], To, bool]:
    """The layers that are passed, the outermost first; how they lie on the sheet; and whether it is the top."""
    through = job.parapet.by_id(place.word("through") or "")
    if through is not None and through in job.parapet.top:
        return _courses(job, frame), lambda s, d: (s, -d), True
    core = frame.strips[frame.core]
    own = frame.named(through.id) if through is not None else None
    roof = own is not None and own.middle > core.middle
    listed = list(reversed(frame.strips[frame.core :])) if roof else list(frame.strips[: frame.core + 1])
    at, strips = 0.0, []
    for strip in listed:
        if strip.part is None:
            continue
        wide = min(strip.x1 - strip.x0, 0.12) if strip is core else strip.x1 - strip.x0
        wide = 3.0 * frame.film if strip is own and strip.part.role in MEMBRANES else wide
        strips.append(Strip(strip.name, at, at + wide, strip.size, strip.part))
        at += wide
    return strips, (lambda s, d: (-d, s)) if roof else (lambda s, d: (d, s)), False


def _courses(job: Job, frame: Frame) -> list[Strip]:
    at, strips, film = 0.0, [], frame.film
    coping = job.parapet.part("coping")
    if coping is not None:
        strips.append(Strip(coping.id, at, at + film, Size(0.0), coping))
        at += 2.0 * film
    for course in reversed(levels_of(job, frame).courses):
        flat = course.part.role == "top flashing"
        wide = 3.0 * film if flat else max(course.size.value, film)
        strips.append(Strip(course.part.id, at, at + wide, course.size, course.part))
        at += wide
    core = frame.strips[frame.core]
    return [*strips, Strip(core.name, at, at + 0.1, core.size, core.part)]


def _passing(pencil: Pencil, to: To, place: Record, radius: float, deep: float) -> None:
    """The pipe, cable or anchor itself, over the layers it passes."""
    what = str(place.word("what"))
    end = deep - 0.02 if what in ANCHORED else deep
    outline = (to(-radius, -OUT), to(-radius, end), to(radius, end), to(radius, -OUT))
    pencil.items.append(Area(MATERIAL, outline, "blank", "heavy"))
    pencil.items.append(Stroke(BEYOND, (to(0.0, -OUT - 0.02), to(0.0, end)), "fine", "chain"))
    pencil.aim(to(0.0, -0.7 * OUT), "what passes through")


def _closure(
    pencil: Pencil,
    to: To,
    place: Record,
    through: Strip,
    radius: float,
    flange: float,
    reach: float,
    top: bool,
) -> None:
    """The flange or boot on the layer it is bonded to: below what comes from above, over what goes on below."""
    part, film = through.part, pencil.film
    assert part is not None
    made, middle = place.word("sealed_by"), through.middle
    over, under = middle - film, middle + film
    lap = radius + 0.4 * flange
    if part.role in MEMBRANES:
        upper: tuple[Point, ...]
        upper = (
            to(reach, under),
            to(radius + flange + 0.01, under),
            to(radius + flange, over),
            to(lap, over),
        )
        lower = (to(-radius - 0.004, under), to(-reach, under))
        if top:
            upper, lower = (to(reach, under), to(radius, under)), (to(-radius, under), to(-reach, under))
        for line in (upper, lower):
            pencil.items += sheet(part.role, line)
        pencil.aim(to(reach - 0.03, under), part.role, "layer above")
        pencil.aim(to(-reach + 0.03, under), "layer below")
    if made in (None, "none"):
        return
    if made == "sealant":
        for way in (1.0, -1.0):
            bead = (to(way * radius, over), to(way * (radius + 0.012), over), to(way * radius, over - 0.012))
            pencil.items.append(Area(METAL, bead, "solid", "fine"))
        pencil.aim(to(radius + 0.004, over), "closure")
        return
    collar = 0.05 if made == "boot" else 0.03
    spread = radius + (0.02 if made == "boot" else 0.0)
    for way in (1.0, -1.0):
        sleeve = (
            to(way * (radius + flange), middle),
            to(way * spread, middle),
            to(way * (radius + 0.5 * film), middle - collar),
        )
        pencil.items += sheet("top flashing" if made == "fluid-applied flashing" else "roof turn-up", sleeve)
        if made == "boot":
            clamp = (
                to(way * radius, middle - collar),
                to(way * (radius + 1.5 * film), middle - collar + 0.008),
            )
            (x0, y0), (x1, y1) = clamp
            pencil.items.append(
                Area(METAL, rectangle(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)), "solid", "fine")
            )
    pencil.aim(to(-radius - 0.6 * flange, middle), "flange")
    pencil.aim(to(radius + 0.004, middle - 0.6 * collar), "closure")


def _front(frame: Frame, radius: float, flange: Size, place: Record, top: bool) -> Sketch:
    """The flange as one looks at it: the upper layer laps its upper part, its lower part laps the layer below."""
    pencil, half = Pencil(frame.film), radius + flange.value
    wide = half + 0.08
    made = place.word("sealed_by")
    pencil.items.append(Stroke("outline", round_points((0.0, 0.0), radius), "heavy", closed=True))
    if made not in (None, "none", "sealant"):
        if top:
            pencil.items.append(Stroke(METAL, rectangle(-half, -half, half, half), "heavy", closed=True))
        else:
            edge = radius + 0.4 * flange.value
            pencil.metal((-half, edge), (-half, -half), (half, -half), (half, edge), pen="heavy")
            pencil.beyond((-half, edge), (-half, half), (half, half), (half, edge))
            pencil.metal((-wide, edge), (wide, edge), pen="medium")
            pencil.beyond((-wide, -radius - 0.02), (wide, -radius - 0.02))
            pencil.word((0.0, (edge + half) / 2.0 - 0.004), "under the layer above")
            pencil.word((0.0, -(radius + half) / 2.0 - 0.02), "over the layer below")
    return pencil.sketch("From the front" if not top else "From above")
