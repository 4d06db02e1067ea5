"""Answers: where no rule covers the country or the edition, a named person's recorded answer closes the question."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from specgen.assessment import Assessment, assess
from specgen.commands.common import CLEAN, OPEN, status
from specgen.intake.project import load_project
from specgen.model.finding import Outcome
from specgen.practice.load import load_practice
from specgen.sections.waivers import ANSWERS, ANSWERS_HEADER, answer_rows, waiver_blocks
from tests import plain_yaml

PRACTICE = load_practice()
EXAMPLE = Path(__file__).parents[2] / "tests" / "stated" / "mixed-humid-midrise" / "project.yaml"
WORDS = {
    "by": "the architect of record",
    "date": date(2026, 10, 1),
    "answer": "the wall meets it",
    "reference": "building regulations in force, 4.2",
}


def run(tmp_path: Path, site: dict, *answers: dict) -> Assessment:
    """The example at another site, with these answers."""
    content = plain_yaml.load(EXAMPLE.read_text())
    content["site"].update(site)
    content["answers"] = [{**WORDS, **one} for one in answers]
    (tmp_path / "project.yaml").write_text(plain_yaml.dump(content))
    return assess(load_project(tmp_path, PRACTICE), PRACTICE)


def asked(found: Assessment) -> list[str]:
    """The rules that cover nothing here, whose question stands."""
    return sorted({one.code for one in found.findings if one.outcome is Outcome.NOT_COVERED and one.open})


def test_a_project_abroad_is_open_until_each_question_is_answered(tmp_path: Path) -> None:
    found = run(tmp_path, {"country": "Elsewhere"})
    codes = asked(found)
    assert {"CP01", "CP12", "SF04", "VD04", "WB02"} <= set(codes)
    assert not any(one.outcome is Outcome.UNKNOWN for one in found.findings), (
        "an unknown that nobody can answer"
    )
    assert status(found.findings) == OPEN
    all_but_one = run(tmp_path, {"country": "Elsewhere"}, *({"rule": code} for code in codes[1:]))
    assert asked(all_but_one) == codes[:1] and status(all_but_one.findings) == OPEN
    answered = run(tmp_path, {"country": "Elsewhere"}, *({"rule": code} for code in codes))
    assert asked(answered) == [] and status(answered.findings) == CLEAN
    closed = [one for one in answered.findings if one.outcome is Outcome.NOT_COVERED]
    words = "the architect of record, 2026-10-01: the wall meets it (building regulations in force, 4.2)"
    assert {one.code for one in closed} == set(codes)
    assert {(one.answer, one.missing) for one in closed} == {(words, "")}


def test_an_answer_is_never_a_pass(tmp_path: Path) -> None:
    found = run(tmp_path, {"country": "Elsewhere"}, {"rule": "CP01"})
    assert {one.outcome for one in found.findings if one.code == "CP01"} == {Outcome.NOT_COVERED}


def test_what_is_asked_names_the_list_that_answers(tmp_path: Path) -> None:
    found = run(tmp_path, {"country": "Elsewhere"})
    missing = {one.code: one.missing for one in found.findings if one.outcome is Outcome.NOT_COVERED}
    assert missing["CP01"] == "what the code in force at the site asks for; `answers` records who says so"
    assert all(words.endswith("; `answers` records who says so") for words in missing.values())
    assert not any("not covered" in words for words in missing.values())


def test_an_edition_that_no_rule_knows(tmp_path: Path) -> None:
    site = {"code": "another edition", "wind_standard": "ASCE 7-22"}
    found = run(tmp_path, site)
    codes = asked(found)
    assert {"CP01", "SF03", "VD04", "WB02"} <= set(codes) and "CP12" not in codes, "wind loads are by ASCE 7"
    assert not any(one.outcome is Outcome.UNKNOWN for one in found.findings)
    (cover,) = {one.message for one in found.findings if one.code == "CP01"}
    assert cover.endswith("not covered by the editions of the code known here")
    assert status(run(tmp_path, site, *({"rule": code} for code in codes)).findings) == CLEAN


def test_an_answer_at_one_parapet_answers_there_alone(tmp_path: Path) -> None:
    found = run(tmp_path, {"country": "Elsewhere"}, {"rule": "CP01", "parapet": "P-2"})
    cover = {one.parapet: one.open for one in found.findings if one.code == "CP01"}
    assert cover == {"P-1": True, "P-2": False, "P-3": True}


@pytest.mark.parametrize(
    ("site", "answer", "message"),
    [
        ({}, {"rule": "CP01"}, 'answer to CP01, which does not answer "not covered" at any parapet'),
        (
            {"country": "Elsewhere"},
            {"rule": "CP04", "parapet": "P-1"},
            'answer to CP04, which does not answer "not covered" at parapet P-1',
        ),
        (
            {"country": "Elsewhere"},
            {"rule": "cp01"},
            "answer to an unknown rule `cp01`; did you mean `CP01`?",
        ),
    ],
)
def test_an_answer_without_a_question_is_told(tmp_path: Path, site: dict, answer: dict, message: str) -> None:
    found = run(tmp_path, site, answer)
    (finding,) = [one for one in found.findings if one.code == "WV03"]
    assert finding.message == message
    lines = (tmp_path / "project.yaml").read_text().splitlines()
    assert lines[finding.mark.line - 1].strip().removeprefix("- ").startswith(("rule:", "parapet:"))


def test_documents_list_the_answers(tmp_path: Path) -> None:
    found = run(tmp_path, {"country": "Elsewhere"}, {"rule": "CP01"})
    (row,) = answer_rows(found)
    assert row.cells[1:] == (
        "all parapets",
        WORDS["by"],
        "2026-10-01",
        WORDS["answer"],
        WORDS["reference"],
    )
    heading, table = waiver_blocks(found)
    assert heading.text == ANSWERS and table.header == ANSWERS_HEADER and table.rows == (row.cells,)
