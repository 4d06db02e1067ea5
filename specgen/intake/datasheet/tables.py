"""Workbooks and comma-separated files to rows of text, as plain data."""

from __future__ import annotations

import csv
import io
from datetime import date, datetime
from typing import Any

from specgen.files.package import PackageError, PackageLimits, read_package
from specgen.intake.datasheet.limits import (
    LONGEST_CELL,
    MOST_BLANK,
    MOST_BYTES,
    MOST_CHARACTERS_IN_ALL,
    MOST_COLUMNS,
    MOST_PAGES,
    MOST_PARTS,
    MOST_ROWS,
    MOST_UNPACKED,
)
from specgen.intake.datasheet.pdf import UnusableFileError

SEPARATORS = ",;\t|"
MACROS = "vbaproject"
LINKS = "externallinks/"
LIMITS = PackageLimits(file=MOST_BYTES, whole=MOST_UNPACKED, part=MOST_UNPACKED, parts=MOST_PARTS)


def read_csv(data: bytes) -> list[dict[str, Any]]:
    """The one table of a comma-separated file; its separator is the one most lines agree on.

    Raises:
        UnusableFileError: it is no text, or larger than the limits.
    """
    text = _text(data)
    csv.field_size_limit(MOST_CHARACTERS_IN_ALL)
    rows: list[list[str]] = []
    try:
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text), strict=False):
            _checked(len(rows) + 1, len(row))
            rows.append([_cell(one) for one in row])
    except csv.Error as error:
        raise UnusableFileError(f"the table cannot be read: {error}", "save it again as CSV") from None
    return [{"label": "table", "rows": rows}]


def _text(data: bytes) -> str:
    if b"\0" in data[:4096]:
        raise UnusableFileError("this is no text file", "save it as CSV in UTF-8")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")  # what spreadsheets wrote before they wrote UTF-8
    if len(text) > MOST_CHARACTERS_IN_ALL:
        raise UnusableFileError(
            f"more than {MOST_CHARACTERS_IN_ALL} characters", "send the product's rows alone"
        )
    return text


def _separator(text: str) -> str:
    lines = [line for line in text.splitlines()[:50] if line.strip()]
    return max(SEPARATORS, key=lambda mark: (sum(mark in line for line in lines), mark == ","))


def read_workbook(data: bytes) -> list[dict[str, Any]]:
    """Every visible sheet of a workbook; of a formula, the value it had when the file was saved.

    Raises:
        UnusableFileError: no workbook, damaged, larger than the limits, or its parts declare XML entities.
    """
    notes = _check_parts(data)
    import warnings

    from openpyxl import load_workbook

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of parts that are not read here
            book = load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
            sheets = [_sheet(one) for one in book.worksheets if one.sheet_state == "visible"]
            hidden = sum(one.sheet_state != "visible" for one in book.worksheets)
    except UnusableFileError:
        raise
    except Exception as error:  # the reader raises whatever the damage makes it raise
        raise UnusableFileError(
            f"the workbook cannot be read ({type(error).__name__})", "open it, save it again as .xlsx"
        ) from None
    if len(sheets) > MOST_PAGES:
        raise UnusableFileError(
            f"{len(sheets)} sheets, at most {MOST_PAGES}", "send the product's sheet alone"
        )
    if hidden:
        notes.append(f"{hidden} hidden sheet{'s were' if hidden > 1 else ' was'} not read")
    if sheets:
        sheets[0]["notes"] = notes
    return sheets


def _check_parts(data: bytes) -> list[str]:
    try:
        names = [name.lower() for name in read_package(data, LIMITS, "Excel", "xlsx")]
    except PackageError as error:
        raise UnusableFileError(str(error), error.fix) from None
    notes = []
    if any(MACROS in name for name in names):
        notes.append("the workbook carries macros; they were not run")
    if any(LINKS in name for name in names):
        notes.append("the workbook links to other files; they were not opened")
    return notes


def _sheet(sheet: Any) -> dict[str, Any]:
    rows: list[list[str]] = []
    looks: list[list[Any]] = []
    total = blank = 0
    sheet.reset_dimensions()  # what a program noted of the sheet's size may be older than its rows
    for number, row in enumerate(sheet.iter_rows(max_col=MOST_COLUMNS + 1), start=1):
        cells = [_shown(one) for one in row]
        while cells and not cells[-1]:
            cells.pop()
        looks.append([_look(one) if text else None for one, text in zip(row, cells, strict=False)])
        if blank > MOST_BLANK:
            if cells:
                raise UnusableFileError(
                    f"row {number} stands below more than {MOST_BLANK} empty rows", "delete the empty rows"
                )
            continue
        _checked(len(rows) + 1, 0)
        _checked(0, len(cells))
        total += sum(len(one) for one in cells)
        if total > MOST_CHARACTERS_IN_ALL:
            raise UnusableFileError(
                f"more than {MOST_CHARACTERS_IN_ALL} characters", "send the product's sheet alone"
            )
        rows.append(cells)
        blank = 0 if cells else blank + 1
    return {"label": f"sheet {_cell(sheet.title)}", "rows": rows, "looks": looks[: len(rows)]}


def _look(cell: Any) -> list[Any] | None:
    """The size of a cell's letters [pt], whether they are bold, whether they are crossed out; None where not given."""
    font = getattr(cell, "font", None)
    return None if font is None else [float(font.sz or 0.0), bool(font.b), bool(font.strike)]


def _shown(cell: Any) -> str:
    """A cell as it is shown: a number of a percent format is a percentage."""
    value = cell.value
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case int() | float():
            if "%" in str(cell.number_format or ""):
                return f"{value * 100:.12g} %"
            return f"{value:.12g}"
        case datetime():
            return value.date().isoformat()
        case date():
            return value.isoformat()
        case _:
            return _cell(str(value))


def _cell(text: str) -> str:
    return " ".join("".join(c if c.isprintable() else " " for c in text[: LONGEST_CELL + 1]).split())


def _checked(rows: int, columns: int) -> None:
    if rows > MOST_ROWS:
        raise UnusableFileError(f"more than {MOST_ROWS} rows", "send the product's rows alone")
    if columns > MOST_COLUMNS:
        raise UnusableFileError(f"more than {MOST_COLUMNS} columns", "send the product's columns alone")
