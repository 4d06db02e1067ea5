"""The dimensions of a section: outer side, roof side, across, and the slope of the top."""

from __future__ import annotations

from collections.abc import Iterator

from specgen.drawing.frame import laps_of
from specgen.drawing.labels import Measure, chained
from specgen.drawing.lettering import width
from specgen.drawing.near import SAME_M
from specgen.drawing.notes import LapKey
from specgen.drawing.shapes import Item, Point, Stroke, Text
from specgen.drawing.view import View, across, is_role
from specgen.units.compare import computed_at_most
from specgen.wall.facts import plaster_covered
from specgen.wall.order import roof_side_barrier

SLOPE_ARROW = 9.0  # of the sheet, beside the words of the slope: the arrow and what keeps it off them


def size_items(view: View, laps: tuple[LapKey, ...]) -> list[Item]:
    """The dimensions: outer side, roof side, across; and the slope of the top."""
    placing, frame = view.placing, view.frame
    left = [Measure(placing.at(a), placing.at(b), words) for a, b, words in _outer_sizes(view, laps)]
    right = [  # below the roof the keys of its layers have their leaders
        Measure(placing.at(a), placing.at(b), words, up=a[1] == 0.0) for a, b, words in _roof_sizes(view)
    ]
    x0, x1 = across(frame, view.pieces)
    items: list[Item] = [
        *chained(left, "y", placing.x(x0) - 4.0, -4.6, "dimension"),
        *chained(right, "y", placing.x(x1) + 6.0, 5.0, "dimension"),
    ]
    top = placing.y(view.levels.top)
    level = [Measure(placing.at(a), placing.at(b), words) for a, b, words in _across_sizes(view)]
    over = chained(level, "x", top + 7.0, 4.0, "dimension")
    items += over
    shape = view.levels.coping
    if shape is not None:
        middle, words = (placing.x(frame.left) + placing.x(frame.right)) / 2.0, _slope_words(view)
        y = top + 1.6
        room = placing.x(frame.right) - placing.x(frame.left) if over else view.box[2] - view.box[0]
        if width(words, 2.2) + 2.0 * SLOPE_ARROW > room:  # over the sizes, whose lines would cross it
            y = min(max(dim.line_at for dim in over) + 3.9, view.paper.field[3] - 1.7)
        items.append(Text("dimension", (middle, y), words, 2.2, "middle"))
        if shape.toward != "both sides" and shape.fall > 0.0:
            way = 1.0 if shape.toward == "roof" else -1.0
            start = middle + way * (width(words, 2.2) / 2.0 + 2.0)
            items.append(
                Stroke("dimension", ((start, y + 1.0), (start + way * 6.0, y + 0.4)), "medium", arrow=True)
            )
    return items


def _slope_words(view: View) -> str:
    part, shape = view.job.parapet.part("coping"), view.levels.coping
    assert shape is not None
    value = part.quantity("slope") if part is not None and part.has("slope") else None
    if part is not None and value is not None:
        return f"slope {view.job.described(part, 'slope', value)}"
    return "slope not stated"


Span = tuple[Point, Point, str]


def _outer_sizes(view: View, laps: tuple[LapKey, ...]) -> Iterator[Span]:
    levels, frame = view.levels, view.frame
    coping = next((piece for piece in view.pieces if piece.spine and is_role(view, piece, "coping")), None)
    shape = levels.coping
    if coping is not None and shape is not None and shape.metal:
        foot = min(y for x, y in coping.spine if x <= frame.left + SAME_M)
        words = shape.outer_face.brief + (" assumed" if shape.outer_face.assumed else "")
        yield (coping.x, foot), (coping.x, coping.high), words
    outer = frame.named("outer lap")
    facing = roof_side_barrier(view.job.parapet)
    for lap in laps:
        words = lap.size.brief + (" assumed" if lap.size.assumed else "")
        roles = {lap.upper.role, lap.lower.role}
        if facing is not None and lap.lower is facing:
            continue  # a size of the roof side
        if roles == {"top flashing", "barrier"} and outer is not None:
            yield (outer.middle, levels.outer_lap_end), (outer.middle, levels.wall_top), words
        elif roles == {"barrier", "weep screed"}:
            piece = next(piece for piece in view.pieces if is_role(view, piece, "weep screed"))
            x, top = piece.spine[0]
            yield (x, max(top - lap.size.value, levels.outlet + 0.01)), (x, top), words


def _roof_sizes(view: View) -> Iterator[Span]:
    levels, frame = view.levels, view.frame
    shape = levels.coping
    coping = next((piece for piece in view.pieces if is_role(view, piece, "coping")), None)
    if levels.turn_up is not None:
        words = levels.turn_up.brief + (" assumed" if levels.turn_up.assumed else "")
        yield (frame.right, 0.0), (frame.right, levels.turn_up_top), f"base flashing {words}"
    strip = frame.named("roof lap")
    laps = laps_of(view.job)
    if strip is not None and laps.roof is not None:
        words = levels.roof_lap.brief + (" assumed" if levels.roof_lap.assumed else "")
        yield (strip.middle, levels.roof_lap_end), (strip.middle, levels.roof_lap_top), f"lap {words}"
    if coping is not None and shape is not None and shape.metal and coping.spine:
        edge = max(coping.spine, key=lambda p: p[0] - 1e3 * (p[1] < levels.coping_low))
        words = shape.inner_leg.brief + (" assumed" if shape.inner_leg.assumed else "")
        foot = min(y for x, y in coping.spine if x >= frame.right)
        yield (edge[0], foot), (edge[0], levels.coping_low + shape.rise(1.0)[1] * 0.0), words
    yield (frame.right, 0.0), (frame.right, levels.height.value), f"parapet {height_words(view)}"


def _across_sizes(view: View) -> Iterator[Span]:
    frame, levels = view.frame, view.levels
    y = levels.top
    yield (frame.left, y), (frame.right, y), thickness_words(view)
    shape = levels.coping
    part = view.job.parapet.part("coping")
    if shape is None or part is None or plaster_covered(part):
        return
    x0, x1 = across(frame, view.pieces)
    for a, b, drip in ((x0, frame.left, shape.outer_drip), (frame.right, x1, shape.inner_drip)):
        if b - a > SAME_M and drip.value > 0.0:
            yield (a, y), (b, y), drip.full + (" assumed" if drip.assumed else "")


def thickness_words(view: View) -> str:
    """How thick the wall is: as stated where its layers fit, else what they add up to."""
    frame = view.frame
    words = (
        frame.stated.words
        if frame.stated and computed_at_most(frame.true_m, frame.stated.value)
        else view.job.shown(frame.true_m)
    )
    assumed = any(strip.size.assumed for strip in frame.strips) and frame.stated is None
    return words + (" assumed" if assumed else "")


def height_words(view: View) -> str:
    """How high the parapet is."""
    height = view.levels.height
    return height.brief + (" assumed" if height.assumed else "")
