"""One row of a table: its label, and which of its cells hold the value, the unit, the method, a condition."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from specgen.intake.datasheet.grammar import EXPONENT_BEFORE, MARK, SUPERSCRIPTS, contents
from specgen.intake.datasheet.labels import Label, condition_dimension, wanted_dimensions
from specgen.intake.datasheet.spelled import with_exponents
from specgen.intake.datasheet.value import Beside, candidate
from specgen.model.datasheet import Box, Candidate, Cell, Evidence, Grid, Page
from specgen.practice.datasheet_names import load_datasheet_names, plain_name
from specgen.practice.entries import Vocabulary

RULED, ALIGNED, ALONE = 1.0, 0.9, 0.7  # confidence by how a table was found
LONGEST_WORDS = 240
NOT_A_VALUE = frozenset({"requirement", "property"})
RAISED = re.compile(r"\{\^[^}]*\}")
_BRACKET = re.compile(r"\(([^()]*)\)|,\s*(.+)$")
_NUMBER_ALONE = re.compile(r"\s*[≥≤<>~]?\s*[+-]?[0-9][0-9.,/ –\-]*\s*")


@dataclass(frozen=True)
class CellPlace:
    """Where in a file the reader stands."""

    file: str
    page: Page
    notes: Mapping[str, tuple[Cell, ...]]


@dataclass(frozen=True)
class Row:
    """A label with the cells from ``start`` to ``stop`` that belong to it, under the heads of their columns."""

    label: Label
    label_cell: Cell
    cells: Sequence[Cell]
    start: int
    stop: int
    head: Sequence[Cell]
    kinds: Sequence[str]
    grid: Grid

    def head_of(self, at: int) -> Cell:
        """The head of a column; blank where the table has none."""
        return self.head[at] if at < len(self.head) else Cell("")


@dataclass
class _Sorted:
    unit: str = ""
    values: list[int] = field(default_factory=list)
    extra: list[Cell] = field(default_factory=list)


def of_row(row: Row, place: CellPlace, vocabulary: Vocabulary) -> Iterator[Candidate]:
    """The values of one row: one, or one a column where several columns hold values."""
    found = _sorted(row)
    groups = _systems(found.values, row.kinds)
    shown = (row.label_cell, *(row.cells[at] for at in range(row.start, row.stop) if row.cells[at].text))
    for group in groups:
        beside = _beside(row, found, group, len(groups))
        add_notes(beside, (*shown, *(row.head_of(at) for at in group)), place)
        yield candidate(row.label, beside, evidence(place, shown, beside.value), vocabulary)


def _sorted(row: Row) -> _Sorted:
    dims, condition = wanted_dimensions(row.label.field), condition_dimension(row.label.field)
    found = _Sorted()
    for at in range(row.start, row.stop):
        cell, kind = row.cells[at], row.kinds[at]
        repeated = cell == row.cells[at - 1] and cell.box is not None
        if not cell.text.strip(" -–—") or repeated or kind in NOT_A_VALUE:
            continue
        seen = contents(cell.text, dims, units_alone=True, condition=condition)
        valueless = not (seen.amounts or seen.bare or seen.left)
        if kind in ("method", "condition"):
            found.extra.append(cell)
        elif kind == "unit" or (valueless and seen.unit and dims):
            found.unit = found.unit or seen.unit
            if seen.left or not seen.unit:
                found.extra.append(cell)
        elif kind == "" and valueless and (seen.methods or seen.conditions):
            found.extra.append(cell)
        else:
            found.values.append(at)
    return found


def _systems(values: Sequence[int], kinds: Sequence[str]) -> list[list[int]]:
    """Columns of values; a column in each system of units is one value stated twice."""
    if len(values) == 2 and {kinds[at] for at in values} == {"inch-pound", "si"}:
        return [list(values)]
    return [[at] for at in values]


def _beside(row: Row, found: _Sorted, group: Sequence[int], groups: int) -> Beside:
    dims = wanted_dimensions(row.label.field)
    heads = [row.head_of(at) for at in group]
    texts = [_with_head_unit(row.cells[at], row.head_of(at), dims, found.unit) for at in group]
    value = texts[0]
    if len(texts) == 2:
        value = Cell(
            f"{texts[0].text} ({texts[1].text})",
            texts[0].box,
            texts[0].faint or texts[1].faint,
            texts[0].struck or texts[1].struck,
        )
    lines = len(row.grid.rows)
    confidence = RULED if row.grid.ruled else ALIGNED if lines > 1 else ALONE
    beside = Beside(value, row.label_cell, list(found.extra), unit=found.unit, confidence=confidence)
    named = flat(" / ".join(head.text for head in heads if head.text))[:60]
    if groups > 1:
        beside.variant = named or f"column {group[0] + 1}"
    elif named and not row.kinds[group[0]]:
        beside.doubts.append(f"it stands in a column headed `{named}`")
    else:
        beside.extra += _from_heads(heads, row.label)
    if lines == 1 and not row.grid.ruled:
        beside.doubts.append("the line stands alone, in no table")
    return beside


def _from_heads(heads: Sequence[Cell], label: Label) -> list[Cell]:
    """What the head of a column says beyond its kind and unit: a condition or a method counts for every row."""
    dims, condition = wanted_dimensions(label.field), condition_dimension(label.field)
    columns = load_datasheet_names().columns
    plain = {*columns["inch-pound"], *columns["si"], "average", "typical"}
    found = []
    for head in heads:
        for bracket, after in _BRACKET.findall(RAISED.sub(" ", head.text)):
            text = bracket or after
            seen = contents(text, dims, units_alone=True, condition=condition)
            more = seen.left or seen.conditions or seen.methods or not seen.unit
            if plain_name(text) not in plain and more:
                found.append(replace(head, text=text, box=None))
    return found


def _with_head_unit(cell: Cell, head: Cell, dims: frozenset[str], unit: str) -> Cell:
    """A number whose unit stands in the head of its column, with that unit."""
    if unit or not dims or not _NUMBER_ALONE.fullmatch(cell.text):
        return cell
    for bracket, after in _BRACKET.findall(head.text):
        found = contents(bracket or after, dims, units_alone=True).unit
        if found:
            return replace(cell, text=f"{cell.text} {found}")
    return cell


def add_notes(beside: Beside, cells: Sequence[Cell], place: CellPlace) -> None:
    """The footnotes whose marks stand in these cells; a mark without its note is a doubt."""
    seen: list[str] = []
    for cell in cells:
        text = with_exponents(cell.text)
        for match in MARK.finditer(text):
            mark = next(group for group in match.groups() if group).translate(SUPERSCRIPTS).lower()
            if match[5] and mark[0] in "23" and EXPONENT_BEFORE.search(text[: match.start()]):
                mark = mark[1:]
            seen += [part for part in re.split(r"[,;]", mark) if part]
    for mark in dict.fromkeys(seen):
        notes = place.notes.get(mark, ())
        if len(notes) == 1:
            beside.notes.append(notes[0])
        else:
            why = "is not found" if not notes else "stands for several notes"
            beside.doubts.append(f"the note to its mark {mark} {why}")


def evidence(place: CellPlace, cells: Sequence[Cell], value: Cell) -> Evidence:
    """Where the cells stand, with their words."""
    words = flat(" | ".join(dict.fromkeys(cell.text for cell in cells if cell.text)))
    words = words if len(words) <= LONGEST_WORDS else words[: LONGEST_WORDS - 1] + "…"
    page = place.page
    return Evidence(place.file, page.label, page.number, _around(cells), words, value.box)


def _around(cells: Sequence[Cell]) -> Box | None:
    boxes = [cell.box for cell in cells if cell.box]
    if not boxes:
        return None
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def flat(text: str) -> str:
    """A text on one line, raised marks in brackets."""
    return " ".join(re.sub(r"\{\^([^}]*)\}", r" (\1)", text).split())
