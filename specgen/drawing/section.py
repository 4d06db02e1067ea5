"""The section through a parapet to scale: parts hatched, laps, drips, sizes, keyed notes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from specgen.drawing.frame import Frame, frame_of, laps_of
from specgen.drawing.labels import Measure, Wish, chained, in_lane
from specgen.drawing.levels import Levels, levels_of
from specgen.drawing.notes import CAUTIONS, LapKey, Note, lap_notes, laps_on_sheet, part_keys, part_notes
from specgen.drawing.pieces import Piece, pieces
from specgen.drawing.placing import Placing, break_lines, broken, broken_upright, cuts_for
from specgen.drawing.shapes import Area, Box, Bubble, Drawing, Item, Line, Point, Text, bounds, rectangle
from specgen.drawing.sheet import (
    BASE_LAYERS,
    Block,
    Paper,
    Sheet,
    blocks,
    flow,
    paper_for,
    remarks,
    scales,
    title_strip,
)
from specgen.drawing.sizes import Job
from specgen.sections.build import ParagraphRef

KEY_LANE, LEFT_SIZES, RIGHT_SIZES, ABOVE, BELOW = 8.0, 15.0, 23.0, 19.0, 7.0
PITCH = 6.2
ROOF_SHORT = 14.0  # of the roof field on the sheet, at least


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
        x0, x1 = _across(frame, drawn)
        cuts = cuts_for(_zones(frame, levels, drawn), unit, room[1])
        last = (factor, words) == scales(job)[-1]
        if (cuts is not None and (x1 - x0) / unit <= room[0]) or last:
            break
    cuts = cuts or ()
    spare = max(0.0, room[0] - (x1 - x0) / unit)
    at = left + KEY_LANE + LEFT_SIZES + 0.35 * spare - x0 / unit
    placing = Placing(unit, (at, 0.0), cuts)
    drop = high - ABOVE - placing.y(levels.top)
    return View(job, frame, levels, Placing(unit, (at, drop), cuts), drawn, paper, words, factor)


def _across(frame: Frame, drawn: tuple[Piece, ...]) -> tuple[float, float]:
    """From drip to drip."""
    points = [p for piece in drawn if piece.name not in ("roof insulation", "roof deck") for p in _points(piece)]
    inner = [x for x, y in points if x <= frame.right + 0.4 and y > 0.02]
    return min([frame.left, *(x for x, _ in points)]), max([frame.right, *inner])


def _points(piece: Piece) -> Iterator[Point]:
    for item in piece.items:
        if isinstance(item, Line):
            yield from item.points
        elif isinstance(item, Area):
            yield from item.outline


def _zones(frame: Frame, levels: Levels, drawn: tuple[Piece, ...]) -> list[tuple[float, float]]:
    """Heights that must be seen: the top with its laps and legs, the roof line, the outlet, the end below."""
    job_tapes = [piece.low for piece in drawn if piece.low > levels.wall_top - 0.5 and piece.high > levels.wall_top]
    feet = [y for piece in drawn if piece.name not in ("roof insulation",) for x, y in _points(piece) if x < frame.left]
    feet = [y for y in feet if y > levels.wall_top - 0.4]
    low = min([levels.roof_lap_end, levels.outer_lap_end, *job_tapes, *feet]) - 0.04
    return [
        (max(low, levels.bottom), levels.top),
        (levels.deck_bottom - 0.03, 0.09),
        (levels.bottom, levels.outlet + 0.13),
    ]


def section(job: Job, where: Mapping[str, ParagraphRef]) -> tuple[Drawing, ...]:
    """The section of one parapet, and a second sheet where the notes do not fit beside it."""
    view = view_of(job)
    sheet = Sheet(job, "Section", view.scale, view.paper)
    laps = laps_on_sheet(job, view.levels)
    keyed, more = _keyed(view, laps, where)
    sheet.items += wall_items(view)
    sheet.items += size_items(view, laps)
    sheet.items += key_items(view, laps, more)
    title_strip(sheet)
    listed: list[Block] = [
        *blocks("Parts, numbered in the order of work", keyed),
        *blocks("Laps, upper over lower", lap_notes(job, laps, where)),
        *remarks("How to read this sheet", _reading(view)),
    ]
    rest = flow(sheet, view.paper.column, listed)
    drawings = [_drawing(sheet, view, "section", _told(view, keyed))]
    if rest:
        drawings.append(_continued(job, rest))
    return tuple(drawings)


def _drawing(sheet: Sheet, view: View, name: str, told: str) -> Drawing:
    title = f"{sheet.title} of parapet {sheet.job.parapet.name}"
    return Drawing(
        name, title, told, view.paper.size, view.scale, view.factor, BASE_LAYERS, tuple(sheet.items), not sheet.job.si
    )


def _continued(job: Job, rest: list[Block]) -> Drawing:
    sheet = Sheet(job, "Section, notes", "none", paper_for(job))
    title_strip(sheet)
    left, low, right, high = sheet.paper.field
    half = (left + right) / 2.0
    for column in ((left, low, half - 2.0, high), (half + 2.0, low, right, high), sheet.paper.column):
        rest = flow(sheet, column, rest) if rest else []
    told = f"Keyed notes of the section of parapet {job.parapet.name}, carried over from the first sheet."
    title = f"Notes to the section of parapet {job.parapet.name}"
    return Drawing(
        "section-notes", title, told, sheet.paper.size, "none", 1.0, BASE_LAYERS, tuple(sheet.items), not job.si
    )


def wall_items(view: View) -> list[Item]:
    """The wall on the sheet: its pieces cut where the sheet ends, breaks, and the line of the finished roof."""
    box, placing = view.box, view.placing
    items = [shown for piece in view.pieces for item in piece.items if (shown := _within(placing.item(item), box[2]))]
    left, right = placing.x(view.frame.left), placing.x(view.frame.right)
    foot = placing.y(view.levels.bottom)
    items += break_lines(placing, left - 4.0, right + 4.0)
    items.append(Area("break", rectangle(left - 1.0, foot - 2.0, right + 1.0, foot), "blank", None))
    items.append(Line("break", broken(left - 3.0, right + 3.0, foot), "medium"))
    deck, roof = placing.y(view.levels.deck_bottom), placing.y(0.0)
    items.append(Line("break", broken_upright(box[2], deck - 3.0, roof + 3.0), "medium"))
    return items


def _within(item: Item, right: float) -> Item | None:
    """An item ended where the sheet cuts the roof field."""
    match item:
        case Line():
            points = tuple((min(x, right), y) for x, y in item.points)
            x0, y0, x1, y1 = bounds(points)
            return None if x0 == x1 == right and y0 != y1 else Line(
                item.layer, points, item.pen, item.dash, item.closed, item.arrow
            )
        case Area():
            points = tuple((min(x, right), y) for x, y in item.outline)
            x0, _, x1, _ = bounds(points)
            return None if x1 - x0 < 1e-9 else Area(item.layer, points, item.hatch, item.pen)
        case _:
            return item


def size_items(view: View, laps: tuple[LapKey, ...]) -> list[Item]:
    """The dimensions: outer side, roof side, across; and the slope of the top."""
    placing, frame = view.placing, view.frame
    left = [Measure(placing.at(a), placing.at(b), words) for a, b, words in _outer_sizes(view, laps)]
    right = [Measure(placing.at(a), placing.at(b), words) for a, b, words in _roof_sizes(view)]
    x0, x1 = _across(frame, view.pieces)
    items: list[Item] = [
        *chained(left, "y", placing.x(x0) - 4.0, -4.6, "dimension"),
        *chained(right, "y", placing.x(x1) + 6.0, 5.0, "dimension"),
    ]
    top = placing.y(view.levels.top)
    across = [Measure(placing.at(a), placing.at(b), words) for a, b, words in _across_sizes(view)]
    items += chained(across, "x", top + 7.0, 4.4, "dimension")
    shape = view.levels.coping
    if shape is not None:
        middle, words = (placing.x(frame.left) + placing.x(frame.right)) / 2.0, _slope_words(view)
        y = top + 1.6
        items.append(Text("dimension", (middle, y), words, 2.2, "middle"))
        if shape.toward != "both sides" and shape.fall > 0.0:
            way = 1.0 if shape.toward == "roof" else -1.0
            start = middle + way * 11.0
            items.append(Line("dimension", ((start, y + 1.0), (start + way * 6.0, y + 0.4)), "medium", arrow=True))
    return items


def _slope_words(view: View) -> str:
    part, shape = view.job.parapet.part("coping"), view.levels.coping
    assert shape is not None
    value = part.quantity("slope") if part is not None and part.has("slope") else None
    if value is not None:
        return f"slope {view.job.words(value)}"
    return "slope not stated"


Span = tuple[Point, Point, str]


def _outer_sizes(view: View, laps: tuple[LapKey, ...]) -> Iterator[Span]:
    levels, frame = view.levels, view.frame
    coping = next((piece for piece in view.pieces if piece.spine and _is(view, piece, "coping")), None)
    shape = levels.coping
    if coping is not None and shape is not None and shape.metal:
        foot = min(y for x, y in coping.spine if x <= frame.left + 1e-9)
        words = shape.outer_face.words + (" assumed" if shape.outer_face.assumed else "")
        yield (coping.x, foot), (coping.x, coping.high), words
    outer = frame.named("outer lap")
    for lap in laps:
        words = lap.size.words + (" assumed" if lap.size.assumed else "")
        roles = {lap.upper.role, lap.lower.role}
        if roles == {"top flashing", "barrier"} and outer is not None:
            yield (outer.middle, levels.outer_lap_end), (outer.middle, levels.wall_top), words
        elif roles == {"barrier", "weep screed"}:
            piece = next(piece for piece in view.pieces if _is(view, piece, "weep screed"))
            x, top = piece.spine[0]
            yield (x, max(top - lap.size.value, levels.outlet + 0.01)), (x, top), words


def _roof_sizes(view: View) -> Iterator[Span]:
    levels, frame = view.levels, view.frame
    shape = levels.coping
    coping = next((piece for piece in view.pieces if _is(view, piece, "coping")), None)
    if levels.turn_up is not None:
        words = levels.turn_up.words + (" assumed" if levels.turn_up.assumed else "")
        yield (frame.right, 0.0), (frame.right, levels.turn_up_top), f"turn-up {words}"
    strip = frame.named("roof lap")
    laps = laps_of(view.job)
    if strip is not None and laps.roof is not None:
        words = levels.roof_lap.words + (" assumed" if levels.roof_lap.assumed else "")
        yield (strip.middle, levels.roof_lap_end), (strip.middle, levels.turn_up_top), f"lap {words}"
    if coping is not None and shape is not None and shape.metal and coping.spine:
        edge = max(coping.spine, key=lambda p: p[0] - 1e3 * (p[1] < levels.coping_low))
        words = shape.inner_leg.words + (" assumed" if shape.inner_leg.assumed else "")
        foot = min(y for x, y in coping.spine if x >= frame.right)
        yield (edge[0], foot), (edge[0], levels.coping_low + shape.rise(1.0)[1] * 0.0), words
    words = levels.height.words + (" assumed" if levels.height.assumed else "")
    yield (frame.right, 0.0), (frame.right, levels.height.value), f"parapet {words}"


def _across_sizes(view: View) -> Iterator[Span]:
    frame, levels = view.frame, view.levels
    y = levels.top
    words = frame.stated.words if frame.stated and frame.stated.value >= frame.true_m - 1e-6 else view.job.shown(frame.true_m)
    assumed = any(strip.size.assumed for strip in frame.strips) and frame.stated is None
    yield (frame.left, y), (frame.right, y), words + (" assumed" if assumed else "")
    shape = levels.coping
    if shape is None:
        return
    x0, x1 = _across(frame, view.pieces)
    for a, b, drip in ((x0, frame.left, shape.outer_drip), (frame.right, x1, shape.inner_drip)):
        if b - a > 1e-6 and drip.value > 0.0:
            yield (a, y), (b, y), drip.words + (" assumed" if drip.assumed else "")


def _is(view: View, piece: Piece, role: str) -> bool:
    part = view.job.parapet.by_id(piece.name)
    return part is not None and part.role == role


def key_items(view: View, laps: tuple[LapKey, ...], more: Mapping[str, str]) -> list[Item]:
    """The keys with their leaders in a lane on each side."""
    keys = {**part_keys(view.job), **more}
    wishes: dict[str, list[Wish]] = {"outer": [], "roof": []}
    shapes = {lap.key: "diamond" for lap in laps}
    anchored: set[str] = set()
    for piece in view.pieces:
        if piece.name in keys and keys[piece.name] not in anchored:
            anchored.add(keys[piece.name])
            wishes[piece.side].append(_wish(view, keys[piece.name], piece.x, piece.low, piece.high))
    for lap, side, x, low, high in _lap_places(view, laps):
        wishes[side].append(_wish(view, lap.key, x, low, high))
    left, low, right, high = view.paper.field
    items: list[Item] = []
    for side, x in (("outer", left + KEY_LANE / 2.0), ("roof", right - KEY_LANE / 2.0)):
        placed = in_lane(wishes[side], low + 3.0, high - 3.0, PITCH, view.placing.bands)
        for wish in wishes[side]:
            y, end = placed[wish.key]
            shape = "diamond" if wish.key in shapes else "circle"
            items.append(Bubble("key", (x, y), wish.key, (wish.x, end), "diamond" if shape == "diamond" else "circle"))
    return items


def _wish(view: View, key: str, x: float, low: float, high: float) -> Wish:
    """Where a leader may land: on the sheet, and below the sizes of the top where the part runs on below them."""
    placing, levels = view.placing, view.levels
    at = min(placing.x(x), view.box[2] - 3.0)
    a, b = placing.y(low) + 0.3, placing.y(high) - 0.3
    a = max(a, placing.y(levels.bottom) + 3.0)
    a, b = min(a, b), max(a, b)
    if high > 0.1 and x > view.frame.strips[view.frame.core].x0:
        a = max(a, placing.y(0.0) + 2.0)  # the roof's own keys stand below
    busy = placing.y(min(levels.outer_lap_end, levels.roof_lap_end)) - 6.0
    if b > busy and a < busy - 3.0:
        b = busy
    return Wish(key, at, a, b)


def _lap_places(view: View, laps: tuple[LapKey, ...]) -> Iterator[tuple[LapKey, str, float, float, float]]:
    levels, frame = view.levels, view.frame
    outer, inner = frame.named("outer lap"), frame.named("roof lap")
    for lap in laps:
        roles = {lap.upper.role, lap.lower.role}
        if "weep screed" in roles:
            piece = next(piece for piece in view.pieces if _is(view, piece, "weep screed"))
            x, top = piece.spine[0]
            yield lap, "outer", x, levels.outlet + 0.02, top
        elif "barrier" in roles and outer is not None:
            yield lap, "outer", outer.middle, levels.outer_lap_end, min(levels.outer_lap_end + lap.size.value, levels.wall_top)
        elif inner is not None:
            yield lap, "roof", inner.middle, levels.roof_lap_end, levels.turn_up_top


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


def _told(view: View, keyed: list[Note]) -> str:
    parts = "; ".join(f"{note.key} {note.head}" for note in keyed)
    return (
        f"Section through parapet {view.job.parapet.name}, outer face at left, roof at right, scale {view.scale}. "
        f"Parts: {parts}."
    )
