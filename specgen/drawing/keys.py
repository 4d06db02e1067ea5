"""The keys of a section with their leaders, in a lane on each side."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from specgen.drawing.labels import Wish, holds, in_lane
from specgen.drawing.lettering import box_of
from specgen.drawing.notes import LapKey, part_keys
from specgen.drawing.piece import Piece
from specgen.drawing.shapes import Area, Box, Bubble, Item, Point, bounds
from specgen.drawing.view import View, is_role
from specgen.wall.order import roof_side_barrier

PITCH = 6.2
CLEAR = 0.6  # of a leader's dot beside lettering


def key_items(
    view: View, laps: tuple[LapKey, ...], more: Mapping[str, str], sizes: Sequence[Item] = ()
) -> list[Item]:
    """The keys with their leaders in a lane on each side; no leader ends under the lettering of the sizes."""
    keys = {**part_keys(view.job), **more}
    wishes: dict[str, list[Wish]] = {"outer": [], "roof": []}
    shapes = {lap.key: "diamond" for lap in laps}
    reach: dict[str, tuple[float, float]] = {}
    busy = [box for item in sizes if (box := box_of(item)) is not None]
    for piece in view.pieces:
        if piece.name in keys and keys[piece.name] not in reach:
            reach[keys[piece.name]] = _reach(view, piece)
            wishes[piece.side].append(_wish(view, keys[piece.name], piece.x, piece.low, piece.high))
    for lap, side, x, low, high in _lap_places(view, laps):
        wishes[side].append(_wish(view, lap.key, x, low, high))
    left, low, right, high = view.paper.field
    items: list[Item] = []
    for side, x in (("outer", left + view.margins.lane / 2.0), ("roof", right - view.margins.lane / 2.0)):
        placed = in_lane(wishes[side], low + 3.0, high - 3.0, PITCH, view.placing.bands)
        for wish in wishes[side]:
            y, end = placed[wish.key]
            shape = "diamond" if wish.key in shapes else "circle"
            to = _beside(busy, wish, end, reach.get(wish.key, (wish.x, wish.x)))
            items.append(Bubble("key", (x, y), wish.key, to, "diamond" if shape == "diamond" else "circle"))
    return items


def _reach(view: View, piece: Piece) -> tuple[float, float]:
    """From where to where a part may be pointed at on the sheet: a filled one over its whole width."""
    points = [point for item in piece.items if isinstance(item, Area) for point in item.outline]
    if not points:
        return view.placing.x(piece.x), view.placing.x(piece.x)
    left, _, right, _ = bounds(points)
    return view.placing.x(left), min(view.placing.x(right), view.box[2] - 3.0)


def _beside(busy: Sequence[Box], wish: Wish, end: float, reach: tuple[float, float]) -> Point:
    """Where a leader ends: as wished, or as near to it on the part as no lettering stands."""

    def free(point: Point) -> bool:
        return not any(holds(box, point) for box in busy)

    wished = wish.x, end
    if free(wished):
        return wished
    level = [(x, end) for box in busy for x in (box[0] - CLEAR, box[2] + CLEAR) if reach[0] < x < reach[1]]
    upright = [
        (wish.x, y) for box in busy for y in (box[1] - CLEAR, box[3] + CLEAR) if wish.low <= y <= wish.high
    ]
    near = [point for point in (*level, *upright) if free(point)]
    return min(near, key=lambda p: (abs(p[0] - wish.x) + abs(p[1] - end), p), default=wished)


def _wish(view: View, key: str, x: float, low: float, high: float) -> Wish:
    """Where a leader may land: on the sheet, and below the sizes of the top where the part runs on below them."""
    placing, levels = view.placing, view.levels
    at = min(placing.x(x), view.box[2] - 3.0)
    a, b = placing.y(low) + 0.3, placing.y(high) - 0.3
    a = max(a, placing.y(levels.bottom) + 3.0)
    a, b = min(a, b), max(a, b)
    if high > 0.1 and x > view.frame.core_face:
        a = max(a, placing.y(0.0) + 2.0)  # the roof's own keys stand below
    busy = placing.y(min(levels.outer_lap_end, levels.roof_lap_end)) - 6.0
    if b > busy and a < busy - 3.0:
        b = busy
    return Wish(key, at, a, b)


def _lap_places(view: View, laps: tuple[LapKey, ...]) -> Iterator[tuple[LapKey, str, float, float, float]]:
    levels, frame = view.levels, view.frame
    outer, inner = frame.named("outer lap"), frame.named("roof lap")
    facing = roof_side_barrier(view.job.parapet)
    for lap in laps:
        roles = {lap.upper.role, lap.lower.role}
        if "weep screed" in roles:
            piece = next(piece for piece in view.pieces if is_role(view, piece, "weep screed"))
            x, top = piece.spine[0]
            yield lap, "outer", x, levels.outlet + 0.02, top
        elif "barrier" in roles and outer is not None and lap.lower is not facing:
            low = levels.outer_lap_end  # below the middle, where the size of the lap is written
            yield lap, "outer", outer.middle, low, low + 0.35 * (levels.wall_top - low)
        elif inner is not None:
            yield lap, "roof", inner.middle, levels.roof_lap_end, levels.roof_lap_top
