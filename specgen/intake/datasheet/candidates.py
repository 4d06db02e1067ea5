"""Tables and lines of a sheet to candidates: which label belongs to which value. No file, no page is opened here."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from specgen.intake.datasheet.footnotes import START, footnotes
from specgen.intake.datasheet.grammar import contents
from specgen.intake.datasheet.labels import Label, Labels, wanted_dimensions
from specgen.intake.datasheet.lines import joined
from specgen.intake.datasheet.owners import Owners, can_head, doubted
from specgen.intake.datasheet.prose import from_prose
from specgen.intake.datasheet.row import ALIGNED, RULED, CellPlace, Row, add_notes, evidence, flat, of_row
from specgen.intake.datasheet.value import Beside, candidate
from specgen.model.datasheet import Candidate, Cell, DataSheet, Grid, Page, filled
from specgen.practice.entries import Vocabulary

HEAD_ROWS = 3  # the heads of columns stand in one of the first rows
TILE = "the figure stands over its caption, in no row with it"
MOST_GONE_ON = 3
NEAR = 5.0  # pt between lines of one item
IN_SENTENCE = 5  # words of a cell that is read as running text
HEADING_ABOVE = 36.0  # pt from a heading to its table
_PAIR = re.compile(r"^\s*[•·▪*\-–]?\s*(.{2,90}?)\s*(?::|\.{3,}|…|\s[-–]\s)\s*(\S.*)$")
_GOES_ON = re.compile(r"^\s*(?:[a-z(0-9≥≤<>±]|and\b|or\b|at\b)")


def candidates(owners: Owners, vocabulary: Vocabulary) -> tuple[Candidate, ...]:
    """Every value of the role's attributes that a file states, page by page.

    Args:
        owners: the file, with the products that its headings name.
        vocabulary: for the types of the values.
    """
    sheet = owners.sheet
    everywhere: dict[str, tuple[Cell, ...]] = {}
    by_page = {page.number: footnotes(page) for page in sheet.pages}
    for notes in by_page.values():
        for mark, cells in notes.items():
            everywhere[mark] = (*everywhere.get(mark, ()), *cells)
    found: list[Candidate] = []
    for page, following in zip(sheet.pages, (*sheet.pages[1:], None), strict=False):
        place = CellPlace(sheet.file, page, {**everywhere, **by_page[page.number]})
        own = [one for grid in page.grids for one in _of_grid(grid, place, owners, vocabulary)]
        own += _of_lines(page, place, owners, vocabulary)
        cut = _cut_row(page, following)
        for one in own:
            if cut is not None and one.evidence.box and one.evidence.box[3] > cut:
                one = doubted(one, "its row may go on on the next page")
            found.append(doubted(one, "recognized from a picture") if page.recognized else one)
    return tuple(_placed(one, sheet) for one in owners.weighed(found))


def _placed(one: Candidate, sheet: DataSheet) -> Candidate:
    """A candidate without a box where its file has no pages."""
    if any(page.width for page in sheet.pages):
        return one
    return replace(one, evidence=replace(one.evidence, box=None, value_box=None))


def _cut_row(page: Page, following: Page | None) -> float | None:
    """The upper edge of the last row of a page's tables, if the next page begins with a row without a label."""
    if following is None or not following.grids or not page.grids:
        return None
    first = min(following.grids, key=lambda grid: _edge(grid.rows, 1, min))
    if not any(row and not row[0].text and any(cell.text for cell in row) for row in first.rows[:2]):
        return None
    last = max(page.grids, key=lambda grid: _edge(grid.rows, 3, max))
    return _edge(last.rows[-1:], 1, min)


def _edge(rows: Sequence[Sequence[Cell]], side: int, choose: Callable[[list[float]], float]) -> float:
    return choose([cell.box[side] for row in rows for cell in row if cell.box] or [0.0])


def _of_lines(page: Page, place: CellPlace, owners: Owners, vocabulary: Vocabulary) -> Iterator[Candidate]:
    labels, heading = owners.labels, Cell("")
    rest: list[Cell] = []
    at = 0
    while at < len(page.lines):
        line, at = _gone_on(page.lines, at)
        following = page.lines[at] if at < len(page.lines) else Cell("")
        pair = _of_pair(line, following, place, labels, vocabulary)
        if pair is not None:
            yield _under(pair, heading.text, owners)
            continue
        rest.append(line)
        if can_head(line.text) and (line.size > following.size or not line.size):
            heading = line
    for cells in (filled(row) for grid in page.grids for row in grid.rows):
        if len(cells) == 1 and len(cells[0].text.split()) >= IN_SENTENCE and not _PAIR.match(cells[0].text):
            rest.append(replace(cells[0], text=f"; {cells[0].text}"))
    yield from from_prose(rest, place.file, page, labels, vocabulary)


def _gone_on(lines: Sequence[Cell], at: int) -> tuple[Cell, int]:
    """A line "label: value" with the lines that it goes on in, and the number of the line behind."""
    line, at = lines[at], at + 1
    if not _PAIR.match(line.text):
        return line, at
    for following in lines[at : at + MOST_GONE_ON]:
        open_bracket = line.text.count("(") > line.text.count(")")
        near = line.box and following.box and 0 < following.box[1] - line.box[3] + NEAR <= 2 * NEAR
        if not near or _PAIR.match(following.text) or not (open_bracket or _GOES_ON.match(following.text)):
            break
        line, at = joined([line, following]), at + 1
    return line, at


def _of_pair(
    line: Cell, following: Cell, place: CellPlace, labels: Labels, vocabulary: Vocabulary
) -> Candidate | None:
    """A line that reads "label: value"."""
    match = _PAIR.match(line.text)
    if match is None or START.match(line.text):
        return None
    label = labels.of(match[1])
    if label is None or not label.exact:
        return None
    beside = Beside(replace(line, text=match[2]), replace(line, text=match[1]), confidence=ALIGNED)
    if following.text and _GOES_ON.match(following.text) and not _PAIR.match(following.text):
        beside.doubts.append("the line may go on in the next")
    add_notes(beside, (line,), place)
    return candidate(label, beside, evidence(place, (line,), line), vocabulary)


def _of_grid(grid: Grid, place: CellPlace, owners: Owners, vocabulary: Vocabulary) -> Iterator[Candidate]:
    labels = owners.labels
    across = _labels_across(grid, labels)
    if across:
        yield from _of_columns(grid, across, place, labels, vocabulary)
        return
    heads = _heads(grid, labels)
    head: Sequence[Cell] = ()
    kinds: Sequence[str] = [""] * max((len(row) for row in grid.rows), default=0)
    heading = _heading_above(grid, place.page)
    last: tuple[Label, Cell] | None = None
    yield from _of_tiles(grid, place, labels, vocabulary)
    for at, row in enumerate(grid.rows):
        if at in heads:
            head, kinds, last = row, heads[at], None
            continue
        cells = filled(row)
        if len(cells) == 1:
            pair = _of_pair(cells[0], Cell(""), place, labels, vocabulary)
            if pair is not None:
                yield _under(pair, heading, owners)
            elif can_head(cells[0].text):
                heading, last = cells[0].text, None
            continue
        parts = list(_parts(row, kinds, labels))
        if not parts and last and cells and not row[0].text:
            over = Row(last[0], last[1], row, 1, len(row), head, tuple(kinds), grid)
            yield from (
                doubted(one, "its label stands in a row above") for one in of_row(over, place, vocabulary)
            )
            continue
        last = None
        for label, start, stop in parts:
            last = (label, row[start])
            one_row = Row(label, row[start], row, start + 1, stop, head, tuple(kinds), grid)
            for one in of_row(one_row, place, vocabulary):
                yield _under(one, heading, owners)


def _under(one: Candidate, heading: str, owners: Owners) -> Candidate:
    """A heading can limit what stands below it: "After weathering", "Primer", "Properties of a 12 mil film"."""
    why = owners.limits(heading)
    return doubted(one, why) if why else one


def _heading_above(grid: Grid, page: Page) -> str:
    """The line of text next above a table."""
    boxes = [cell.box for row in grid.rows for cell in row if cell.box]
    if not boxes:
        return ""
    top, left, right = (
        min(box[1] for box in boxes),
        min(box[0] for box in boxes),
        max(box[2] for box in boxes),
    )
    above = [
        line
        for line in page.lines
        if line.box
        and 0 <= top - line.box[3] + 3 <= HEADING_ABOVE
        and line.box[0] < right
        and left < line.box[2]
    ]
    return max(above, key=lambda line: line.box[3] if line.box else 0.0).text if above else ""


def _heads(grid: Grid, labels: Labels) -> Mapping[int, Sequence[str]]:
    """The rows of column heads by number, and what stands below each: one of the first rows, or below a lone cell."""
    width = max((len(row) for row in grid.rows), default=0)
    found: dict[int, Sequence[str]] = {}
    for at, row in enumerate(grid.rows):
        if at >= HEAD_ROWS and sum(bool(cell.text) for cell in grid.rows[at - 1]) != 1:
            continue
        if at < HEAD_ROWS and found:
            continue
        kinds = _one_property([labels.column(cell.text) for cell in row])
        named = {kind for kind in kinds if kind}
        several = len([cell for cell in row if cell.text]) >= 2
        if several and (len(named) >= 2 or kinds[0] == "property"):
            found[at] = [*kinds, *[""] * (width - len(kinds))]
    return found


def _of_tiles(grid: Grid, place: CellPlace, labels: Labels, vocabulary: Vocabulary) -> Iterator[Candidate]:
    """Figures in one row, each over its caption in the next; a person looks which belongs to which."""
    for figures, captions in pairwise(grid.rows):
        under = {at: labels.of(cell.text) for at, cell in enumerate(captions) if cell.text}
        if len(under) > 1 and not any(label and label.exact for at, label in under.items() if at):
            continue  # a row with a label and its value
        over = {at for at, cell in enumerate(figures) if cell.text}
        names = any(labels.of(figures[at].text) or labels.column(figures[at].text) for at in over)
        if not under or set(under) != over or names:
            continue
        for at, label in under.items():
            if label is None:
                continue
            beside = Beside(figures[at], captions[at], confidence=ALIGNED, doubts=[TILE])
            shown = (captions[at], figures[at])
            add_notes(beside, shown, place)
            yield candidate(label, beside, evidence(place, shown, figures[at]), vocabulary)


def _one_property(kinds: Sequence[str]) -> list[str]:
    """The kinds of columns; of "Item" and "Description" side by side the second holds the values."""
    found = list(kinds)
    again = [at for at, kind in enumerate(kinds) if kind == "property"][1:]
    if again and "value" not in kinds and kinds[0] == "property":
        found[again[0]] = "value"
    return found


def _parts(row: Sequence[Cell], kinds: Sequence[str], labels: Labels) -> Iterator[tuple[Label, int, int]]:
    """The labels of a row, each with the cells that belong to it."""
    starts: list[tuple[Label, int]] = []
    headed = any(kinds)
    for at, cell in enumerate(row):
        repeated = at > 0 and cell == row[at - 1] and cell.box is not None
        elsewhere = kinds[at] not in ("", "property") or (headed and at > 0 and not kinds[at])
        if repeated or elsewhere:
            continue
        label = labels.of(cell.text)
        if label is not None and (at == 0 or label.exact or not starts):
            starts.append((label, at))
    for index, (label, at) in enumerate(starts):
        yield label, at, starts[index + 1][1] if index + 1 < len(starts) else len(row)


def _labels_across(grid: Grid, labels: Labels) -> dict[int, Label]:
    """The labels in the first row, by column, of a table whose rows are products; empty for any other table."""
    if len(grid.rows) < 2:
        return {}
    found = {
        at: label
        for at, cell in enumerate(grid.rows[0])
        if (label := labels.of(cell.text)) is not None and label.exact
    }
    below = any(at < len(grid.rows[1]) and labels.of(grid.rows[1][at].text) for at in found)
    return found if len(found) >= 2 and not below else {}


def _of_columns(
    grid: Grid, across: Mapping[int, Label], place: CellPlace, labels: Labels, vocabulary: Vocabulary
) -> Iterator[Candidate]:
    rows = [row for row in grid.rows[1:] if row]
    by_kind = {kind: row for row in rows if (kind := labels.column(row[0].text))}
    products = [row for row in rows if not labels.column(row[0].text)]
    for row in products:
        for at, label in across.items():
            if at >= len(row) or not row[at].text:
                continue
            extra = [by_kind[kind][at] for kind in ("method", "condition") if kind in by_kind]
            unit_text = by_kind["unit"][at].text if "unit" in by_kind else ""
            unit = contents(unit_text, wanted_dimensions(label.field), units_alone=True).unit
            beside = Beside(
                row[at], grid.rows[0][at], extra, unit=unit, confidence=RULED if grid.ruled else ALIGNED
            )
            if at and row[0].text and len(products) > 1:
                beside.variant = flat(row[0].text)[:60]
                if not all(at < len(other) and other[at].text.strip(" -–—") for other in products):
                    beside.doubts.append(
                        f"it is stated for `{beside.variant}` and not for every product of the table"
                    )
            shown = (grid.rows[0][at], row[at], *extra)
            add_notes(beside, shown, place)
            yield candidate(label, beside, evidence(place, shown, row[at]), vocabulary)
