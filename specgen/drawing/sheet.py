"""The sheet: paper, rule, title strip, columns of notes, and what is carried over to a second sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from specgen.drawing.lettering import cut, printable, wrapped
from specgen.drawing.notes import Note
from specgen.drawing.shapes import Box, Bubble, Item, Layer, Point, Stroke, Text, rectangle
from specgen.drawing.sizes import Job

MARGIN = 9.0
STRIP = 13.0
NOTE_SIZES = (2.5, 2.3, 2.1)
CLOSE = 0.5  # of the usual space between notes, where a sheet of its own would hold but a few
BASE_LAYERS = (
    Layer("sheet", "sheet and title"),
    Layer("outline", "outlines"),
    Layer("material", "materials, hatched"),
    Layer("beyond", "beyond the cut"),
    Layer("membrane", "membranes"),
    Layer("metal", "metal"),
    Layer("drainage", "way of drained water"),
    Layer("break", "breaks"),
    Layer("key", "keys and leaders"),
    Layer("dimension", "dimensions"),  # over the leaders, which its lettering clears
    Layer("note", "notes"),
)
CONTROL_LAYERS = ("water", "air", "vapor", "heat")
SCALES = (
    (4, "3 in = 1 ft (1:4)"),
    (8, "1 1/2 in = 1 ft (1:8)"),
    (12, "1 in = 1 ft (1:12)"),
    (16, "3/4 in = 1 ft (1:16)"),
    (24, "1/2 in = 1 ft (1:24)"),
    (48, "1/4 in = 1 ft (1:48)"),
    (96, "1/8 in = 1 ft (1:96)"),
    (192, "1/16 in = 1 ft (1:192)"),
    (384, "1/32 in = 1 ft (1:384)"),
)
METRIC = (5, 10, 20, 25, 50, 100, 200, 500, 1000)


@dataclass(frozen=True)
class Paper:
    """A sheet with its two boxes: the field that is drawn in, and the column of notes."""

    size: Point
    field: Box
    column: Box


@dataclass
class DrawingSheet:
    """The items of one sheet while it is being drawn."""

    job: Job
    title: str
    scale: str
    paper: Paper
    items: list[Item] = field(default_factory=list)


def paper_for(job: Job, column: float = 98.0) -> Paper:
    """The paper of the project, lying."""
    height, width = job.project.paper.width, job.project.paper.height
    low, high = MARGIN + STRIP + 2.0, height - MARGIN - 1.0
    split = width - MARGIN - column
    return Paper((width, height), (MARGIN, low, split - 3.0, high), (split, low, width - MARGIN, high))


def scales(job: Job) -> tuple[tuple[float, str], ...]:
    """The scales of the trade, the largest first: factor and words."""
    if job.si:
        return tuple((float(factor), f"1:{factor}") for factor in METRIC)
    return tuple((float(factor), words) for factor, words in SCALES)


def chosen_scale(job: Job, wide: float, high: float, room: Point) -> tuple[float, str]:
    """The largest scale at which a size [m] fits the room [mm]; the smallest if none does."""
    for factor, words in scales(job):
        if wide * 1000.0 / factor <= room[0] and high * 1000.0 / factor <= room[1]:
            return factor, words
    return scales(job)[-1]


def title_strip(sheet: DrawingSheet, ruled_column: bool = True) -> None:
    """The rule around the sheet and one line of who, what, scale and when below it."""
    width, height = sheet.paper.size
    low = MARGIN + STRIP
    put = sheet.items.append
    put(Stroke("sheet", rectangle(MARGIN, MARGIN, width - MARGIN, height - MARGIN), "medium", closed=True))
    put(Stroke("sheet", ((MARGIN, low), (width - MARGIN, low)), "heavy"))
    if ruled_column:
        x = sheet.paper.column[0] - 2.0
        put(Stroke("sheet", ((x, low), (x, height - MARGIN)), "fine"))
    info, job = sheet.job.project.info, sheet.job
    edges = (
        MARGIN + 3.0,
        MARGIN + 0.44 * (width - 2 * MARGIN),
        MARGIN + 0.76 * (width - 2 * MARGIN),
        width - MARGIN,
    )
    number, name = str(info.word("number") or ""), str(info.word("name") or "")
    entries = (
        (sheet.title, f"parapet {job.parapet.name}"),
        (name, f"project {number}"),
        (_scale_words(sheet.scale), f"{job.project.issued} | {job.project.state}"),
    )
    for start, end, (first, second) in zip(edges, edges[1:], entries, strict=False):
        for y, words, size, bold in ((low - 5.4, first, 3.4, True), (low - 10.2, second, 2.6, False)):
            put(
                Text(
                    "sheet", (start, y), cut(printable(words), size, end - start - 3.0, bold), size, bold=bold
                )
            )


def _scale_words(scale: str) -> str:
    return {"not to scale": scale, "none": "notes"}.get(scale, f"scale {scale}")


@dataclass(frozen=True)
class Block:
    """Lines that stay together in a column: a heading, a keyed note, a remark."""

    head: str
    lines: tuple[str, ...] = ()
    note: Note | None = None
    heading: bool = False


def blocks(heading: str, notes: Iterable[Note]) -> list[Block]:
    """A heading and its notes."""
    found = [Block(note.head, note.lines, note) for note in notes]
    return [Block(heading, heading=True), *found] if found else []


def remarks(heading: str, lines: Iterable[str]) -> list[Block]:
    """A heading and plain remarks under it."""
    found = [Block(line) for line in lines]
    return [Block(heading, heading=True), *found] if found else []


def flow(sheet: DrawingSheet, column: Box, listed: Sequence[Block]) -> list[Block]:
    """Set blocks in a column with the largest lettering that holds them all, closer together before any is left over.

    Returns:
        The blocks that the smallest lettering could not hold, for another sheet; the heading in force is told again.
    """
    settings = [*((size, 1.0) for size in NOTE_SIZES), (NOTE_SIZES[-1], CLOSE)]
    for size, apart in settings:
        items, rest = _set(column, listed, size, apart)
        if not rest:
            break
    sheet.items += items
    return rest


def _set(column: Box, listed: Sequence[Block], size: float, apart: float) -> tuple[list[Item], list[Block]]:
    left, low, right, y = column[0], column[1], column[2], column[3]
    step, indent, room = size * 1.27, 7.0, right - left - 3.0
    items: list[Item] = []
    heading: Block | None = None
    for number, block in enumerate(listed):
        if block.heading:
            heading = block
        tucked = indent if block.note else 0.0
        lines = [*wrapped(block.head, size, room - tucked, block.heading)]
        own = len(lines)
        for line in block.lines:
            lines += wrapped(line, size, room - tucked - 2.0)
        after = apart * size * (0.6 if not block.heading else 0.35)
        before = 0.5 * size if block.heading and items else 0.0
        more = 3.5 * step if block.heading else 0.0  # a heading never stands alone at the foot
        least = max(len(lines) * step, 4.0 if block.note else 0.0)
        if y - before - least - more < low:
            again = [heading] if heading is not None and not block.heading else []
            return items, [*again, *listed[number:]]
        y -= before
        base = y - 0.8 * size
        if block.note:
            at = (left + 2.6, base + 0.26 * size)
            items.append(Bubble("note", at, block.note.key, at, block.note.shape, 1.9))
        for index, words in enumerate(lines):
            x = left + tucked + (2.0 if index >= own else 0.0)
            place = x, base - index * step
            items.append(Text("note", place, words, size, bold=block.heading, goes_on=index > 0))
        y -= least + after
    return items, []
