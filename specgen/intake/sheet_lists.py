"""The sheets of the workbook to fill in that hold lists: places along the parapets, and parapets as they stand."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Protocol

from specgen.files.marks import InputProblem
from specgen.intake.existing import LISTS
from specgen.intake.sheet_cells import Line, at_cell, column_of, stated, words_of
from specgen.intake.workbook import ReturnedBook, Table, TableRow
from specgen.model.project import PLACES
from specgen.model.sheet import Column, SheetRow, WorkbookSheet
from specgen.practice.entries import Practice

EXISTING = "Existing"
PLACE_SHEETS: Mapping[str, tuple[str, str]] = {key.capitalize(): (key, what) for key, what in PLACES.items()}
STANDING_SHEETS: Mapping[str, tuple[str, str]] = {
    key.capitalize(): (key, what) for key, what in LISTS.items()
}
LIST_SHEETS: Mapping[str, str] = {  # the record of each
    **{sheet: what for sheet, (_, what) in PLACE_SHEETS.items()},
    EXISTING: "existing",
    **{sheet: what for sheet, (_, what) in STANDING_SHEETS.items()},
}
_OF = Column("parapet", "parapet", 16, filled=True)
_BLANK_ROWS = 20


class Reads(Protocol):
    """Reads the table of a sheet, and notes what is wrong with it."""

    def __call__(self, book: ReturnedBook, sheet: str, columns: tuple[Column, ...], must: str) -> Table: ...


def list_sheets(practice: Practice) -> tuple[WorkbookSheet, ...]:
    """The blank sheets, each with a row a place, a standing parapet, or what was seen on it."""
    return tuple(
        WorkbookSheet(
            sheet,
            (
                f"{practice.vocabulary.records[what].title.capitalize()}: one a row",
                "`parapet` names the parapet"
                + (
                    " that it stands on."
                    if what in LISTS.values() or what == "existing"
                    else ", or the type."
                ),
            ),
            _columns(practice, what),
            (SheetRow({}),) * _BLANK_ROWS,
        )
        for sheet, what in LIST_SHEETS.items()
    )


def _columns(practice: Practice, what: str) -> tuple[Column, ...]:
    fields = practice.vocabulary.records[what].fields
    return (_OF, *(column_of(practice, what, field) for field in fields.values()))


class Listed:
    """The lists of a filled workbook, by the parapet or the type that each row names."""

    def __init__(self, book: ReturnedBook, practice: Practice, read: Reads) -> None:
        self.practice = practice
        self.tables = {
            sheet: read(book, sheet, _columns(practice, what), "parapet")
            for sheet, what in LIST_SHEETS.items()
            if book.has(sheet)  # a workbook of an earlier day has none
        }

    def strangers(
        self, path: str, parapets: Collection[str], types: Collection[str]
    ) -> Iterator[InputProblem]:
        """Rows of no parapet: the name is missing, or nobody else bears it."""
        for sheet, table in self.tables.items():
            fit = {*parapets, *(types if sheet in PLACE_SHEETS else ())} - {""}
            for row in table.rows:
                name = words_of(row, "parapet")
                if name not in fit:
                    what = f"no parapet `{name}`" if name else "the row names no parapet"
                    if name in types:
                        what = f"`{name}` is a type, and a wall stands as one parapet"
                    fix = f"write one of: {', '.join(sorted(fit)) or 'fill in the sheet Parapets first'}"
                    yield at_cell(path, sheet, row.number, table.places["parapet"], what, fix)

    def places(self, name: str) -> Iterator[Line]:
        """The lists of places of a parapet or a type."""
        for sheet, (key, what) in PLACE_SHEETS.items():
            yield from self._list(name, sheet, key, what, "    ")

    def standing(self, name: str) -> Iterator[Line]:
        """A parapet as it stands, with what was seen on it."""
        rows = [(sheet, row) for sheet in (EXISTING, *STANDING_SHEETS) for row in self._rows(sheet, name)]
        if not rows:
            return
        sheet, first = rows[0]
        yield Line("    existing:", sheet, first.number, self.tables[sheet].places["parapet"])
        for row in self._rows(EXISTING, name):
            yield from self._values(EXISTING, row, "existing", "      ")
        for sheet, (key, what) in STANDING_SHEETS.items():
            yield from self._list(name, sheet, key, what, "      ")

    def _rows(self, sheet: str, name: str) -> tuple[TableRow, ...]:
        table = self.tables.get(sheet)
        return tuple(row for row in table.rows if words_of(row, "parapet") == name) if table else ()

    def _list(self, name: str, sheet: str, key: str, what: str, indent: str) -> Iterator[Line]:
        rows = self._rows(sheet, name)
        if not rows:
            return
        place = self.tables[sheet].places["parapet"]
        yield Line(f"{indent}{key}:", sheet, rows[0].number, place)
        for row in rows:
            yield Line(f"{indent}  -", sheet, row.number, place)
            yield from self._values(sheet, row, what, f"{indent}    ")

    def _values(self, sheet: str, row: TableRow, what: str, indent: str) -> Iterator[Line]:
        """What a row states; what it must state has a line where the cell is empty as well."""
        table = self.tables[sheet]
        for name, field in self.practice.vocabulary.records[what].fields.items():
            if name in table.places and (field.required or words_of(row, name)):
                yield stated(self.practice, indent, sheet, table, row, name, what, name)
