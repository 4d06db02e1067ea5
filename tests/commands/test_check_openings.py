"""`specgen check` lists the openings that a standing wall asks for before its repair is specified."""

from __future__ import annotations

import json

import pytest

from tests.chain.runs import CONFORMING, REPO, copied, run

STANDING = REPO / "tests" / "stated" / "existing-repair"
CORNER = "        - {name: T-3, where: at a corner, found: rotten or corroded, date: 2026-09-02}\n"


def test_text_lists_place_count_reason_and_source():
    out = run("check", STANDING).out
    assert "Openings before the repair of parapet C-1 is specified:" in out
    assert "    at the base: 2 wanted, 2 made, 0 left" in out
    assert "unknown until then" not in out


def test_an_opening_not_made_is_told_with_what_stays_unknown(tmp_path):
    out = run("check", copied(STANDING, tmp_path / "p", (CORNER, ""))).out
    assert "    at a corner: 1 wanted, 0 made, 1 left" in out
    assert "        unknown until then: the barrier at a corner" in out


def test_json_holds_the_same_as_plain_data(tmp_path):
    project = copied(STANDING, tmp_path / "p", (CORNER, ""))
    rows = json.loads(run("check", project, "--format", "json").out)["openings"]
    (corner,) = [one for one in rows if one["place"] == "at a corner"]
    assert (corner["parapet"], corner["count"], corner["done"], corner["left"]) == ("C-1", 1, 0, 1)
    assert corner["seen"] == ["O-2"] and corner["unknown"] == ["the barrier at a corner"]
    assert corner["source"]["status"] == "P" and corner["why"]


def test_a_new_wall_has_none():
    assert "Openings" not in run("check", CONFORMING).out
    assert json.loads(run("check", CONFORMING, "--format", "json").out)["openings"] == []


@pytest.mark.parametrize(
    ("words", "shown"),
    [
        (["--code", "EX03"], True),
        (["--code", "TF03"], False),
        (["--severity", "defect"], False),
        (["--severity", "query"], True),
        (["--parapet", "C-1"], True),
        (["--code", "EX03", "--explain"], True),
    ],
)
def test_the_filters_decide_whether_they_are_shown(words, shown):
    assert ("Openings before the repair" in run("check", STANDING, *words).out) is shown
