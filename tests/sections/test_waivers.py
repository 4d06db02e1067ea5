"""The list of the waivers in force, and that the checklist and the letter of a review carry it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from specgen.assessment import Assessment, assess
from specgen.files.writing import OutputFolder
from specgen.intake.office import load_office
from specgen.intake.submittal import load_submission
from specgen.model.document import Document, Para, Table
from specgen.model.project import Project, Record
from specgen.model.submission import Submission
from specgen.practice.load import load_practice
from specgen.render.replies import add_review
from specgen.review.letter import review_letter
from specgen.rules.office import changeable
from specgen.sections.checklist import checklist_document
from specgen.sections.manual import manual
from specgen.sections.waivers import HEADER, TITLE, WIDTHS, waiver_blocks, waiver_rows
from specgen.specification import specify
from tests.chain.runs import SUBMITTAL
from tests.rules import cases

PRACTICE = load_practice()
LEG = {"rule": "CP04", "by": "the architect", "date": date(2026, 5, 1), "reason": "shown by test"}
ENDED = {**LEG, "parapet": "P-1", "until": date(2026, 10, 31)}
OFFICE = """\
office: {name: Sample Office, document: Wall Standards, edition: "2026"}
limits:
  drainage.depth: 1/8 in
"""
OFFICE_WAIVER = {**LEG, "rule": "OF01", "limit": "drainage.depth", "until": date(2026, 12, 31)}


@pytest.fixture
def assessed(tmp_path: Path):
    def of(*waivers: dict) -> Assessment:
        content = {"parts": {"coping": {"outer_leg": "1 in"}}, "waivers": list(waivers)}
        return assess(cases.load(content, tmp_path), PRACTICE)

    return of


def listed(blocks) -> list[tuple[str, ...]]:
    return [row for one in blocks if isinstance(one, Table) and one.caption == TITLE for row in one.rows]


def test_a_waiver_in_force_is_one_row(assessed) -> None:
    heading, table = waiver_blocks(assessed({**LEG, "until": date(2026, 11, 2)}))
    assert isinstance(heading, Para) and heading.text == TITLE
    assert isinstance(table, Table) and table.header == HEADER
    (row,) = table.rows
    assert row[0] == "The exterior face of the coping laps the cladding far enough"
    assert row[1:] == ("all parapets", "the architect", "2026-05-01", "shown by test", "2026-11-02")
    assert len(WIDTHS) == len(HEADER) and sum(WIDTHS) == pytest.approx(1)


def test_one_without_an_end_says_so_and_names_its_parapet(assessed) -> None:
    (row,) = waiver_rows(assessed({**LEG, "parapet": "P-1"}))
    assert (row.where, row.last) == ("P-1", "no end stated")


def test_the_manual_carries_the_same_rows(assessed) -> None:
    assessment = assessed({**LEG, "parapet": "P-1"})
    spec = specify(assessment)
    blocks = manual(assessment, spec.sections, spec.paragraphs).parts[-1].blocks
    assert listed(blocks) == [one.cells for one in waiver_rows(assessment)]
    assert len(listed(blocks)) == 1


@pytest.mark.parametrize("waivers", [(), (ENDED,), ({**LEG, "rule": "WB01"},)])
def test_nothing_is_listed_where_no_waiver_is_in_force(assessed, waivers) -> None:
    assert waiver_blocks(assessed(*waivers)) == ()


def test_a_limit_of_the_office_is_named_by_its_title(tmp_path: Path) -> None:
    (tmp_path / "office.yaml").write_text(OFFICE)
    office = load_office(tmp_path / "office.yaml", PRACTICE, changeable(PRACTICE))
    project = cases.load({"waivers": [OFFICE_WAIVER]}, tmp_path)
    (row,) = waiver_rows(assess(project, PRACTICE, office))
    assert row.rule == "OF01 office limit below the code"
    assert row.where == f"all parapets, {PRACTICE.entry('drainage.depth').title}"


def test_the_checklist_ends_with_them(assessed) -> None:
    found = assessed(LEG)
    document = checklist_document((), (), found.project, waiver_blocks(found))
    assert len(listed(document.blocks)) == 1
    assert listed(checklist_document((), (), found.project).blocks) == []


def test_the_letter_lists_them_before_the_cautions(assessed) -> None:
    found = assessed(LEG)
    letter = review_letter(found.project, _nothing(found.project), (), PRACTICE, waiver_blocks(found))
    assert len(listed(letter.blocks)) == 1
    heads = [one.text for one in letter.paragraphs()]
    assert heads.index("Comments") < heads.index(TITLE) < heads.index("Cautions")


def test_what_review_writes_carries_them(assessed, tmp_path: Path) -> None:
    found = assessed(LEG)
    submission = load_submission(SUBMITTAL, PRACTICE)
    _, letter = add_review(OutputFolder(tmp_path / "out"), found, submission, ())
    assert isinstance(letter, Document) and len(listed(letter.blocks)) == 1


def _nothing(project: Project) -> Submission:
    return Submission(Record("submittal", {"number": "1"}, {}, project.info.mark), (), "submittal.yaml")
