"""An issue for bid or construction with open points is refused, or says so on every page of every document."""

from __future__ import annotations

import io
import json
import re
import zipfile
from pathlib import Path

import docx
import pypdfium2
import pytest

from specgen.commands.common import CLEAN, FAILED, OPEN
from tests.chain.runs import CONFORMING, changed, contents, copied, run

WIND = ("  wind_speed: 115 mph\n", "")
DEFECT = ("covers_width: yes", "covers_width: no")
RISK = ("outer_leg: 4 in", "outer_leg: 1 in")
MARK = "Issued with open points for bid"
WAIVER = """
waivers:
  - rule: {rule}
    by: the architect of record
    date: 2026-10-01
    reason: shown by test
"""


def pages(name: str, content: bytes) -> list[str]:
    """The words that stand on every page of a document: headers and footers, or the page where it has but one."""
    match name.rpartition(".")[2]:
        case "docx":
            document = docx.Document(io.BytesIO(content))
            cover = " ".join(p.text for p in document.paragraphs if p.style.name.startswith("Cover"))
            margins = [
                " ".join(p.text for p in (*one.header.paragraphs, *one.footer.paragraphs)).strip()
                for one in document.sections
            ]
            return [margins[0] or cover, *margins[1:]]  # the cover of the manual is a page without margins
        case "xlsx":
            book = zipfile.ZipFile(io.BytesIO(content))
            return [
                book.read(one).decode().partition("<oddHeader>")[2]
                for one in book.namelist()
                if re.fullmatch(r"xl/worksheets/sheet\d+\.xml", one)
            ]
        case "html" | "svg" | "dxf":
            return [re.sub(r"\s+", " ", content.decode())]
        case "pdf":
            book = pypdfium2.PdfDocument(content)
            return [page.get_textpage().get_text_range() for page in book]
        case _:
            return []


def test_the_example_is_issued_without_a_mark(tmp_path: Path) -> None:
    project = copied(CONFORMING, tmp_path / "p")
    for flags in ((), ("--with-open-points",)):
        assert run("write", project, "-o", tmp_path / "out", *flags).status == CLEAN
        for name, content in contents(tmp_path / "out").items():
            assert not any("open points" in page for page in pages(name, content)), name


@pytest.mark.parametrize("state", ["issued for bid", "issued for construction"])
def test_an_unknown_is_refused_with_the_list_and_nothing_is_written(tmp_path: Path, state: str) -> None:
    project = copied(CONFORMING, tmp_path / "p", WIND)
    done = run("write", project, "-o", tmp_path / "out", "--state", state)
    assert (done.status, done.out) == (FAILED, "")
    assert "unknown CP12" in done.err and "site.wind_speed" in done.err
    assert f"is to be {state}, and 2 points are open: nothing was written" in done.err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("state", ["draft", "issued for review"])
def test_a_draft_and_a_review_are_written_whatever_is_open(tmp_path: Path, state: str) -> None:
    project = copied(CONFORMING, tmp_path / "p", WIND)
    done = run("write", project, "-o", tmp_path / "out", "--state", state, "--with-open-points")
    assert done.status == OPEN
    assert not any(
        "open points" in page for one in contents(tmp_path / "out").items() for page in pages(*one)
    )


def test_a_defect_is_refused_until_it_is_waived_and_a_risk_is_not(tmp_path: Path) -> None:
    found = json.loads(run("check", copied(CONFORMING, tmp_path / "p", DEFECT), "--format", "json").out)
    (rule,) = {one["code"] for one in found["findings"] if one["severity"] == "defect"}
    done = run("write", tmp_path / "p", "-o", tmp_path / "out")
    assert done.status == FAILED and f"defect {rule}" in done.err and not (tmp_path / "out").exists()
    file = tmp_path / "p" / "project.yaml"
    file.write_text(file.read_text("utf-8") + WAIVER.format(rule=rule), "utf-8")
    assert run("write", tmp_path / "p", "-o", tmp_path / "out").status == CLEAN
    risk = copied(CONFORMING, tmp_path / "r", RISK)
    assert "risk" in run("check", risk).out
    assert run("write", risk, "-o", tmp_path / "risk").status == FAILED
    assert (tmp_path / "risk" / "project-manual.docx").exists()


def test_the_refusal_as_json_is_one_document(tmp_path: Path) -> None:
    project = copied(CONFORMING, tmp_path / "p", WIND)
    done = run("write", project, "-o", tmp_path / "out", "--format", "json")
    data = json.loads(done.out)
    assert done.status == FAILED and not (tmp_path / "out").exists()
    assert [one["code"] for one in data["open_points"]] == ["FR04", "CP12"]


def test_every_page_of_every_document_bears_the_mark(tmp_path: Path) -> None:
    project = copied(CONFORMING, tmp_path / "p", WIND)
    done = run("write", project, "-o", tmp_path / "out", "--with-open-points")
    assert done.status == OPEN
    seen: dict[str, int] = {}
    for name, content in contents(tmp_path / "out").items():
        for page in pages(name, content):
            seen[name.rpartition(".")[2]] = seen.get(name.rpartition(".")[2], 0) + 1
            assert MARK in page, name
    assert set(seen) == {"docx", "xlsx", "html", "svg", "dxf", "pdf"}
    assert "tested resistance covers the calculated pressure" in " ".join(
        cell.text
        for table in docx.Document(tmp_path / "out" / "project-manual.docx").tables
        for cell in table.column_cells(0)
    ), "the manual lists what is open"


def test_an_issue_once_closed_is_another_issue(tmp_path: Path) -> None:
    project = copied(CONFORMING, tmp_path / "p", WIND)
    run("write", project, "-o", tmp_path / "out", "--with-open-points")
    changed(project / "project.yaml", ("  exposure: B\n", "  wind_speed: 115 mph\n  exposure: B\n"))
    done = run("write", project, "-o", tmp_path / "out")
    assert (
        done.status == CLEAN
        and "Changed since the issue of 2026-11-02, issued with open points for bid" in done.out
    )
    fresh = contents(tmp_path / "out")
    for name in ("project-manual.docx", "basis-of-design.html"):
        assert not any("open points" in page for page in pages(name, fresh[name]))
