"""A package of submittals: the wall decides along with the rows, and products are weighed against each other."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from specgen.assessment import Assessment
from specgen.intake.submittal import load_submission
from specgen.model.document import Table
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.plain import plain
from specgen.model.submission import ProductReview, Recommendation, Submission, WallPoint
from specgen.review.letter import review_letter
from specgen.review.package import Reviewed, recommend_with_wall, review_package
from specgen.sections.words import without_keys
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING

COPING = """
  - role: coping
    name: Coping C
    kind: formed metal
    metal: {metal}
    thickness: 0.063 in
"""
CLEAT = """
  - role: cleat
    name: Cleat K
    kind: continuous
    metal: {metal}
    thickness: 0.063 in
"""


@pytest.fixture(scope="module")
def assessed() -> Assessment:
    return read_inputs(CONFORMING, None, False).assessed()


def submittal(
    folder: Path, practice_of: Assessment, *products: str, number: str = "07 71 00-09"
) -> Submission:
    path = folder / f"{number}.yaml"
    path.write_text(
        f'submittal:\n  number: "{number}"\n  project: "2601"\n  date: 2026-11-17\n  from: sheet-metal worker\n'
        "products:" + "".join(products),
        encoding="utf-8",
    )
    return load_submission(path, practice_of.practice)


def reviewed(assessed: Assessment, *submissions: Submission) -> tuple[Reviewed, ...]:
    return review_package(submissions, specify(assessed))


def test_two_products_each_fine_that_are_not_fine_together(tmp_path: Path, assessed: Assessment) -> None:
    """Copper above galvanized steel: neither submittal alone puts both into the wall that the other designs."""
    one = submittal(tmp_path, assessed, COPING.format(metal="stainless steel"))
    other = submittal(tmp_path, assessed, CLEAT.format(metal="galvanized steel"), number="07 71 00-10")
    ((_, (coping,)), (_, (cleat,))) = reviewed(assessed, one, other)
    points = {point.finding.code: point for review in (coping, cleat) for point in review.wall}
    assert points
    together = [point for review in (coping, cleat) for point in review.wall if point.along_with]
    for point in together:
        assert any(name.endswith(("Coping C", "Cleat K")) for name in point.along_with)


def finding(severity: Severity, outcome: Outcome = Outcome.FAIL) -> Finding:
    base = read_inputs(CONFORMING, None, False).assessed().findings[0]
    return replace(base, code="XX01", title="The wall is right", severity=severity, outcome=outcome)


@pytest.mark.parametrize(
    ("rows", "severity", "outcome", "expected"),
    [
        (Recommendation.NO_EXCEPTIONS, Severity.DEFECT, Outcome.FAIL, Recommendation.RESUBMIT),
        (Recommendation.NO_EXCEPTIONS, Severity.RISK, Outcome.FAIL, Recommendation.RESUBMIT),
        (Recommendation.NO_EXCEPTIONS, Severity.QUERY, Outcome.FAIL, Recommendation.CORRECTIONS),
        (Recommendation.NO_EXCEPTIONS, Severity.DEFECT, Outcome.UNKNOWN, Recommendation.CORRECTIONS),
        (Recommendation.CORRECTIONS, Severity.DEFECT, Outcome.FAIL, Recommendation.RESUBMIT),
        (Recommendation.CORRECTIONS, Severity.QUERY, Outcome.FAIL, Recommendation.CORRECTIONS),
        (Recommendation.RESUBMIT, Severity.QUERY, Outcome.FAIL, Recommendation.RESUBMIT),
        (Recommendation.REJECTED, Severity.DEFECT, Outcome.FAIL, Recommendation.REJECTED),
    ],
)
def test_the_wall_makes_a_recommendation_stricter_and_never_milder(
    rows: Recommendation, severity: Severity, outcome: Outcome, expected: Recommendation
) -> None:
    point = WallPoint(finding(severity, outcome), ("P-1",))
    got, why, in_words = recommend_with_wall(rows, "as judged", [point])
    assert got is expected
    assert ("XX01" in why) or got is rows
    assert "XX01" not in in_words and ("the wall is right" in in_words) is ("XX01" in why)


def test_letter_and_data_tell_what_happens_to_the_wall(tmp_path: Path, assessed: Assessment) -> None:
    one = submittal(tmp_path, assessed, COPING.format(metal="copper"))
    ((submission, reviews),) = reviewed(assessed, one)
    assert reviews[0].wall
    letter = review_letter(assessed.project, submission, reviews, assessed.practice)
    table = next(b for b in letter.blocks if isinstance(b, Table) and b.header[-1] == "Comment")
    rows = [row for row in table.rows if row[2] == "as submitted, in this wall"]
    points = plain(reviews[0])["wall"]
    assert len(rows) == len(points) == len(reviews[0].wall)
    for row, point in zip(rows, points, strict=True):
        assert row[1].startswith(point["title"]) and point["code"] not in "".join(row)
        words = without_keys(point["message"], assessed.practice.vocabulary)
        assert words.rstrip(".")[1:] in row[3]


def test_a_row_that_says_it_already_is_not_said_again(tmp_path: Path, assessed: Assessment) -> None:
    sheet = submittal(tmp_path, assessed, "\n  - role: barrier\n    name: Film B\n    kind: fluid-applied\n")
    ((_, (one,)),) = reviewed(assessed, sheet)
    review: ProductReview = one
    silent = {
        verdict.requirement.attribute for verdict in review.verdicts if verdict.result.value == "not stated"
    }
    assert silent
    assert not [
        p for p in review.wall if p.finding.outcome is Outcome.UNKNOWN and p.finding.attribute in silent
    ]
