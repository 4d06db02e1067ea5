"""A section laid out on a sheet: scale, place, and the wall as far as the sheet shows it."""

from __future__ import annotations

from collections.abc import Iterator
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

KEY_LANE, LEFT_SIZES, RIGHT_SIZES, ABOVE, BELOW = 8.0, 15.0, 23.0, 19.0, 7.0


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

    @property
    def box(self) -> Box:
        """What of the sheet the wall and its roof may fill."""
        left, low, right, high = self.paper.field
        return left + KEY_LANE + 2.0, low + BELOW - 3.0, right - KEY_LANE - 2.0, high


def view_of(job: Job) -> View:
    """Scale and place of the section: the largest scale of the trade at which it fits, plain wall left out."""
    paper = paper_for(job)
    left, low, right, high = paper.field
    room = right - left - 2 * KEY_LANE - LEFT_SIZES - RIGHT_SIZES, high - low - ABOVE - BELOW
    for factor, words in scales(job):
        frame = frame_of(job, factor)
        levels = levels_of(job, frame)
        drawn = pieces(job, frame, levels)
        unit = factor / 1000.0
        x0, x1 = across(frame, drawn)
        cuts = cuts_for(zones(frame, levels, drawn), unit, room[1])
        last = (factor, words) == scales(job)[-1]
        if (cuts is not None and (x1 - x0) / unit <= room[0]) or last:
            break
    cuts = cuts or ()
    spare = max(0.0, room[0] - (x1 - x0) / unit)
    at = left + KEY_LANE + LEFT_SIZES + 0.35 * spare - x0 / unit
    placing = Placing(unit, (at, 0.0), cuts)
    drop = high - ABOVE - placing.y(levels.top)
    return View(job, frame, levels, Placing(unit, (at, drop), cuts), drawn, paper, words, factor)


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
    box, placing = view.box, view.placing
    items = [
        shown
        for piece in view.pieces
        for item in piece.items
        if (shown := _within(placing.item(item), box[2]))
    ]
    left, right = placing.x(view.frame.left), placing.x(view.frame.right)
    foot = placing.y(view.levels.bottom)
    items += break_lines(placing, left - 4.0, right + 4.0)
    items.append(Area("break", rectangle(left - 1.0, foot - 2.0, right + 1.0, foot), "blank", None))
    items.append(Stroke("break", broken(left - 3.0, right + 3.0, foot), "medium"))
    deck, roof = placing.y(view.levels.deck_bottom), placing.y(0.0)
    items.append(Stroke("break", broken_upright(box[2], deck - 3.0, roof + 3.0), "medium"))
    return items


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
