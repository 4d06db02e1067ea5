"""Rows of a returned Excel file: words, dates and counts, no formula, no link, no macro, within limits."""

from __future__ import annotations

import io
import re
import warnings
import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

from specgen.files.foreign import foreign_bytes, refused
from specgen.files.marks import InputError, InputProblem, Mark
from specgen.files.package import PackageError, PackageLimits, read_package
from specgen.model.sheet import Cell, Column

LIMITS = PackageLimits(file=20_000_000, whole=200_000_000, part=200_000_000, parts=2_000)
MOST_ROWS = 50_000
MOST_COLUMNS = 200
_MERGED = re.compile(rb'<(?:\w+:)?mergeCell\s+ref="([A-Z]{1,3}[0-9]{1,7}:[A-Z]{1,3}[0-9]{1,7})"')
LONGEST_TEXT = 32_767
_SEARCHED_FOR_HEAD = 20  # rows


@dataclass(frozen=True)
class TableRow:
    """One row by column key, its number in the sheet, and the columns of cells that could not be read."""

    number: int
    cells: dict[str, Cell]
    unread: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Table:
    """A table of a sheet: the row of its titles, the number of each column that is there, and the rows below.

    ``problems`` are the cells that could not be read: a formula, an error value, a date that is none. The key of such a
    cell is absent from its row, as is that of a column which the file lacks. ``others`` are the columns that hold
    something and have no title of a column that is wanted: the first such row, by the number of the column.
    """

    head: int
    places: Mapping[str, int]  # counted from 1, by column key
    rows: tuple[TableRow, ...]  # that are not empty
    problems: tuple[InputProblem, ...]
    others: Mapping[int, int]


@dataclass(frozen=True)
class ReturnedBook:
    """A workbook of other people: its bytes, read once and found to be safe to open."""

    path: Path
    data: bytes
    _book: Any

    @property
    def sheets(self) -> tuple[str, ...]:
        """The names of its tabs."""
        return tuple(map(str, self._book.sheetnames))

    def has(self, sheet: str) -> bool:
        """Whether it has a tab of that name."""
        return sheet in self._book.sheetnames

    def carried(self, name: str) -> str:
        """A custom property, or "" if it carries none of that name."""
        found = (one.value for one in self._book.custom_doc_props.props if one.name == name)
        return str(next(found, "") or "")

    def table(self, sheet: str, columns: Sequence[Column], must: str) -> Table:
        """The rows below the row that holds the titles of the columns, in any order of columns.

        Args:
            sheet: the name of its tab.
            columns: wanted; a column that the file lacks is empty.
            must: the key of the column whose title must be there.

        Raises:
            InputError: it has no such table.
        """
        names = self._book.sheetnames
        if sheet not in names:
            raise refused(
                self.path, f"it has no sheet `{sheet}`", f"sheets: {', '.join(map(str, names[:10]))}"
            )
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")  # what is not read here stays in the file
                table = _rows(self.path, self._book[sheet], columns, must)
            self._refuse_merged(self._book[sheet], table)
            return table
        except (InputError, MemoryError):
            raise
        except Exception as error:  # the library raises what it meets in a broken part
            raise refused(
                self.path, f"its sheet `{sheet}` cannot be read ({type(error).__name__})", "save it anew"
            ) from None

    def _refuse_merged(self, tab: Any, table: Table) -> None:
        """Of merged cells only the first holds something: what the others would say is not known."""
        from openpyxl.worksheet.cell_range import CellRange

        with zipfile.ZipFile(io.BytesIO(self.data)) as package:
            part = package.read(tab._worksheet_path.lstrip("/"))
        places, problems = table.places.values(), []
        for found in _MERGED.finditer(part):
            area: Any = CellRange(found[1].decode())
            if area.max_row >= table.head and any(area.min_col <= at <= area.max_col for at in places):
                what = f"cells {area.coord} of sheet `{tab.title}` are merged: only the first can be read"
                fix = "unmerge them, and fill each cell by itself"
                problems.append(InputProblem(Mark(str(self.path), area.min_row, area.min_col), what, fix))
        if problems:
            raise InputError(problems)


def returned_book(path: Path) -> ReturnedBook:
    """Open a workbook that people filled.

    Raises:
        InputError: the file is no workbook, is too large, holds macros, or cannot be opened.
    """
    from openpyxl import load_workbook

    data = foreign_bytes(path, LIMITS.file, "a workbook", "send the workbook alone")
    try:
        parts = read_package(data, LIMITS, "Excel", "xlsx")
    except PackageError as error:
        raise refused(path, str(error), error.fix) from None
    names = {name.lower() for name in parts}
    if any(name.endswith("vbaproject.bin") for name in names):
        raise refused(path, "it holds macros", "save it as .xlsx, without macros")
    if "[content_types].xml" not in names:
        raise refused(path, "it is no Excel workbook (.xlsx)", "save it as .xlsx")
    try:
        return ReturnedBook(
            path, data, load_workbook(io.BytesIO(data), read_only=True, data_only=False, keep_links=False)
        )
    except MemoryError:
        raise
    except Exception as error:  # a workbook of other people may be broken in any way
        raise refused(
            path,
            f"the workbook cannot be opened ({type(error).__name__})",
            "open it in Excel and save it as .xlsx",
        ) from None


def _rows(path: Path, tab: Any, columns: Sequence[Column], must: str) -> Table:
    titles = {_title(column.title): column for column in columns}
    wanted = next(_title(column.title) for column in columns if column.key == must)
    head, places = 0, dict[int, Column]()
    rows: list[TableRow] = []
    problems: list[InputProblem] = []
    others: dict[int, int] = {}
    tab.reset_dimensions()  # what a program noted of the sheet's size may be older than its rows
    for number, values in enumerate(tab.iter_rows(values_only=True, max_col=MOST_COLUMNS), start=1):
        if number > MOST_ROWS:
            raise refused(path, f"more than {MOST_ROWS} rows", "delete the empty rows below the table")
        if not places:
            named = [_title(value) for value in values]
            if wanted in named:
                head = number
                places = {named.index(name): titles[name] for name in dict.fromkeys(named) if name in titles}
            elif number > _SEARCHED_FOR_HEAD:
                break
            continue
        cells: dict[str, Cell] = {}
        unread = set()
        for place, value in enumerate(values):
            if value is not None and place not in places:
                others.setdefault(place + 1, number)
        for place, column in places.items():
            value, fault = _cell(values[place] if place < len(values) else None, column)
            if not fault:
                cells[column.key] = value
            else:
                unread.add(column.key)
                where = Mark(str(path), number, place + 1)
                problems.append(
                    InputProblem(where, f"`{column.title}`: {fault}", "the cell is left as it was")
                )
        if unread or any(value is not None for value in cells.values()):
            rows.append(TableRow(number, cells, frozenset(unread)))
    if not places:
        raise refused(
            path, f"no row holds the title `{wanted}`", "leave the titles of the columns as they are"
        )
    at = {one.key: place + 1 for place, one in places.items()}
    return Table(head, at, tuple(rows), tuple(problems), others)


def _title(value: Any) -> str:
    """A title of a column as it is compared: its first line, behind which others may explain it."""
    return "" if value is None else str(value).strip().partition("\n")[0].strip().lower()


def _cell(value: Any, column: Column) -> tuple[Cell, str]:
    """A cell as its column wants it, and what is wrong with it."""
    if value is None:
        return None, ""
    if isinstance(value, datetime | date):
        day = value.date() if isinstance(value, datetime) else value
        return (day, "") if column.is_ == "date" else (day.isoformat(), "")
    if isinstance(value, bool):
        return ("yes" if value else "no"), ""
    if isinstance(value, int | float):
        return _number(value, column)
    words = str(value).strip()[:LONGEST_TEXT]
    if not words:
        return None, ""
    if words.startswith("="):
        return None, "it holds a formula, which is not read"
    if column.is_ == "date":
        try:
            return date.fromisoformat(words), ""
        except ValueError:
            return None, f"`{words[:40]}` is no date; write it as 2026-12-31"
    return words, ""


def _number(value: float, column: Column) -> tuple[Cell, str]:
    if column.is_ == "date":
        return None, f"`{value}` is no date; write it as 2026-12-31"
    whole = float(value).is_integer()
    if column.is_ == "count":
        return (int(value), "") if whole else (None, f"`{value}` is no whole number")
    return (str(int(value)) if whole else str(value)), ""
