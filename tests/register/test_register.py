"""The register: dates counted back, edits kept, rounds, copies merged three ways, workbooks of other people."""

from __future__ import annotations

import io
import json
import os
import random
import re
import shutil
import subprocess
import zipfile
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from specgen.files.marks import InputProblem
from specgen.files.withdrawn import REGISTER as STEM
from specgen.model.schedule import Schedule
from specgen.register.book import BY_HAND, GONE
from specgen.register.columns import ASKED, COLUMNS, FILLED, ID, REGISTER
from specgen.register.dates import WorkCalendar, work_dates
from specgen.register.merge import BETWEEN, Register, Row, Rows, merge
from specgen.register.states import STATES, numbers, state
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from specgen.work.register_run import read_copy
from tests.chain.runs import CONFORMING, Done, contents, copied, run

LONG = os.environ.get("SPECGEN_LONG") == "1"
SCHEDULE = "start: 2027-03-01\nholidays: [2026-12-25, 2027-01-01]\nlead_times: {coping: 40}\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "schedule.yaml").write_text(SCHEDULE, encoding="utf-8")
    return tmp_path


def registered(folder: Path, *more: object, project: Path = CONFORMING) -> Done:
    return run("register", project, "-o", folder / "out", "--schedule", folder / "schedule.yaml", *more)


def book(folder: Path) -> Path:
    return folder / "out" / f"{STEM}.xlsx"


def read_book(path: Path) -> tuple[Rows, tuple[Row, ...], tuple[InputProblem, ...]]:
    copy = read_copy(path)
    return copy.register.rows, copy.register.history, copy.problems


def edit(path: Path, changes: dict[tuple[int, str], Any], save_as: Path | None = None) -> None:
    """What a person does in a spreadsheet program: fill cells of rows counted from the first."""
    made = load_workbook(path)
    tab = made[REGISTER]
    keys = [column.key for column in COLUMNS]
    head = next(row for row in range(1, 12) if tab.cell(row, len(keys)).value == COLUMNS[-1].title)
    for (row, key), value in changes.items():
        tab.cell(head + 1 + row, keys.index(key) + 1).value = value
    made.save(save_as or path)


# dates: numpy.busday_offset counts them; the checks below are by hand from a calendar of 2026 and 2027


def test_working_days_by_hand() -> None:
    """2026-12-24 is a Thursday; Christmas Day is free, then a week-end."""
    calendar = WorkCalendar(("Mon", "Tue", "Wed", "Thu", "Fri"), (date(2026, 12, 25),))
    assert calendar.later(date(2026, 12, 24), 1) == date(2026, 12, 28)
    assert calendar.earlier(date(2026, 12, 28), 1) == date(2026, 12, 24)
    assert calendar.later(date(2026, 12, 26), 0) == date(2026, 12, 28)
    assert calendar.earlier(date(2026, 12, 26), 0) == date(2026, 12, 24)
    assert WorkCalendar(("Mon", "Tue", "Wed", "Thu", "Fri", "Sat"), ()).later(date(2026, 12, 25), 1) == date(
        2026, 12, 26
    )


def counted_back(day: date, days: int, free: set[date]) -> date:
    """A second way: one day at a time."""
    while day.weekday() > 4 or day in free:
        day -= timedelta(days=1)
    for _ in range(days):
        day -= timedelta(days=1)
        while day.weekday() > 4 or day in free:
            day -= timedelta(days=1)
    return day


@given(
    st.dates(date(2026, 1, 1), date(2030, 1, 1)),
    st.integers(0, 120),
    st.sets(st.dates(date(2026, 1, 1), date(2030, 1, 1)), max_size=12),
)
@settings(max_examples=60, deadline=None)
def test_counting_back_agrees_with_counting_one_day_at_a_time(day: date, days: int, free: set[date]) -> None:
    calendar = WorkCalendar(("Mon", "Tue", "Wed", "Thu", "Fri"), tuple(free))
    assert calendar.earlier(day, days) == counted_back(day, days, free)


def test_dates_follow_the_order_of_work() -> None:
    inputs = read_inputs(CONFORMING, None, False)
    stated = Schedule(start=date(2027, 3, 1), lead_times={"coping": 40})
    dates = work_dates(inputs.assessed(), stated)
    assert dates.begins["framing"] == date(2027, 3, 1)
    assert dates.begins["sheathing"] == date(2027, 3, 8)  # one step of five working days later
    assert dates.begins["barrier"] < dates.begins["plaster"] < dates.begins["coping"]
    due = dates.due(["coping", "cleat"])
    assert due.needed == counted_back(dates.begins["coping"], 40, set())
    assert due.submit == counted_back(due.needed, dates.review + dates.resubmission, set())
    assert dates.due([]).step == "framing"
    closeout = dates.due(["coping"], closeout=True)
    assert closeout.submit is not None and dates.end is not None and closeout.submit > dates.end


def test_without_a_start_no_date_is_made_up(tmp_path: Path) -> None:
    done = run("register", CONFORMING, "-o", tmp_path / "out", "--format", "json")
    assert done.status == 0
    rows, _, _ = read_book(tmp_path / "out" / f"{STEM}.xlsx")
    assert rows and all(row["submit"] is None and row["needed"] is None for row in rows.values())


def test_a_start_that_is_too_near_is_told_in_words_and_as_data(folder: Path) -> None:
    (folder / "schedule.yaml").write_text(
        "start: 2026-11-16\n", encoding="utf-8"
    )  # two weeks after the issue
    words, data = registered(folder), json.loads(registered(folder, "--format", "json").out)
    late = data["due_before_issue"]
    assert late and set(late) <= {row["id"] for row in data["rows"]}
    assert f"{len(late)} submittals are due before the issue date" in words.out


def test_every_submittal_of_the_sections_is_a_row(folder: Path) -> None:
    assert registered(folder).status == 0
    rows, _, problems = read_book(book(folder))
    sections = specify(read_inputs(CONFORMING, None, False).assessed()).sections
    wanted = {f"{d.paragraph.section} {d.paragraph.key}" for section in sections for d in section.submittals}
    assert set(rows) == wanted and not problems
    days = [row["submit"] for row in rows.values()]
    assert days == sorted(days, key=str)
    assert {row["round"] for row in rows.values()} == {"1"}


# what people fill in


def test_edits_stay_and_a_second_run_changes_nothing(folder: Path) -> None:
    registered(folder)
    edit(
        book(folder),
        {(0, "result"): "no exceptions taken", (0, "returned"): date(2027, 1, 4), (1, "remarks"): "=call"},
    )
    edit(book(folder), {(1, "remarks"): "call the roofer"})
    assert registered(folder).status == 0
    first = book(folder).read_bytes()
    rows, _, _ = read_book(book(folder))
    rows_read = list(rows.values())
    assert (rows_read[0]["result"], rows_read[0]["returned"]) == ("no exceptions taken", date(2027, 1, 4))
    assert rows_read[1]["remarks"] == "call the roofer"
    registered(folder)
    assert book(folder).read_bytes() == first


def test_the_workbook_as_it_was_is_kept(folder: Path) -> None:
    registered(folder)
    edit(book(folder), {(0, "remarks"): "mine"})
    mine = book(folder).read_bytes()
    registered(folder)
    assert (folder / "out" / STATES / "0002-as-saved.xlsx").read_bytes() == mine


def test_a_returned_round_is_closed_and_the_next_one_opened(folder: Path) -> None:
    registered(folder)
    edit(
        book(folder),
        {
            (0, "submittal"): "07 27 00-01",
            (0, "returned"): date(2027, 1, 4),
            (0, "result"): "revise and resubmit",
            (0, "remarks"): "laps",
        },
    )
    registered(folder)
    rows, history, _ = read_book(book(folder))
    row = next(iter(rows.values()))
    assert (row["round"], row["result"], row["returned"], row["remarks"]) == ("2", None, None, "laps")
    assert [(one["round"], one["result"], one["submittal"]) for one in history] == [
        ("1", "revise and resubmit", "07 27 00-01")
    ]
    edit(book(folder), {(0, "returned"): date(2027, 2, 4), (0, "result"): "rejected"})
    registered(folder)
    rows, history, _ = read_book(book(folder))
    assert next(iter(rows.values()))["round"] == "3" and len(history) == 2
    registered(folder)
    assert len(read_book(book(folder))[1]) == 2  # told once


def test_a_deleted_row_comes_back_and_a_row_of_their_own_stays(folder: Path) -> None:
    registered(folder)
    made = load_workbook(book(folder))
    tab = made[REGISTER]
    count = tab.max_row
    gone = tab.cell(count, len(COLUMNS)).value
    tab.delete_rows(count)
    own = {"section": "09 24 00", "item": "Color chart", "type": "action"}
    tab.append([own.get(column.key) for column in COLUMNS])
    made.save(book(folder))
    registered(folder)
    rows, _, _ = read_book(book(folder))
    assert rows[gone]["state"] == ASKED
    own = [row for row in rows.values() if row["state"] == BY_HAND]
    assert [row["item"] for row in own] == ["Color chart"]
    registered(folder)
    assert sum(row["state"] == BY_HAND for row in read_book(book(folder))[0].values()) == 1


def test_what_the_specification_no_longer_asks_for_stays_and_says_so(folder: Path) -> None:
    registered(folder)
    count = len(read_book(book(folder))[0])
    other = CONFORMING.parent / "plaster-covered-top"
    later = copied(
        other, folder / "later", ('number: "2623"', 'number: "2601"')
    )  # another wall, the same project
    done = registered(folder, project=later)
    rows, _, _ = read_book(book(folder))
    states = [row["state"] for row in rows.values()]
    assert GONE in states and len(rows) >= count
    assert "no longer asked for, kept" in done.out


# copies


def test_two_copies_merge_and_conflicts_are_listed(folder: Path) -> None:
    registered(folder)
    theirs = folder / "theirs.xlsx"
    shutil.copy(book(folder), theirs)
    edit(book(folder), {(0, "by"): "first", (1, "by"): "first", (2, "remarks"): "mine"})
    edit(theirs, {(0, "by"): "second", (2, "remarks"): "theirs", (3, "received"): date(2027, 1, 5)})
    done = registered(folder, "--merge", theirs)
    assert done.status == 1 and "conflict: " in done.out and "second" in done.out
    rows_read = list(read_book(book(folder))[0].values())
    assert (rows_read[0]["by"], rows_read[1]["by"]) == ("first", "first")
    assert rows_read[2]["remarks"] == f"mine{BETWEEN}theirs"
    assert rows_read[3]["received"] == date(2027, 1, 5)
    assert "Conflicts" in load_workbook(book(folder)).sheetnames


texts = st.none() | st.sampled_from(["a", "b", "c"])
registers = st.dictionaries(
    st.sampled_from("pqrs"), st.fixed_dictionaries({"by": texts, "remarks": texts}), max_size=4
).map(lambda rows: Register({name: {**row, ID: name} for name, row in rows.items()}))


@given(registers, registers, registers)
@settings(max_examples=200, deadline=None)
def test_a_merge_loses_nothing(base: Register, mine: Register, theirs: Register) -> None:
    merged = merge(base, mine, theirs)
    assert set(merged.rows) == {*base.rows, *mine.rows, *theirs.rows}
    listed = {(one.row, one.column, one.other) for one in merged.conflicts}
    titles = {"by": "Reviewed by", "remarks": "Remarks"}
    for name, row in merged.rows.items():
        for column, title in titles.items():
            was = base.rows.get(name, {}).get(column)
            for copy in (mine, theirs):
                value = copy.rows.get(name, {}).get(column, was)
                if value not in (None, was):  # somebody wrote it
                    assert value in str(row[column]).split(BETWEEN) or (name, title, value) in listed


@given(registers, registers)
@settings(max_examples=100, deadline=None)
def test_merging_with_an_unchanged_copy_is_the_other_copy(base: Register, mine: Register) -> None:
    for one, other in ((mine, base), (base, mine)):
        merged = merge(base, one, other)
        assert merged.conflicts == ()
        for name, row in mine.rows.items():
            assert {key: merged.rows[name][key] for key in row} == row
    assert merge(base, mine, mine).conflicts == ()


# round trips: 300 edits by a simulated person (30 here), through openpyxl and through LibreOffice


def random_edits(chance: random.Random, rows: int, count: int) -> dict[tuple[int, str], Any]:
    values = {
        "result": ["no exceptions taken", "make corrections noted"],
        "by": ["A. B.", "ü ß 漢", "=1", "' quote"],
        "remarks": ["see letter", "1/2", "0012", "line\nbreak", "-3", "@x", "9/4/2027"],
        "submittal": ["07 27 00-01", "12", "R-1"],
    }
    out: dict[tuple[int, str], Any] = {}
    for _ in range(count):
        key = chance.choice([*values, "received", "agreed"])
        day = date(2027, 1, 1) + timedelta(days=chance.randrange(300))
        out[chance.randrange(rows), key] = (
            day if key in ("received", "agreed") else chance.choice(values[key])
        )
    return {place: value for place, value in out.items() if value != "=1"}


def test_edits_through_openpyxl(folder: Path) -> None:
    registered(folder)
    names = list(read_book(book(folder))[0])
    edits = random_edits(random.Random(20261125), len(names), 300 if LONG else 60)
    edit(book(folder), edits)
    assert registered(folder).status == 0
    rows, _, problems = read_book(book(folder))
    assert not problems and list(rows) == names
    for (row, key), value in edits.items():
        assert rows[names[row]][key] == value, (names[row], key)


def test_edits_through_libreoffice(folder: Path) -> None:
    """xlsx to ods and back: what a person edits in LibreOffice and saves again."""
    office = shutil.which("soffice")
    if office is None:
        pytest.skip("round trip not run: LibreOffice is not installed")
    registered(folder)
    names = list(read_book(book(folder))[0])
    edits = random_edits(random.Random(7), len(names), 300 if LONG else 40)
    edit(book(folder), edits)
    profile = f"-env:UserInstallation=file://{folder / 'profile'}"
    for source, kind in ((book(folder), "ods"), (folder / "lo" / f"{STEM}.ods", "xlsx")):
        target = folder / "lo"
        command = [office, "--headless", profile, "--convert-to", kind, "--outdir", str(target), str(source)]
        subprocess.run(command, check=True, capture_output=True, timeout=180)
    shutil.copy(folder / "lo" / f"{STEM}.xlsx", book(folder))
    assert registered(folder).status == 0
    rows, _, problems = read_book(book(folder))
    assert not problems and list(rows) == names
    for (row, key), value in edits.items():
        assert rows[names[row]][key] == value, (names[row], key)


# workbooks of other people


def test_a_formula_is_not_read_and_the_cell_keeps_what_it_had(folder: Path) -> None:
    registered(folder)
    edit(book(folder), {(0, "by"): "me"})
    registered(folder)
    edit(book(folder), {(0, "by"): '=HYPERLINK("http://example.org")', (1, "received"): "soon"})
    done = registered(folder)
    assert done.status == 1
    assert "it holds a formula, which is not read" in done.out and "`soon` is no date" in done.out
    rows = list(state(folder / "out", numbers(folder / "out")[-1]).register.rows.values())
    assert (rows[0]["by"], rows[1]["received"]) == ("me", None)
    tab, keys = load_workbook(book(folder))[REGISTER], [column.key for column in COLUMNS]
    words = [
        str(cell.value) for row in tab.iter_rows() for cell in row if cell.column == keys.index("by") + 1
    ]
    assert '=HYPERLINK("http://example.org")' in words  # what a person typed stays in its cell


def bomb() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr("[Content_Types].xml", "<Types/>")
        package.writestr("xl/worksheets/sheet1.xml", b"0" * 210_000_000)
    return out.getvalue()


def with_part(name: str, content: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as package:
        package.writestr("[Content_Types].xml", "<Types/>")
        package.writestr(name, content)
    return out.getvalue()


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (b"", "not an Excel file"),
        (b"PK\x03\x04 torn", "not an Excel file"),
        (b"item,result\n=1,2\n", "not an Excel file"),
        (with_part("xl/vbaProject.bin", b"x"), "holds macros"),
        (
            with_part("xl/a.xml", b'<!DOCTYPE a [<!ENTITY b "c">]><a/>'),
            "declares a document type or entities",
        ),
        (with_part("xl/a.txt", b"x"), "cannot be opened"),
    ],
    ids=["empty", "torn", "csv", "macro", "entities", "no workbook"],
)
def test_a_strange_file_is_refused_and_nothing_is_written(folder: Path, data: bytes, expected: str) -> None:
    registered(folder)
    before = contents(folder / "out")
    strange = folder / "strange.xlsx"
    strange.write_bytes(data)
    done = registered(folder, "--merge", strange)
    assert done.status == 2 and expected in done.err and f"{strange}:" in done.err
    assert contents(folder / "out") == before


def test_a_bomb_is_refused_before_it_is_unpacked(folder: Path) -> None:
    registered(folder)
    (folder / "bomb.xlsx").write_bytes(bomb())
    done = registered(folder, "--merge", folder / "bomb.xlsx")
    assert done.status == 2 and "unpacks to" in done.err


def repacked(path: Path, old: bytes, new: bytes) -> None:
    """The workbook with something changed in its register's sheet, as a program may write it."""
    with zipfile.ZipFile(path) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    sheet = next(
        name for name, content in parts.items() if b"Submittal Register" in content and "sheet1" in name
    )
    assert old in parts[sheet]
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
        for name, content in parts.items():
            package.writestr(name, content.replace(old, new, 1) if name == sheet else content)


def test_rows_below_the_noted_size_of_a_sheet_are_read(folder: Path) -> None:
    """Some programs write a size of the sheet that is older than its rows."""
    registered(folder)
    theirs = folder / "theirs.xlsx"
    edit(book(folder), {(0, "remarks"): "first", (30, "remarks"): "far down"}, save_as=theirs)
    with zipfile.ZipFile(theirs) as package:
        whole = re.search(rb'<dimension ref="[^"]+"', package.read("xl/worksheets/sheet1.xml"))
    assert whole
    repacked(theirs, whole[0], b'<dimension ref="A1:H20"')
    done = registered(folder, "--merge", theirs)
    rows = read_book(book(folder))[0]
    remarks = [one["remarks"] for one in rows.values() if one["remarks"]]
    assert done.status == 0 and remarks == ["first", "far down"]


FAR = b'<row r="1048576"><c r="%b1048576" t="inlineStr"><is><t>note</t></is></c></row></sheetData>'


@pytest.mark.parametrize(("column", "status"), [(b"A", 2), (b"XFD", 2)])
def test_a_note_at_the_end_of_the_sheet_takes_no_minutes(folder: Path, column: bytes, status: int) -> None:
    registered(folder)
    repacked(book(folder), b"</sheetData>", FAR % column)
    before = contents(folder / "out")
    done = registered(folder)
    assert done.status == status and "more than 50000 rows" in done.err
    assert contents(folder / "out") == before


def test_a_note_below_the_table_stays_and_new_rows_stand_above_it(folder: Path) -> None:
    registered(folder)
    made = load_workbook(book(folder))
    tab, last = made[REGISTER], made[REGISTER].max_row
    tab.delete_rows(last)
    tab.cell(30_000, len(COLUMNS) + 40).value = "note"
    made.save(book(folder))
    assert registered(folder).status == 0
    tab = load_workbook(book(folder))[REGISTER]
    assert tab.cell(30_000, len(COLUMNS) + 40).value == "note"
    assert tab.cell(last, 1).value == "asked for" and tab.cell(last + 1, 1).value is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("start: soon\n", "is no date"),
        ("strat: 2027-03-01\n", "strat"),
        ("work_week: [Mon, Tur]\n", "no day `Tur`"),
        ("holidays: [x]\n", "is no date"),
        ("durations: {copping: 3}\n", "did you mean `coping`?"),
        ("durations: {coping: 0}\n", "no number of working days"),
        ("review: -1\n", "no number of working days"),
        ("lead_times: [1]\n", "no times by role"),
        ("- a\n", "not a schedule"),
        ("meant: {review: because}\n", "`meant` names `review`, which is not stated here"),
        ("meant: {review: 7}\n", "a reason is wanted"),
    ],
)
def test_a_wrong_schedule_is_told_with_its_line(folder: Path, text: str, expected: str) -> None:
    (folder / "schedule.yaml").write_text(text, encoding="utf-8")
    done = registered(folder)
    assert done.status == 2 and expected in done.err and "schedule.yaml:1:" in done.err
    assert not (folder / "out").exists()


def test_a_record_of_something_else_is_told(folder: Path) -> None:
    registered(folder)
    (folder / "out" / STATES / "0001.json").write_text("[1]", encoding="utf-8")
    before = contents(folder)
    done = registered(folder)
    assert done.status == 2 and "not the record of a register" in done.err
    assert contents(folder) == before


def test_the_columns_people_fill_are_those_that_stay() -> None:
    assert {"agreed", "result", "remarks", "round"} <= set(FILLED) and ID not in FILLED


@pytest.mark.parametrize(
    ("stated", "name", "expected"),
    [
        ("lead_times: {coping: 400}", "lead_times.coping", "expected: at most 130 days"),
        ("durations: {plaster: 150}", "durations.plaster", "expected: 3 days to 90 days"),
        ("durations: {coping: 90}", "durations.coping", "expected: 1 day to 60 days"),
        ("review: 100", "review", "expected: 1 day to 30 days"),
    ],
)
def test_a_time_that_is_not_expected_is_asked_about_until_it_is_meant(
    folder: Path, stated: str, name: str, expected: str
) -> None:
    def due(text: str) -> tuple[Done, list[Any]]:
        (folder / "schedule.yaml").write_text(f"format: 2\nstart: 2027-03-01\n{text}\n", encoding="utf-8")
        done = registered(folder)
        return done, [row["submit"] for row in read_book(book(folder))[0].values()]

    _, usual = due("")
    done, dates = due(stated)
    asked = [line for line in done.out.splitlines() if "is this meant?" in line]
    assert done.status == 3 and len(asked) == 1 and f"`{name}` is " in asked[0] and expected in asked[0]
    assert "schedule.yaml:3:" in asked[0] and dates == usual, "the usual time counts"
    done, dates = due(f'{stated}\nmeant: {{{name}: "agreed in May"}}')
    assert done.status == 0 and "is this meant?" not in done.out and dates != usual


def test_a_part_of_its_own_name_is_named_once_in_the_schedule(folder: Path) -> None:
    registered(folder)
    shown = [row[0].value for row in load_workbook(book(folder))["Schedule"].iter_rows()]
    assert "barrier" in shown and "barrier (barrier)" not in shown
