"""Columns and cells of the workbook to fill in, and the lines that a filled cell makes."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.files.marks import InputProblem, Mark
from specgen.intake.key_list import accepted, example
from specgen.intake.start import scalar
from specgen.intake.workbook import Table, TableRow
from specgen.model.sheet import Column
from specgen.practice.entries import Field, Practice

_LONGEST_LIST = 255  # characters of a list of choices, a limit of the file format


@dataclass(frozen=True)
class Line:
    """One line of the project file, and the cell it is from."""

    text: str
    sheet: str
    row: int
    column: int


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
    name = key or words_of(row, "key")
    field = practice.vocabulary.field(what, name)
    value = scalar(words_of(row, column), field.type if field else "text")
    return Line(f"{indent}{scalar(name)}: {value}", sheet, row.number, table.places[column])


def at_cell(path: str, sheet: str, row: int, column: int, message: str, fix: str) -> InputProblem:
    """A problem of a cell, named by its address."""
    from openpyxl.utils import get_column_letter

    return InputProblem(Mark(path, row, column), f"{sheet}!{get_column_letter(column)}{row}: {message}", fix)
