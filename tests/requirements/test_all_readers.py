"""One statement asked of every reader: `check`, `review`, `substitute`, `audit` and what the documents print agree.

A statement is drawn near a limit of a worked example, in either language of units; a small oracle that imports no judge
says what it is worth. ``make test`` draws a sample, ``SPECGEN_LONG=1`` two thousand and a hundred through the commands.
"""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from specgen.agreement.reader import contradictions
from specgen.units.quantity import Quantity
from tests.chain.runs import contents, run
from tests.requirements.asking import (
    READ,
    Answer,
    by_audit,
    by_check,
    by_review,
    by_substitute,
    findings_of,
    held,
    others_than,
    write_papers,
    write_project,
)
from tests.requirements.oracle import Claimed, verdict
from tests.requirements.papers import Papers, no_weaker, papers_of
from tests.requirements.statements import (
    EXAMPLES,
    LEFT_OUT,
    Base,
    Statement,
    asked_of,
    base,
    origins_of,
    statements,
)

LONG = os.environ.get("SPECGEN_LONG") == "1"
SLOW = [HealthCheck.too_slow, HealthCheck.function_scoped_fixture, HealthCheck.data_too_large]
DRAWN = settings(
    max_examples=2_000 if LONG else 3,
    deadline=None,
    derandomize=True,
    suppress_health_check=SLOW,
    phases=(Phase.explicit, Phase.generate),  # a statement is small: it is not made smaller for minutes
)
RUN = settings(DRAWN, max_examples=100 if LONG else 1)
STATUS = {"met": 0, "missed": 1, "other method": 1, "open": 3}
DEMO = EXAMPLES[0]
# What a failure weighs where its rule asks a person: `check` leaves with 0, a product is still sent back.
QUERIES = ("barrier.substrate_approved", "turnup.substrate")
# The sizes that a sheet prints with what the sections ask for: a section, or the coping's blank.
DRAWN_SIZES = (
    "coping.outer_drip", "coping.inner_drip", "coping.outer_leg", "coping.inner_leg", "coping.thickness",
    "drainage.depth", "plaster.thickness", "sheathing.thickness", "turnup.height",
)  # fmt: skip


def of_product(statement: Statement, value: str) -> str:
    """What the statement is worth with the method that a product states and a wall does not."""
    if value != "met":
        return value
    return {"wanted": "met", "open": "open", "other": "other method"}[statement.method_is]


def worth(statement: Statement, found: Base) -> str:
    """What a statement is worth: nothing before it is confirmed, where it is not expected."""
    return "open" if found.doubted(statement) else verdict(found.asked, statement.given)


def worst(*found: int) -> int:
    """The exit status of several: a failure outranks what is unknown."""
    return 1 if 1 in found else max(found)


def on_the_wall(statement: Statement, value: str) -> int:
    """The exit status that the value of the wall asks for."""
    return 0 if value == "missed" and statement.requirement in QUERIES else STATUS[value]


def agree(statement: Statement, folder: Path) -> None:
    """Ask every reader, and hold each answer against the oracle's."""
    found = base(statement.example, statement.requirement, statement.language)
    value = worth(statement, found)
    product = value if found.doubted(statement) else of_product(statement, value)
    paper = "open" if product == "other method" else product
    write_papers(folder, found, statement)
    review = by_review(folder, found)
    substitute, proposed = by_substitute(folder, found)
    audit, accepted = by_audit(folder, found)
    also = others_than(proposed, found)  # what else a value does: a thicker coping wants a thicker cleat
    assert (review.value, substitute.value, audit.value) == (product, product, paper)
    assert {one for one, _ in held(proposed, found)} == {value}
    assert findings_of(proposed) == accepted
    if statement.given.sense:  # a project states no bound; other rules see the one end of it
        return
    assert {review.status, substitute.status} <= {STATUS[product], worst(STATUS[product], also)}
    wall = on_the_wall(statement, value)
    assert audit.status == worst(STATUS[paper], wall, also)
    stating = found.spec.again(found.stating(statement))
    assert by_check(stating, found) == Answer(value, worst(wall, also))
    assert findings_of(stating) == accepted
    documents_say(statement, value, found, papers_of(stating, found))


def documents_say(statement: Statement, value: str, found: Base, papers: Papers) -> None:
    """Every document prints one limit, no weaker than it was set, and says where the wall misses it."""
    (limit,) = papers.limits
    assert limit in papers.paragraph or limit in ("yes", "no")
    assert papers.marked is papers.reported is (value == "missed")
    assert papers.drawn <= (value == "missed")
    if statement.requirement in DRAWN_SIZES:
        assert papers.drawn is (value == "missed")
    if isinstance(found.requirement.limit.stated, Quantity):
        chosen = {"choice", "stricter"} & set(origins_of(statement.requirement))
        own = statement.given.value if chosen and not found.doubted(statement) else found.asked.limit
        assert no_weaker(found.asked, limit, str(own))


CUP, WET_CUP = "ASTM E96 method A", "ASTM E96 method B"
FOUND_WRONG = (  # what readers once differed on
    Statement("marine-library", "coping.resistance_face", "SI", Claimed("2346.2 Pa"), "", "open"),
    Statement("marine-library", "lath.fastener_spacing", "inch-pound", Claimed("84000 mil")),
    Statement(DEMO, "barrier.water_resistance", "inch-pound", Claimed("1.3 inH2O"), "ASTM E331"),
    Statement("marine-library", "coping.joint_gap", "SI", Claimed("0.1876 in", "at most")),
    Statement("marine-library", "coping.piece_length", "inch-pound", Claimed("3.33 ft", "to", "6.66 ft")),
    Statement("marine-library", "barrier.concrete_adhesion", "SI", Claimed("15900000 Pa"), "ASTM D7234"),
    Statement(DEMO, "coping.thickness", "inch-pound", Claimed("0.0133 in")),
    Statement(
        DEMO, "barrier.assembly_air_leakage", "SI", Claimed("0.05 cfm/ft2", condition="75 Pa"), "ASTM E2357"
    ),
    Statement(DEMO, "drainage.vapor_permeance", "inch-pound", Claimed("0.05 perm", "at least"), CUP),
    Statement(DEMO, "drainage.vapor_permeance", "inch-pound", Claimed("0.3 perm", "at most"), CUP),
    Statement(DEMO, "drainage.vapor_permeance", "inch-pound", Claimed("17.2 ng/(Pa·s·m2)", "more than"), CUP),
    Statement(
        DEMO, "drainage.vapor_permeance", "inch-pound", Claimed("0.0333 perm", "to", "0.0666 perm"), CUP
    ),
    Statement(DEMO, "tape.both_sides", "inch-pound", Claimed(("TPO",))),
    Statement(DEMO, "barrier.vapor_permeance", "inch-pound", Claimed("1400 perm"), WET_CUP, meant=False),
    Statement(DEMO, "barrier.vapor_permeance", "SI", Claimed("1400 perm"), WET_CUP),
    Statement(DEMO, "barrier.pull_adhesion", "SI", Claimed("4000 psi"), "ASTM D4541", meant=False),
    Statement(
        DEMO, "barrier.vapor_permeance", "SI", Claimed("90 perm", "to", "1400 perm"), WET_CUP, meant=False
    ),
    Statement(DEMO, "drainage.depth", "inch-pound", Claimed("5 in"), meant=False),
    Statement(DEMO, "sheathing.thickness", "SI", Claimed("1/2 in")),
)


@pytest.mark.parametrize("statement", FOUND_WRONG, ids=lambda one: f"{one.requirement} {one.given.value}")
def test_what_readers_once_differed_on(statement: Statement, tmp_path: Path) -> None:
    agree(statement, tmp_path)


@DRAWN
@given(statements())
def test_every_reader_says_the_same(tmp_path: Path, statement: Statement) -> None:
    agree(statement, tmp_path)


def through_the_commands(statement: Statement, folder: Path) -> None:
    """The same through the commands, from files to files; each command's JSON, exit status and documents."""
    found = base(statement.example, statement.requirement, statement.language)
    value = worth(statement, found)
    product = value if found.doubted(statement) else of_product(statement, value)
    stating, open_, out = folder / "stating", folder / "all" / "open", folder / "out"
    write_project(stating, found, statement)
    write_project(open_, found, None)
    write_papers(open_, found, statement)
    check = run("check", stating, "--format", "json")
    review = run("review", open_, open_ / "submittal.yaml", "-o", out / "review", "--format", "json")
    substitute = run(
        "substitute", open_, open_ / "request.yaml", "-o", out / "substitute", "--format", "json"
    )
    audit = run("audit", folder / "all", "-o", out / "audit", "--jobs", 1, "--format", "json")
    write = run("write", stating, "-o", out / "issue", "--with-open-points")
    say = {
        row["outcome"]
        for row in json.loads(check.out)["findings"]
        if (row["requirement"] or "").partition("@")[0] == statement.requirement
        or (found.doubted(statement) and row["code"] == "MV01")
    }
    assert say == {"met": set(), "missed": {"fail"}, "open": {"unknown"}}[value]
    for one in (
        json.loads(review.out)["reviews"][0]["products"][0],
        json.loads(substitute.out)["requests"][0]["products"][0],
    ):
        (row,) = (v for v in one["verdicts"] if v["requirement"]["id"] == found.requirement.id)
        assert row["result"] == {of: key.value for key, of in READ.items()}[product]
    (paper,) = json.loads(audit.out)["projects"][0]["papers"]
    assert bool(paper["against"]) is (value == "missed")
    wall = on_the_wall(statement, value)
    also = {check.status} - {wall}
    assert check.status == write.status
    assert audit.status == worst(3 if product in ("open", "other method") else STATUS[product], check.status)
    assert {review.status, substitute.status} <= {
        STATUS[product],
        *(worst(STATUS[product], one) for one in also),
    }
    assert [str(one) for one in contradictions(contents(out / "issue"))] == []


@RUN
@given(statements(bounds=False))
def test_the_commands_say_the_same(tmp_path_factory: pytest.TempPathFactory, statement: Statement) -> None:
    through_the_commands(statement, tmp_path_factory.mktemp("drawn"))


def test_what_the_papers_once_differed_on(tmp_path: Path) -> None:
    """A size in feet misses 8 in, although what it prints in millimeters is more than the 200 mm of the paragraph."""
    statement = Statement("marine-library", "turnup.height", "SI", Claimed("0.66 ft"), "", "wanted", False)
    through_the_commands(statement, tmp_path)


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_is_left_out(name: str) -> None:
    """Every other requirement of an example is asked about; what is not has one of five reasons."""
    kept, left = asked_of(name)
    assert len(kept) > 60 and len(left) <= 21
    assert set(left.values()) <= set(LEFT_OUT)
