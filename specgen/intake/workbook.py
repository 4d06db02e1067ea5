"""Rows of a returned Excel file: words, dates and counts, no formula, no link, no macro, within limits."""

from __future__ import annotations

import zipfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

from specgen.files.marks import InputError, InputProblem, Mark
from specgen.intake.formats import Renamed, checked
from specgen.model.sheet import FORMAT, Cell, Column

LARGEST_FILE = 20_000_000  # bytes
LARGEST_UNPACKED = 200_000_000  # bytes, of all parts together
MOST_PARTS = 2_000
MOST_ROWS = 50_000
MOST_COLUMNS = 200
LONGEST_TEXT = 32_767
_SEARCHED_FOR_HEAD = 20  # rows


@dataclass(frozen=True)
class TableRow:
    """One row by column key, and its number in the sheet."""

    number: int
    cells: dict[str, Cell]


def read_table(
    path: Path, sheet: str, columns: Sequence[Column], must: str, renames: Sequence[Renamed] = ()
) -> tuple[tuple[TableRow, ...], tuple[InputProblem, ...]]:
    """The rows below the row that holds the titles of the columns, in any order of columns.

    Args:
        path: an .xlsx file.
        sheet: the name of its tab.
        columns: wanted; a column that the file lacks is empty.
        must: the key of the column whose title must be there.
        renames: what was renamed since the format of the file: titles of columns, and words under a column's key.

    Returns:
        The rows that are not empty, and the cells that could not be read: a formula, an error value, a date that is
        none. The key of such a cell is absent from its row, as is that of a column which the file lacks.

    Raises:
        InputError: the file is no workbook, is too large, or has no such table.
    """
    for one in reversed([one for one in renames if not one.word]):
        columns = [replace(column, title=one.at) if column.title == one.to else column for column in columns]
    book = _opened(path)
    try:
        if sheet not in book.sheetnames:
            raise _refused(
                path, f"it has no sheet `{sheet}`", f"sheets: {', '.join(map(str, book.sheetnames[:10]))}"
            )
        rows, problems = _rows(path, book[sheet], columns, must)
        return tuple(replace(one, cells=reworded(one.cells, renames)) for one in rows), problems
    except (InputError, MemoryError):
        raise
    except Exception as error:  # the library raises what it meets in a broken part
        raise _refused(
            path, f"its sheet `{sheet}` cannot be read ({type(error).__name__})", "save it anew"
        ) from None
    finally:
        book.close()


def reworded(row: Mapping[str, Cell], renames: Iterable[Renamed]) -> dict[str, Cell]:
    """A row by column key, in the words of the current format."""
    cells = dict(row)
    for one in renames:
        if one.word and cells.get(one.at) == one.word:
            cells[one.at] = one.to
    return cells


def has_sheet(path: Path, sheet: str) -> bool:
    """Whether a workbook has a tab of that name.

    Raises:
        InputError: the file is no workbook or too large.
    """
    book = _opened(path)
    try:
        return sheet in book.sheetnames
    finally:
        book.close()


def format_of(path: Path, kind: str) -> int:
    """The format number that a workbook bears as a property of the document.

    Raises:
        InputError: the file is no workbook or too large, or its format is not one that this program knows.
    """
    book = _opened(path)
    try:
        found = next((one.value for one in book.custom_doc_props.props if one.name == FORMAT), None)
    finally:
        book.close()
    if isinstance(found, float) and found.is_integer():  # so some programs save a whole number
        found = int(found)
    return checked(found, kind, Mark(str(path), 1, 1))


def _refused(path: Path, what: str, fix: str) -> InputError:
    return InputError([InputProblem(Mark(str(path), 1, 1), what, fix)])


def _opened(path: Path) -> Any:
    from openpyxl import load_workbook

    try:
        size = path.stat().st_size
    except OSError as error:
        raise _refused(path, f"cannot read it: {error.strerror}", "check the path") from None
    if size > LARGEST_FILE:
        raise _refused(path, f"{size} bytes, at most {LARGEST_FILE}", "send the register alone")
    try:
        with zipfile.ZipFile(path) as package:
            _check_package(path, package)
    except (zipfile.BadZipFile, NotImplementedError, EOFError, OSError, RuntimeError):
        raise _refused(
            path, "it is no Excel workbook (.xlsx), or it is damaged", "save it as .xlsx"
        ) from None
    try:
        return load_workbook(path, read_only=True, data_only=False, keep_links=False)
    except MemoryError:
        raise
    except Exception as error:  # a workbook of other people may be broken in any way
        raise _refused(
            path,
            f"the workbook cannot be opened ({type(error).__name__})",
            "open it in Excel and save it as .xlsx",
        ) from None


def _check_package(path: Path, package: zipfile.ZipFile) -> None:
    parts = package.infolist()
    unpacked = sum(part.file_size for part in parts)
    if len(parts) > MOST_PARTS or unpacked > LARGEST_UNPACKED:
        raise _refused(
            path, f"it unpacks to {unpacked} bytes in {len(parts)} parts", "send the register alone"
        )
    if any(part.flag_bits & 1 for part in parts):
        raise _refused(path, "it is encrypted", "save it without a password")
    names = {part.filename.lower() for part in parts}
    if any(name.endswith("vbaproject.bin") for name in names):
        raise _refused(path, "it holds macros", "save it as .xlsx, without macros")
    if "[content_types].xml" not in names:
        raise _refused(path, "it is no Excel workbook (.xlsx)", "save it as .xlsx")
    for part in parts:
        if part.filename.lower().endswith((".xml", ".rels")):
            with package.open(part) as file:
                head = file.read(4096)
            if b"<!DOCTYPE" in head or b"<!ENTITY" in head:
                raise _refused(path, "one of its parts declares entities", "save it anew")


def _rows(
    path: Path, tab: Any, columns: Sequence[Column], must: str
) -> tuple[tuple[TableRow, ...], tuple[InputProblem, ...]]:
    titles = {column.title.lower(): column for column in columns}
    wanted = next(column.title.lower() for column in columns if column.key == must)
    places: dict[int, Column] = {}
    rows: list[TableRow] = []
    problems: list[InputProblem] = []
    for number, values in enumerate(tab.iter_rows(values_only=True, max_col=MOST_COLUMNS), start=1):
        if number > MOST_ROWS:
            raise _refused(path, f"more than {MOST_ROWS} rows", "delete the empty rows below the table")
        if not places:
            named = [str(value).strip().lower() if value is not None else "" for value in values]
            if wanted in named:
                places = {place: titles[name] for place, name in enumerate(named) if name in titles}
            elif number > _SEARCHED_FOR_HEAD:
                break
            continue
        cells: dict[str, Cell] = {}
        for place, column in places.items():
            value, fault = _cell(values[place] if place < len(values) else None, column)
            if not fault:
                cells[column.key] = value
            else:
                where = Mark(str(path), number, place + 1)
                problems.append(
                    InputProblem(where, f"`{column.title}`: {fault}", "the cell is left as it was")
                )
        if any(value is not None for value in cells.values()):
            rows.append(TableRow(number, cells))
    if not places:
        raise _refused(
            path, f"no row holds the title `{wanted}`", "leave the titles of the columns as they are"
        )
    return tuple(rows), tuple(problems)


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
