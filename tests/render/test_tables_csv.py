"""CSV that every reader takes apart in the same way, and that no spreadsheet runs."""

from __future__ import annotations

import csv
import io

import pytest

from specgen.model.tables import DataTable, FilledTable, TableColumn
from specgen.render.tables_csv import csv_bytes, csv_cell

TABLE = DataTable(
    "walls",
    "A wall",
    ("name",),
    (TableColumn("name", "text", "Its name"), TableColumn("height", "number", "Its height", "m", empty=True)),
)


def test_the_file_has_a_mark_crlf_and_quotes_where_they_are_needed() -> None:
    data = csv_bytes(FilledTable(TABLE, (("a, b", 1.5), ('say "no"', None), ("two\nlines", -2.0))))
    assert data == (b'\xef\xbb\xbfname,height\r\n"a, b",1.5\r\n"say ""no""",\r\n"two\nlines",-2.0\r\n')
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    assert rows == [["name", "height"], ["a, b", "1.5"], ['say "no"', ""], ["two\nlines", "-2.0"]]


@pytest.mark.parametrize(
    "words",
    ["=1+1", "+1", "-1+2", "@SUM(A1)", " =1", "\t=1", "\r=1", "\n=1", "＝1", "＋1", "－1", "＠x", "\u00a0=1"],
)
def test_words_that_a_spreadsheet_would_run_begin_with_an_apostrophe(words: str) -> None:
    assert csv_cell(words) == f"'{words}"


@pytest.mark.parametrize("words", ["P-1", "1/2 in", "07 27 00", "°F", "'quoted", "a=b", ""])
def test_other_words_stay(words: str) -> None:
    assert csv_cell(words) == words


def test_numbers_are_numbers_and_signs_that_no_file_can_show_are_left_out() -> None:
    assert (csv_cell(-20.5), csv_cell(0), csv_cell(False), csv_cell("a\x00b\x1bc")) == (-20.5, 0, 0, "abc")
    assert csv_cell("\x00=1") == "'=1"
