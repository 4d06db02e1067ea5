"""A product for a part that nobody asks for, one that fits at one parapet alone, and one submitted twice."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import docx
import pytest

from specgen.intake.submittal import load_submission
from specgen.model.project import Record
from specgen.model.submission import ProductReview, Recommendation, Submission
from specgen.review.package import review_package
from tests.chain.runs import CONFORMING, run
from tests.review.conforming import EVIDENCE, MARK, design, product


def paper(folder: Path, number: str, *products: dict[str, Any], head: str = "") -> Path:
    path = folder / f"{number}.yaml"
    path.write_text(
        f'format: 2\nsubmittal: {{number: "{number}", project: "2601", from: plasterer{head}}}\n'
        f"products: {json.dumps(products)}\n",
        encoding="utf-8",
    )
    return path


def sent(folder: Path, number: str, *products: dict[str, Any]) -> Submission:
    spec = design("mixed-humid-midrise")
    return load_submission(paper(folder, number, *products), spec.assessment.practice)


def reviews(*submissions: Submission) -> tuple[ProductReview, ...]:
    found = review_package(submissions, design("mixed-humid-midrise"))
    return tuple(one for _, each in found for one in each)


def mat(**more: Any) -> dict[str, Any]:
    return {"role": "drainage layer", "name": "Mat M", "evidence": EVIDENCE, "kind": "dimpled sheet", **more}


def test_what_the_project_does_not_ask_for_is_returned_unreviewed(tmp_path: Path) -> None:
    """Today's letter told the contractor to revise and resubmit what nobody wants."""
    unwanted = {"role": "scupper", "name": "Scupper S", "evidence": EVIDENCE}
    (one,) = reviews(sent(tmp_path, "1", unwanted))
    assert one.recommendation is Recommendation.NOT_REQUIRED and not one.failed
    assert one.recommendation.value == "not required, returned unreviewed"
    done = run("review", CONFORMING, paper(tmp_path, "2", unwanted), "-o", tmp_path / "out")
    assert "not required, returned unreviewed" in done.out and done.status == 0


def test_the_same_product_with_other_values_is_told_on_both_papers(tmp_path: Path) -> None:
    ways = [mat(maker="Maker A", depth="11 mm"), mat(maker="maker  a", depth="13 mm")]
    first, second = reviews(sent(tmp_path, "1", ways[0]), sent(tmp_path, "2", ways[1]))
    assert any("13 mm in submittal 2, item 1" in note for note in first.notes), first.notes
    assert any("11 mm in submittal 1, item 1" in note for note in second.notes)
    assert first.open and second.open
    for one in (first, second):
        assert one.recommendation is not Recommendation.NO_EXCEPTIONS


@pytest.mark.parametrize(
    "other",
    [
        mat(maker="Maker B", depth="13 mm"),
        mat(maker="Maker A", depth="0.011 m"),
        mat(maker="Maker A", name="Mat N", depth="13 mm"),
    ],
)
def test_another_maker_another_name_or_the_same_value_is_no_contradiction(
    tmp_path: Path, other: dict[str, Any]
) -> None:
    first, _ = reviews(sent(tmp_path, "1", mat(maker="Maker A", depth="11 mm")), sent(tmp_path, "2", other))
    assert first.notes == ()


def test_a_value_that_no_row_asks_for_and_nobody_can_read_is_told(tmp_path: Path) -> None:
    (one,) = reviews(sent(tmp_path, "1", mat(depth="11 mm", compressive_strength="as tested")))
    lines = [row.reason for row in one.verdicts] + list(one.notes)
    assert any("as tested" in line for line in lines), lines


def test_a_product_is_accepted_where_it_fits_with_the_place(tmp_path: Path) -> None:
    """A mesh where two parapets have one and the third a sheet: right at the two, and the letter says where."""
    spec = design("cold-continental-school")
    mesh = replace(
        product(spec.assessment, "drainage layer", {"kind": "mesh"}, ("P-1",), "Mesh M"), parapets=()
    )
    submission = Submission(Record("submittal", {"number": "1"}, {}, MARK), (mesh,), "1.yaml")
    ((_, (one,)),) = review_package([submission], spec)
    assert one.recommendation is Recommendation.REJECTED
    assert [(place.parapets, place.recommendation) for place in one.places] == [
        (("P-1", "P-2"), Recommendation.NO_EXCEPTIONS),
        (("P-3",), Recommendation.REJECTED),
    ]
    ((_, (alone,)),) = review_package(
        [replace(submission, products=(replace(mesh, parapets=("P-1",)),))], spec
    )
    assert alone.recommendation is Recommendation.NO_EXCEPTIONS and alone.places == ()


def test_a_letter_to_the_contractor_names_no_key_of_a_file(tmp_path: Path) -> None:
    """`meant: {…}` and `vapor_permeance` are for the person at the file, and no paper shows them."""
    product = mat(depth="11 mm", compressive_strength="as tested", vapor_permeance="0.9 perm")
    done = run("review", CONFORMING, paper(tmp_path, "7", product), "-o", tmp_path / "out")
    assert done.status in (1, 3), done.err
    (written,) = json.loads((tmp_path / "out" / "review-7.json").read_text())["comments"][:1]
    assert written["number"] == 1
    letter = docx.Document(str(tmp_path / "out" / "review-7.docx"))
    words = "\n".join(cell.text for table in letter.tables for row in table.rows for cell in row.cells)
    assert "meant:" not in words and "`" not in words and "_permeance" not in words
