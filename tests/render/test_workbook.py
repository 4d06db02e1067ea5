"""Workbooks, read back with openpyxl and held against the Open XML SDK's validator."""

from __future__ import annotations

import io
import re
import zipfile
from datetime import date

import pytest
from openpyxl import load_workbook

from specgen.model.document import Properties
from specgen.model.sheet import Column, SheetRow, Workbook, WorkbookSheet
from specgen.render.workbook import LONGEST_CELL, workbook_bytes

PROPERTIES = Properties("List", "Words & more", "2601 <Example> Clinic", "2026-11-02", "Draft")
HOSTILE = (
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "=cmd|' /C calc'!A0",
    "http://example.org",
    "\t=1",
    "0012",
    "1/2",
    "a\x07b",
)


def book(rows: tuple[SheetRow, ...], *columns: Column, name: str = "One") -> Workbook:
    made = columns or (
        Column("id", "Row", 10),
        Column("day", "Day", 11, "date", filled=True),
        Column("result", "Result", 12, filled=True, choices=("meets", "fails")),
        Column("count", "No.", 5, "count"),
    )
    return Workbook(PROPERTIES, (WorkbookSheet(name, ("A list", "of rows"), made, rows),))


def read(data: bytes):  # type: ignore[no-untyped-def]
    return load_workbook(io.BytesIO(data)).worksheets[0]


def test_words_never_become_formulas_numbers_or_links() -> None:
    tab = read(workbook_bytes(book(tuple(SheetRow({"id": words}) for words in HOSTILE))))
    cells = [tab.cell(row, 1) for row in range(5, 5 + len(HOSTILE))]
    assert [cell.value for cell in cells] == [words.replace("\x07", "") for words in HOSTILE]
    assert {cell.data_type for cell in cells} == {"s"}
    assert all(cell.hyperlink is None for cell in cells)


def test_no_formula_stands_in_the_file() -> None:
    data = workbook_bytes(book(tuple(SheetRow({"id": words}) for words in HOSTILE)))
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        parts = {name: package.read(name).decode() for name in package.namelist()}
    assert not [name for name, text in parts.items() if re.search(r"<f[ >]", text)]
    assert not [name for name in parts if "externalLink" in name or "vba" in name]


def test_dates_counts_and_blanks_keep_their_type() -> None:
    tab = read(
        workbook_bytes(book((SheetRow({"id": "a", "day": date(2026, 3, 1), "count": 7}), SheetRow({}))))
    )
    assert tab["A5"].value == "a" and tab["B5"].value.date() == date(2026, 3, 1)
    assert tab["D5"].value == 7 and tab["B5"].number_format == "yyyy-mm-dd"
    assert [tab.cell(6, column).value for column in range(1, 5)] == [None] * 4


def test_header_is_frozen_filtered_and_printed_on_each_page() -> None:
    tab = read(workbook_bytes(book((SheetRow({"id": "a"}), SheetRow({"id": "b"})))))
    assert tab.freeze_panes == "C5"
    assert tab.auto_filter.ref == "A4:D6"
    assert tab.print_title_rows == "$4:$4"
    assert tab.page_setup.orientation == "landscape" and tab.sheet_properties.pageSetUpPr.fitToPage
    assert tab.oddHeader.left.text == "&82601 <Example> Clinic" or "Example" in tab.oddHeader.left.text
    assert not tab.protection.sheet


def test_choices_of_a_row_replace_those_of_its_column() -> None:
    tab = read(
        workbook_bytes(book((SheetRow({"id": "a"}), SheetRow({"id": "b"}, {"result": ("yes", "no")}))))
    )
    lists = {str(rule.sqref): rule.formula1 for rule in tab.data_validations.dataValidation}
    assert lists == {"C5": '"meets,fails"', "C6": '"yes,no"'}


def test_the_same_rows_give_the_same_bytes() -> None:
    rows = (SheetRow({"id": "a", "day": date(2026, 3, 1)}),)
    assert workbook_bytes(book(rows)) == workbook_bytes(book(rows))


def test_a_long_text_is_cut_and_a_long_tab_refused() -> None:
    tab = read(workbook_bytes(book((SheetRow({"id": "x" * 40_000}),))))
    assert len(tab["A5"].value) == LONGEST_CELL
    with pytest.raises(ValueError, match="longer than 31"):
        workbook_bytes(book((), name="x" * 32))


def test_a_list_of_choices_that_no_file_holds_is_refused() -> None:
    with pytest.raises(ValueError, match="choices"):
        workbook_bytes(book((SheetRow({}),), Column("a", "A", 5, choices=("x" * 300,))))
