"""Columns and cells of the workbook to fill in, and the lines that a filled cell makes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from specgen.files.marks import InputProblem, Mark
from specgen.intake.field_words import accepted, example
from specgen.intake.kindless import NONE
from specgen.intake.schema import NOT_APPLICABLE
from specgen.intake.start import scalar
from specgen.intake.workbook import Table, TableRow
from specgen.model.sheet import Column
from specgen.practice.entries import Field, Practice

_LONGEST_LIST = 255  # characters of a list of choices, a limit of the file format
APART = re.compile(r"does not apply\s*:\s*(.+)", re.IGNORECASE | re.DOTALL)
TO_APART = "Where a value does not apply, write `does not apply:` and the reason."
_KIND = "kind"


@dataclass(frozen=True)
class Line:
    """One line of the project file, and the cell it is from; ``why`` its value does not apply."""

    text: str
    sheet: str
    row: int
    column: int
    why: str = ""

    @property
    def indent(self) -> int:
        """How far it is indented; the first line of a record of a list as far as the list."""
        return len(self.text) - len(self.text.lstrip(" "))


def with_reasons(lines: Iterable[Line]) -> Iterator[Line]:
    """The lines, with what does not apply behind the other values of its record, as a project file has it."""
    apart: list[Line] = []  # of the records that are not at their end yet, the outermost first
    for line in lines:
        ended = [one for one in apart if one.indent > line.indent]
        apart = [one for one in apart if one.indent <= line.indent]
        yield from _reasons(ended)
        if line.why:
            apart.append(line)
            key = line.text.strip().partition(":")[0]
            if key == _KIND:
                yield Line(f"{' ' * line.indent}{_KIND}: {NONE}", line.sheet, line.row, line.column)
        else:
            yield line
    yield from _reasons(apart)


def _reasons(apart: list[Line]) -> Iterator[Line]:
    """The reasons of the records that end, the innermost first; why there is no component stands below `because`."""
    for indent in sorted({one.indent for one in apart}, reverse=True):
        here = [one for one in apart if one.indent == indent]
        kinds = [one for one in here if one.text.strip().startswith(f"{_KIND}:")]
        others = [one for one in here if one not in kinds]
        for below, held in (("because", kinds), (NOT_APPLICABLE, others)):
            for number, one in enumerate(held):
                at = (one.sheet, one.row, one.column)
                if not number:
                    yield Line(f"{' ' * indent}{below}:", *at)
                yield Line(f"  {one.text}", *at)


def column_of(practice: Practice, what: str, field: Field) -> Column:
    """The column of a field, for a sheet with a row a record."""
    title = f"{field.name}\n{field.title}; {to_write(practice, what, field)}"
    return Column(field.name, title, 22, "text", True, listed(field))


def to_write(practice: Practice, what: str, field: Field) -> str:
    """What may be written, with an example."""
    return f"{accepted(field)}; as {example(practice, what, field).strip('[]')}"


def listed(field: Field) -> tuple[str, ...]:
    """The choices that a cell offers; none where the file format cannot hold them, or where a cell may name several."""
    choices = ("yes", "no") if field.type == "yes or no" else field.choices if field.type == "word" else ()
    return choices if len(",".join(choices)) <= _LONGEST_LIST else ()


def words_of(row: TableRow, key: str) -> str:
    """The words of a cell; "" where it is empty."""
    found = row.cells.get(key)
    return "" if found is None else str(found)


def stated(
    practice: Practice,
    indent: str,
    sheet: str,
    table: Table,
    row: TableRow,
    column: str,
    what: str,
    key: str = "",
) -> Line:
    """The line that a filled cell makes: its key, and its words as YAML writes them."""
    name, words, at = key or words_of(row, "key"), words_of(row, column), table.places[column]
    if (apart := APART.fullmatch(words)) is not None:
        return Line(f"{indent}{scalar(name)}: {scalar(apart[1])}", sheet, row.number, at, apart[1])
    field = practice.vocabulary.field(what, name)
    value = scalar(words, field.type if field else "text")
    return Line(f"{indent}{scalar(name)}: {value}", sheet, row.number, at)


def at_cell(path: str, sheet: str, row: int, column: int, message: str, fix: str) -> InputProblem:
    """A problem of a cell, named by its address."""
    from openpyxl.utils import get_column_letter

    return InputProblem(Mark(path, row, column), f"{sheet}!{get_column_letter(column)}{row}: {message}", fix)
