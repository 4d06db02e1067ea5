"""A section laid out on a sheet: scale, place, and the wall as far as the sheet shows it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from specgen.drawing.frame import Frame, frame_of
from specgen.drawing.levels import Levels, levels_of
from specgen.drawing.near import SAME_MM
from specgen.drawing.piece import Piece
from specgen.drawing.pieces import pieces
from specgen.drawing.placing import Placing, break_lines, broken, broken_upright, cuts_for
from specgen.drawing.shapes import Area, Box, Item, Point, Stroke, bounds, rectangle
from specgen.drawing.sheet import (
    Paper,
    paper_for,
    scales,
)
from specgen.drawing.sizes import Job

KEY_LANE = 8.0


@dataclass(frozen=True)
class Margins:
    """What stays free in the field of a sheet [mm]: a lane of keys at each side, and room around the wall for sizes."""

    lane: float = KEY_LANE
    left: float = 15.0
    right: float = 23.0
    above: float = 19.0
    below: float = 7.0


@dataclass(frozen=True)
class View:
    """A section laid out on a sheet: what is drawn where."""

    job: Job
    frame: Frame
    levels: Levels
    placing: Placing
    pieces: tuple[Piece, ...]
    paper: Paper
    scale: str
    factor: float
    margins: Margins = Margins()

    @property
    def box(self) -> Box:
        """What of the sheet the wall and its roof may fill."""
        (left, low, right, high), lane = self.paper.field, self.margins.lane
        return left + lane + 2.0, low + self.margins.below - 3.0, right - lane - 2.0, high


def view_of(job: Job) -> View:
    """Scale and place of the section: the largest scale of the trade at which it fits, plain wall left out."""
    return laid_out(job, paper_for(job), Margins(), scales(job))


def laid_out(job: Job, paper: Paper, margins: Margins, wanted: Sequence[tuple[float, str]]) -> View:
    """The wall at the first of some scales at which it fits a sheet, plain wall left out; at the last if at none.

    Args:
        job: the parapet.
        paper: the sheet.
        margins: what stays free in its field.
        wanted: factors with their words, the largest scale first.
    """
    left, low, right, high = paper.field
    room = (
        right - left - 2 * margins.lane - margins.left - margins.right,
        high - low - margins.above - margins.below,
    )
    for scale in wanted:
        factor = scale[0]
        frame = frame_of(job, factor)
        if scale != wanted[-1] and (frame.right - frame.left) * 1000.0 / factor > room[0]:
            continue
        levels = levels_of(job, frame)
        drawn = pieces(job, frame, levels)
        unit = factor / 1000.0
        x0, x1 = across(frame, drawn)
        cuts = cuts_for(zones(frame, levels, drawn), unit, room[1])
        if cuts is not None and (x1 - x0) / unit <= room[0]:
            break
    cuts = cuts or ()
    spare = max(0.0, room[0] - (x1 - x0) / unit)
    at = left + margins.lane + margins.left + 0.35 * spare - x0 / unit
    placing = Placing(unit, (at, 0.0), cuts)
    drop = high - margins.above - placing.y(levels.top)
    placing = Placing(unit, (at, drop), cuts)
    return View(job, frame, levels, placing, drawn, paper, scale[1], factor, margins)


def across(frame: Frame, drawn: tuple[Piece, ...]) -> tuple[float, float]:
    """From drip to drip."""
    points = [
        p for piece in drawn if piece.name not in ("roof insulation", "roof deck") for p in _points(piece)
    ]
    inner = [x for x, y in points if x <= frame.right + 0.4 and y > 0.02]
    return min([frame.left, *(x for x, _ in points)]), max([frame.right, *inner])


def _points(piece: Piece) -> Iterator[Point]:
    for item in piece.items:
        if isinstance(item, Stroke):
            yield from item.points
        elif isinstance(item, Area):
            yield from item.outline


def zones(frame: Frame, levels: Levels, drawn: tuple[Piece, ...]) -> list[tuple[float, float]]:
    """Heights that must be seen: the top with its laps and legs, the roof line, the outlet, the end below."""
    job_tapes = [
        piece.low for piece in drawn if piece.low > levels.wall_top - 0.5 and piece.high > levels.wall_top
    ]
    feet = [
        y
        for piece in drawn
        if piece.name not in ("roof insulation",)
        for x, y in _points(piece)
        if x < frame.left
    ]
    feet = [y for y in feet if y > levels.wall_top - 0.4]
    low = min([levels.roof_lap_end, levels.outer_lap_end, *job_tapes, *feet]) - 0.04
    return [
        (max(low, levels.bottom), levels.top),
        (levels.deck_bottom - 0.03, 0.09),
        (levels.bottom, levels.outlet + 0.13),
    ]


def wall_items(view: View) -> list[Item]:
    """The wall on the sheet: its pieces cut where the sheet ends, breaks, and the line of the finished roof."""
    return [*(item for piece in view.pieces for item in placed(view, piece)), *wall_edges(view)]


def placed(view: View, piece: Piece) -> Iterator[Item]:
    """What is drawn of a piece on the sheet, cut where the sheet ends."""
    end = view.box[2]
    return (shown for item in piece.items if (shown := _within(view.placing.item(item), end)))


def wall_edges(view: View) -> Iterator[Item]:
    """Where the drawing is broken off: within the wall, below it, and across the roof field."""
    box, placing = view.box, view.placing
    left, right = placing.x(view.frame.left), placing.x(view.frame.right)
    foot = placing.y(view.levels.bottom)
    yield from break_lines(placing, left - 4.0, right + 4.0)
    yield Area("break", rectangle(left - 1.0, foot - 2.0, right + 1.0, foot), "blank", None)
    yield Stroke("break", broken(left - 3.0, right + 3.0, foot), "medium")
    deck, roof = placing.y(view.levels.deck_bottom), placing.y(0.0)
    yield Stroke("break", broken_upright(box[2], deck - 3.0, roof + 3.0), "medium")


def _within(item: Item, right: float) -> Item | None:
    """An item ended where the sheet cuts the roof field."""
    match item:
        case Stroke():
            points = tuple((min(x, right), y) for x, y in item.points)
            x0, y0, x1, y1 = bounds(points)
            return (
                None
                if x0 == x1 == right and y0 != y1
                else Stroke(item.layer, points, item.pen, item.dash, item.closed, item.arrow)
            )
        case Area():
            points = tuple((min(x, right), y) for x, y in item.outline)
            x0, _, x1, _ = bounds(points)
            return None if x1 - x0 < SAME_MM else Area(item.layer, points, item.hatch, item.pen)
        case _:
            return item


def is_role(view: View, piece: Piece, role: str) -> bool:
    part = view.job.parapet.by_id(piece.name)
    return part is not None and part.role == role
