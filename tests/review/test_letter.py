"""The review letter: each product with its recommendation, what is not proven and why, and room for a person."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest

from specgen.assessment import Assessment, assess
from specgen.files.carried import carried
from specgen.files.marks import Mark
from specgen.intake.project import load_project
from specgen.intake.submittal import load_submission
from specgen.model.document import Document, Table
from specgen.model.plain import plain
from specgen.model.project import Record
from specgen.model.submission import ProductReview, Recommendation, Result, Submission, SubmittalReview
from specgen.practice.load import load_practice
from specgen.review.judge import review
from specgen.review.letter import review_letter
from specgen.sections.form_text import FormText
from specgen.specification import specify
from tests import plain_yaml
from tests.chain.runs import CONFORMING, changed

SHEETS = CONFORMING / "submittals"
MARK = Mark("project.yaml", 1, 1)


@pytest.fixture(scope="module")
def assessment() -> Assessment:
    practice = load_practice()
    return assess(load_project(CONFORMING, practice), practice)


@pytest.fixture(scope="module")
def judged(assessment):
    stated = specify(assessment).paragraphs

    def judge(path: Path) -> tuple[Submission, tuple[ProductReview, ...]]:
        submission = load_submission(path, assessment.practice)
        reviews = review(submission, assessment.requirements, stated, assessment.practice, assessment.system)
        return submission, reviews

    return judge


@pytest.fixture(scope="module")
def letter(assessment, judged):
    def write(path: Path) -> tuple[Document, tuple[ProductReview, ...]]:
        submission, reviews = judged(path)
        tree = review_letter(assessment.project, submission, reviews, assessment.practice)
        return tree, reviews

    return write


def sheet(folder: Path, name: str, *changes: tuple[str, str]) -> Path:
    path = folder / name
    path.write_bytes((SHEETS / name).read_bytes())
    return changed(path, *changes)


def tables(tree: Document) -> list[Table]:
    return [block for block in tree.blocks if isinstance(block, Table)]


def everything(tree: Document) -> str:
    cells = [cell for table in tables(tree) for row in (table.header, *table.rows) for cell in row]
    captions = [table.caption for table in tables(tree)]
    return "\n".join([*(para.text for para in tree.paragraphs()), *captions, *cells])


def status_of(tree: Document) -> dict[str, str]:
    table = tables(tree)[0]
    rows = (table.header, *table.rows)
    return {label: words for row in rows for label, words in (row[:2], row[2:])}


def commented(tree: Document) -> list[tuple[str, ...]]:
    return [row for table in tables(tree)[2:] if table.header[-1] == "Comment" for row in table.rows]


@pytest.mark.parametrize("name", sorted(path.name for path in SHEETS.glob("*.yaml")))
def test_every_verdict_stands_in_one_table_with_its_paragraph(name, letter):
    tree, reviews = letter(SHEETS / name)
    verdicts = [verdict for one in reviews for verdict in one.verdicts]
    met = [row for table in tables(tree) if table.header[-1] == "Margin" for row in table.rows]
    unmet = commented(tree)
    assert len(met) + len(unmet) == len(verdicts)
    for one in verdicts:
        place = f"{one.section}, {one.paragraph}"
        submitted = f"{one.submitted} ({one.evidence})" if one.evidence else one.submitted
        if one.result is Result.MEETS:
            assert any(row[1:3] == (place, submitted) for row in met)
        else:
            assert any(f"({place})" in row[1] and row[2] == submitted for row in unmet)
    assert all(one.section and re.fullmatch(r"\d\.\d+(\.\w+)+", one.paragraph) for one in verdicts)


@pytest.mark.parametrize("name", sorted(path.name for path in SHEETS.glob("*.yaml")))
def test_comments_are_numbered_and_each_says_what_would_cure_it(name, letter):
    tree, _ = letter(SHEETS / name)
    rows = commented(tree)
    assert [row[0] for row in rows] == [str(number) for number in range(1, len(rows) + 1)]
    for row in rows:
        assert "Submit" in row[3] or "Confirm" in row[3], row
        assert row[3].endswith(".") and ".." not in row[3]
        assert row[1][0].isupper()


def test_page_one_begins_with_the_status_of_the_submittal(letter, assessment):
    tree, _ = letter(SHEETS / "top-failing.yaml")
    assert [type(block).__name__ for block in tree.blocks[:3]] == ["Para", "Table", "Table"]
    found = status_of(tree)
    assert found["Submittal"] == "07 71 00-01" and found["Round"] == "1"
    assert found["Project"] == assessment.project.title and found["Received"] == "2026-11-17"
    assert found["From"] == "sheet-metal worker"
    assert found["Section"].startswith("07 65 00") and "07 71 00" in found["Section"]
    assert set(found["Returned"]) == set(found["Copies to"]) == {"_"}, "nobody has written who and when"


def test_the_parties_of_the_project_stand_in_the_status(assessment, judged):
    submission, reviews = judged(SHEETS / "top-failing.yaml")
    parties = {
        "office": "Office A",
        "reviewer": "A. B.",
        "copies": "owner",
        "project_address": "1 North Street",
    }
    project = replace(assessment.project, contacts=Record("contacts", parties, {}, MARK))
    titles = {"07 71 00": "Copings", "07 65 00": "Flashing"}
    tree = review_letter(project, submission, reviews, assessment.practice, (), titles)
    found = status_of(tree)
    assert (found["Reviewed by"], found["Copies to"]) == ("A. B., Office A", "owner")
    assert found["Address"] == "1 North Street" and found["Section"] == "07 65 00 Flashing; 07 71 00 Copings"


def test_a_person_marks_a_box_for_each_product_and_signs(letter):
    tree, reviews = letter(SHEETS / "top-failing.yaml")
    decision = tables(tree)[1]
    assert decision.header == (
        "Product", "Recommended",
        "No exceptions taken", "Make corrections noted", "Revise and resubmit", "Rejected",
    )  # fmt: skip
    assert [row[:2] for row in decision.rows] == [
        ("Flashing F (flashing membrane across the parapet top)", "Rejected"),
        ("Coping C (coping)", "Revise and resubmit"),
    ]
    assert all(row[2:] == ("☐",) * 4 for row in decision.rows)
    assert [one.recommendation for one in reviews] == [Recommendation.REJECTED, Recommendation.RESUBMIT]
    words = everything(tree)
    assert "It is not a decision." in words and words.count("Signature: ____") == 1
    assert tree.properties.state == "Recommendation"


def test_the_letter_has_no_word_of_the_program(letter):
    """Rule codes, ids, status letters and counts of results stay in the data."""
    words = everything(letter(SHEETS / "top-failing.yaml")[0])
    assert not re.search(r"\b[A-Z]{2}\d{2}\b", words)
    assert not re.search(r"\b\d+ (?:fails|not met|not stated)\b|\[[CSPM]\]", words)


def test_deviations_declared_and_found_stand_side_by_side(letter, tmp_path):
    path = sheet(tmp_path, "top-failing.yaml", ("products:\n", "deviations: [Pieces of 12 ft]\nproducts:\n"))
    tree, _ = letter(path)
    words = everything(tree)
    assert "Declared by the submitter:" in words and "Pieces of 12 ft" in words
    unmet = [row[0] for row in commented(tree) if row[3].startswith("Not met.")]
    assert f"see comments {', '.join(unmet[:-1])}, and {unmet[-1]}." in words
    clean = everything(letter(SHEETS / "barrier-conforming.yaml")[0])
    assert "The submitter declared no deviation." in clean and "No deviation was found" in clean


@pytest.mark.parametrize("name", sorted(path.name for path in SHEETS.glob("*.yaml")))
def test_both_cautions_and_the_danger_at_the_edge_are_in_every_letter(name, letter):
    words = everything(letter(SHEETS / name)[0])
    assert "authority having jurisdiction" in words
    assert "design professional of record" in words
    assert "fall protection" in words


def test_an_accepted_product_has_no_table_of_open_points(letter):
    tree, (one,) = letter(SHEETS / "barrier-conforming.yaml")
    assert one.recommendation is Recommendation.NO_EXCEPTIONS
    assert [len(table.header) for table in tables(tree)] == [4, 6, 4]
    assert "There is no comment." in everything(tree)


def test_a_product_for_some_parapets_is_told_so_and_judged_there(letter, tmp_path):
    path = sheet(
        tmp_path, "top-failing.yaml", ("    name: Coping C\n", "    name: Coping C\n    parapets: [P-2]\n")
    )
    tree, reviews = letter(path)
    words = everything(tree)
    assert "For use at parapet P-2" in words
    assert {one.requirement.parapets for one in reviews[1].verdicts if not one.requirement.everywhere} == {
        ("P-2",)
    }
    assert "For use" not in everything(letter(SHEETS / "top-failing.yaml")[0])


def test_a_product_without_requirements_is_told_so(letter, tmp_path):
    path = tmp_path / "sheet.yaml"
    path.write_text(
        'submittal: {number: "9", project: "2601", date: 2026-11-16, from: framer}\n'
        "products: [{role: insulation, name: Board S, kind: extruded polystyrene}]\n"
    )
    tree, (one,) = letter(path)
    assert one.verdicts == ()
    assert "Board S: no requirement of this project is on a product of this role here." in everything(tree)


def test_a_name_of_digits_is_told_as_a_product(letter, tmp_path):
    path = sheet(tmp_path, "barrier-conforming.yaml", ("name: Barrier A", 'name: "40"'))
    tree, _ = letter(path)
    assert "Product 40 (water-resistive and air barrier)" in everything(tree)
    assert tables(tree)[1].rows[0][0] == "Product 40 (water-resistive and air barrier)"


def test_what_the_submittal_leaves_out_of_its_head_is_told(letter, tmp_path):
    path = sheet(tmp_path, "barrier-conforming.yaml", ("  from: air barrier installer\n", ""))
    tree, _ = letter(path)
    assert status_of(tree)["From"] == "not stated"


def test_the_words_of_the_letter_come_from_its_template(letter):
    texts = plain_yaml.load((carried("templates") / "letters" / "review.yaml").read_text("utf-8"))
    words = everything(letter(SHEETS / "top-failing.yaml")[0])
    fixed = [one for one in texts.values() if isinstance(one, str) and "{{" not in one]
    elsewhere = (
        "subject",
        "state",
        "not_stated",
        "no_answer",
        "closed",
        "still_open",
        "comments_none",
        "unasked",
    )
    elsewhere += (
        "declared",
        "found_none",
        "other_method",
        "confirm",
        "not_proven",
        "not_readable",
        "note_about",
    )
    elsewhere += ("as_built", "note_submitted")
    assert len(fixed) > 20
    for key, one in texts.items():
        if one in fixed and key not in elsewhere:
            assert one in words, key


def test_the_sandbox_gives_values_no_reach_and_misses_no_name():
    words = FormText("letters/review")
    assert words("no_requirements", product="{{ 7*7 }}", why="{% x %}") == "{{ 7*7 }}: {% x %}."
    with pytest.raises(Exception, match="'why' is undefined"):
        words("no_requirements", product="x")


def test_the_data_says_what_the_letter_says(assessment, judged):
    submission, reviews = judged(SHEETS / "top-failing.yaml")
    data = plain(SubmittalReview.of(submission, reviews))
    assert data == json.loads(json.dumps(data))
    assert [one["recommendation"] for one in data["products"]] == [
        one.recommendation.value for one in reviews
    ]
    lines = (SHEETS / "top-failing.yaml").read_text("utf-8").splitlines()
    thickness = next(
        one for one in data["products"][1]["verdicts"] if one["requirement"]["title"] == "metal thickness"
    )
    line, column = thickness["mark"]["line"], thickness["mark"]["column"]
    assert lines[line - 1][column - 1 :] == thickness["submitted"] == "0.040 in"
    origin = thickness["requirement"]["origin"]
    assert origin["source"]["status"] and origin["kind"] == "choice"
