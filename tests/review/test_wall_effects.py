"""Products that meet every row and break the wall, and products that only look odd (wall_effects.yaml)."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from specgen.model.finding import Outcome
from specgen.model.submission import ProductReview, Recommendation, Result
from tests import plain_yaml
from tests.review.conforming import reviewed

TABLE = plain_yaml.load(Path(__file__).with_name("wall_effects.yaml").read_text())


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("wall")


def review(case: Mapping[str, Any], folder: Path) -> ProductReview:
    (one,) = reviewed(case, [(case["role"], case["with"])], folder)
    held = [verdict for verdict in one.verdicts if verdict.result is not Result.MEETS]
    assert held == [], "the product meets every row"
    return one


@pytest.mark.parametrize("case", TABLE["breaks"], ids=lambda case: case["what"])
def test_a_product_that_breaks_the_wall_is_caught(case: Mapping[str, Any], folder: Path) -> None:
    one = review(case, folder)
    brought = [point.finding for point in one.wall]
    outcome = Outcome.UNKNOWN if "outcome" in case else Outcome.FAIL
    found = next((f for f in brought if f.code == case["code"] and case["says"] in f.message), None)
    assert found is not None and found.outcome is outcome, [(f.code, f.outcome, f.message) for f in brought]
    assert found.remedy and found.reason and found.sources
    assert one.recommendation in (Recommendation.RESUBMIT, Recommendation.CORRECTIONS)
    if one.verdicts:
        assert case["code"] in one.why


MEANT = [case for case in TABLE["breaks"] if "meant" in case["with"]]


@pytest.mark.parametrize("case", MEANT, ids=lambda case: case["what"])
def test_what_is_not_expected_of_a_product_is_asked_about_before_it_counts(
    case: Mapping[str, Any], folder: Path
) -> None:
    given = {key: value for key, value in case["with"].items() if key != "meant"}
    (one,) = reviewed(case, [(case["role"], given)], folder)
    asked = [verdict.reason for verdict in one.verdicts if verdict.result is Result.CONFIRM]
    asked += [point.finding.message for point in one.wall if point.finding.code == "MV01"]
    assert len(asked) == 1 and "expected of" in asked[0] and asked[0].endswith("is this meant?")
    assert one.open and one.recommendation is not Recommendation.NO_EXCEPTIONS


@pytest.mark.parametrize("case", TABLE["fine"], ids=lambda case: case["what"])
def test_a_product_that_only_looks_odd_is_let_be(case: Mapping[str, Any], folder: Path) -> None:
    one = review(case, folder)
    assert [point.finding.message for point in one.wall] == []
    assert one.recommendation is Recommendation.NO_EXCEPTIONS


def test_there_are_enough_of_both() -> None:
    assert len(TABLE["breaks"]) >= 15 and len(TABLE["fine"]) >= 15
    assert {case["project"] for case in TABLE["breaks"]} >= {"mixed-humid-midrise", "marine-library"}
