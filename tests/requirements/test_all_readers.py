"""One statement asked of every reader: `check`, `review`, `substitute`, `audit` and what the documents print agree.

A statement is drawn near a limit of a worked example, in either language of units; a small oracle that imports no judge
says what it is worth. ``make test`` draws a sample, ``SPECGEN_LONG=1`` two thousand.
"""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, example, given, settings

from tests.requirements.asking import (
    Answer,
    by_audit,
    by_check,
    by_review,
    by_substitute,
    findings_of,
    held,
    write_papers,
)
from tests.requirements.oracle import Claimed, verdict
from tests.requirements.statements import EXAMPLES, LEFT_OUT, Statement, asked_of, base, statements

LONG = os.environ.get("SPECGEN_LONG") == "1"
DRAWN = settings(
    max_examples=2_000 if LONG else 16,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
STATUS = {"met": 0, "missed": 1, "other method": 1, "open": 3}
DEMO = EXAMPLES[0]
# What a failure weighs where its rule asks a person: `check` leaves with 0, a product is still sent back.
QUERIES = ("barrier.substrate_approved", "turnup.substrate")


def of_product(statement: Statement, value: str) -> str:
    """What the statement is worth with the method that a product states and a wall does not."""
    if value != "met":
        return value
    return {"wanted": "met", "open": "open", "other": "other method"}[statement.method_is]


def statuses(statement: Statement, value: str, product: str) -> dict[str, int]:
    """The exit status of each reader that follows from the oracle alone."""
    wall = 0 if value == "missed" and statement.requirement in QUERIES else STATUS[value]
    unproven = 3 if product in ("open", "other method") else 0
    paper = 1 if value == "missed" else unproven
    audit = 1 if 1 in (paper, wall) else max(paper, wall)
    return {"check": wall, "review": STATUS[product], "substitute": STATUS[product], "audit": audit}


def agree(statement: Statement, folder) -> None:
    """Ask every reader, and hold each answer against the oracle's."""
    found = base(statement.example, statement.requirement, statement.language)
    value = verdict(found.asked, statement.given)
    product = of_product(statement, value)
    wanted = statuses(statement, value, product)
    write_papers(folder, found, statement)
    substitute, proposed = by_substitute(folder, found)
    audit, accepted = by_audit(folder, found)
    if statement.given.sense:  # a project states no bound; other rules see the one end of it
        assert {one for one, _ in held(proposed, found)} == {value}
        assert findings_of(proposed) == accepted
        paper = "open" if product == "other method" else product
        read = [by_review(folder, found).value, substitute.value, audit.value]
        assert read == [product, product, paper]
        return
    assert by_review(folder, found) == Answer(product, wanted["review"])
    assert substitute == Answer(product, wanted["substitute"])
    assert audit == Answer("open" if product == "other method" else product, wanted["audit"])
    assert findings_of(proposed) == accepted
    stating = found.spec.again(found.stating(statement))
    assert by_check(stating, found) == Answer(value, wanted["check"])
    assert findings_of(stating) == accepted


@DRAWN
@given(statements())
@example(Statement("marine-library", "coping.resistance_face", "SI", Claimed("2346.2 Pa"), "", "open"))
@example(Statement("marine-library", "coping.joint_gap", "SI", Claimed("0.1876 in", "at most"), "", "wanted"))
@example(
    Statement(
        DEMO,
        "barrier.assembly_air_leakage",
        "SI",
        Claimed("0.05 cfm/ft2", "", "", "75 Pa"),
        "ASTM E2357",
        "wanted",
    )
)
@example(
    Statement(
        DEMO,
        "drainage.vapor_permeance",
        "inch-pound",
        Claimed("0.05 perm", "at least"),
        "ASTM E96 method A",
        "wanted",
    )
)
@example(
    Statement(
        DEMO,
        "drainage.vapor_permeance",
        "inch-pound",
        Claimed("0.3 perm", "at most"),
        "ASTM E96 method A",
        "wanted",
    )
)
@example(
    Statement(
        DEMO,
        "drainage.vapor_permeance",
        "inch-pound",
        Claimed("0.0333 perm", "to", "0.0666 perm"),
        "ASTM E96 method A",
        "wanted",
    )
)
def test_every_reader_says_the_same(tmp_path, statement: Statement) -> None:
    agree(statement, tmp_path)


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_is_left_out(name: str) -> None:
    """Every other requirement of an example is asked about; what is not has one of five reasons."""
    kept, left = asked_of(name)
    assert len(kept) > 60 and len(left) <= 20
    assert set(left.values()) <= set(LEFT_OUT)
