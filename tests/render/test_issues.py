"""The record in the folder: which issue a new one is compared with, and what lies there afterwards."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from specgen.files.faults import OutputError
from specgen.files.marks import Mark
from specgen.files.withdrawn import RECORD
from specgen.files.writing import OutputFolder
from specgen.model.finding import Finding, Outcome, Severity
from specgen.render.issues import Record, add_record, edits_by_hand, read_record
from specgen.render.word import word_bytes
from specgen.render.word_text import HandEdit
from specgen.sections.inputs import InputValue
from specgen.sections.issue import Issue
from tests.render import word_samples as samples
from tests.render.test_word_marked import changed
from tests.render.word_reading import opened

NAME = "section.docx"


def issue(date: str, *, later: bool = False) -> Issue:
    tree = changed() if later else samples.SECTION
    tree = replace(tree, properties=replace(tree.properties, issue_date=date))
    value = InputValue("site: place", "there" if later else "here", "project.yaml:4:3")
    return Issue("2601 Example Clinic", date, "issued for bid", (value,), {NAME: tree}, {}, {}, {}, {})


def write(folder: Path, one: Issue):
    out = OutputFolder(folder)
    out.add(NAME, word_bytes(one.documents[NAME]))
    record = read_record(folder)
    addendum = add_record(out, record, one)
    written = out.commit()
    return addendum, edits_by_hand(written, record), written


def files(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def test_first_issue_has_no_list_and_the_second_one_has(tmp_path: Path) -> None:
    first, second = issue("2026-01-15"), issue("2026-02-15", later=True)
    assert write(tmp_path, first)[0] is None
    addendum, _, _ = write(tmp_path, second)
    assert addendum is not None and addendum.inputs and addendum.paragraphs[NAME]
    assert {f"marked-2026-02-15/{NAME}", "addendum-2026-02-15.docx", "addendum-2026-02-15.json"} <= set(
        files(tmp_path)
    )
    assert read_record(tmp_path).previous is not None
    # Written again, the same issue is compared with the same earlier one and nothing is touched.
    before = files(tmp_path)
    again = write(tmp_path, second)[2]
    assert again.written == () and files(tmp_path) == before


def test_a_change_without_a_new_date_is_compared_with_what_lay_there_first(tmp_path: Path) -> None:
    write(tmp_path, issue("2026-01-15"))
    assert write(tmp_path, issue("2026-01-15", later=True))[0]
    assert write(tmp_path, issue("2026-01-15"))[0] is None  # taken back: as at first


def test_findings_come_back_as_recorded_and_are_no_change_of_the_text(tmp_path: Path) -> None:
    mark = Mark("project.yaml", 4, 9)
    found = Finding(
        "CP03",
        "drip",
        Severity.RISK,
        Outcome.NOT_COVERED,
        "no drip",
        mark,
        "P-1",
        "coping",
        "",
        "",
        (),
        answer="none wanted",
    )
    first = replace(issue("2026-01-15"), findings=(found,))
    write(tmp_path, first)
    assert read_record(tmp_path).current == first
    write(tmp_path, replace(first, findings=(replace(found, message="no drip at the exterior face"),)))
    record = read_record(tmp_path)
    assert record.previous is None and record.current is not None
    assert [one.message for one in record.current.findings or ()] == ["no drip at the exterior face"]


@pytest.mark.parametrize("finding", [{}, {"outcome": "said"}, None, "x"])
def test_a_record_with_a_strange_finding_is_refused(finding: object, tmp_path: Path) -> None:
    write(tmp_path, replace(issue("2026-01-15"), findings=()))
    content = json.loads((tmp_path / RECORD).read_text("utf-8"))
    content["current"]["findings"] = [finding]
    (tmp_path / RECORD).write_text(json.dumps(content), "utf-8")
    with pytest.raises(OutputError, match="is not a record of an issue"):
        read_record(tmp_path)


def test_a_new_date_alone_makes_no_list(tmp_path: Path) -> None:
    write(tmp_path, issue("2026-01-15"))
    assert write(tmp_path, issue("2026-02-15"))[0] is None
    assert not [name for name in files(tmp_path) if name.startswith(("addendum", "marked"))]


def test_edits_by_hand_are_kept_and_shown_against_our_own_text_every_time(tmp_path: Path) -> None:
    write(tmp_path, issue("2026-01-15"))
    word = opened((tmp_path / NAME).read_bytes())
    word.paragraphs[4].add_run(" By hand.")
    word.save(str(tmp_path / NAME))
    edited = (tmp_path / NAME).read_bytes()
    for date in ("2026-02-15", "2026-03-15"):
        _, edits, written = write(tmp_path, issue(date, later=True))
        assert written.beside[0][0] == NAME
        assert edits == {NAME: (HandEdit("Section includes:", "Section includes: By hand."),)}
        assert (tmp_path / NAME).read_bytes() == edited


def test_a_file_that_is_no_word_file_any_more_is_told(tmp_path: Path) -> None:
    write(tmp_path, issue("2026-01-15"))
    (tmp_path / NAME).write_bytes(b"not a zip")
    edits = write(tmp_path, issue("2026-02-15", later=True))[1]
    assert edits == {NAME: (HandEdit("", "(the file is no Word file any more)"),)}


@pytest.mark.parametrize("words", ["", "[]", "{}", '{"format": 99}', '{"format": 1, "current": 3}', "\x00"])
def test_a_record_that_is_none_is_told_and_nothing_is_written(tmp_path: Path, words: str) -> None:
    (tmp_path / RECORD).write_text(words)
    with pytest.raises(OutputError, match="is not a record of an issue; move it away"):
        write(tmp_path, issue("2026-01-15"))
    assert set(files(tmp_path)) == {RECORD}


def test_an_empty_folder_has_an_empty_record(tmp_path: Path) -> None:
    assert read_record(tmp_path) == Record()


def test_the_record_holds_no_path_of_a_disk(tmp_path: Path) -> None:
    write(tmp_path, issue("2026-01-15"))
    assert str(tmp_path) not in json.dumps(json.loads((tmp_path / RECORD).read_text()))
