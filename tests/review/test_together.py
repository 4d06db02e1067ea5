"""Packages: what products do only together, what one mends of another, and alternatives (packages.yaml)."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from specgen.model.submission import ProductReview, Recommendation
from specgen.practice.load import load_practice
from specgen.review.comments import point_row
from tests import plain_yaml
from tests.review.conforming import reviewed

VOCABULARY = load_practice().vocabulary
TABLE = plain_yaml.load(Path(__file__).with_name("packages.yaml").read_text())


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("together")


def codes(one: ProductReview) -> set[str]:
    return {point.finding.code for point in one.wall}


@pytest.mark.parametrize("case", TABLE["together"], ids=lambda case: case["what"])
def test_products_that_are_fine_alone_and_not_together(case: Mapping[str, Any], folder: Path) -> None:
    reviews = reviewed(case, case["products"], folder)
    for number, (given, one) in enumerate(zip(case["products"], reviews, strict=True)):
        (alone,) = reviewed(case, [given], folder)
        point = next(p for p in one.wall if p.finding.code == case["code"] and p.along_with)
        assert point.finding.message not in {p.finding.message for p in alone.wall}
        others = {name for place, (name, _) in enumerate(case["products"]) if place != number}
        assert {name.split(", ")[-1].rsplit(" ", 1)[0] for name in point.along_with} == others
        assert one.recommendation in (Recommendation.RESUBMIT, Recommendation.CORRECTIONS)
        assert "It happens only along with" in point_row(point, VOCABULARY)[1]


@pytest.mark.parametrize("case", TABLE["mended"], ids=lambda case: case["what"])
def test_what_another_product_of_the_package_mends_is_a_condition(
    case: Mapping[str, Any], folder: Path
) -> None:
    broken, mender = reviewed(case, case["products"], folder)
    (alone,) = reviewed(case, case["products"][:1], folder)
    assert alone.recommendation is Recommendation.RESUBMIT and case["code"] in codes(alone)
    (point,) = [p for p in broken.wall if p.finding.code == case["code"]]
    assert point.mended_by and point.mended_by[0].endswith(mender.product.name)
    assert broken.recommendation is Recommendation.CORRECTIONS
    assert "take both or neither" in point_row(point, VOCABULARY)[1]


MIDRISE = {"project": "mixed-humid-midrise", "at": ["P-1"]}


def test_alternatives_are_judged_each_and_named(folder: Path) -> None:
    """A finished plaster does not hide what the other one does, and neither stands in the other's wall."""
    closed, open_ = ("plaster", {"finish": "elastomeric coating"}), ("plaster", {"finish": "cement finish"})
    for first, second in ((closed, open_), (open_, closed)):
        one, other = reviewed(MIDRISE, [first, second], folder)
        assert one.alternatives == ("2, item 1, plaster 2",) and other.alternatives == (
            "1, item 1, plaster 1",
        )
        brought = codes(one if first is closed else other)
        assert "PL14" in brought and not codes(other if first is closed else one)
        assert not any(point.along_with for review in (one, other) for point in review.wall)


def test_each_alternative_meets_the_rest_of_the_package(folder: Path) -> None:
    hot = ("barrier", {"family": "STPE fluid", "service_temperature": "170 degF"})
    dark, light = ("coping", {"color": "dark"}), ("coping", {"color": "light"})
    for copings in ((dark, light), (light, dark)):
        reviews = reviewed(MIDRISE, [hot, *copings], folder)
        by_color = {str(one.product.claims["color"].value): one for one in reviews[1:]}
        assert "WB10" in codes(by_color["dark"]) and not codes(by_color["light"])
        (point,) = reviews[0].wall
        assert point.along_with == (next(n for n in (by_color["light"].alternatives)),)


def test_a_product_of_which_nothing_is_asked_is_for_a_person_to_decide(folder: Path) -> None:
    (one,) = reviewed({"project": "cold-continental-school"}, [("insulation", {"thickness": "2 in"})], folder)
    assert one.verdicts == () and one.recommendation is Recommendation.CORRECTIONS
    assert "held against the wall alone" in one.why


def test_there_are_enough_pairs_and_a_triple() -> None:
    sizes = [len(case["products"]) for case in TABLE["together"]]
    assert sizes.count(2) >= 6 and sizes.count(3) >= 1
