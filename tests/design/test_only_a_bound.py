"""A product that states a bound or a range gives a calculation no value: no end of it is the value."""

from __future__ import annotations

from functools import cache

import pytest

from specgen.assessment import Assessment, assess
from specgen.files.marks import Mark
from specgen.intake.project import load_project
from specgen.model.project import Sense
from specgen.model.submission import Claim, Product
from specgen.practice.load import load_practice
from specgen.units.quantity import parse
from specgen.wall.products import with_products
from tests.agreement.walls import REPO

PRACTICE = load_practice()


@cache
def library() -> Assessment:
    return assess(
        load_project(REPO / "tests" / "stated" / "marine-library" / "project.yaml", PRACTICE), PRACTICE
    )


def with_claim(role: str, name: str, value: str, sense: Sense = "", upper: str = "") -> Assessment:
    """The wall with a product that states one attribute."""
    claim = Claim(
        parse(value), "", "page 1", Mark("submittal.yaml", 3, 1), sense, parse(upper) if upper else None
    )
    part = library().project.parapets[0].part(role)
    assert part is not None
    product = Product(role, "drawn", part.kind, {name: claim}, Mark("submittal.yaml", 1, 1))
    return library().again(with_products(library().project, [product], PRACTICE))


@pytest.mark.parametrize(
    ("role", "name", "subject", "value", "sense", "upper", "words"),
    [
        ("coping", "piece_length", "coping movement", "3 ft", "to", "6 ft", "3 ft to 6 ft"),
        ("coping", "piece_length", "coping geometry", "6 ft", "at most", "", "at most 6 ft"),
        ("drainage layer", "depth", "vapor drive", "6 mm", "at least", "", "at least 6 mm"),
        ("barrier", "vapor_permeance", "vapor drive", "14 perm", "more than", "", "more than 14 perm"),
    ],
)
def test_no_end_of_a_bound_is_calculated_with(
    role: str, name: str, subject: str, value: str, sense: Sense, upper: str, words: str
) -> None:
    parapet = library().project.parapets[0].name
    exact = with_claim(role, name, value).calculations[parapet][subject]
    assert exact.done
    bounded = with_claim(role, name, value, sense, upper).calculations[parapet][subject]
    assert not bounded.done
    assert any(words in one and name in one for one in bounded.missing), bounded.missing


def test_a_bound_sets_no_limit_for_itself() -> None:
    """The longest piece followed from the lower end of the range that it was then held against."""
    parapet = library().project.parapets[0].name
    wall = with_claim("coping", "piece_length", "3.33 ft", "to", "6.66 ft")
    asked = wall.requirements.at("coping.piece_length", parapet)
    assert asked is not None
    assert asked.origin.kind == "practice"
    assert asked.limit.stated == PRACTICE.quantity("coping.piece_length")
