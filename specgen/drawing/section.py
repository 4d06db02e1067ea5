"""The section through a parapet to scale: parts hatched, laps, drips, sizes, keyed notes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from specgen.drawing.keys import key_items
from specgen.drawing.measures import size_items
from specgen.drawing.notes import CAUTIONS, LapKey, Note, lap_notes, laps_on_sheet, part_keys, part_notes
from specgen.drawing.shapes import Drawing
from specgen.drawing.sheet import (
    BASE_LAYERS,
    Block,
    DrawingSheet,
    blocks,
    flow,
    paper_for,
    remarks,
    title_strip,
)
from specgen.drawing.sizes import Job
from specgen.drawing.view import View, wall_items
from specgen.sections.build import ParagraphRef


def section(view: View, where: Mapping[str, ParagraphRef]) -> tuple[Drawing, ...]:
    """The section of one parapet, and a second sheet where the notes do not fit beside it."""
    job = view.job
    sheet = DrawingSheet(job, "Section", view.scale, view.paper)
    laps = laps_on_sheet(job, view.levels)
    keyed, more = _keyed(view, laps, where)
    sheet.items += wall_items(view)
    sizes = size_items(view, laps)
    sheet.items += sizes
    sheet.items += key_items(view, laps, more, sizes)
    title_strip(sheet)
    listed: list[Block] = [
        *blocks("Parts, numbered in the order of work", keyed),
        *blocks("Laps, upper over lower", lap_notes(job, laps, where)),
        *remarks("How to read this sheet", _reading(view)),
    ]
    rest = flow(sheet, view.paper.column, listed)
    drawings = [_drawing(sheet, view, "section", _description(view, keyed))]
    if rest:
        drawings.append(_continued(job, rest))
    return tuple(drawings)


def _drawing(sheet: DrawingSheet, view: View, name: str, about: str) -> Drawing:
    title = f"{sheet.title} of parapet {sheet.job.parapet.name}"
    return Drawing(
        name,
        title,
        about,
        view.paper.size,
        view.scale,
        view.factor,
        BASE_LAYERS,
        tuple(sheet.items),
        not sheet.job.si,
    )


def _continued(job: Job, rest: list[Block]) -> Drawing:
    sheet = DrawingSheet(job, "Section, notes", "none", paper_for(job))
    title_strip(sheet)
    left, low, right, high = sheet.paper.field
    half = (left + right) / 2.0
    for column in ((left + 3.0, low, half - 2.0, high), (half + 2.0, low, right, high), sheet.paper.column):
        rest = flow(sheet, column, rest) if rest else []
    about = f"Keyed notes of the section of parapet {job.parapet.name}, carried over from the first sheet."
    title = f"Notes to the section of parapet {job.parapet.name}"
    return Drawing(
        "section-notes",
        title,
        about,
        sheet.paper.size,
        "none",
        1.0,
        BASE_LAYERS,
        tuple(sheet.items),
        not job.si,
    )


def _keyed(
    view: View, laps: tuple[LapKey, ...], where: Mapping[str, ParagraphRef]
) -> tuple[list[Note], dict[str, str]]:
    """The notes of all keys, and the keys of what is no component."""
    job, levels = view.job, view.levels
    notes = list(part_notes(job, view.frame, levels, where, (piece.name for piece in view.pieces)))
    number = max([0, *(int(key) for key in part_keys(job).values())])
    building, more = job.project.building, {}
    space = view.frame.named("space")
    words = {
        "roof insulation": f"roof insulation, {building.word('roof_insulation') or 'not described'}, drawn "
        f"{levels.insulation.words}" + (" (assumed)" if levels.insulation.assumed else ""),
        "roof deck": f"roof deck, {building.word('roof_deck') or 'not described'}, drawn {levels.deck.words}"
        + (" (assumed)" if levels.deck.assumed else ""),
        "thermal break": f"thermal break, {levels.thermal_break.words if levels.thermal_break else ''}",
        "space": f"space that the project file does not describe, {space.size.words if space else ''}: the stated "
        "thickness less the layers; its place is assumed",
    }
    for piece in view.pieces:
        if piece.name in words:
            number += 1
            more[piece.name] = str(number)
            notes.append(Note(str(number), "circle", words[piece.name]))
    return notes, more


def _reading(view: View) -> Iterator[str]:
    """What is to scale, what is not, what is assumed."""
    job, frame, levels = view.job, view.frame, view.levels
    if (radius := job.parapet.si("radius")) is not None:
        curve = f", {job.parapet.word('curve')}" if job.parapet.has("curve") else ""
        yield f"Curved in plan, radius of the outer face {job.shown_long(radius)}{curve}: cut along the radius."
    yield (
        f"Drawn to scale {view.scale}. Membranes and sheet metal are drawn with a line of fixed width, thicker than they "
        f"are; laps lie side by side. Thin layers get a readable width. The faces stand {job.shown(frame.displaced)} "
        "farther apart than they are; written sizes are true."
    )
    yield (
        "Lines: barrier, long strokes; top flashing, solid; roof membrane, stroke and dot; tape, dots. Arrows show "
        "the way of drained water."
    )
    if view.placing.cuts:
        yield "Between break lines plain wall is left out."
    assumed = []
    if levels.outlet_assumed:
        assumed.append("the height of the outlet")
    if levels.deck.assumed or levels.insulation.assumed:
        assumed.append("sizes of the roof marked so")
    if assumed:
        yield f"Not stated in the project file and assumed for this sheet: {'; '.join(assumed)}."
    yield from CAUTIONS


def _description(view: View, keyed: list[Note]) -> str:
    parts = "; ".join(f"{note.key} {note.head}" for note in keyed)
    return (
        f"Section through parapet {view.job.parapet.name}, outer face at left, roof at right, scale {view.scale}. "
        f"Parts: {parts}."
    )
