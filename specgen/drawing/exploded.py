"""The section pulled apart: every part by itself, numbered in the order of work, laps upper over lower."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from specgen.drawing.frame import frame_of, spread
from specgen.drawing.keys import key_items
from specgen.drawing.levels import Course, Levels, levels_of
from specgen.drawing.notes import Note, lap_notes, laps_on_sheet, part_keys
from specgen.drawing.pieces import pieces
from specgen.drawing.placing import Placing, break_lines, broken, cuts_for
from specgen.drawing.shapes import Area, Drawing, Item, Stroke, bounds, rectangle
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
from specgen.drawing.view import View, across, zones

APART = 6.0  # of the sheet between two parts
LANE = 12.0
NOT_SHOWN = frozenset({"roof insulation", "roof deck", "thermal break", "space"})
ROOF_END = 14.0


def exploded(job: Job) -> Drawing:
    """The order of laps at one parapet."""
    paper = paper_for(job)
    view = _view(job, paper)
    sheet = DrawingSheet(job, "Order of work", "not to scale", paper)
    sheet.items += _items(view)
    laps = laps_on_sheet(job, view.levels)
    sheet.items += key_items(view, laps, {})
    title_strip(sheet)
    notes = list(_steps(job))
    if job.order.cycle:
        notes.append(Note("!", "diamond", job.order.cycle.text))
    flow(
        sheet,
        paper.column,
        [
            *blocks("Order of work", notes),
            *blocks("Laps, upper over lower", lap_notes(job, laps, {})),
            *remarks("How to read this sheet", _reading()),
        ],
    )
    steps = "; ".join(f"{note.key} {note.head}" for note in notes)
    return Drawing(
        "order-of-work",
        f"Order of work at parapet {job.parapet.name}",
        f"The parts of the parapet pulled apart, numbered in the order of work: {steps}.",
        paper.size,
        "not to scale",
        view.factor,
        BASE_LAYERS,
        tuple(sheet.items),
        not job.si,
    )


def _steps(job: Job) -> Iterator[Note]:
    keys = part_keys(job)
    for step in job.order.steps:
        lines = (f"before it, {step.hold_point}",) if step.hold_point else ()
        yield Note(keys[step.component], "circle", f"{step.component}: {step.trade}", lines)


def _reading() -> Iterator[str]:
    yield "The parts stand apart by steps of equal width; thickness and height follow the section, at another scale."
    yield "Of two parts that lap, the one farther from the framing lies over the other."


def _view(job: Job, paper: Paper) -> View:
    left, low, right, high = paper.field
    room = right - left - 2 * LANE - ROOF_END, high - low - 16.0
    for factor, _ in scales(job):
        unit = factor / 1000.0
        whole = frame_of(job, factor)
        frame = spread(whole, APART * unit)
        levels = _apart(levels_of(job, whole), APART * unit)
        drawn = tuple(piece for piece in pieces(job, frame, levels) if piece.name not in NOT_SHOWN)
        x0, x1 = across(frame, drawn)
        cuts = cuts_for(zones(frame, levels, drawn), unit, room[1])
        if cuts is not None and (x1 - x0) / unit <= room[0]:
            break
    spare = max(0.0, room[0] - (x1 - x0) / unit)
    at = left + LANE + 0.4 * spare - x0 / unit
    placing = Placing(unit, (at, 0.0), cuts or ())
    drop = high - 8.0 - placing.y(levels.top)
    return View(job, frame, levels, replace(placing, origin=(at, drop)), drawn, paper, "not to scale", factor)


def _apart(levels: Levels, step: float) -> Levels:
    """Each course one step above the one below it, the coping above them all."""
    courses: list[Course] = []
    for number, one in enumerate(levels.courses, 1):
        up = number * step
        under = one.under[0] + up, one.under[1] + up
        courses.append(replace(one, under=under, upper=(one.upper[0] + up, one.upper[1] + up)))
    up = (len(courses) + 1) * step
    low, high = levels.coping_low + up, levels.coping_high + up
    return replace(levels, courses=tuple(courses), coping_low=low, coping_high=high)


def _items(view: View) -> list[Item]:
    placing, frame = view.placing, view.frame
    end = placing.x(frame.right) + ROOF_END
    items: list[Item] = []
    for piece in view.pieces:
        for item in piece.items:
            placed = placing.item(item)
            if isinstance(placed, Stroke):
                placed = replace(placed, points=tuple((min(x, end), y) for x, y in placed.points))
            items.append(placed)
    points = [p for item in items if isinstance(item, Stroke | Area) for p in _outline(item)]
    left, _, right, _ = bounds(points)
    items += break_lines(placing, left - 1.0, right + 1.0)
    foot = placing.y(view.levels.bottom)
    items.append(Area("break", rectangle(left - 1.0, foot - 2.0, right + 1.0, foot), "blank", None))
    items.append(
        Stroke("break", broken(placing.x(frame.left) - 2.0, placing.x(frame.right) + 2.0, foot), "medium")
    )
    return items


def _outline(item: Stroke | Area) -> tuple[tuple[float, float], ...]:
    return item.points if isinstance(item, Stroke) else item.outline
