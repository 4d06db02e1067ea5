"""The state of the submittals on one page: what is in, out and late, and where the plasterer can start."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import docx
import pytest
from openpyxl import load_workbook

from specgen.assessment import Assessment
from specgen.files.withdrawn import REGISTER as STEM
from specgen.model.schedule import Schedule
from specgen.register.book import brought_up_to_date
from specgen.register.columns import REGISTER
from specgen.register.dates import WorkDates, work_dates
from specgen.register.entries import RegisterEntry, entries
from specgen.register.merge import Register
from specgen.register.package import package_page, starts
from specgen.register.standing import Today
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING, run
from tests.register.test_results_of_offices import AT

DAY = date(2026, 12, 1)


@pytest.fixture(scope="module")
def made() -> tuple[Assessment, WorkDates, tuple[RegisterEntry, ...]]:
    assessment = read_inputs(CONFORMING, None, False).assessed()
    dates = work_dates(assessment, Schedule(start=date(2027, 3, 1)))
    return assessment, dates, entries(specify(assessment), dates)


def register(
    made: tuple[Assessment, WorkDates, tuple[RegisterEntry, ...]], open_ones: tuple[str, ...]
) -> Register:
    """A register in which everything is accepted but the rows whose item begins with one of these words."""
    _, dates, due = made
    today = Today(DAY, dates.calendar, dates.review)
    rows = brought_up_to_date(Register(), due).rows
    accepted = {"returned": date(2026, 11, 30), "result": "no exceptions taken"}
    filled = {
        name: row if str(row["item"]).startswith(open_ones) else {**row, **accepted}
        for name, row in rows.items()
    }
    return brought_up_to_date(Register(filled), due, today)


def test_the_plasterer_starts_where_everything_before_is_accepted(made) -> None:
    assessment, dates, _ = made
    found = starts(register(made, ("no such item",)), assessment, dates)
    assert [one.parapet for one in found] == ["P-1", "P-2", "P-3"] and all(one.ready for one in found)


@pytest.mark.parametrize(
    ("item", "blocks"),
    [
        ("Product data for barrier", True),
        ("Compatibility letter of the barrier", True),
        ("Product data for plaster", True),
        ("Product data for coping", False),  # set after the plaster
        ("Substitution requests", False),  # nobody has asked for a change
        ("Field test reports", False),  # nobody accepts a report before the work
    ],
)
def test_what_comes_before_lath_and_plaster_stands_in_the_way(made, item: str, blocks: bool) -> None:
    assessment, dates, _ = made
    found = starts(register(made, (item,)), assessment, dates)
    assert {one.ready for one in found} == {not blocks}
    if blocks:
        assert all(str(row["item"]).startswith(item) for one in found for row in one.waits_for)


def test_a_substitution_request_is_due_on_no_day_and_counts_once_it_came_in(made) -> None:
    assessment, dates, due = made
    today = Today(date(2027, 12, 1), dates.calendar, dates.review)
    open_one = register(made, ("Substitution requests",))
    (name,) = [key for key, row in open_one.rows.items() if row["item"] == "Substitution requests"]
    late = brought_up_to_date(open_one, due, today).rows[name]
    assert late["submit"] is None and late["late"] is None
    came = {**open_one.rows, name: {**open_one.rows[name], "received": date(2026, 11, 30)}}
    found = starts(brought_up_to_date(Register(came), due, today), assessment, dates)
    assert all([row["item"] for row in one.waits_for] == ["Substitution requests"] for one in found)


def test_a_submittal_for_one_wall_holds_up_that_wall_alone(made) -> None:
    assessment, dates, _ = made
    other = register(made, ("Product data for barrier",))
    (name,) = [
        key for key, row in other.rows.items() if str(row["item"]).startswith("Product data for barrier")
    ]
    rows = {**other.rows, name: {**other.rows[name], "where": "P-2 and P-3"}}
    found = {one.parapet: one.ready for one in starts(Register(rows), assessment, dates)}
    assert found == {"P-1": True, "P-2": False, "P-3": False}


def test_the_page_counts_and_names_whom_it_waits_for(made) -> None:
    assessment, dates, _ = made
    page = package_page(register(made, ("Product data for barrier",)), assessment, dates, DAY)
    counts, walls, blocks = [block for block in page.blocks if hasattr(block, "rows")][:3]
    assert counts.rows[0][2] == "1"
    assert {row[1] for row in walls.rows} == {"not yet"}
    item = "07 27 00 Product data for barrier, primers, and accessories"
    assert blocks.rows == (("air barrier installer", "1", item),)


def test_the_command_writes_the_page_for_the_day(tmp_path: Path) -> None:
    schedule = tmp_path / "schedule.yaml"
    schedule.write_text("start: 2027-03-01\n", encoding="utf-8")
    words = ("register", CONFORMING, "-o", tmp_path / "out", "--schedule", schedule, "--as-of")
    assert run(*words, "2026-12-01").status == 0
    assert not (tmp_path / "out" / "state-of-submittals.docx").exists()
    path = tmp_path / "out" / f"{STEM}.xlsx"
    book = load_workbook(path)
    tab = book[REGISTER]
    head = next(row[0].row for row in tab.iter_rows() if row[0].value == "State")
    tab.cell(head + 1, AT["received"]).value = date(2026, 11, 9)
    book.save(path)
    assert run(*words, "2026-12-01", "--page").status == 0
    document = docx.Document(str(tmp_path / "out" / "state-of-submittals.docx"))
    assert "As the register stands on 2026-12-01." in "\n".join(para.text for para in document.paragraphs)
    late = [cell.text for cell in document.tables[1].rows[1].cells]
    assert late[2:] == ["in review", "reviewer", "6 days"]
