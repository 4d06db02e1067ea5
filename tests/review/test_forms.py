"""Letters and forms: each is a reading of the findings and verdicts, blank where a person writes."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import docx
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
    _, table = tables(forms.request_for_information(faulty))
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
    assert len(tables(form)) == 1 and "No question is open." in {para.text for para in form.paragraphs()}


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
    _, *listed = tables(forms.deficiency_list(faulty))
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
        head, _, answers = tables(letter)
        to = head.rows[2][3]
        for family in pair.split(" and "):
            assert f"______, manufacturer of the {family}" in to  # no name is made up
        assert sorted(row[0] for row in answers.rows) == pair.split(" and ")
        assert all("☐ not accepted" in row[1] for row in answers.rows)
        assert words.count("Signature: ____") == 1


def test_every_form_is_unsigned_and_carries_the_cautions(faulty: Assessment) -> None:
    made = [
        forms.request_for_information(faulty),
        forms.deficiency_list(faulty),
        forms.transmittal(faulty, ()),
        *forms.compatibility_letters(faulty).values(),
    ]
    for form in made:
        words = "\n".join(para.text for para in form.paragraphs())
        assert "It is not signed." in words and words.count("Signature: ____") == 1
        assert "fall protection" in words and "authority having jurisdiction" in words
        assert form.properties.state == "Draft for signature"


def test_the_command_drafts_them_all_and_tells_the_names(tmp_path: Path) -> None:
    sheets = sorted((CONFORMING / "submittals").glob("*.yaml"))
    done = run("letters", CONFORMING, *sheets, "-o", tmp_path / "out")
    assert done.status == 0
    names = {name for name in contents(tmp_path / "out") if name != "manifest.json"}
    assert names == {
        "request-for-information.docx", "deficiency-list.docx", "transmittal.docx",
        "compatibility-stpe-fluid-and-butyl.docx", "letter-numbers.json",
    }  # fmt: skip
    assert all(str(tmp_path / "out" / name) in done.out for name in names if name.endswith(".docx"))


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


PARTIES = """contacts:
  office: Office A
  office_address: 1 North Street
  reviewer: A. B.
  owner: Owner O
  contractor: Contractor C
  contractor_address: 2 South Street
  project_address: 3 East Street
  copies: roofing consultant
"""


def head_of(path: Path) -> dict[str, str]:
    table = docx.Document(str(path)).tables[0]
    cells = [[cell.text for cell in row.cells] for row in table.rows]
    return {label: words for row in cells for label, words in (row[:2], row[2:])}


def lettered(folder: Path, *more: object) -> Path:
    path = folder / "project.yaml"
    if not path.exists():
        path.write_text(f"{(CONFORMING / 'project.yaml').read_text()}\n{PARTIES}", encoding="utf-8")
    sheets = sorted((CONFORMING / "submittals").glob("*.yaml"))
    done = run("letters", path, *sheets, "-o", folder / "out", *more)
    assert done.status == 0, done.err
    return folder / "out"


def test_numbers_dates_and_parties_stand_in_each_letter_and_stay(tmp_path: Path) -> None:
    """Each letter was without number, date and parties, and had to be typed over by hand."""
    out = lettered(tmp_path, "--date", "2026-11-20")
    ask = head_of(out / "request-for-information.docx")
    assert (ask["No."], ask["Round"], ask["Date"], ask["Answer by"]) == (
        "RFI-001",
        "1",
        "2026-11-20",
        "2026-12-04",
    )
    assert ask["From"] == "Office A, 1 North Street" and ask["To"] == "Owner O"
    assert ask["Address"] == "3 East Street" and ask["Copies to"] == "roofing consultant"
    sent = head_of(out / "transmittal.docx")
    assert (sent["No."], sent["To"]) == ("T-001", "Contractor C, 2 South Street")
    assert sent["Answer by"] == "no answer needed" and sent["To be signed by"] == "A. B."
    pair = "compatibility-stpe-fluid-and-butyl.docx"
    assert head_of(out / pair)["No."] == "CL-001"
    before = {path.name: path.read_bytes() for path in out.iterdir()}
    lettered(tmp_path, "--date", "2026-11-27")
    assert {path.name: path.read_bytes() for path in out.iterdir()} == before, (
        "a letter keeps its number and date"
    )


def test_a_letter_that_says_something_else_goes_out_in_its_next_round(tmp_path: Path) -> None:
    out = lettered(tmp_path, "--date", "2026-11-20")
    path = tmp_path / "project.yaml"
    path.write_text(path.read_text().replace("Contractor C", "Contractor D"), encoding="utf-8")
    lettered(tmp_path, "--date", "2026-11-27")
    sent = head_of(out / "transmittal.docx")
    assert (sent["No."], sent["Round"], sent["Date"]) == ("T-001", "2", "2026-11-27")
    assert head_of(out / "request-for-information.docx")["Round"] == "1"


def test_without_a_date_the_letter_has_a_line_for_it(tmp_path: Path) -> None:
    head = head_of(lettered(tmp_path) / "deficiency-list.docx")
    assert set(head["Date"]) == {"_"} and head["Answer by"] == "10 working days after the date"
    assert head_of(lettered(tmp_path, "--date", "2026-11-20") / "deficiency-list.docx")["Round"] == "1"


def test_a_spoiled_record_of_numbers_is_refused(tmp_path: Path) -> None:
    out = lettered(tmp_path)
    (out / "letter-numbers.json").write_text('{"transmittal": 1}', encoding="utf-8")
    done = run("letters", CONFORMING, "-o", out)
    assert done.status == 2 and "it is not the record of the numbers of letters" in done.err


def test_the_maker_of_a_material_is_named_where_a_submittal_names_it(tmp_path: Path) -> None:
    sheet = tmp_path / "barrier.yaml"
    text = (CONFORMING / "submittals" / "barrier-conforming.yaml").read_text(encoding="utf-8")
    sheet.write_text(text.replace("name: Barrier A", "name: Barrier A\n    maker: Maker M"), encoding="utf-8")
    done = run("letters", CONFORMING, sheet, "-o", tmp_path / "out")
    assert done.status == 0
    to = head_of(tmp_path / "out" / "compatibility-stpe-fluid-and-butyl.docx")["To"]
    assert "Maker M, manufacturer of the STPE fluid" in to and "______, manufacturer of the butyl" in to
