"""Details seen from above: corners and joints of the building, cut below the coping, and the coping over them."""

from __future__ import annotations

from specgen.design.coping_geometry import corner_leg
from specgen.drawing.frame import Frame, Strip, frame_of
from specgen.drawing.labels import Measure
from specgen.drawing.levels import levels_of
from specgen.drawing.piece import METAL, OUTLINE
from specgen.drawing.pieces_top import overhang_of
from specgen.drawing.shapes import Point, Stroke
from specgen.drawing.sizes import Job
from specgen.drawing.sketch import Pencil, Run, Sketch, around, between, looped, straight, stud_items
from specgen.model.project import Record

CLEAR_LEG = 0.22  # of a leg shown beyond the corner [m]
STUB = 0.12  # of the second leg of a corner piece, drawn
PATCH = 0.09  # of a corner piece on each leg, drawn
SIDE = 0.26  # of the wall on each side of a joint


def corner(job: Job, factor: float, place: Record) -> tuple[Sketch, ...]:
    """A corner cut through the laps of the top flashing, and the coping over it."""
    frame = frame_of(job, factor)
    turn = 1.0 if place.word("turn") == "outside" else -1.0
    deep = frame.right - frame.left
    long = CLEAR_LEG + (deep if turn > 0 else 0.0)
    run = around(turn, long, long)
    pencil = Pencil(frame.film)
    pencil.strips(frame, run)
    core = frame.named(frame.strips[frame.core].name)
    pencil.items += stud_items(core, run, ((0, -0.0001), (1, 0.0), (1, 0.06)))
    _corner_pieces(pencil, frame, run, turn, place)
    out, inward = overhang_of(frame, levels_of(job, frame).coping)
    for depth in (-out, deep + inward):
        pencil.beyond(*run(depth))
    _sides(pencil, run, (-out - 2.0 * frame.film, deep + inward + 4.0 * frame.film))
    right = long
    words = frame.stated.words if frame.stated else job.shown(frame.true_m)
    sizes = (Measure((right, 0.0), (right, -deep), words),)
    (a, _, b), (d, _, c) = run(-out - 0.02), run(deep + inward + 0.02)
    cut = pencil.sketch("Plan through the laps of the top flashing", upright=sizes, ends=((a, d), (b, c)))
    above = _coping_above(job, frame, turn, (out, inward), place)
    return (cut, above) if above is not None else (cut,)


def _corner_pieces(pencil: Pencil, frame: Frame, run: Run, turn: float, place: Record) -> None:
    """What turns the corner beside the layers: the patch of the flashing, the strip of the barrier, the corner lath."""
    lap, plaster, barrier = (_strip(frame, role) for role in ("outer lap", "plaster", "barrier"))
    if lap is not None and place.word("flashing") in (
        "preformed piece",
        "folded and patched",
        "fluid-applied",
    ):
        patch = _about(run, lap.x0 - 0.2 * pencil.film)
        pencil.membrane("top flashing", *patch)
        pencil.aim(between(patch[1], patch[2], 0.6), "patch of the flashing")
    if barrier is not None and turn > 0:
        strip = _about(run, barrier.x1 - 0.1 * pencil.film)
        pencil.membrane("barrier", *strip)
        pencil.aim(between(strip[1], strip[2], 0.6), "strip of the barrier")
    if plaster is not None:
        lath = _about(run, plaster.x0 + 0.45 * (plaster.x1 - plaster.x0))
        pencil.metal(*lath, pen="heavy", dash="dashed")
        pencil.aim(between(lath[1], lath[2], 0.6), "corner lath")


def _about(run: Run, depth: float) -> tuple[Point, Point, Point]:
    """A short length on both sides of the corner."""
    a, middle, b = run(depth)
    ends = []
    for end in (a, b):
        long = max(abs(end[0] - middle[0]), abs(end[1] - middle[1]))
        ends.append(between(middle, end, min(PATCH / long, 1.0)))
    return ends[0], middle, ends[1]


def _strip(frame: Frame, role: str) -> Strip | None:
    """The outermost strip of a role, or the one of a name."""
    named = (one for one in frame.strips if (one.part.role if one.part else one.name) == role)
    return next(named, None)


def _sides(pencil: Pencil, run: Run, depths: tuple[float, float]) -> None:
    """Which side is outdoors and which is the roof, on the level leg."""
    for depth, words in zip(depths, ("outdoors", "roof"), strict=True):
        corner_at, far = run(depth)[-2:]
        pencil.word(between(corner_at, far, 0.62), words)


def _coping_above(
    job: Job, frame: Frame, turn: float, legs: tuple[float, float], place: Record
) -> Sketch | None:
    """The corner piece of a coping from above, with its seam, its joints and the slope."""
    coping, deep = job.parapet.part("coping"), frame.right - frame.left
    shape = levels_of(job, frame).coping
    if coping is None:
        return None
    if shape is None or coping.kind == "plaster-covered":
        return _top_above(job, frame, turn)
    out, inward = -legs[0], deep + legs[1]
    usual, leg = job.practice.quantity("coping.corner_leg"), corner_leg(job.practice, place, inward - out)
    joint = leg + turn * out
    stub = STUB + (inward if turn > 0 else -out)  # of the other leg, which is alike
    run, pencil = around(turn, joint + 0.09, stub), Pencil(frame.film)
    for depth in (out, inward):
        pencil.items.append(Stroke(METAL, run(depth), "heavy"))
    for depth in (0.0, deep):
        pencil.beyond(*run(depth))
    corner_line = (run(out)[1], run(inward)[1])
    made = place.word("coping") if shape.metal else None
    pencil.metal(*corner_line, pen="heavy", dash="solid" if made in ("welded", "soldered") else "dashed")
    pencil.aim(between(*corner_line, 0.35), "corner of the coping")
    if shape.metal:
        _joint_above(pencil, run, (out, inward), joint, job.practice.quantity("field.cover_plate").value)
    _slope_above(pencil, job, run, deep)
    (a, outer, c), (b, _, d) = run(out), run(inward)
    sizes = (Measure(outer, (joint, outer[1]), job.words(usual) if leg == usual.value else job.shown(leg)),)
    return pencil.sketch("Coping from above", level=sizes, ends=((a, b), (c, d)))


def _top_above(job: Job, frame: Frame, turn: float) -> Sketch:
    """The corner of a plaster-covered top from above: its two edges, the bend between them, and the slope."""
    deep = frame.right - frame.left
    run, pencil = (
        around(turn, CLEAR_LEG + (deep if turn > 0 else 0.0), STUB + (deep if turn > 0 else 0.0)),
        Pencil(frame.film),
    )
    for depth in (0.0, deep):
        pencil.items.append(Stroke(OUTLINE, run(depth), "heavy"))
    pencil.beyond(run(0.0)[1], run(deep)[1])
    _slope_above(pencil, job, run, deep)
    (a, _, c), (b, _, d) = run(0.0), run(deep)
    return pencil.sketch("Top from above", ends=((a, b), (c, d)))


def _joint_above(pencil: Pencil, run: Run, edges: tuple[float, float], at: float, plate: float) -> None:
    """The joint at the end of the level leg with its concealed plate; ``at``: from the corner of the faces."""
    (most, high), (_, low) = (run(edge)[2] for edge in edges)
    for away in (-plate / 2.0, plate / 2.0):
        x = min(at + away, most)
        pencil.beyond((x, high), (x, low))
    pencil.metal((at, high), (at, low), pen="heavy")
    pencil.aim((at, high + 0.3 * (low - high)), "joint of the coping")


def _slope_above(pencil: Pencil, job: Job, run: Run, deep: float) -> None:
    corner_at, far = run(0.7 * deep)[-2:]
    x = max(corner_at[0] + 0.05, 0.0) if corner_at[0] > 0.0 else 0.45 * far[0]  # clear of the seam
    slope_above(pencil, job, x, deep)


def slope_above(pencil: Pencil, job: Job, x: float, deep: float) -> None:
    """The slope of a coping from above, at one place along it; ``deep``: from the outer to the roof-side face [m]."""
    coping = job.parapet.part("coping")
    slope = coping.quantity("slope") if coping is not None and coping.has("slope") else None
    toward = (coping.word("slope_toward") if coping is not None else None) or "roof"
    if slope is None or toward == "both sides":
        pencil.aim((x, -0.5 * deep), "slope")
        return
    start, end = ((x, -share * deep) for share in ((0.3, 0.7) if toward == "roof" else (0.7, 0.3)))
    pencil.arrow(f"slope {job.words(slope)}", start, end, (x + 0.012, (start[1] + end[1]) / 2.0))
    pencil.aim(end, "slope")


def building_joint(job: Job, factor: float, place: Record) -> tuple[Sketch, ...]:
    """A joint of the building cut below the coping: every layer parted, the membranes looped, the face covered."""
    frame = frame_of(job, factor)
    deep, width = frame.right - frame.left, job.stated(place, "width")
    half = (width.value if width else 0.05) / 2.0
    pencil = Pencil(frame.film)
    left = straight((-half - SIDE, 0.0), (1.0, 0.0), (0.0, -1.0), SIDE)
    right = straight((half, 0.0), (1.0, 0.0), (0.0, -1.0), SIDE)
    pencil.strips(frame, left)
    pencil.strips(frame, right, 0.75)
    core = frame.strips[frame.core] if frame.strips else None
    pencil.items += stud_items(core, left, ((0, -0.0001),))
    pencil.items += stud_items(core, right, ((0, 0.0),))
    _loops(pencil, frame, half, place)
    _beads(pencil, frame, half)
    face = 0.006 + frame.film
    edge, fold = half + 0.06, 0.4 * half
    pencil.metal((-edge, face), (-fold, face), (0.0, face - 0.3 * half), (fold, face), (edge, face))
    pencil.fastener((-half - 0.045, face + 0.012), (-half - 0.045, -0.03))
    pencil.aim((half + 0.03, face), "cover of the face")
    out, inward = overhang_of(frame, levels_of(job, frame).coping)
    for depth in (-out, deep + inward):
        pencil.beyond((-half - SIDE, -depth), (half + SIDE, -depth))
    for y, words in ((out + 2.0 * frame.film, "outdoors"), (-deep - inward - 4.0 * frame.film, "roof")):
        pencil.word((half + 0.6 * SIDE, y), words)
    sizes = (Measure((-half, -deep), (half, -deep), f"joint {width.full}" if width else "joint"),)
    ends = tuple(((x, out + 0.02), (x, -deep - inward - 0.02)) for x in (-half - SIDE, half + SIDE))
    return (pencil.sketch("Plan through the laps of the top flashing", level=sizes, ends=ends),)


def _loops(pencil: Pencil, frame: Frame, half: float, place: Record) -> None:
    """The membranes across the joint: in a loop, flat, or cut, as stated."""
    for strip in frame.strips:
        role = strip.part.role if strip.part else "top flashing" if strip.name.endswith("lap") else ""
        key = {"barrier": "barrier", "top flashing": "flashing", "roof turn-up": "flashing"}.get(role)
        if key is None or place.word(key) == "cut":
            continue
        inner = strip.middle > frame.strips[frame.core].middle
        deep = 0.0 if place.word(key) == "flat" else max(1.2 * half, 4.0 * pencil.film)
        y = -strip.middle
        line = looped((-half, y), (half, y), -deep if inner else deep)
        pencil.membrane(role, *line)
        pencil.aim(line[6], f"loop of the {role}")


def _beads(pencil: Pencil, frame: Frame, half: float) -> None:
    """A casing bead at each edge of the plaster."""
    plaster = _strip(frame, "plaster")
    if plaster is None:
        return
    for way in (-1.0, 1.0):
        edge = way * half
        pencil.metal((edge, -plaster.x0), (edge, -plaster.x1), (edge + way * 0.05, -plaster.x1), pen="heavy")
    pencil.aim((half, -plaster.middle), "casing bead")
