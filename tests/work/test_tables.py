"""The tables of a project hold what its papers print, under names that stay."""

from __future__ import annotations

import csv
import io
import json
import re
import sqlite3
from collections.abc import Mapping
from contextlib import closing
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest

from specgen.files.marks import InputError
from specgen.model.tables import FilledTable
from specgen.render.outputs import CHECKLIST, TRACE, Papers
from specgen.render.tables_csv import csv_bytes
from specgen.render.tables_sqlite import TYPES, documented, sqlite_bytes
from specgen.specification import specify
from specgen.units.show import show_on_sheet
from specgen.work.inputs import read_inputs
from specgen.work.register_run import Sources
from specgen.work.registering import keep_register, wanted
from specgen.work.table_audit import AUDIT_TABLES, audit_tables
from specgen.work.table_facts import project_facts
from specgen.work.table_list import FORMAT, TABLES
from specgen.work.tables import project_tables
from tests.chain.runs import CONFORMING, FAULTY, REPO, copied, run
from tests.conftest import LONG
from tests.docs.tables_page import DAY, PAGE, QUERIES, answered, database, facts, gone, kept_at, lines, text

EVERY = sorted(one.parent for one in (REPO / "projects").glob("*/project.yaml"))
# Words of SQL that would have to be quoted in a query.
KEYWORDS = {
    "where",
    "order",
    "group",
    "index",
    "check",
    "values",
    "from",
    "to",
    "by",
    "table",
    "limit",
    "column",
}


def made() -> Mapping[str, FilledTable]:
    return {one.table.name: one for one in project_tables(facts())}


def records(filled: FilledTable) -> list[dict[str, Any]]:
    return [dict(zip(filled.table.names, row, strict=True)) for row in filled.rows]


def of_workbook(data: bytes, head: str) -> list[dict[str, Any]]:
    """The rows of the first sheet by the titles of its columns, as another program reads them."""
    import openpyxl

    rows = list(openpyxl.load_workbook(io.BytesIO(data)).worksheets[0].iter_rows(values_only=True))
    top = next(number for number, row in enumerate(rows) if head in row)
    names = [str(one) for one in rows[top]]
    return [dict(zip(names, row, strict=True)) for row in rows[top + 1 :]]


def test_names_are_words_that_need_no_quotes_and_stand_once() -> None:
    for tables in (TABLES, AUDIT_TABLES):
        every = [one.table for one in documented((), {})] + list(tables)
        assert len({one.name for one in every}) == len(every)
        known = {f"{one.name}.{column}" for one in every for column in one.names}
        for table in every:
            assert len(set(table.names)) == len(table.names)
            assert set(table.key) <= set(table.names)
            for column in table.columns:
                assert re.fullmatch(r"[a-z][a-z_]*", column.name) and column.name not in KEYWORDS
                assert (column.meaning and not column.of) or column.of in known


def test_the_columns_of_this_format_stand_as_they_were_kept() -> None:
    assert not gone(FORMAT)
    assert kept_at(FORMAT).read_text("utf-8").splitlines() == list(lines()), "run `make docs`"
    changes = [REPO / "CHANGELOG.md", *(REPO / "changes").glob("*.md")]
    assert any(f"tables, format {FORMAT}" in path.read_text("utf-8") for path in changes)


def test_the_page_is_fresh_and_every_query_answers() -> None:
    assert PAGE.read_text("utf-8") == text(), "run `make docs`"
    for query in QUERIES:
        _, rows = answered(query)
        assert rows, query.question


def test_the_checklist_is_that_of_the_workbook() -> None:
    book = of_workbook(Papers(facts().spec).content(f"{CHECKLIST}.xlsx"), "Row id")
    pairs = {
        "No.": "position",
        "Section": "section",
        "Paragraph": "paragraph",
        "Item": "item",
        "Type": "type",
        "Required": "required",
        "Test method": "method",
        "Evidence wanted": "evidence",
        "Trade": "trade",
        "Where": "where_text",
        "Row id": "row_id",
    }
    printed = [{name: row[title] or "" for title, name in pairs.items()} for row in book]
    assert printed == [{name: one[name] for name in pairs.values()} for one in records(made()["checklist"])]


def test_requirements_are_those_of_the_trace() -> None:
    trace = json.loads(Papers(facts().spec).content(TRACE))["requirements"]
    rows = records(made()["requirements"])
    assert len(rows) == len(trace)
    for row, one in zip(rows, trace, strict=True):
        assert (row["requirement"], row["limit_text"], row["section"], row["paragraph"]) == (
            one["id"],
            one["limit"],
            one["section"],
            one["paragraph"],
        )
        assert row["source_status"] == one["origin"]["source"]["status"]
    held = {(one["requirement"], one["parapet"]) for one in records(made()["requirement_places"])}
    assert held == {(one["id"], parapet) for one in trace for parapet in one["parapets"]}


def test_findings_are_those_of_check() -> None:
    report = json.loads(run("check", FAULTY, "--format", "json").out)
    inputs = read_inputs(FAULTY, None, False)
    tables = project_tables(project_facts(inputs, specify(inputs.assessed())))
    (findings,) = [one for one in tables if one.table.name == "findings"]
    shown = [one for one in records(findings) if one["shown"]]
    assert len(shown) > 10
    assert {(one["code"], one["message"]) for one in shown} == {
        (one["code"], one["message"]) for one in report["findings"]
    }
    assert {one["parapet"] for one in records(made()["findings"])} <= {"P-1", "P-2", "P-3", None}


def test_lines_of_calculations_print_what_the_sheet_prints() -> None:
    calculations = facts().spec.assessment.calculations
    found = {
        (row["parapet"], row["subject"], row["name"]): row
        for row in records(made()["calculation_lines"])
        if row["part"] == "result"
    }
    assert len(found) > 100
    for (parapet, subject, name), row in found.items():
        value = calculations[parapet][subject].results[name].value
        assert row["value_text"] == show_on_sheet(value, facts().spec.assessment.system)
        assert row["value_number"] == (None if isinstance(value, str) else value.number)


def test_each_cell_has_the_kind_of_its_column() -> None:
    kinds = {"TEXT": "text", "INTEGER": "integer", "REAL": "real"}
    with closing(sqlite3.connect(":memory:")) as made_:
        made_.deserialize(database())
        for table in TABLES:
            for column in table.columns:
                words = f'SELECT DISTINCT typeof("{column.name}") FROM "{table.name}"'
                found = {name for (name,) in made_.execute(words)}
                assert found <= {kinds[TYPES[column.kind]]} | ({"null"} if column.empty else set()), (
                    table,
                    column,
                )
    for filled in made().values():
        for row in records(filled):
            for column in filled.table.columns:
                if column.kind == "date" and row[column.name]:
                    assert date.fromisoformat(row[column.name])


def test_csv_and_database_hold_the_same_rows() -> None:
    with closing(sqlite3.connect(":memory:")) as held:
        held.deserialize(database())
        for name, filled in made().items():
            rows = list(csv.reader(io.StringIO(csv_bytes(filled).decode("utf-8-sig"), newline="")))
            stored = held.execute(f'SELECT * FROM "{name}"').fetchall()
            shown = [["" if one is None else str(one) for one in row] for row in stored]
            assert rows[0] == list(filled.table.names)
            bare = [[cell[1:] if cell[:1] == "'" else cell for cell in row] for row in rows[1:]]
            assert bare == shown, name


def test_the_register_is_that_of_the_workbook_and_late_is_of_a_day(tmp_path: Path) -> None:
    job = copied(FAULTY, tmp_path / "job")
    (job / "schedule.yaml").write_bytes((CONFORMING / "schedule.yaml").read_bytes())
    inputs = read_inputs(job, None, False)
    spec = specify(inputs.assessed())
    before = {one.table.name: one for one in project_tables(project_facts(inputs, spec))}
    assert not any(one["days_late"] for one in records(before["register"]))
    asked = wanted(spec, job / "schedule.yaml")
    sources = Sources(job / "review", "submittal-register")
    keep_register(sources, asked, inputs.practice, DAY)
    after = records({one.table.name: one for one in project_tables(project_facts(inputs, spec))}["register"])
    book = of_workbook(sources.book.read_bytes(), "Row id")
    assert [one["row_id"] for one in after] == [one["Row id"] for one in book]
    assert any(one["days_late"] for one in after)
    for row, one in zip(after, book, strict=True):
        submit = one["Submit by"]
        assert row["submit_by"] == (submit.date().isoformat() if isinstance(submit, datetime) else submit)
        assert (row["state"], row["waiting_for"], row["days_late"], row["item"]) == (
            one["State"],
            one["Waiting for"] or "",
            one["Days late"],
            one["Item"],
        )


GOOD: dict[str, Any] = {
    "path": "a",
    "status": 0,
    "problems": [],
    "designed": [
        {
            "code": "WB01",
            "name": "n",
            "severity": "risk",
            "layer": "",
            "message": "m",
            "place": "p",
            "parapets": ["P-1"],
        }
    ],
    "accepted": None,
    "papers": None,
}


def test_the_data_of_an_audit_are_rows(tmp_path: Path) -> None:
    path = tmp_path / "audit.json"
    path.write_text(json.dumps({"folder": "jobs", "projects": [GOOD, {**GOOD, "path": ""}]}), "utf-8")
    folder, tables = audit_tables(path)
    found = {one.table.name: records(one) for one in tables}
    assert folder == "jobs" and [one["project"] for one in found["projects"]] == ["a", "."]
    assert [(one["code"], one["designed"], one["accepted"]) for one in found["audit_findings"]] == [
        ("WB01", True, None)
    ] * 2


@pytest.mark.parametrize(
    "content",
    [
        *(
            "[]",
            "{}",
            "{",
            '{"folder": "", "projects": 5}',
            "[" * 100_000,
            '{"folder": 1, "projects": [{"path": 3}]}',
        ),
        *(
            json.dumps({"folder": "", "projects": [{**GOOD, **wrong}]})
            for wrong in (
                {"status": "0"},
                {"status": None},
                {"problems": [{"place": 1, "message": "", "fix": ""}, 2]},
                {"designed": [{**GOOD["designed"][0], "message": ["m"]}]},
                {"designed": [{**GOOD["designed"][0], "code": {}}]},
                {"papers": [{"paper": "submittal"}]},
                {"climate": 6},
            )
        ),
        json.dumps({"folder": "", "projects": [GOOD, GOOD]}),
    ],
)
def test_what_is_no_data_of_an_audit_is_refused(content: str, tmp_path: Path) -> None:
    path = tmp_path / "audit.json"
    path.write_text(content, "utf-8")
    with pytest.raises(InputError, match="not the data of an audit"):
        audit_tables(path)


@pytest.mark.skipif(not LONG, reason="assesses every example: with SPECGEN_LONG=1")
@pytest.mark.parametrize(
    "project", [*EVERY, FAULTY, CONFORMING], ids=lambda one: f"{one.parent.name}-{one.name}"
)
def test_every_example_keeps_its_keys(project: Path) -> None:
    inputs = read_inputs(project, None, False)
    tables = project_tables(project_facts(inputs, specify(inputs.assessed()), DAY))
    data = sqlite_bytes(documented(tables, {}), FORMAT)
    assert data == sqlite_bytes(documented(tables, {}), FORMAT)
    with closing(sqlite3.connect(":memory:")) as held:
        held.deserialize(data)
        assert held.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert held.execute("PRAGMA foreign_key_check").fetchall() == []
