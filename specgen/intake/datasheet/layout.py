"""A page of positioned words and rulings to tables and lines in reading order."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from specgen.intake.datasheet.gutter import areas
from specgen.intake.datasheet.lines import Placed, TextLine, Turn, cell_of, frames, joined, lines_of
from specgen.intake.datasheet.pdf import turned
from specgen.intake.datasheet.rulings import Frame, frames_of
from specgen.model.datasheet import Box, Cell, Grid, Page, Word

ROW_GAP = 3.2  # of the size: rows of one table are no farther apart
CLEAR = 0.9  # of the widest gap: another gap as wide as that leaves open which of them parts two rows
NO_TEXT = "the page holds no text: it is a picture or blank; --recognize has pictures read"
WRAP_GAP = 1.75  # of the size: the next line of a wrapped cell is no farther below
MOST_WRAPPED = 6  # lines of a cell before the line of its label
ROW_TO_LINE = 1.3  # gap between rows to gap between lines of a cell, at least
FEW_GAPS = 3
LEADING = 1.25  # of the size: lines of one cell are no nearer than that, as a rule
COLUMN_GAP = 0.6  # of the size: a column is parted from the next by at least that
FEWEST_UNPARTED = 4  # lines in the first cell of one drawn band

_FOOT = re.compile(
    r"(?:page [0-9]|(?:edition|issue|revision|rev|version)\b\.? ?[0-9A-Z]\b|"
    r"(?:issued|revised|updated|printed|dated?)\b.{0,3}[0-9])",
    re.IGNORECASE,
)
_CONTINUES = re.compile(r"[a-z(,;]")  # a label goes on, as no label begins


def page_of(raw: Mapping[str, Any]) -> Page:
    """The tables and lines of one page.

    Args:
        raw: as :func:`specgen.intake.datasheet.pdf.read_pages` gives it.
    """
    width, height, number = float(raw["width"]), float(raw["height"]), int(raw["number"])
    label = f"page {number}"
    if raw["unreadable"]:
        return Page(label, number, width, height, unreadable=str(raw["unreadable"]))
    placed = [
        Placed(Word(w[0], (w[1], w[2], w[3], w[4]), w[5], False, w[6], w[7], w[9], w[10]), w[8])
        for w in raw["words"]
        if w[5] > 1
    ]
    beside: dict[str, Any] = {
        "beside": (*raw["slanted"], *raw["remarks"]),
        "figures": raw["figures"],
        "across": raw["across"],
    }
    if not placed:
        return Page(label, number, width, height, unreadable=NO_TEXT, **beside)
    grids: list[Grid] = []
    lines: list[Cell] = []
    for quarters, words in frames(placed):
        turn = Turn(quarters, width, height)
        rulings: list[Box] = [turned(tuple(one), quarters, width, height) for one in raw["rulings"]]
        for grid, cells in _frame(words, rulings, turn):
            grids += [grid] if grid else []
            lines += cells
    return Page(
        label,
        number,
        width,
        height,
        tuple(grids),
        tuple(lines),
        recognized=bool(raw.get("recognized")),
        **beside,
    )


def _frame(
    words: list[Placed], rulings: Sequence[Box], turn: Turn
) -> Iterator[tuple[Grid | None, list[Cell]]]:
    left = list(words)
    for frame in frames_of(rulings):
        inside = [one for one in left if _within(one.word.box, frame)]
        grid = _drawn(frame, inside, turn) if inside else None
        if grid is not None:
            taken = {id(one) for one in inside}
            left = [one for one in left if id(one) not in taken]
            yield grid, []
    for area in areas(lines_of(left), turn.across):
        yield from _area(area, turn)


def _within(box: Box, frame: Frame) -> bool:
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    return frame.xs[0] <= x <= frame.xs[-1] and frame.ys[0] <= y <= frame.ys[-1]


def _drawn(frame: Frame, inside: Sequence[Placed], turn: Turn) -> Grid | None:
    """A table drawn with rulings; one without uprights inside gets its columns from the words."""
    if len(frame.xs) == 2:
        return _banded(frame, inside, turn)
    if _unparted(frame, inside):
        return _aligned(lines_of(inside), turn, frame.xs[1:-1])
    rows, columns = len(frame.ys) - 1, len(frame.xs) - 1
    found: dict[tuple[int, int], list[Placed]] = {}
    for one in inside:
        row = _slot((one.word.box[1] + one.word.box[3]) / 2, frame.ys)
        column = _slot((one.word.box[0] + one.word.box[2]) / 2, frame.xs)
        found.setdefault(_home(frame, row, column), []).append(one)
    if len(found) < 2:
        return None
    cells = {at: _joined(words, turn) for at, words in found.items()}
    return Grid(
        tuple(
            tuple(cells.get(_home(frame, row, column), Cell("")) for column in range(columns))
            for row in range(rows)
        ),
        ruled=True,
    )


def _unparted(frame: Frame, inside: Sequence[Placed]) -> bool:
    """Whether the rows of a table stand under each other in one drawn band: uprights, and no rulings between rows."""
    bands: dict[int, set[float]] = {}
    for one in inside:
        if _slot((one.word.box[0] + one.word.box[2]) / 2, frame.xs) == 0:
            row = _slot((one.word.box[1] + one.word.box[3]) / 2, frame.ys)
            bands.setdefault(row, set()).add(round(one.base))
    return len(frame.ys) <= 4 and any(len(bases) >= FEWEST_UNPARTED for bases in bands.values())


def _home(frame: Frame, row: int, column: int) -> tuple[int, int]:
    """The first cell of those that no ruling parts: where the text of a spanning cell is kept."""
    while column > 0 and not frame.right(row, column - 1):
        column -= 1
    while row > 0 and not frame.below(row - 1, column):
        row -= 1
    return row, column


def _slot(at: float, edges: Sequence[float]) -> int:
    return max(sum(edge <= at for edge in edges[1:-1]), 0)


def _joined(words: Sequence[Placed], turn: Turn) -> Cell:
    return joined(cell_of(line.words, line.size, turn) for line in lines_of(words))


def _banded(frame: Frame, inside: Sequence[Placed], turn: Turn) -> Grid | None:
    bands: list[tuple[TextLine, ...]] = []
    for top, bottom in zip(frame.ys, frame.ys[1:], strict=False):
        held = [one for one in inside if top <= (one.word.box[1] + one.word.box[3]) / 2 < bottom]
        if held:
            bands.append(lines_of(held))
    edges = column_edges([line for band in bands for line in band])
    if len(bands) < 2 or not edges:
        return None
    rows = []
    for band in bands:
        parts = [_in_columns(line, edges, turn) for line in band]
        rows.append(tuple(joined(part[at] for part in parts) for at in range(len(edges) + 1)))
    return Grid(tuple(rows), ruled=True)


def column_edges(lines: Sequence[TextLine]) -> tuple[float, ...]:
    """Where columns part: no stretch of a line with several stretches crosses there."""
    several = [line for line in lines if len(line.stretches) > 1]
    if not several:
        return ()
    size = max(line.size for line in several)
    spans = sorted((part[0].box[0], part[-1].box[2]) for line in several for part in line.stretches)
    edges, reach = [], spans[0][1]
    for start, end in spans[1:]:
        if start - reach >= COLUMN_GAP * size:
            edges.append((reach + start) / 2)
        reach = max(reach, end)
    return tuple(edges)


def _in_columns(
    line: TextLine, edges: Sequence[float], turn: Turn, by_word: bool = False
) -> tuple[Cell, ...]:
    parts: list[list[Word]] = [[] for _ in range(len(edges) + 1)]
    for stretch in ((word,) for word in line.words) if by_word else line.stretches:
        middle = (stretch[0].box[0] + stretch[-1].box[2]) / 2
        at = sum(edge <= middle for edge in edges)
        crosses = any(stretch[0].box[0] < edge < stretch[-1].box[2] for edge in edges)
        parts[0 if crosses else at] += stretch
    return tuple(cell_of(words, line.size, turn) if words else Cell("") for words in parts)


def _area(lines: Sequence[TextLine], turn: Turn) -> Iterator[tuple[Grid | None, list[Cell]]]:
    """Runs of lines in columns are tables, the rest are lines of text."""
    run: list[TextLine] = []
    for at, line in enumerate(lines):
        leads = not _wide(line) and _leads(at, lines)
        if _wide(line):
            joins = bool(run) and line.base - run[-1].base <= ROW_GAP * line.size
        else:
            joins = bool(run) and (leads or any(_wraps(line, one) for one in run[-3:]))
        if run and not joins:
            yield _aligned(run, turn), []
            run = []
        if run or _wide(line) or leads:
            run.append(line)
        else:
            yield None, [cell_of(line.words, line.size, turn)]
    if run:
        yield _aligned(run, turn), []


def _wide(line: TextLine) -> bool:
    return len(line.stretches) > 1


def _wraps(line: TextLine, row: TextLine) -> bool:
    """Whether a line of one stretch can be a part of a wrapped cell of a row: close to it, in one of its columns.

    Under the first column a heading may stand, so that it must be as close as lines of one cell are. A line that
    keeps clear of the first column can be nothing but a part of a cell.
    """
    if _FOOT.match(" ".join(word.text for word in line.words)):
        return False
    left, right = line.words[0].box[0], line.words[-1].box[2]
    over = [at for at, part in enumerate(row.stretches) if part[0].box[0] < right and left < part[-1].box[2]]
    gap = ROW_GAP if _wide(row) and over and over[0] > 0 else WRAP_GAP
    if abs(line.base - row.base) > gap * row.size or not 0.9 < line.size / row.size < 1.1:
        return False
    if not _wide(row):
        return len(over) == 1
    return len(over) <= 1 and left > row.words[0].box[0] - line.size


def _leads(at: int, lines: Sequence[TextLine]) -> bool:
    """Whether a line is the first of several of a cell whose row follows: its label stands lower."""
    for line, following in zip(lines[at : at + MOST_WRAPPED], lines[at + 1 :], strict=False):
        if not _wraps(line, following):
            return False
        if _wide(following):
            return True
    return False


def _aligned(run: Sequence[TextLine], turn: Turn, drawn: Sequence[float] = ()) -> Grid:
    """A table without rulings. A line that is a part of a wrapped cell goes to the row it is nearest to, to both
    if that is not plain: then neither is understood, and a person looks."""
    edges = drawn or column_edges(run)
    whole = [(line, _in_columns(line, edges, turn, by_word=bool(drawn))) for line in run]
    labelled = [at for at, (line, cells) in enumerate(whole) if _wide(line) and cells[0].text]
    within = _within_rows(labelled, run)
    heads = [
        at
        for at, (line, cells) in enumerate(whole)
        if _wide(line)
        and at not in within
        and not ((not cells[0].text or _CONTINUES.match(cells[0].text)) and _near_head(at, whole))
    ]
    heads = heads or list(range(len(run)))
    rows: list[list[tuple[Cell, ...]]] = [[] for _ in heads]
    for at, (_, cells) in enumerate(whole):
        for row in _rows_of(at, heads, run):
            rows[row].append(cells)
    columns = range(len(edges) + 1)
    return Grid(
        tuple(tuple(joined(part[at] for part in parts) for at in columns) for parts in rows), ruled=False
    )


def _within_rows(labelled: Sequence[int], run: Sequence[TextLine]) -> set[int]:
    """Of the lines with a label, those nearer to the one above than rows of this table are: a label in two lines."""
    gaps = {after: run[after].base - run[before].base for before, after in itertools.pairwise(labelled)}
    single = [
        after.base - before.base
        for before, after in itertools.pairwise(run)
        if not (_wide(before) and _wide(after)) and _wraps(before, after) and _wraps(after, before)
    ]
    found = set()
    for at, gap in gaps.items():
        leading = 1.1 * min(single) if single else LEADING * run[at].size
        wider = sum(other >= ROW_TO_LINE * gap for other in gaps.values())
        if gap <= max(leading, LEADING * run[at].size) and wider >= (2 if len(gaps) > FEW_GAPS else 1):
            found.add(at)
    return found


def _rows_of(at: int, heads: Sequence[int], run: Sequence[TextLine]) -> tuple[int, ...]:
    """The rows a line belongs to. Between two rows they part at the widest gap; where none is widest, to both."""
    if at in heads:
        return (heads.index(at),)
    above = sum(head < at for head in heads) - 1
    if above < 0 or above == len(heads) - 1:
        return (max(above, 0),)
    first, last = heads[above], heads[above + 1]
    gaps = [run[one + 1].base - run[one].base for one in range(first, last)]
    widest = max(gaps)
    if sum(gap > widest * CLEAR for gap in gaps) > 1:
        return above, above + 1
    return (above,) if at <= first + gaps.index(widest) else (above + 1,)


def _near_head(at: int, whole: Sequence[tuple[TextLine, tuple[Cell, ...]]]) -> bool:
    """Whether a line without a label is so close to one with a label that it belongs to that row."""
    line = whole[at][0]
    return any(
        other is not line
        and abs(line.base - other.base) <= WRAP_GAP * line.size
        and _wide(other)
        and cells[0].text
        for other, cells in whole[max(at - 2, 0) : at + 3]
    )
