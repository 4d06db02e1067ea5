"""What an office types into the register: results in its own words, dates that cannot be, and what shows at a glance."""

from __future__ import annotations

import io
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from specgen.files.withdrawn import REGISTER as STEM
from specgen.model.submission import Recommendation
from specgen.register.columns import COLUMNS, ID, REGISTER
from specgen.register.dates import WorkCalendar
from specgen.register.merge import Row
from specgen.register.results import RESULTS, result_of
from specgen.register.standing import Today
from specgen.work.register_run import read_copy
from tests.chain.runs import CONFORMING, Done, run

AT = {column.key: number for number, column in enumerate(COLUMNS, start=1)}
WEEK = WorkCalendar(("Mon", "Tue", "Wed", "Thu", "Fri"), (date(2026, 12, 25),))


def registered(folder: Path, day: str = "2026-12-01", *more: object) -> Done:
    schedule = folder / "schedule.yaml"
    schedule.write_text("start: 2027-03-01\n", encoding="utf-8")
    return run("register", CONFORMING, "-o", folder / "out", "--schedule", schedule, "--as-of", day, *more)


def book(folder: Path) -> Path:
    return folder / "out" / f"{STEM}.xlsx"


def typed(folder: Path, **cells: Any) -> tuple[str, int]:
    """Cells typed into the first row of the register, and the id and number of that row."""
    made = load_workbook(book(folder))
    tab = made[REGISTER]
    head = next(row[0].row for row in tab.iter_rows() if row[0].value == "State")
    for key, value in cells.items():
        tab.cell(head + 1, AT[key]).value = value
    made.save(book(folder))
    return str(tab.cell(head + 1, AT[ID]).value), head + 1


def typed_at(out: Path, row: Row, **cells: Any) -> None:
    """Cells typed into the row of a register that has the id of another reading of it."""
    path = out / f"{STEM}.xlsx"
    made = load_workbook(path)
    tab = made[REGISTER]
    number = next(one[0].row for one in tab.iter_rows() if one[AT[ID] - 1].value == row[ID])
    for key, value in cells.items():
        tab.cell(number, AT[key]).value = value
    made.save(path)


@pytest.mark.parametrize(
    ("words", "result"),
    [
        ("approved", "no exceptions taken"),
        ("Approved.", "no exceptions taken"),
        ("No Exceptions Taken", "no exceptions taken"),
        ("NO EXCEPTION TAKEN", "no exceptions taken"),
        ("NET", "no exceptions taken"),
        ("N.E.T.", "no exceptions taken"),
        ("Approved as noted", "make corrections noted"),
        ("Make Corrections Noted", "make corrections noted"),
        ("MCN", "make corrections noted"),
        ("Furnish as Corrected", "make corrections noted"),
        ("R&R", "revise and resubmit"),
        ("r & r", "revise and resubmit"),
        ("Revise & Resubmit", "revise and resubmit"),
        ("REVISE/RESUBMIT", "revise and resubmit"),
        ("Rejected", "rejected"),
        ("not approved", "rejected"),
        ("Disapproved", "rejected"),
        ("Not Required", "not required, returned unreviewed"),
        ("looks good", ""),
        ("approved?", ""),
        ("not yet approved", ""),
        ("OK", ""),
        ("reviewed", ""),
        ("A", ""),
        ("", ""),
    ],
)
def test_the_words_of_offices(words: str, result: str) -> None:
    assert result_of(words) == result


def test_a_result_in_the_words_of_the_office_moves_the_row(folder: Path) -> None:
    """`R&R` was kept as it stood and no next round was opened."""
    registered(folder)
    name, _ = typed(folder, received=date(2026, 11, 20), returned=date(2026, 11, 30), result="R&R")
    done = registered(folder)
    assert done.status == 0, done.out
    copy = read_copy(book(folder)).register
    row, (closed,) = copy.rows[name], copy.history
    assert closed["result"] == "revise and resubmit" and row["round"] == "2"
    assert row["state"] == "to be resubmitted" and row["waiting"] == row["trade"] and row["result"] is None


@pytest.mark.parametrize(
    ("result", "state"),
    [
        ("approved", "accepted"),
        ("Make corrections noted", "accepted as noted"),
        ("not required", "not required"),
    ],
)
def test_the_state_follows_the_result(folder: Path, result: str, state: str) -> None:
    """A row that was approved went on saying that it is asked for."""
    registered(folder)
    name, _ = typed(folder, received=date(2026, 11, 20), returned=date(2026, 11, 30), result=result)
    registered(folder)
    row = read_copy(book(folder)).register.rows[name]
    assert row["state"] == state and row["waiting"] is None and row["late"] is None


def test_a_result_that_nobody_understands_is_refused_with_the_list(folder: Path) -> None:
    registered(folder)
    name, number = typed(folder, result="looks good")
    done = registered(folder)
    assert done.status == 1
    assert f"{book(folder)}:{number}:{AT['result']}" in done.out and "`looks good` is no result" in done.out
    assert all(one in done.out for one in RESULTS)
    assert load_workbook(book(folder))[REGISTER].cell(number, AT["result"]).value == "looks good"
    assert read_copy(book(folder)).register.rows[name].get("result") is None


def test_a_return_before_the_receipt_is_told(folder: Path) -> None:
    registered(folder)
    _, number = typed(folder, received=date(2026, 11, 20), returned=date(2026, 11, 2), result="approved")
    done = registered(folder)
    assert done.status == 1 and f":{number}:{AT['returned']}" in done.out
    assert "returned on 2026-11-02, before it was received on 2026-11-20" in done.out


def test_who_is_waited_for_how_long_and_how_late(folder: Path) -> None:
    today = Today(date(2026, 12, 28), WEEK, 10)
    row = {"trade": "plasterer", "round": "1"}
    assert today.standing(row)["waiting"] == "plasterer"
    assert today.standing({**row, "submit": date(2026, 12, 21)})["late"] == 4  # 25 December is not worked
    assert today.standing({**row, "submit": date(2027, 1, 4)})["late"] is None
    inside = today.standing({**row, "received": date(2026, 12, 14)})
    assert (inside["state"], inside["waiting"], inside["days"], inside["late"]) == (
        "in review",
        "reviewer",
        9,
        None,
    )
    over = today.standing({**row, "received": date(2026, 12, 7)})
    assert (over["days"], over["late"]) == (14, 4)
    assert today.standing({**row, "received": date(2027, 1, 7)})["days"] == 0
    no_result = today.standing({**row, "received": date(2026, 12, 7), "returned": date(2026, 12, 9)})
    assert (no_result["state"], no_result["waiting"]) == ("returned without result", "reviewer")
    for one in Recommendation:
        ended = today.standing({**row, "returned": date(2026, 12, 9), "result": one.value})
        assert bool(ended["waiting"]) is one.again


def test_the_page_says_for_which_day_it_holds(folder: Path) -> None:
    registered(folder)
    typed(folder, received=date(2026, 11, 2))
    registered(folder, "2026-12-15")
    tab = load_workbook(book(folder))[REGISTER]
    above = [str(tab.cell(number, 1).value) for number in range(1, 4)]
    assert any("1 in review, 1 late on 2026-12-15" in line for line in above), above
    again = registered(folder, "2026-12-15")
    assert "state 2" in again.out, "nothing new is no new state"


def test_the_register_prints_on_a_page_that_can_be_read(folder: Path) -> None:
    registered(folder)
    tab = load_workbook(io.BytesIO(book(folder).read_bytes()))[REGISTER]
    head = next(row[0].row for row in tab.iter_rows() if row[0].value == "State")
    assert tab.page_setup.orientation == "landscape" and tab.page_setup.paperSize == 3
    assert tab.print_title_rows == f"${head}:${head}"
    assert tab.sheet_properties.pageSetUpPr.fitToPage and tab.page_setup.fitToWidth in (None, 1)
    assert tab.page_setup.fitToHeight == 0
    printed = [column for column in COLUMNS if column.printed]
    assert [column.key for column in COLUMNS if not column.printed] == [ID]
    # 16 in of paper between the margins, 7 points a character of 9 point type: the words come out above 6.5 points.
    assert 9 * 16 * 72 / (sum(column.width for column in printed) * 5.6) > 6.5


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path
