"""The details of a parapet: each condition it lists, drawn to scale, with the paragraphs that say how it is made."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import fsum
from typing import Any

from specgen.drawing.detail_hole import penetration
from specgen.drawing.detail_plan import building_joint, corner
from specgen.drawing.detail_run import end, joint_top, step
from specgen.drawing.keys import PITCH
from specgen.drawing.labels import Measure, Wish, chained, in_lane
from specgen.drawing.notes import CAUTIONS, Note
from specgen.drawing.placing import Placing, break_lines, broken, broken_upright, cuts_for
from specgen.drawing.shapes import Bubble, Drawing, Item, Stroke, Text
from specgen.drawing.sheet import (
    BASE_LAYERS,
    DrawingSheet,
    Paper,
    blocks,
    flow,
    paper_for,
    remarks,
    scales,
    title_strip,
)
from specgen.drawing.sizes import Job
from specgen.drawing.sketch import Sketch
from specgen.drawing.view import KEY_LANE
from specgen.model.project import Record
from specgen.sections.form_text import FormText
from specgen.specification import Printed
from specgen.wall.place import of_condition

SIDE, CAPTION, UNDER, APART = 17.0, 6.0, 11.0, 5.0  # of the sheet beside, above and under each view
Build = Callable[[Job, float, Record], tuple[Sketch, ...]]
Words = Callable[[str, str], tuple[Printed, ...]]  # what a section prints by a key, for the parapet


def _joint(job: Job, factor: float, place: Record) -> tuple[Sketch, ...]:
    return (*building_joint(job, factor, place), *joint_top(job, factor, place))


BUILT: Mapping[str, Build] = {  # by condition: what draws it
    "outside corner": corner,
    "inside corner": corner,
    "end at a rising wall": end,
    "step in height": step,
    "building joint": _joint,
    "penetration": penetration,
}


def details(job: Job, words: Words) -> Iterator[Drawing]:
    """A sheet for each condition of a parapet; places that are made alike share one.

    Args:
        job: the parapet.
        words: what the sections print for it, by section and key.
    """
    for condition, build in BUILT.items():
        alike: dict[tuple[tuple[str, Any], ...], list[Record]] = {}
        for place in of_condition(job.parapet, condition):
            own = {k: v for k, v in place.values.items() if k not in ("name", "position")}
            alike.setdefault(tuple(sorted(own.items(), key=lambda one: one[0])), []).append(place)
        for number, places in enumerate(alike.values(), 1):
            yield _sheet(job, condition, build, places, words, number if len(alike) > 1 else 0)


def _sheet(
    job: Job, condition: str, build: Build, places: Sequence[Record], words: Words, number: int
) -> Drawing:
    text = _texts()[condition]
    title = text["title"] + (f" {number}" if number else "")
    paper = paper_for(job)
    laid = _laid_out(job, paper, lambda factor: build(job, factor, places[0]))
    sheet = DrawingSheet(job, title, laid.words, paper)
    shown = {name for sketch, _ in laid.views for name in sketch.targets}
    rows = [row for row in text["steps"] if row["at"] in shown or not row.get("if_drawn")]
    steps = _steps(job, rows, words)
    for sketch, placing in laid.views:
        sheet.items += _drawn(sketch, placing)
    sheet.items += _keys(paper, steps, laid)
    title_strip(sheet)
    listed = [
        *remarks("Places", (_place(job, place) for place in places)),
        *blocks("How it is made, in the order of work", (note for note, _ in steps)),
        *remarks("How to read this sheet", _reading(laid, condition)),
    ]
    flow(sheet, paper.column, listed)
    made = "; ".join(f"{note.key} {note.head}" for note, _ in steps)
    names = ", ".join(str(place.word("name")) for place in places)
    return Drawing(
        condition.replace(" ", "-") + (f"-{number}" if number else ""),
        f"{title} of parapet {job.parapet.name}",
        f"{title} of parapet {job.parapet.name} ({names}), scale {laid.words}: "
        f"{'; '.join(sketch.title.lower() for sketch, _ in laid.views)}. How it is made: {made}.",
        paper.size,
        laid.words,
        laid.factor,
        BASE_LAYERS,
        tuple(sheet.items),
        not job.si,
    )


@lru_cache(maxsize=1)
def _texts() -> Mapping[str, Any]:
    return FormText("details").texts


@dataclass(frozen=True)
class LaidOut:
    """The views of a detail with their places on the sheet."""

    views: tuple[tuple[Sketch, Placing], ...]
    factor: float
    words: str


def _laid_out(job: Job, paper: Paper, build: Callable[[float], tuple[Sketch, ...]]) -> LaidOut:
    """The views one below the other at the largest scale at which they fit, plain wall left out."""
    left, low, right, high = paper.field
    wide = right - left - 2 * KEY_LANE - 2 * SIDE
    for factor, words in scales(job):
        unit, sketches = factor / 1000.0, build(factor)
        boxes = [sketch.box for sketch in sketches]
        spare = high - low - len(boxes) * (CAPTION + UNDER) - (len(boxes) - 1) * APART
        rest = spare - fsum((box[3] - box[1]) / unit for box in boxes[1:])
        cuts = cuts_for(sketches[0].zones or ((boxes[0][1], boxes[0][3]),), unit, rest)
        fits = cuts is not None and all((box[2] - box[0]) / unit <= wide for box in boxes)
        if fits or (factor, words) == scales(job)[-1]:
            break
    views, top = [], high
    for number, (sketch, box) in enumerate(zip(sketches, boxes, strict=True)):
        at = (left + right) / 2.0 - (box[0] + box[2]) / 2.0 / unit
        own = (cuts or ()) if number == 0 else ()
        placing = Placing(unit, (at, 0.0), own)
        drop = top - CAPTION - placing.y(box[3])
        placing = Placing(unit, (at, drop), own)
        views.append((sketch, placing))
        top = placing.y(box[1]) - UNDER - APART
    return LaidOut(tuple(views), factor, words)


def _drawn(sketch: Sketch, placing: Placing) -> list[Item]:
    """One view on the sheet with its caption, its sizes and where it is broken off."""
    x0, y0, x1, y1 = sketch.box
    items: list[Item] = [placing.item(item) for item in sketch.items]
    items += break_lines(placing, placing.x(x0) - 2.0, placing.x(x1) + 2.0)
    for a, b in sketch.ends:
        (u0, v0), (u1, v1) = placing.at(a), placing.at(b)
        line = broken_upright(u0, *sorted((v0, v1))) if u0 == u1 else broken(min(u0, u1), max(u0, u1), v0)
        items.append(Stroke("break", line, "medium"))
    items.append(Text("note", (placing.x(x0), placing.y(y1) + 3.2), sketch.title, 2.5, bold=True))
    place = [
        [Measure(placing.at(m.first), placing.at(m.second), m.words, m.up) for m in ms]
        for ms in (sketch.level, sketch.upright)
    ]
    items += chained(place[0], "x", placing.y(y0) - 4.0, -4.4, "dimension")
    upright = chained(place[1], "y", placing.x(x0) - 4.0, -4.6, "dimension")
    items += reversed(upright)  # the words of a short one lie over the lines of a long one
    return items


Step = tuple[Note, str]


def _steps(job: Job, listed: Sequence[Mapping[str, Any]], words: Words) -> list[Step]:
    """The paragraphs that the sections print for this parapet, in its order of work."""
    order = {step.component: number for number, step in enumerate(job.order.steps)}
    held = {step.component: step.hold_point for step in job.order.steps}
    last, found = 0, []
    for row in listed:
        parts = [part.id for part in job.parapet.all_of(row["on"])]
        last = min((order[one] for one in parts if one in order), default=last)
        hold = next((held[one] for one in parts if held.get(one)), None)
        found += [(last, one, hold, row) for one in words(row["in"], row["says"])]
    found.sort(key=lambda one: one[0])
    steps: list[Step] = []
    seen: set[str] = set()
    for number, (_, printed, hold, row) in enumerate(found, 1):
        lines = (f"before it, {hold}",) if hold and hold not in seen else ()
        seen.update([hold] if hold else [])
        where = f"{printed.ref.section}, {printed.ref.number}"
        steps.append(
            (Note(str(number), "circle", f"{printed.words.rstrip('.:')}: {where}", lines), row["at"])
        )
    return steps


def _keys(paper: Paper, steps: Sequence[Step], laid: LaidOut) -> Iterator[Item]:
    """The numbers of the steps with their leaders, in a lane on each side."""
    left, low, right, high = paper.field
    wishes: dict[bool, list[Wish]] = {True: [], False: []}
    for note, at in steps:
        point = next((p.at(s.targets[at]) for s, p in laid.views if at in s.targets), None)
        if point is not None:
            wishes[point[0] < (left + right) / 2.0].append(Wish(note.key, point[0], point[1], point[1]))
    for outer, x in ((True, left + KEY_LANE / 2.0), (False, right - KEY_LANE / 2.0)):
        placed = in_lane(wishes[outer], low + 3.0, high - 3.0, PITCH)
        for wish in wishes[outer]:
            y, to = placed[wish.key]
            yield Bubble("key", (x, y), wish.key, (wish.x, to))


def _place(job: Job, place: Record) -> str:
    position = place.quantity("position") if place.has("position") else None
    words = str(place.word("name"))
    if position:
        words += f", {job.words(position)} from the left end of the outer face"
    if place.what == "penetration":
        words += (
            f"; {place.word('what')}, closed by {place.word('sealed_by') or 'what the file does not state'}"
        )
        words += "" if place.has("diameter") else "; its diameter is assumed"
    if place.what == "joint":
        movement = place.quantity("movement") if place.has("movement") else None
        moves = f"closes and opens by {job.words(movement)}" if movement else "its movement is not stated"
        words += f"; {place.word('what')} joint, {moves}"
    return words


def _reading(laid: LaidOut, condition: str) -> Iterator[str]:
    yield (
        f"Drawn to scale {laid.words} from the layers of this parapet. Membranes and sheet metal are thicker than they "
        "are; laps lie side by side. Written sizes are true."
    )
    if condition in ("end at a rising wall", "step in height"):
        yield "The wall that rises is drawn with the layers of the outer face; its own are not described."
    yield from CAUTIONS
