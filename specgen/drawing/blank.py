"""The flat blank of a coping piece with its bend lines, and the section it is folded into."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from specgen.design import coping_curve, coping_geometry
from specgen.drawing.coping import folded
from specgen.drawing.labels import Measure, Wish, chained, in_lane
from specgen.drawing.notes import Note
from specgen.drawing.pieces_top import legs_of
from specgen.drawing.placing import broken_upright
from specgen.drawing.shapes import Area, Bubble, Drawing, Item, Stroke, Text, bounds, rectangle
from specgen.drawing.sheet import (
    BASE_LAYERS,
    DrawingSheet,
    blocks,
    chosen_scale,
    flow,
    paper_for,
    remarks,
    title_strip,
)
from specgen.drawing.sizes import Job
from specgen.drawing.view import View

if TYPE_CHECKING:
    from specgen.physics.coping_blank import Blank

PROFILE = 62.0  # of the sheet, for the folded section above the blank
SHOWN = 96.0  # of the length of the blank
TEXT = 2.2
SIZES = {  # the bends between which a size of the project file is formed
    ("outer hem", "outer drip"): "outer_drip",
    ("outer drip", "outer edge"): "outer_leg",
    ("inner edge", "inner drip"): "inner_leg",
    ("inner drip", "inner hem"): "inner_drip",
}
LEFT = (*SIZES.values(), "thickness", "slope", "piece_length")  # what the blank is made of


def blank(view: View) -> Drawing | None:
    """The blank of one parapet's coping; None where the calculation of its pieces has no result."""
    job = view.job
    found = coping_geometry.blank_of(job.project, job.parapet, job.practice)
    if found is None:
        return None
    flat, piece = found
    paper = paper_for(job)
    left, low, right, high = paper.field
    room = right - left - 40.0, high - low - PROFILE - 38.0
    factor, words = chosen_scale(job, 0.0, flat.girth_m, room)
    sheet = DrawingSheet(job, "Coping blank", words, paper)
    sheet.items += _flat(view, flat, piece, (left + 30.0, low + 26.0), factor)
    sheet.items += _folded(view, (left, high - PROFILE, right, high - 4.0))
    title_strip(sheet)
    flow(
        sheet,
        paper.column,
        [
            *blocks("Bends, from the outer edge of the blank", _bends(view, flat)),
            *remarks("How to read this sheet", _reading(view, flat, piece)),
        ],
    )
    listed = "; ".join(f"{note.key} {note.head}" for note in _bends(view, flat))
    return Drawing(
        "coping-blank",
        f"Blank of the coping of parapet {job.parapet.name}",
        f"Flat blank, girth {job.shown(flat.girth_m)}, piece {job.shown_long(piece)} long. Bends: {listed}.",
        paper.size,
        words,
        factor,
        BASE_LAYERS,
        tuple(sheet.items),
        not job.si,
    )


def _flat(
    view: View, flat: Blank, piece: float, origin: tuple[float, float], factor: float
) -> Iterator[Item]:
    job, (x0, y0) = view.job, origin
    scale = 1000.0 / factor
    x1, y1 = x0 + min(SHOWN, piece * scale), y0 + flat.girth_m * scale
    yield Stroke("outline", rectangle(x0, y0, x1, y1), "heavy", closed=True)
    places = [0.0, *(bend.at_m for bend in flat.bends), flat.girth_m]
    for bend in flat.bends:
        y = y1 - bend.at_m * scale
        dash = "dashed" if bend.turned_deg > 170.0 else "chain"
        yield Stroke("metal", ((x0, y), (x1, y)), "medium", "dashed" if dash == "dashed" else "chain")
    if piece * scale > SHOWN:
        middle = (x0 + x1) / 2.0
        yield Area("break", rectangle(middle - 1.5, y0 - 1.5, middle + 1.5, y1 + 1.5), "blank", None)
        for x in (middle - 1.5, middle + 1.5):
            yield Stroke("break", broken_upright(x, y0 - 1.5, y1 + 1.5), "medium")
    names = ["", *(bend.name for bend in flat.bends), ""]
    widths = [
        Measure(
            (x0, y1 - b * scale),
            (x0, y1 - a * scale),
            job.shown(b - a) + (" as described" if _unmet(job, bends) else ""),
        )
        for (a, b), bends in zip(pairwise(places), pairwise(names), strict=True)
    ]
    whole = Measure((x0, y0), (x0, y1), f"girth {job.shown(flat.girth_m)}")
    yield from chained([*widths, whole], "y", x0 - 4.0, -4.4, "dimension", TEXT)
    yield from chained(
        [Measure((x0, y0), (x1, y0), job.shown_long(piece))], "x", y0 - 5.0, -4.0, "dimension", TEXT
    )
    wishes = []
    for number, bend in enumerate(flat.bends, 1):
        y = y1 - bend.at_m * scale
        wishes.append(Wish(str(number), x1 - 4.0, y - 0.05, y + 0.05))
    placed = in_lane(wishes, y0 - 4.0, y1 + 4.0, 5.6)
    for wish in wishes:
        y, end = placed[wish.key]
        yield Bubble("key", (x1 + 14.0, y), wish.key, (wish.x, end))
    yield Text("note", (x0 + 2.0, y1 + 1.4), "outer edge of the blank", TEXT)


def _unmet(job: Job, bends: tuple[str, str]) -> str:
    """What the Sections ask for, where the size of the coping that lies between two bends fails; else empty."""
    coping, name = job.parapet.part("coping"), SIZES.get(bends)
    value = coping.quantity(name) if coping is not None and name else None
    if coping is None or name is None or value is None or coping.at(name) not in job.unmet:
        return ""
    title = job.practice.vocabulary.roles["coping"].fields[name].title
    return f"{title} {job.described(coping, name, value)}"


def _folded(view: View, box: tuple[float, float, float, float]) -> Iterator[Item]:
    """The piece as it stands on the wall, above the blank."""
    shape = view.levels.coping
    if shape is None or not shape.metal:
        return
    left, right = legs_of(view.frame, shape)
    points = folded(shape, left, right, 0.0)
    x0, y0, x1, y1 = bounds(points)
    room = box[2] - box[0] - 60.0, box[3] - box[1] - 14.0
    factor, words = chosen_scale(view.job, x1 - x0, y1 - y0, room)
    scale = 1000.0 / factor
    at = (box[0] + box[2]) / 2.0 - (x0 + x1) / 2.0 * scale, box[3] - 6.0 - y1 * scale
    drawn = tuple((at[0] + x * scale, at[1] + y * scale) for x, y in points)
    yield Stroke("metal", drawn, "sheet")
    yield Text(
        "note",
        ((box[0] + box[2]) / 2.0, at[1] + y0 * scale - 5.0),
        f"folded, {words}; outer face at left",
        TEXT,
        "middle",
    )


def _bends(view: View, flat: Blank) -> tuple[Note, ...]:
    names = ["", *(bend.name for bend in flat.bends), ""]
    unmet = [_unmet(view.job, bends) for bends in pairwise(names)]
    return tuple(
        Note(
            str(n),
            "circle",
            f"{bend.name}: at {view.job.shown(bend.at_m)}, turned {bend.turned_deg:.3g}°",
            tuple(filter(None, (unmet[n] if bend.name.startswith("inner") else unmet[n - 1],))),
        )
        for n, bend in enumerate(flat.bends, 1)
    )


def _reading(view: View, flat: Blank, piece: float) -> Iterator[str]:
    job, coping = view.job, view.job.parapet.part("coping")
    metal = coping.quantity("thickness") if coping is not None and coping.has("thickness") else None
    if coping is not None and metal is not None and coping.at("thickness") in job.unmet:
        yield f"Metal thickness: {job.described(coping, 'thickness', metal)}."
    fields = job.practice.vocabulary.roles["coping"].fields
    left = [fields[name].title for name in LEFT if coping is not None and name in coping.specified]
    if left:
        yield f"Left to the Sections, and drawn at their limit: {'; '.join(left)}. The shop sets out its own sizes."
    yield f"Girth {view.job.shown(flat.girth_m)}; straight pieces {view.job.shown_long(piece)} long; length broken."
    turn = coping_curve.calculate(job.project, job.parapet, job.practice).result("turn")
    if turn is not None:
        yield f"On a curve in plan: each end is mitered by half the turn of {turn.text} from piece to piece."
    yield "Short strokes: folded flat, a hem. Strokes and dots: bent to the angle in the list."
    yield (
        "Center line geometry. Bend allowance, springback and the metal's own thickness are left out: the shop sets "
        "them out. Measure the wall before the pieces are cut."
    )
