"""One judgement read twice: `check` of the wall and `review` of a product that states the same agree."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import product

import pytest

from specgen.assessment import Assessment, assess
from specgen.intake.project import load_project
from specgen.model.finding import Outcome
from specgen.model.submission import Claim, Result
from specgen.practice.load import load_practice
from specgen.review.judge import judged
from specgen.units.quantity import parse
from specgen.wall.edit import with_value
from tests.chain.runs import CONFORMING

PRACTICE = load_practice()
DEMO = load_project(CONFORMING, PRACTICE)
SAME = {Outcome.PASS: Result.MEETS, Outcome.FAIL: Result.FAILS, Outcome.UNKNOWN: Result.CONFIRM}

# Each value is written in several units, met, missed and at the limit; the trade's nominal pairs among them.
VALUES = {
    ("barrier", "air_permeance"): (
        "0.002 cfm/ft2 @ 75 Pa", "0.002 cfm/ft2 @ 1.57 psf", "0.002 cfm/ft2 @ 0.3 inH2O", "0.002 cfm/ft2",
        "0.02 L/(s·m2) @ 75 Pa", "0.02 L/(s·m2) @ 1.57 psf", "0.021 L/(s·m2) @ 75 Pa", "0.004 cfm/ft2 @ 75 Pa",
        "0.0041 cfm/ft2 @ 75 Pa", "0.2 cfm/ft2 @ 75 Pa",
    ),
    ("barrier", "pull_adhesion"): ("16 psi", "110 kPa", "15.9 psi", "109 kPa", "40 psi", "0.3 MPa"),
    ("drainage layer", "depth"): (
        "7/16 in", "11.2 mm", "3/16 in", "4.8 mm", "1/8 in", "3 mm", "0.4375 in", "12 mm", "1/2 in",
    ),
    ("cleat", "fastener_spacing"): ("12 in", "300 mm", "13 in", "330 mm", "11.5 in", "1 ft", "250 mm"),
    ("coping", "outer_drip"): ("1 in", "25 mm", "24 mm", "1/2 in", "30 mm", "0.99 in"),
    ("coping", "piece_length"): ("10 ft", "3 m", "10 ft 1 in", "3.1 m", "9 ft", "2.5 m"),
    ("roof turn-up", "height"): ("8 in", "200 mm", "7 in", "199 mm", "40 in", "0.5 m"),
}  # fmt: skip
CASES = [
    (role, name, text, units)
    for (role, name), texts in VALUES.items()
    for text, units in product(texts, ("inch-pound", "SI"))
]


@cache
def demo(units: str) -> Assessment:
    """The demo, its documents in a language of units."""
    return assess(
        replace(DEMO, info=replace(DEMO.info, values={**DEMO.info.values, "units": units})), PRACTICE
    )


@cache
def readings(role: str, name: str, text: str, units: str) -> tuple[Outcome, Result]:
    """What `check` finds of a value in the wall, and `review` of a product that states it."""
    original = demo(units)
    accepted = PRACTICE.vocabulary.roles[role].fields[name]
    value = parse(text, {accepted.type})
    wall = original.again(with_value(original.project, PRACTICE, f"P-1.{role}.{name}", value))
    found = {
        one.outcome
        for one in wall.findings
        if one.parapet == "P-1" and one.attribute == name and one.requirement
        and wall.requirements.by_id[one.requirement].role == role
    }  # fmt: skip
    (outcome,) = found
    (asked,) = [
        one for one in wall.requirements.by_id.values()
        if one.role == role and one.attribute == name and "P-1" in one.parapets
    ]  # fmt: skip
    claim = Claim(value, asked.method, "test report", original.project.parapets[0].mark)
    return outcome, judged(asked, claim, wall.practice, units).result


@pytest.mark.parametrize(("role", "name", "text", "units"), CASES)
def test_check_and_review_read_one_judgement(role: str, name: str, text: str, units: str) -> None:
    outcome, result = readings(role, name, text, units)
    assert SAME[outcome] is result


@pytest.mark.parametrize(("role", "name"), VALUES)
def test_the_language_of_the_documents_changes_no_verdict(role: str, name: str) -> None:
    for text in VALUES[(role, name)]:
        assert readings(role, name, text, "inch-pound") == readings(role, name, text, "SI"), text


def test_a_condition_is_one_in_three_units_and_one_left_out_is_open() -> None:
    texts = VALUES[("barrier", "air_permeance")][:4]
    found = [readings("barrier", "air_permeance", text, "inch-pound") for text in texts]
    assert found == [(Outcome.PASS, Result.MEETS)] * 3 + [(Outcome.UNKNOWN, Result.CONFIRM)]


def test_there_are_a_hundred() -> None:
    assert len(CASES) >= 100
