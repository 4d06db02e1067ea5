"""The review letter: each product with its recommendation, what is not proven and why, and room for a person."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from specgen.assessment import Assessment, assess
from specgen.files.carried import carried
from specgen.intake.project import load_project
from specgen.intake.submittal import load_submission
from specgen.model.document import Document, Style, Table
from specgen.model.plain import plain
from specgen.model.submission import ProductReview, Recommendation, Result, Submission, SubmittalReview
from specgen.practice.load import load_practice
from specgen.review.judge import review
from specgen.review.letter import review_letter
from specgen.sections.form_text import FormText
from specgen.specification import specify
from tests import plain_yaml
from tests.chain.runs import CONFORMING, changed

SHEETS = CONFORMING / "submittals"


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


@pytest.mark.parametrize("name", sorted(path.name for path in SHEETS.glob("*.yaml")))
def test_every_verdict_stands_in_one_table_with_its_paragraph(name, letter):
    tree, reviews = letter(SHEETS / name)
    rows = [row for table in tables(tree)[1:-1] for row in table.rows]
    verdicts = [verdict for one in reviews for verdict in one.verdicts]
    assert sorted(row[1:4] for row in rows) == sorted(
        (
            f"{one.section}, {one.paragraph}",
            f"{one.submitted} ({one.evidence})" if one.evidence else one.submitted,
            f"{one.result.value}, {one.margin}"
            if one.margin and one.result is Result.MEETS
            else one.result.value,
        )
        for one in verdicts
    )
    assert all(one.section and re.fullmatch(r"\d\.\d+(\.\w+)+", one.paragraph) for one in verdicts)


@pytest.mark.parametrize("name", sorted(path.name for path in SHEETS.glob("*.yaml")))
def test_what_is_not_proven_has_a_reason_and_a_cure(name, letter):
    tree, reviews = letter(SHEETS / name)
    unproven = [row for table in tables(tree)[1:-1] if len(table.header) == 5 for row in table.rows]
    assert len(unproven) == sum(one.result is not Result.MEETS for each in reviews for one in each.verdicts)
    for row in unproven:
        assert "Submit" in row[4] or "Confirm" in row[4], row
        assert row[4].endswith(".") and ".." not in row[4]
        assert row[0][0].isupper()


def test_each_product_has_its_recommendation_under_its_own_heading(letter):
    tree, reviews = letter(SHEETS / "top-failing.yaml")
    paras = list(tree.paragraphs())
    heads = [para.text for para in paras if para.style is Style.HEADING]
    assert heads[:2] == ["Flashing F (flashing membrane across the parapet top)", "Coping C (coping)"]
    printed = [para.text for para in paras if para.text.startswith("Recommended: ")]
    assert printed == [
        f"Recommended: {one.recommendation.value}. Why: {one.why_in_words}." for one in reviews
    ]
    assert [one.recommendation for one in reviews] == [Recommendation.REJECTED, Recommendation.RESUBMIT]


def test_a_person_decides_on_each_product_and_signs(letter):
    tree, reviews = letter(SHEETS / "drainage-half-filled.yaml")
    decision = tables(tree)[-1]
    assert decision.header == (
        "Product", "No exceptions taken", "Make corrections noted", "Revise and resubmit", "Rejected",
    )  # fmt: skip
    assert decision.rows == tuple((one.product.name, "☐", "☐", "☐", "☐") for one in reviews)
    words = everything(tree)
    assert "It is not a decision." in words
    assert "Signature: ____" in words
    assert tree.properties.state == "Recommendation"


@pytest.mark.parametrize("name", sorted(path.name for path in SHEETS.glob("*.yaml")))
def test_both_cautions_and_the_danger_at_the_edge_are_in_every_letter(name, letter):
    words = everything(letter(SHEETS / name)[0])
    assert "authority having jurisdiction" in words
    assert "design professional of record" in words
    assert "fall protection" in words


def test_an_accepted_product_has_no_table_of_open_points(letter):
    tree, (one,) = letter(SHEETS / "barrier-conforming.yaml")
    assert one.recommendation is Recommendation.NO_EXCEPTIONS
    assert [len(table.header) for table in tables(tree)] == [2, 4, 5]
    assert "Requirements not proven" not in everything(tree)


def test_a_product_for_some_parapets_is_told_so_and_judged_there(letter, tmp_path):
    path = sheet(
        tmp_path, "top-failing.yaml", ("    name: Coping C\n", "    name: Coping C\n    parapets: [P-2]\n")
    )
    tree, reviews = letter(path)
    words = everything(tree)
    assert "Submitted for use at parapet P-2 only." in words
    assert {one.requirement.parapets for one in reviews[1].verdicts if not one.requirement.everywhere} == {
        ("P-2",)
    }
    assert "Submitted for" not in everything(letter(SHEETS / "top-failing.yaml")[0])


def test_a_product_without_requirements_is_told_so(letter, tmp_path):
    path = tmp_path / "sheet.yaml"
    path.write_text(
        'submittal: {number: "9", project: "2601", date: 2026-11-16, from: framer}\n'
        "products: [{role: insulation, name: Board S, kind: extruded polystyrene}]\n"
    )
    tree, (one,) = letter(path)
    assert one.verdicts == ()
    assert "No paragraph of this project states a requirement for this product" in everything(tree)


def test_a_name_of_digits_is_told_as_a_product(letter, tmp_path):
    path = sheet(tmp_path, "barrier-conforming.yaml", ("name: Barrier A", 'name: "40"'))
    tree, _ = letter(path)
    assert "Product 40 (water-resistive and air barrier)" in everything(tree)
    assert tables(tree)[-1].rows[0][0] == "Product 40"


def test_what_the_submittal_leaves_out_of_its_head_is_told(letter, tmp_path):
    path = sheet(tmp_path, "barrier-conforming.yaml", ("  from: air barrier installer\n", ""))
    tree, _ = letter(path)
    assert dict(tables(tree)[0].rows)["Submitted by"] == "not stated"


def test_the_words_of_the_letter_come_from_its_template(letter):
    texts = plain_yaml.load((carried("templates") / "letters" / "review.yaml").read_text("utf-8"))
    words = everything(letter(SHEETS / "top-failing.yaml")[0])
    fixed = [one for one in texts.values() if isinstance(one, str) and "{{" not in one]
    assert len(fixed) > 8
    for one in fixed:
        if one not in (
            texts["no_requirements"],
            texts["subject"],
            texts["wall_heading"],
            texts["wall_note"],
            texts["unasked"],
        ):
            assert one in words


def test_the_sandbox_gives_values_no_reach_and_misses_no_name():
    words = FormText("letters/review")
    assert words("recommendation", result="{{ 7*7 }}", why="{% x %}").startswith("Recommended: {{ 7*7 }}.")
    with pytest.raises(Exception, match="'why' is undefined"):
        words("recommendation", result="x")


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
