"""A fluid-applied roof membrane: its family is the project's to state, at the roof and at the base flashing."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.model.finding import Outcome
from specgen.model.requirement import RequirementSet
from specgen.paths.graph import roof_membrane
from specgen.practice.load import load_practice
from specgen.rules.wall import walls_of
from specgen.wall.place import family
from tests.rules import cases

PRACTICE = load_practice()
TURN_UP = {"kind": "fluid-applied", "attachment": "fluid-applied"}


def project(tmp_path: Path, roof: str | None, turn_up: str | None):
    building = {"roof_membrane": "fluid-applied", **({"roof_membrane_family": roof} if roof else {})}
    part = {**TURN_UP, **({"family": turn_up} if turn_up else {})}
    return cases.load({"building": building, "parts": {"base flashing": part}}, tmp_path)


def water_breaks(tmp_path: Path, roof: str | None, turn_up: str | None) -> list[str]:
    found = cases.findings_of(project(tmp_path, roof, turn_up))
    wrong = (Outcome.FAIL, Outcome.UNKNOWN)
    return [one.message for one in found if one.code == "PA01" and one.outcome in wrong]


@pytest.mark.parametrize("name", ["PMMA fluid", "polyurethane fluid"])
def test_one_fluid_at_roof_and_turn_up_runs_on(tmp_path: Path, name: str) -> None:
    assert not [one for one in water_breaks(tmp_path, name, name) if "roof membrane" in one]


def test_the_family_is_that_which_the_project_states(tmp_path: Path) -> None:
    read = project(tmp_path, "polyurethane fluid", "polyurethane fluid")
    part = read.parapets[0].part("roof turn-up")
    assert part is not None and family(PRACTICE, part) == "polyurethane fluid"
    wall, *_ = walls_of(read, {one.name: {} for one in read.parapets}, RequirementSet({}), PRACTICE)
    assert roof_membrane(wall.graph).family == "polyurethane fluid"


def test_no_family_is_taken_for_granted(tmp_path: Path) -> None:
    part = project(tmp_path, None, None).parapets[0].part("roof turn-up")
    assert part is not None and family(PRACTICE, part) is None


def test_two_fluids_are_for_the_makers_to_confirm(tmp_path: Path) -> None:
    found = cases.findings_of(project(tmp_path, "PMMA fluid", "polyurethane fluid"))
    assert any(
        "PMMA fluid" in one.message and "polyurethane fluid" in one.message
        for one in found
        if one.outcome is Outcome.FAIL
    )
