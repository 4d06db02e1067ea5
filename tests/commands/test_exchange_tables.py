"""``specgen exchange tables``: a folder of tables that is brought up to date, and never takes what somebody changed."""

from __future__ import annotations

import csv
import shutil
import sqlite3
import subprocess
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest

from specgen.work.table_audit import AUDIT_TABLES
from specgen.work.table_list import TABLES
from tests.chain.runs import FAULTY, REPO, contents, copied, run
from tests.conftest import LONG

EXPLAINED = {"about", "tables", "columns"}


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("tables")
    job = copied(FAULTY, folder / "job", ("  name: ", "  name: =1+1 "))
    done = run("exchange", "tables", job, "-o", folder / "out")
    assert (done.status, done.err) == (0, "")
    assert done.out == f"{folder / 'out' / 'project.sqlite'}, and 21 tables as CSV\n"
    return folder / "out"


def test_every_table_is_a_file_and_stands_in_the_database(out: Path) -> None:
    names = {one.name for one in TABLES} | EXPLAINED
    assert set(contents(out)) == {*(f"{name}.csv" for name in names), "project.sqlite", "manifest.json"}
    with closing(sqlite3.connect(f"file:{out / 'project.sqlite'}?mode=ro", uri=True)) as held:
        assert {name for (name,) in held.execute("SELECT table_name FROM tables")} == names
        assert held.execute("SELECT name FROM project").fetchone()[0].startswith("=1+1 ")
    with (out / "project.csv").open(encoding="utf-8-sig", newline="") as file:
        assert next(csv.DictReader(file))["name"].startswith("'=1+1 ")


def test_the_same_project_gives_the_same_bytes_and_says_nothing_of_the_disk(out: Path) -> None:
    before = contents(out)
    assert run("exchange", "tables", out.parent / "job", "-o", out).status == 0
    assert contents(out) == before
    assert not any(str(out.parent).encode() in data for data in before.values())


def test_a_table_that_somebody_edited_is_kept(out: Path, tmp_path: Path) -> None:
    mine = tmp_path / "out"
    shutil.copytree(out, mine)
    (mine / "checklist.csv").write_text("mine", "utf-8")
    done = run("exchange", "tables", out.parent / "job", "-o", mine)
    assert "checklist.csv was edited by hand and kept; the new text is in checklist.new.csv" in done.out
    assert (mine / "checklist.csv").read_text("utf-8") == "mine"
    assert (mine / "checklist.new.csv").read_bytes() == (out / "checklist.csv").read_bytes()


def test_what_cannot_be_used_writes_nothing(tmp_path: Path) -> None:
    job = copied(FAULTY, tmp_path / "job")
    (job / "submittals").mkdir()
    (job / "submittals" / "one.yaml").write_text("submittal: {", "utf-8")
    done = run("exchange", "tables", job, "-o", tmp_path / "out")
    assert done.status == 2 and "one.yaml:" in done.err
    (tmp_path / "audit.json").write_text("{}", "utf-8")
    done = run("exchange", "tables", tmp_path / "audit.json", "-o", tmp_path / "out")
    assert done.status == 2 and "it is not the data of an audit" in done.err
    assert not (tmp_path / "out").exists()


@pytest.mark.skipif(not LONG, reason="audits every example: with SPECGEN_LONG=1")
def test_an_audit_is_written_as_tables(tmp_path: Path) -> None:
    run("audit", REPO / "projects", "-o", tmp_path / "audit")
    done = run("exchange", "tables", tmp_path / "audit" / "audit.json", "-o", tmp_path / "out")
    assert done.status == 0
    names = {one.name for one in AUDIT_TABLES} | EXPLAINED
    assert {path.stem for path in (tmp_path / "out").glob("*.csv")} == names
    with closing(sqlite3.connect(tmp_path / "out" / "audit.sqlite")) as held:
        assert held.execute("SELECT count(*) FROM projects").fetchone() == (8,)
        assert held.execute("PRAGMA foreign_key_check").fetchall() == []


@pytest.mark.skipif(not LONG or not shutil.which("soffice"), reason="needs LibreOffice, and SPECGEN_LONG=1")
def test_a_spreadsheet_program_reads_the_same_cells(out: Path, tmp_path: Path) -> None:
    import openpyxl

    names = ("project", "checklist", "findings", "requirements")
    files = [str(out / f"{name}.csv") for name in names]
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    given = ["--convert-to", "xlsx", "--infilter=CSV:44,34,76,1,,0,true", "--outdir", str(tmp_path)]
    subprocess.run(
        ["soffice", profile, "--headless", *given, *files], check=True, capture_output=True, timeout=300
    )
    for name in names:
        book = openpyxl.load_workbook(tmp_path / f"{name}.xlsx").worksheets[0]
        with (out / f"{name}.csv").open(encoding="utf-8-sig", newline="") as file:
            rows = list(csv.reader(file))
        assert book.max_row == len(rows)
        for row, cells in zip(rows, book.iter_rows(), strict=True):
            assert not any(cell.data_type == "f" for cell in cells)
            for words, cell in zip(row, cells, strict=True):
                if isinstance(cell.value, int | float):
                    assert float(words) == pytest.approx(cell.value, rel=1e-12)
                elif isinstance(cell.value, datetime):
                    assert words == cell.value.date().isoformat()
                else:
                    assert words == (cell.value or "")
