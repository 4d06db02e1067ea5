"""Letters and forms: each is a reading of the findings and verdicts, blank where a person writes."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from specgen.assessment import Assessment
from specgen.model.document import Document, Table
from specgen.model.finding import Outcome, Severity
from specgen.paths.meetings import meetings
from specgen.practice.load import load_practice
from specgen.review import forms
from specgen.rules.book import load_book
from specgen.rules.papers import PAPER_RULES
from specgen.sections.words import without_file
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING, FAULTY, contents, run


@pytest.fixture(scope="module")
def faulty() -> Assessment:
    return read_inputs(FAULTY, None, False).assessed()


def tables(document: Document) -> list[Table]:
    return [block for block in document.blocks if isinstance(block, Table)]


def test_every_open_question_is_asked_once_with_room_for_the_answer(faulty: Assessment) -> None:
    (table,) = tables(forms.request_for_information(faulty))
    asked = {
        (one.code, one.message)
        for one in faulty.findings
        if one.outcome is Outcome.UNKNOWN or (one.severity is Severity.QUERY and one.outcome is Outcome.FAIL)
    }
    assert len(table.rows) == len(asked) > 0
    printed = [row[1] for row in table.rows]
    for _, message in asked:
        first = message.split("`")[0]
        assert any(row.casefold().startswith(first.casefold().rstrip()) for row in printed), message
    assert all(row[-1] == "" for row in table.rows)


def test_a_project_without_questions_gets_a_form_that_says_so(faulty: Assessment) -> None:
    answered = replace(faulty, findings=tuple(one for one in faulty.findings if one.failed or not one.counts))
    form = forms.request_for_information(answered)
    assert not tables(form) and "No question is open." in {para.text for para in form.paragraphs()}


def test_every_certain_defect_and_risk_has_one_trade_that_cures_it(faulty: Assessment) -> None:
    found = forms.deficiencies(faulty)
    standing = {
        (one.code, one.message)
        for one in faulty.findings
        if one.outcome is Outcome.FAIL and one.severity is not Severity.QUERY
    }
    assert len(found) == len(standing)
    trades = {role.trade for role in faulty.practice.vocabulary.roles.values()} | {
        "design professional of record"
    }
    assert {one.trade for one in found} <= trades and len({one.trade for one in found}) > 2
    assert all(one.cure and one.by for one in found)
    listed = tables(forms.deficiency_list(faulty))
    assert sum(len(table.rows) for table in listed) == len(found)
    assert [int(row[0]) for table in listed for row in table.rows] == list(range(1, len(found) + 1))


def test_a_letter_goes_to_both_makers_of_each_pair_that_is_not_allowed(faulty: Assessment) -> None:
    letters = forms.compatibility_letters(faulty)
    pairs = {
        " and ".join(sorted(one.families))
        for one in meetings(faulty.project, faulty.practice)
        if one.answer != "allowed"
    }
    assert set(letters) == pairs and pairs
    for pair, letter in letters.items():
        words = "\n".join(para.text for para in letter.paragraphs())
        for family in pair.split(" and "):
            assert f"manufacturer of the {family}" in words
        assert words.count("☐ not accepted") == 2
        assert "To: ____" in words  # no name is made up


def test_every_form_is_unsigned_and_carries_the_cautions(faulty: Assessment) -> None:
    made = [
        forms.request_for_information(faulty),
        forms.deficiency_list(faulty),
        forms.transmittal(faulty.project, ()),
        *forms.compatibility_letters(faulty).values(),
    ]
    for form in made:
        words = "\n".join(para.text for para in form.paragraphs())
        assert "It is not signed." in words and "Signature: ____" in words
        assert "fall protection" in words and "authority having jurisdiction" in words
        assert form.properties.state == "Draft for signature"


def test_the_command_drafts_them_all_and_tells_the_names(tmp_path: Path) -> None:
    sheets = sorted((CONFORMING / "submittals").glob("*.yaml"))
    done = run("letters", CONFORMING, *sheets, "-o", tmp_path / "out")
    assert done.status == 0
    names = {name for name in contents(tmp_path / "out") if name != "manifest.json"}
    assert names == {
        "request-for-information.docx", "deficiency-list.docx", "transmittal.docx",
        "compatibility-stpe-fluid-and-butyl.docx",
    }  # fmt: skip
    assert all(str(tmp_path / "out" / name) in done.out for name in names)


def test_what_a_submittal_does_not_prove_goes_to_its_trade(tmp_path: Path) -> None:
    sheets = sorted((CONFORMING / "submittals").glob("*.yaml"))
    done = run("letters", CONFORMING, *sheets, "-o", tmp_path / "out")
    assert done.status == 0
    from docx import Document as Word

    words = [
        cell.text
        for table in Word(str(tmp_path / "out" / "deficiency-list.docx")).tables
        for row in table.rows
        for cell in row.cells
    ]
    assert any("Submittal 07 71 00-01" in cell for cell in words)
    assert any("Coping C" in cell for cell in words)


def test_a_form_for_other_people_has_no_rule_code_no_key_and_no_status_letter(faulty: Assessment) -> None:
    made = [forms.request_for_information(faulty), forms.deficiency_list(faulty)]
    for form in made:
        cells = "\n".join(cell for table in tables(form) for row in table.rows for cell in row)
        assert not re.search(r"\b[A-Z]{2}\d\d\b|`|\[[CSPM]: ", cells), cells


def test_the_remedy_of_every_rule_says_something_without_the_project_file() -> None:
    practice = load_practice()
    rules = [one.rule for one in load_book(practice)] + list(PAPER_RULES)
    assert [rule.code for rule in rules if not without_file(rule.remedy)] == []
    assert [rule.code for rule in rules if "`" in rule.reason or "`" in rule.title] == []
