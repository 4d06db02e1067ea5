"""Why a text came or went: whatever a change of the project adds or takes out names the line behind it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from specgen.sections.addendum import NO_LINE, Addendum, IssueChange, compare
from specgen.sections.issue import Issue
from tests import plain_yaml
from tests.chain.runs import CONFORMING, REPO, copied, run
from tests.sections.test_addendum import issue

DATE = ("issue_date: 2026-11-02", "issue_date: 2026-12-01")
CHANGES = {
    "another substrate": [("kind: glass-mat gypsum", "kind: concrete")],
    "no sheet behind the plaster": [("kind: dimpled sheet", "kind: mesh"), ("0.05 perm", "6 perm")],
    "combustible construction": [("construction_type: I-B", "construction_type: V-B")],
    "a dark coping": [("color: medium", "color: dark")],
    "more wind": [("wind_speed: 115 mph", "wind_speed: 150 mph")],
    "a barrier that is fastened": [("kind: fluid-applied", "kind: mechanically fastened")],
}


@pytest.fixture(scope="module")
def old() -> Issue:
    return issue(CONFORMING)


def changed(folder: Path, *edits: tuple[str, str], of: Path = CONFORMING) -> Path:
    """An example with words replaced wherever they stand."""
    path = copied(of, folder / "wall")
    words = (path / "project.yaml").read_text("utf-8")
    for was, now in edits:
        assert was in words
        words = words.replace(was, now)
    (path / "project.yaml").write_text(words, "utf-8")
    return path


def texts(found: Addendum) -> list[IssueChange]:
    return [*(one for some in found.paragraphs.values() for one in some), *found.rows]


@pytest.mark.parametrize("name", CHANGES)
def test_each_change_of_text_names_the_line_behind_it(name: str, old: Issue, tmp_path: Path) -> None:
    found = compare(old, issue(changed(tmp_path, *CHANGES[name])))
    assert found.inputs and (texts(found) or found.papers)
    assert [(one.where, one.was, one.now) for one in texts(found) if NO_LINE in one.because] == []
    assert [one.file for one in found.papers if NO_LINE in one.because] == []


def test_of_two_changes_the_one_that_a_paragraph_stands_on_is_named(old: Issue, tmp_path: Path) -> None:
    found = compare(old, issue(changed(tmp_path, *CHANGES["another substrate"], *CHANGES["more wind"])))
    of_pulls = [one for one in texts(found) if "D7234" in one.now]
    assert of_pulls
    for one in of_pulls:
        assert one.because and all("kind: concrete" in line for line in one.because), one
    of_wind = [one for one in texts(found) if one.where.startswith("07 71 00") and one.kind == "changed"]
    assert of_wind and all("wind_speed: 150 mph" in "".join(one.because) for one in of_wind)


def test_a_record_of_before_has_no_conditions_and_is_read(old: Issue, tmp_path: Path) -> None:
    found = compare(replace(old, conditions={}), issue(changed(tmp_path, *CHANGES["another substrate"])))
    assert all(one.because for one in texts(found))


def test_the_list_says_why_a_section_and_a_drawing_changed(tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run("write", CONFORMING, "-o", out).status == 0
    later = changed(tmp_path, DATE, *CHANGES["another substrate"])
    assert run("write", later, "-o", out, "--with-open-points").status in (0, 1, 3)
    from docx import Document

    tables = Document(str(out / "addendum-2026-12-01.docx")).tables
    rows = [[cell.text for cell in row.cells] for table in tables for row in table.rows]
    (gone,) = (row for row in rows if row[0] == "Section 06 16 00 Sheathing" and row[2] == "withdrawn")
    assert "kind: concrete, was glass-mat gypsum" in gone[3]
    drawn = [row for row in rows if row[0].startswith("drawings/")]
    assert drawn and all("kind: concrete, was glass-mat gypsum" in row[2] for row in drawn)


STANDING = REPO / "tests" / "stated" / "existing-repair"


def test_an_answer_of_a_standing_wall_is_the_line_behind_what_it_changes(tmp_path: Path) -> None:
    edits = ("in force and work accepted", "none in force"), ("found: gap blocked", "found: wet")
    found = compare(issue(STANDING), issue(changed(tmp_path, *edits, of=STANDING)))
    assert len(found.inputs) == 2
    gone = [one for one in texts(found) if one.kind == "deleted"]
    assert len(gone) >= 6 and {one.because for one in gone} == {gone[0].because}
    assert "roof_warranty: none in force" in gone[0].because[0] and len(gone[0].because) == 1
    (opening,) = [one for one in texts(found) if "T-4" in one.now]
    assert "found: wet, was gap blocked" in opening.because[0] and len(opening.because) == 1


def test_a_wall_that_no_longer_stands_is_the_line_behind_its_sections(tmp_path: Path) -> None:
    path = copied(STANDING, tmp_path / "wall")
    document = plain_yaml.load((path / "project.yaml").read_text("utf-8"))
    del document["parapets"][0]["existing"]
    (path / "project.yaml").write_text(plain_yaml.dump(document), "utf-8")
    found = compare(issue(STANDING), issue(path))
    gone = [one for one in found.papers if one.kind == "withdrawn"]
    assert [one.title for one in gone] == [
        "Section 01 73 29 Cutting and Patching",
        "Section 02 41 19 Selective Demolition",
    ]
    for one in gone:
        assert len(one.because) == 1 and "existing: taken out, was stands (parapet C-1)" in one.because[0]
