"""The wall as one picture that is also its form: every part by itself, for a screen and not for paper.

It is drawn from the pieces of the section (:mod:`specgen.drawing.view`), without title strip and notes. A picture has no
scale of paper: it is as wide as its reader's screen. Lettering and keys are large against it, so that they can be read
and pressed where it is 320 pixels wide.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import chain

from specgen.assessment import Assessment
from specgen.drawing.lettering import cut, printable, width
from specgen.drawing.materials import MEMBRANES
from specgen.drawing.measures import height_words, thickness_words
from specgen.drawing.near import SAME_M
from specgen.drawing.notes import part_keys, part_words
from specgen.drawing.picture_keys import PITCH, RADIUS, keys_in_lane, part_bubbles
from specgen.drawing.picture_paths import CONTROL, OpenPoint, Way, ways
from specgen.drawing.shapes import Bubble, Dimension, Drawing, Item, Stroke, Text, dimension_parts
from specgen.drawing.sheet import BASE_LAYERS, Paper
from specgen.drawing.sizes import Job, job_of
from specgen.drawing.view import Margins, View, laid_out, placed, wall_edges
from specgen.model.project import Component

WIDE = 118.0  # of every picture
TALL = 146.0  # of the field, before a wall of many parts makes it taller
LETTER = 3.5
OFF = 0.6  # words stand off their dimension line, whose ends slant
FLAG = 6.0  # beside the lanes, for what stands against a part
SIZES_ABOVE, SIZES_BESIDE = 9.5, 7.0
MARGINS = Margins(lane=8.6, left=3.5, right=11.0, above=4.0, below=7.0)
# No scale of paper: steps that fill the picture, factor and words.
FACTORS = (3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 24, 28, 32, 40, 48, 64, 96, 128, 192, 256, 384)
TO_SCALE = "to scale"


@dataclass(frozen=True)
class PicturePart:
    """One part of a picture: what is drawn of it, and its key. Without shapes the cut does not meet it."""

    id: str
    words: str  # "drainage layer, dimpled sheet"
    number: str
    shapes: tuple[Item, ...]
    key: Bubble


@dataclass(frozen=True)
class Picture(Drawing):
    """A drawing whose items are known by their parts; ``items`` holds them all once more."""

    parts: tuple[PicturePart, ...] = ()  # from outside to inside and over the top
    rest: tuple[Item, ...] = ()  # what belongs to no part
    ways: tuple[Way, ...] = ()  # of the control layers, on layers that are off
    open_points: tuple[OpenPoint, ...] = ()  # where one of them is open to question
    remarks: tuple[str, ...] = ()  # what the picture assumes or lacks, in sentences


def picture_of(assessment: Assessment, parapet: str) -> Picture | None:
    """The picture of a parapet; None where the project has none of that name.

    It is kept with the assessment, and taken over by the next one where nothing changed that it shows.

    Args:
        assessment: the project as assessed.
        parapet: name of the parapet.
    """
    wall = next((one for one in assessment.walls if one.parapet.name == parapet), None)
    if wall is None:
        return None
    return wall.memo.kept(picture, parapet, lambda: picture(job_of(wall, {})))


def picture(job: Job) -> Picture:
    """The picture of a parapet: what is known of it, and in words what is missing."""
    if not any(job.parapet.components()):
        return _empty(job)
    view = _view(job)
    owned = {piece.name: tuple(placed(view, piece)) for piece in view.pieces}
    sizes = tuple(_sizes(view))
    keys = part_bubbles(view, _level_with(view))
    parts = tuple(_parts(job, owned, keys))
    named = {part.id for part in parts}
    rest = (
        *chain.from_iterable(shapes for name, shapes in owned.items() if name not in named),
        *wall_edges(view),
        *_sides(view),
        *sizes,
    )
    taken = (*rest, *keys.values())
    drawn_ways, points = ways(view, taken)
    shapes = (item for part in parts for item in part.shapes)
    on_ways = (item for way in drawn_ways for item in way.items)
    at_points = (item for point in points for item in point.items)
    words = "; ".join(f"{part.number} {part.words}" for part in parts)
    return Picture(
        "picture",
        f"Parapet {printable(job.parapet.name)}",
        f"Section through the wall to scale, outside at left, roof at right. Parts: {words}.",
        view.paper.size,
        TO_SCALE,
        view.factor,
        (*BASE_LAYERS, *CONTROL),
        (*rest, *shapes, *keys.values(), *on_ways, *at_points),
        not job.si,
        parts,
        rest,
        drawn_ways,
        points,
        tuple(_remarks(view, parts)),
    )


def _parts(
    job: Job, owned: Mapping[str, tuple[Item, ...]], keys: Mapping[str, Bubble]
) -> Iterator[PicturePart]:
    numbers = part_keys(job)
    for part in job.parapet.components():
        number = numbers[part.id]
        yield PicturePart(part.id, _called(job, part), number, owned.get(part.id, ()), keys[number])


def _called(job: Job, part: Component) -> str:
    """A part in words; a kind that says its role says it alone: "expanded metal lath"."""
    role = job.practice.vocabulary.roles[part.role]
    words, kind = part_words(job, part), role.kinds[part.kind].title
    doubled = f"{role.title}, {kind}"
    return printable(
        words.removeprefix(f"{role.title}, ") if words.startswith(doubled) and role.title in kind else words
    )


def _paper(tall: float) -> Paper:
    field = (FLAG, 0.5, WIDE - SIZES_BESIDE - FLAG, tall - SIZES_ABOVE)
    return Paper((WIDE, tall), field, field)


def _view(job: Job) -> View:
    """The wall laid out, and the picture cut to what it needs."""
    steps = [(float(factor), TO_SCALE) for factor in FACTORS]
    view = laid_out(job, _paper(TALL + SIZES_ABOVE), MARGINS, steps)
    lanes = (keys_in_lane(view) + 2 + 2 * len(view.placing.cuts)) * PITCH
    if lanes > TALL:
        view = laid_out(job, _paper(lanes + SIZES_ABOVE), MARGINS, steps)
    high = view.paper.field[3]
    used = high - view.placing.y(view.levels.bottom) + MARGINS.below
    tall = max(used, lanes) + SIZES_ABOVE
    drop = tall - view.paper.size[1]
    x, y = view.placing.origin
    return replace(view, paper=_paper(tall), placing=replace(view.placing, origin=(x, y + drop)))


def _level_with(view: View) -> list[tuple[float, float]]:
    """The heights that the lines of the height's dimension run at: no key stands there."""
    room = RADIUS + 0.6
    at = (view.placing.y(0.0), view.placing.y(view.levels.height.value))
    return [(y - room, y + room) for y in at]


def _sides(view: View) -> Iterator[Text]:
    """Which side is which, over the lanes of the keys."""
    high = view.paper.field[3]
    yield Text("note", (1.0, high + 2.6), "outside", LETTER)
    yield Text("note", (WIDE - 1.0, high + 2.6), "roof", LETTER, "end")


def _sizes(view: View) -> Iterator[Item]:
    """How thick and how high the wall is: over it, and beyond the keys, where no leader runs."""
    if view.frame.right - view.frame.left > SAME_M:
        yield from _thickness(view)
    edge, low, up = view.box[2], view.placing.y(0.0), view.placing.y(view.levels.height.value)
    words = cut(height_words(view), LETTER, max(up - low, low - 2.0))
    past = width(words, LETTER) + 1.6 > up - low
    upright = Dimension("dimension", (edge, low), (edge, up), WIDE - 1.4, "y", words, past, height=LETTER)
    lines, text = dimension_parts(upright)
    yield from lines
    yield replace(text, at=(text.at[0] - OFF, text.at[1]))


def _thickness(view: View) -> Iterator[Item]:
    frame, placing = view.frame, view.placing
    high, top = view.paper.field[3], placing.y(view.levels.top)
    first, second = (placing.x(frame.left), top), (placing.x(frame.right), top)
    sides = width("outside", LETTER) + 4.0
    words = cut(thickness_words(view), LETTER, WIDE - 2.0 * sides)
    lines, text = dimension_parts(
        Dimension("dimension", first, second, high + 1.6, "x", words, height=LETTER)
    )
    half = width(words, LETTER) / 2.0
    x = min(max(text.at[0], sides + half), WIDE - sides - half)
    over = OFF if 2.0 * half < second[0] - first[0] - 1.0 else 1.4  # beside the ends, or over them
    yield from lines
    yield replace(text, at=(x, text.at[1] + over))


def _remarks(view: View, parts: Iterable[PicturePart]) -> Iterator[str]:
    """What is assumed to be drawn at all, and what is left out."""
    job, levels, building = view.job, view.levels, view.job.project.building
    if levels.height.assumed:
        yield f"The height is not stated: drawn {levels.height.words}."
    open_ones = [
        printable(strip.part.id)
        for strip in view.frame.strips
        if strip.part is not None and strip.size.assumed and strip.part.role not in MEMBRANES
    ]
    if open_ones:
        yield f"Thickness not stated, drawn as is usual: {', '.join(open_ones)}."
    if levels.outlet_assumed and job.parapet.part("plaster") is not None:
        yield "The height of the plaster is not stated: where it ends below is assumed."
    missing = [
        words
        for name, words in (("roof_insulation", "insulation"), ("roof_deck", "deck"))
        if not building.word(name)
    ]
    if missing:
        yield f"Roof {' and '.join(missing)} not described: drawn dashed."
    unmet = [f"{part.number} {part.words}" for part in parts if not part.shapes]
    if unmet:
        yield f"Not met by this cut: {'; '.join(unmet)}."
    if view.placing.cuts:
        yield "Between the broken lines plain wall is left out."


def _empty(job: Job) -> Picture:
    """A picture of a wall of which no part is described: it says so."""
    tall = 40.0
    lines = ("No part of this wall is described yet.", "Add one: its picture starts here.")
    items = tuple(
        Text("note", (WIDE / 2.0, tall / 2.0 + 3.0 - 6.0 * number), words, LETTER, "middle")
        for number, words in enumerate(lines)
    )
    frame = Stroke(
        "outline",
        ((4.0, 4.0), (WIDE - 4.0, 4.0), (WIDE - 4.0, tall - 4.0), (4.0, tall - 4.0)),
        "fine",
        "dashed",
        True,
    )
    return Picture(
        "picture",
        f"Parapet {printable(job.parapet.name)}",
        lines[0],
        (WIDE, tall),
        TO_SCALE,
        1.0,
        BASE_LAYERS,
        (frame, *items),
        not job.si,
        (),
        (frame, *items),
        (),
        (),
        (lines[0],),
    )
