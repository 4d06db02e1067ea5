"""The plastered face with its control joints, in rows where it is long, by the calculation of its panels."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from specgen.design import plaster_panels
from specgen.design.plaster_panels import Face
from specgen.drawing.frame import frame_of
from specgen.drawing.labels import Measure, chained
from specgen.drawing.lettering import width
from specgen.drawing.levels import levels_of
from specgen.drawing.near import between, strictly_between
from specgen.drawing.shapes import Drawing, Item, Stroke, Text, rectangle
from specgen.drawing.sheet import (
    BASE_LAYERS,
    MARGIN,
    STRIP,
    DrawingSheet,
    flow,
    paper_for,
    remarks,
    scales,
    title_strip,
)
from specgen.drawing.sizes import LONGEST_M, Job
from specgen.sections.build import ParagraphRef
from specgen.sections.words import requirement_words
from specgen.units.compare import computed_at_most
from specgen.units.counted import many
from specgen.units.quantity import Quantity

ABOVE, BELOW = 13.0, 13.0  # of each row, for what is written over and under it
NOTES = 40.0
MOST_ROWS = 5


def elevation(job: Job, where: Mapping[str, ParagraphRef]) -> Drawing | None:
    """The outer face of one parapet; None where the calculation of its panels has no result."""
    face = plaster_panels.face_of(job.project, job.parapet, job.practice)
    if face is None:
        return None
    paper = paper_for(job)
    wide, high = paper.size
    field = (MARGIN + 12.0, MARGIN + STRIP + NOTES, wide - MARGIN - 12.0, high - MARGIN - 2.0)
    factor, words, rows = _fitted(job, face, field[2] - field[0], field[3] - field[1])
    sheet = DrawingSheet(job, "Plaster panels", words, paper)
    tall = face.height_m * 1000.0 / factor
    for number, row in enumerate(rows):
        y = field[3] - ABOVE - tall - number * (tall + ABOVE + BELOW)
        sheet.items += _row(job, face, row, (field[0], y), factor)
    title_strip(sheet, ruled_column=False)
    low = MARGIN + STRIP + 2.0
    column = (MARGIN + 3.0, low, wide - MARGIN - 2.0, field[1])
    flow(sheet, column, remarks("Control joints", _joint_remarks(job, face, where)))
    layout = face.layout
    return Drawing(
        "plaster-panels",
        f"Control joints of parapet {job.parapet.name}",
        f"Plastered outer face, {job.shown_long(face.length_m)} by {job.shown_long(face.height_m)}, with "
        f"{len(layout.vertical_m)} upright and {many(len(layout.horizontal_m), 'level control joint')}.",
        paper.size,
        words,
        factor,
        BASE_LAYERS,
        tuple(sheet.items),
        not job.si,
    )


Row = tuple[float, float]


def _fitted(job: Job, face: Face, wide: float, high: float) -> tuple[float, str, list[Row]]:
    """The largest scale at which the face fits in at most five rows, each ended at a joint."""
    for factor, words in scales(job):
        if factor < 10.0:
            continue  # a face is no detail
        rows = _rows(face, wide * factor / 1000.0)
        if (
            rows
            and len(rows) <= MOST_ROWS
            and len(rows) * (face.height_m * 1000.0 / factor + ABOVE + BELOW) <= high
        ):
            return factor, words, rows
    factor = max(face.length_m / wide, face.height_m / (high - ABOVE - BELOW)) * 1000.0
    return factor, "not to scale", [(0.0, face.length_m)]


def _rows(face: Face, longest: float) -> list[Row]:
    ends = [0.0, *face.layout.vertical_m, face.length_m]
    if any(b - a > longest for a, b in pairwise(ends)):
        return []
    rows, start, last = [], 0.0, 0.0
    for end in ends[1:]:
        if end - start > longest:
            rows.append((start, last))
            start = last
        last = end
    return [*rows, (start, last)]


def _row(job: Job, face: Face, row: Row, origin: tuple[float, float], factor: float) -> Iterator[Item]:
    (start, end), (left, low) = row, origin

    def x(along: float) -> float:
        return left + (along - start) * 1000.0 / factor

    high = low + face.height_m * 1000.0 / factor
    yield Stroke("outline", rectangle(x(start), low, x(end), high), "medium", closed=True)
    yield Stroke("metal", ((x(start), low - 0.6), (x(end), low - 0.6)), "heavy")
    verticals = [at for at in face.layout.vertical_m if between(at, start, end)]
    for at in verticals:
        for aside in (-0.35, 0.35):
            yield Stroke("metal", ((x(at) + aside, low), (x(at) + aside, high)), "medium")
    for at in face.layout.horizontal_m:
        y = low + at * 1000.0 / factor
        for aside in (-0.35, 0.35):
            yield Stroke("metal", ((x(start), y + aside), (x(end), y + aside)), "medium")
    ends = [start, *(at for at in verticals if strictly_between(at, start, end)), end]
    panels = [Measure((x(a), low), (x(b), low), job.shown_long(b - a)) for a, b in pairwise(ends)]
    yield from chained([one for one in panels if _fits(one, 0)], "x", low - 5.5, -4.0, "dimension")
    yield from _running(job, [(x(at), job.shown_long(at)) for at in ends], high)
    sides = [(low + at * 1000.0 / factor, at) for at in (0.0, *face.layout.horizontal_m, face.height_m)]
    heights = [
        Measure((x(start), a), (x(start), b), job.shown_long(top - foot))
        for (a, foot), (b, top) in pairwise(sides)
    ]
    yield from chained([one for one in heights if _fits(one, 1)], "y", x(start) - 4.0, -4.0, "dimension")
    yield from _openings(job, row, origin, factor, high)


def _fits(measure: Measure, axis: int) -> bool:
    """Whether the words of a size have room between its ends; the notes name every size."""
    return width(measure.words, 2.2) + 1.8 <= abs(measure.second[axis] - measure.first[axis])


def _running(job: Job, places: list[tuple[float, str]], high: float) -> Iterator[Item]:
    """Distances from the left end of the face, over each joint that has room for its own."""
    last, edge = -1e9, paper_for(job).size[0] - MARGIN - 1.0
    for at, words in places:
        half = width(words, 2.2) / 2.0
        middle = max(min(at, edge - half), MARGIN + 1.0 + half)  # within the rule around the sheet
        yield Stroke("dimension", ((at, high + 0.8), (at, high + 2.6)))
        if middle - half > last + 1.5:
            yield Text("dimension", (middle, high + 3.4), words, 2.2, "middle")
            last = middle + half


def _openings(job: Job, row: Row, origin: tuple[float, float], factor: float, high: float) -> Iterator[Item]:
    """What the project file places along the face; a scupper without sizes is a mark alone."""
    (start, end), (left, low) = row, origin
    last = -1e9
    placed = [(one.si("position") or 0.0, one) for one in job.parapet.along if one.has("position")]
    for at, record in sorted(placed, key=lambda entry: entry[0]):
        if not start <= at <= end:
            continue
        x = left + (at - start) * 1000.0 / factor
        is_scupper = record.what == "scupper"
        name = f"{'building joint' if record.what == 'joint' else record.what} {record.word('name')}"
        half = width(name, 2.2) / 2.0
        if x - half > last + 1.5:
            yield Text("note", (x, high + 7.0), name, 2.2, "middle")
            last = x + half
        yield Stroke("note", ((x, high + 6.4), (x, high + 6.0)), "fine")
        wide, tall = record.si("width") if is_scupper else None, record.si("height") if is_scupper else None
        if wide and tall and 0.0 < wide < LONGEST_M and 0.0 < tall < LONGEST_M:
            # The inlet is told above the roof, and the row stands on the foot of the plaster, below it.
            roof = high - low - _plaster_above_roof(job, factor) * 1000.0 / factor
            up = max(roof + (record.si("inlet_height") or 0.0) * 1000.0 / factor, 0.0)
            w, h = wide * 500.0 / factor, tall * 1000.0 / factor
            if low + up + h < high:
                yield Stroke("outline", rectangle(x - w, low + up, x + w, low + up + h), "heavy", closed=True)


def _plaster_above_roof(job: Job, factor: float) -> float:
    """How far the upper edge of the plaster stands above the finished roof [m]."""
    return levels_of(job, frame_of(job, factor)).plaster_top


def _joint_remarks(job: Job, face: Face, where: Mapping[str, ParagraphRef]) -> Iterator[str]:
    layout = face.layout
    apart = f", {face.of_building} of the upright at a building joint" if face.of_building else ""
    yield (
        f"{len(layout.vertical_m)} upright and {many(len(layout.horizontal_m), 'level control joint')}{apart}; "
        f"largest ratio of sides {layout.greatest_ratio:.2f}. "
        f"Panels: {_sizes(job, layout.vertical_m, face.length_m)} long, "
        f"{_sizes(job, layout.horizontal_m, face.height_m)} high."
    )
    for name in ("plaster.panel_area", "plaster.panel_length", "plaster.panel_ratio", "plaster.lath_stops"):
        asked = job.requirements.at(name, job.parapet.name)
        if asked is not None and asked.id in where:
            ref = where[asked.id]
            allowed = requirement_words(asked, job.practice, job.system)
            yield f"{asked.title}: {allowed}: {ref.section}, {ref.number}"
    yield from _too_large(job, face)
    yield "Distances over the joints run from the left end, seen from outdoors. Heavy line below: weep screed."
    if not job.parapet.has("plaster_height"):
        yield (
            "The height is that of the parapet above the roof: the project file does not state the plastered height. "
            "Plaster that runs on below the roof makes taller panels; lay the joints out again."
        )
    if (radius := job.parapet.si("radius")) is not None:
        yield f"The face is curved in plan, radius {job.shown_long(radius)}: it is drawn developed."
    if job.parapet.steps:
        yield plaster_panels.BEYOND_STEP
    if any(not one.has("position") for one in job.parapet.along):
        yield "Scuppers, corners, steps, and building joints without a stated position are not shown."


def _too_large(job: Job, face: Face) -> Iterator[str]:
    """The layout keeps the limits of practice: a stricter limit of the project is told where a panel passes it."""
    layout = face.layout
    for name, value in (
        ("plaster.panel_area", layout.greatest_area_m2),
        ("plaster.panel_length", layout.greatest_side_m),
        ("plaster.panel_ratio", layout.greatest_ratio),
    ):
        asked = job.requirements.at(name, job.parapet.name)
        limit = asked.limit.stated if asked is not None else None
        bound = limit.value if isinstance(limit, Quantity) else limit
        if asked is not None and isinstance(bound, int | float) and not computed_at_most(value, bound):
            allowed = requirement_words(asked, job.practice, job.system)
            yield f"Add joints: in this layout the {asked.title} is more than the specification allows ({allowed})."


def _sizes(job: Job, joints: Sequence[float], whole: float) -> str:
    """The panels along one side, like ones together."""
    counts = Counter(job.shown_long(b - a) for a, b in pairwise((0.0, *joints, whole)))
    return ", ".join(f"{count} of {words}" for words, count in counts.items())
