"""Tables and lines of a sheet to candidates: which label belongs to which value. No file, no page is opened here."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from specgen.intake.datasheet.footnotes import START, footnotes
from specgen.intake.datasheet.grammar import MARK, SUPERSCRIPTS, said
from specgen.intake.datasheet.labels import Label, Labels, condition_dimension, wanted_dimensions
from specgen.intake.datasheet.prose import from_prose
from specgen.intake.datasheet.value import Beside, candidate
from specgen.model.datasheet import Candidate, Cell, Evidence, Grid, Page, Sheet
from specgen.practice.entries import Vocabulary

RULED, ALIGNED, ALONE = 1.0, 0.9, 0.7
LONGEST_WORDS = 240
HEAD_ROWS = 3
_PAIR = re.compile(r"^\s*[•·▪*\-–]?\s*(.{2,90}?)\s*(?::|\.{3,}|…|\s[-–]\s)\s*(\S.*)$")
_GOES_ON = re.compile(r"^\s*(?:[a-z(0-9≥≤<>±]|and\b|or\b|at\b)")
NOT_A_VALUE = frozenset({"requirement", "property"})


@dataclass(frozen=True)
class _Place:
    """Where in a file the reader stands."""

    file: str
    page: Page
    notes: Mapping[str, tuple[Cell, ...]]


def candidates(sheet: Sheet, labels: Labels, vocabulary: Vocabulary) -> tuple[Candidate, ...]:
    """Every value of the role's attributes that a file states, page by page.

    Args:
        sheet: the file.
        labels: of the role.
        vocabulary: for the types of the values.
    """
    everywhere: dict[str, tuple[Cell, ...]] = {}
    by_page = {page.number: footnotes(page) for page in sheet.pages}
    for notes in by_page.values():
        for mark, cells in notes.items():
            everywhere[mark] = (*everywhere.get(mark, ()), *cells)
    found: list[Candidate] = []
    for page in sheet.pages:
        place = _Place(sheet.file, page, {**everywhere, **by_page[page.number]})
        for grid in page.grids:
            found += _of_grid(grid, place, labels, vocabulary)
        taken = set()
        for at, line in enumerate(page.lines):
            following = page.lines[at + 1] if at + 1 < len(page.lines) else Cell("")
            pair = _of_pair(line, following, place, labels, vocabulary)
            if pair is not None:
                found.append(pair)
                taken.add(at)
        rest = [line for at, line in enumerate(page.lines) if at not in taken]
        found += from_prose(rest, sheet.file, page, labels, vocabulary)
    return tuple(found)


def _of_pair(
    line: Cell, following: Cell, place: _Place, labels: Labels, vocabulary: Vocabulary
) -> Candidate | None:
    """A line that reads "label: value"."""
    match = _PAIR.match(line.text)
    if match is None or START.match(line.text):
        return None
    label = labels.of(match[1])
    if label is None or not label.exact:
        return None
    beside = Beside(Cell(match[2], line.box, line.faint), Cell(match[1], line.box, line.faint), confidence=ALIGNED)
    if following.text and _GOES_ON.match(following.text) and not _PAIR.match(following.text):
        beside.doubts.append("the line may go on in the next")
    _add_notes(beside, (line,), place)
    return candidate(label, beside, _evidence(place, (line,)), vocabulary)


def _of_grid(grid: Grid, place: _Place, labels: Labels, vocabulary: Vocabulary) -> Iterator[Candidate]:
    head_at, kinds = _head(grid, labels)
    across = _labels_across(grid, labels)
    if across:
        yield from _of_columns(grid, across, place, labels, vocabulary)
        return
    head = grid.rows[head_at] if head_at is not None else ()
    last: tuple[Label, Cell] | None = None
    for at, row in enumerate(grid.rows):
        if head_at is not None and at <= head_at:
            continue
        if len([cell for cell in row if cell.text]) == 1:
            only = next(cell for cell in row if cell.text)
            pair = _of_pair(only, Cell(""), place, labels, vocabulary)
            if pair is not None:
                yield pair
                last = None
                continue
        parts = list(_parts(row, kinds, labels))
        if not parts and last and row and not row[0].text and any(cell.text for cell in row):
            for one in _of_row(last[0], last[1], row, 1, len(row), head, kinds, grid, place, vocabulary):
                yield _doubted(one, "its label stands in a row above")
            continue
        if not parts and row and row[0].text:
            last = None
        for label, start, stop in parts:
            last = (label, row[start])
            yield from _of_row(label, row[start], row, start + 1, stop, head, kinds, grid, place, vocabulary)


def _doubted(one: Candidate, words: str) -> Candidate:
    from dataclasses import replace

    return replace(one, doubts=(*one.doubts, words), confidence=max(round(one.confidence - 0.3, 2), 0.0))


def _head(grid: Grid, labels: Labels) -> tuple[int | None, tuple[str, ...]]:
    """The row of column heads, and what stands below each."""
    width = max((len(row) for row in grid.rows), default=0)
    for at, row in enumerate(grid.rows[:HEAD_ROWS]):
        kinds = tuple(labels.column(cell.text) for cell in row)
        named = [kind for kind in kinds if kind]
        several = len([cell for cell in row if cell.text]) >= 2
        if several and (len(set(named)) >= 2 or (named and labels.of(row[0].text) is None and kinds[0] == "property")):
            return at, kinds + ("",) * (width - len(kinds))
    return None, ("",) * width


def _parts(row: Sequence[Cell], kinds: Sequence[str], labels: Labels) -> Iterator[tuple[Label, int, int]]:
    """The labels of a row, each with the cells that belong to it."""
    starts: list[tuple[Label, int]] = []
    for at, cell in enumerate(row):
        if at and cell == row[at - 1] and cell.box is not None:
            continue
        if kinds[at] not in ("", "property") or (kinds[at] == "" and at and any(kinds)):
            continue
        label = labels.of(cell.text)
        if label is not None and (at == 0 or label.exact or not starts):
            starts.append((label, at))
    for index, (label, at) in enumerate(starts):
        yield label, at, starts[index + 1][1] if index + 1 < len(starts) else len(row)


def _of_row(
    label: Label,
    label_cell: Cell,
    row: Sequence[Cell],
    start: int,
    stop: int,
    head: Sequence[Cell],
    kinds: Sequence[str],
    grid: Grid,
    place: _Place,
    vocabulary: Vocabulary,
) -> Iterator[Candidate]:
    """The values of one row: one, or one a column where several columns hold values."""
    dims, condition = wanted_dimensions(label.field), condition_dimension(label.field)
    extra: list[Cell] = []
    unit, values = "", []
    for at in range(start, stop):
        cell = row[at]
        if not cell.text or cell.text.strip() in "-–—" or (cell == row[at - 1] and cell.box is not None):
            continue
        kind = kinds[at]
        seen = said(cell.text, dims, units_alone=True, condition=condition)
        empty = not (seen.amounts or seen.bare or seen.left)
        if kind in NOT_A_VALUE:
            continue
        if kind in ("method", "condition"):
            extra.append(cell)
        elif kind == "unit" or (empty and seen.unit and dims):
            unit = unit or seen.unit
            if seen.left or not seen.unit:
                extra.append(cell)
        elif kind == "" and empty and (seen.methods or seen.conditions):
            extra.append(cell)
        else:
            values.append(at)
    pairs = _systems(values, kinds)
    confidence = RULED if grid.ruled else ALIGNED if len(grid.rows) > 1 else ALONE
    for group in pairs:
        heads = [head[at] for at in group if at < len(head)]
        texts = [_with_head_unit(row[at], head[at] if at < len(head) else Cell(""), dims, unit) for at in group]
        value = texts[0] if len(texts) == 1 else Cell(f"{texts[0].text} ({texts[1].text})", texts[0].box, texts[0].faint or texts[1].faint)
        variant = "" if len(pairs) == 1 and kinds[group[0]] else " / ".join(cell.text for cell in heads if cell.text)
        beside = Beside(value, label_cell, list(extra), unit=unit, confidence=confidence)
        if len(pairs) > 1:
            beside.variant = _flat(variant) or f"column {group[0] + 1}"
        elif variant and not kinds[group[0]] and any(kinds):
            beside.doubts.append(f"it stands in a column headed `{_flat(variant)[:60]}`")
        if head and len(pairs) == 1:
            _head_doubts(beside, heads, dims, condition)
        if len(grid.rows) == 1 and not grid.ruled:
            beside.doubts.append("the line stands alone, in no table")
        shown = (label_cell, *(row[at] for at in range(start, stop) if row[at].text))
        _add_notes(beside, (*shown, *heads), place)
        yield candidate(label, beside, _evidence(place, shown), vocabulary)


def _head_doubts(beside: Beside, heads: Sequence[Cell], dims: frozenset[str], condition: str) -> None:
    """What the head of a column says beyond its kind: a condition or a method counts for every row."""
    for head in heads:
        inside = re.findall(r"\(([^()]*)\)|,\s*(.+)$", head.text)
        for bracket, after in inside:
            beside.extra.append(Cell(bracket or after, None, False)) if not _is_unit_or_system(bracket or after, dims, condition) else None


def _is_unit_or_system(text: str, dims: frozenset[str], condition: str) -> bool:
    from specgen.practice.datasheet_names import load_datasheet_names, plain_name

    columns = load_datasheet_names().columns
    if plain_name(text) in (*columns["inch-pound"], *columns["si"], "average", "typical"):
        return True
    seen = said(text, dims, units_alone=True, condition=condition)
    return bool(seen.unit) and not seen.left


def _systems(values: Sequence[int], kinds: Sequence[str]) -> list[list[int]]:
    """Columns of values; a column in each system of units is one value stated twice."""
    if len(values) == 2 and {kinds[at] for at in values} == {"inch-pound", "si"}:
        return [list(values)]
    return [[at] for at in values]


def _with_head_unit(cell: Cell, head: Cell, dims: frozenset[str], unit: str) -> Cell:
    """A number whose unit stands in the head of its column, with that unit."""
    if unit or not dims or not head.text or not re.fullmatch(r"\s*[≥≤<>~]?\s*[+-]?[0-9.,/ –\-]+\s*", cell.text):
        return cell
    for bracket, after in re.findall(r"\(([^()]*)\)|,\s*(.+)$", head.text):
        found = said(bracket or after, dims, units_alone=True).unit
        if found:
            return Cell(f"{cell.text} {found}", cell.box, cell.faint)
    return cell


def _labels_across(grid: Grid, labels: Labels) -> dict[int, Label]:
    """The labels in the first row, by column, of a table whose rows are products; empty for any other table."""
    if len(grid.rows) < 2:
        return {}
    found = {}
    for at, cell in enumerate(grid.rows[0]):
        label = labels.of(cell.text)
        if label is not None and label.exact:
            found[at] = label
    first = {at for at in found if labels.of(grid.rows[1][at].text) is None} if found else set()
    return found if len(first) >= 2 and len(found) == len(first) else {}


def _of_columns(
    grid: Grid, across: Mapping[int, Label], place: _Place, labels: Labels, vocabulary: Vocabulary
) -> Iterator[Candidate]:
    rows = grid.rows[1:]
    by_kind = {labels.column(row[0].text): row for row in rows if row and labels.column(row[0].text)}
    products = [row for row in rows if not labels.column(row[0].text)]
    for row in products:
        for at, label in across.items():
            if at >= len(row) or not row[at].text:
                continue
            extra = [by_kind[kind][at] for kind in ("method", "condition") if kind in by_kind]
            unit_cell = by_kind["unit"][at].text if "unit" in by_kind else ""
            unit = said(unit_cell, wanted_dimensions(label.field), units_alone=True).unit
            beside = Beside(row[at], grid.rows[0][at], extra, unit=unit, confidence=RULED if grid.ruled else ALIGNED)
            if at and row[0].text:
                beside.variant = _flat(row[0].text)[:60] if len(products) > 1 else ""
            _add_notes(beside, (grid.rows[0][at], row[at], *extra), place)
            yield candidate(label, beside, _evidence(place, (grid.rows[0][at], row[at], *extra)), vocabulary)


def _add_notes(beside: Beside, cells: Sequence[Cell], place: _Place) -> None:
    """The footnotes whose marks stand in these cells; a mark without its note is a doubt."""
    seen: list[str] = []
    for cell in cells:
        for match in MARK.finditer(cell.text):
            mark = next(group for group in match.groups() if group).translate(SUPERSCRIPTS).lower()
            if match[5] and mark[0] in "23" and re.search(r"(?:^|[^A-Za-z])(?:ft|in|m|yd|mm|cm)$", cell.text[: match.start()]):
                mark = mark[1:]
            seen += [part for part in re.split(r"[,;]", mark) if part]
    for mark in dict.fromkeys(seen):
        notes = place.notes.get(mark, ())
        if len(notes) == 1:
            beside.notes.append(notes[0])
        else:
            why = "is not found" if not notes else "stands for several notes"
            beside.doubts.append(f"the note to its mark {mark} {why}")


def _evidence(place: _Place, cells: Sequence[Cell]) -> Evidence:
    boxes = [cell.box for cell in cells if cell.box]
    box = None
    if boxes:
        box = (
            min(one[0] for one in boxes),
            min(one[1] for one in boxes),
            max(one[2] for one in boxes),
            max(one[3] for one in boxes),
        )
    words = _flat(" | ".join(dict.fromkeys(cell.text for cell in cells if cell.text)))
    words = words if len(words) <= LONGEST_WORDS else words[: LONGEST_WORDS - 1] + "…"
    return Evidence(place.file, place.page.label, place.page.number, box, words)


def _flat(text: str) -> str:
    return " ".join(re.sub(r"\{\^([^}]*)\}", r" (\1)", text).split())
