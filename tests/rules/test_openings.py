"""The openings a standing parapet asks for, as plain data and in print."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from specgen.model.finding import Outcome
from specgen.practice.load import load_practice
from specgen.rules.catalogue import openings_lines
from specgen.rules.existing.openings import hidden_conditions, planned_openings
from tests.rules import cases

PRACTICE = load_practice()
SOFT = {"name": "O-1", "what": "soft sheathing", "where": "roof side"}
BASE = {"name": "T-1", "where": "at the base", "found": "sound and dry"}


@pytest.fixture
def planned(tmp_path: Path):
    def of(**existing: Any):
        project = cases.load({"parapet": {"existing": existing or {"by": "an architect"}}}, tmp_path)
        return project, planned_openings(project, PRACTICE)

    return of


def test_a_new_wall_asks_for_none(tmp_path: Path) -> None:
    assert planned_openings(cases.load({}, tmp_path), PRACTICE) == ()
    assert openings_lines(()) == ""


def test_an_unopened_wall_names_what_is_hidden_at_each_place(planned) -> None:
    project, rows = planned()
    assert [(one.wanted.place, one.wanted.count, one.wanted.left) for one in rows] == [
        ("below the coping", 2, 2),
        ("at the base", 1, 1),
        ("at a corner", 1, 1),
    ]
    hidden = [what for what, _ in hidden_conditions(project.parapets[0].existing, PRACTICE)]
    assert sorted(what for one in rows for what in one.unknown) == sorted(hidden)
    assert {one.source.status.value for one in rows} == {"P"}


def test_where_no_hidden_condition_is_tabled_what_is_looked_at_is_unknown(planned) -> None:
    (row,) = [one for one in planned(observations=[SOFT])[1] if one.wanted.place == "roof side"]
    assert (row.wanted.count, row.wanted.seen) == (2, ("O-1",))
    assert row.unknown == row.wanted.why == ("extent of the damage, framing behind it",)


def test_a_place_opened_often_enough_leaves_nothing_unknown(planned) -> None:
    (row,) = [one for one in planned(openings=[BASE])[1] if one.wanted.place == "at the base"]
    assert (row.wanted.left, row.unknown) == (0, ())
    again = planned(openings=[BASE, {**BASE, "name": "T-2"}])[1]
    assert all(one.wanted.left >= 0 for one in again)


def test_a_place_opened_too_seldom_says_what_is_still_looked_at(planned) -> None:
    sealed = {"name": "O-1", "what": "sealed base", "where": "at the base"}
    _, rows = planned(observations=[sealed], openings=[BASE])
    (row,) = [one for one in rows if one.wanted.place == "at the base"]
    assert (row.wanted.count, row.wanted.done, row.wanted.left) == (2, 1, 1)
    assert row.unknown == row.wanted.why


def test_the_report_agrees_with_the_rules_on_what_is_left(planned) -> None:
    project, rows = planned(observations=[SOFT], openings=[BASE])
    findings = cases.findings_of(project)
    asked = [one for one in findings if one.code == "EX03" and one.outcome is Outcome.FAIL]
    assert len(asked) == sum(one.wanted.left > 0 for one in rows)
    hidden = [one for one in findings if one.code == "EX04" and one.outcome is Outcome.UNKNOWN]
    assert len(hidden) == len(hidden_conditions(project.parapets[0].existing, PRACTICE)) == 3


def test_only_the_parapets_asked_for(planned) -> None:
    project, rows = planned()
    assert planned_openings(project, PRACTICE, ["P-1"]) == rows
    assert planned_openings(project, PRACTICE, ["P-2"]) == ()


def test_in_print_the_counts_stand_with_source_and_status(planned) -> None:
    _, rows = planned(observations=[SOFT])
    lines = openings_lines(rows).splitlines()
    assert lines[0] == "Openings before the repair of parapet P-1 is specified:"
    assert "    roof side: 2 wanted, 0 made, 2 left" in lines
    assert "        unknown until then: the barrier at a corner" in lines
    assert lines[-1].startswith("    source of the counts: common practice") and "[P:" in lines[-1]
