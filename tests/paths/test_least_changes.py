"""What a break offers to close it does close it: each change is made and the path traced again."""

from __future__ import annotations

import re
from itertools import product
from typing import Any

import pytest

from specgen.paths.graph import wall_of
from specgen.paths.shapes import Break
from specgen.paths.tapes import tapes_for
from specgen.paths.trace import breaks
from specgen.practice.compatibility import may_touch
from tests.paths.walls import PRACTICE, Wall, joint, part, plain, project

TURN_UPS = {
    name: kind for name, kind in PRACTICE.vocabulary.roles["roof turn-up"].kinds.items() if kind.family
}
FLASHINGS = {
    name: kind for name, kind in PRACTICE.vocabulary.roles["top flashing"].kinds.items() if kind.family
}


def at_turn_up(wall: Wall, letters: list[Wall] | None = None) -> tuple[Break, ...]:
    found = project(wall, str(part(wall, "roof turn-up")["kind"]), letters)
    every = breaks(found, found.parapets[0], PRACTICE)
    return tuple(one for one in every if (one.first, one.second) == ("roof turn-up", "top flashing"))


@pytest.mark.parametrize("units", ["inch-pound", "SI"])
@pytest.mark.parametrize("lap", ["1 in", "3 in", "3.9 in", "99 mm"])
def test_the_longer_lap_closes_it(units: str, lap: str) -> None:
    wall = plain()
    joint(wall, "roof turn-up")["lap"] = lap
    found = _in_units(wall, units)
    (one,) = (one for one in found if one.cause == "lap")
    (longer,) = re.findall(r"to (.*)$", one.least_changes[0])
    joint(wall, "roof turn-up")["lap"] = longer
    assert not _in_units(wall, units)


@pytest.mark.parametrize("units", ["inch-pound", "SI"])
@pytest.mark.parametrize("lap", ["4 in", "100 mm", "101 mm"])
def test_the_nominal_lap_is_long_enough_in_both_languages(units: str, lap: str) -> None:
    wall = plain()
    joint(wall, "roof turn-up")["lap"] = lap
    assert not [one for one in _in_units(wall, units) if one.cause == "lap"]


def _in_units(wall: Wall, units: str) -> tuple[Break, ...]:
    found = project(wall, units=units)
    return breaks(found, found.parapets[0], PRACTICE, "lap")


@pytest.mark.parametrize(("turn_up", "flashing"), list(product(TURN_UPS, FLASHINGS)))
def test_every_tape_that_is_offered_closes_the_joint(turn_up: str, flashing: str) -> None:
    wall = plain()
    part(wall, "roof turn-up")["kind"] = turn_up
    part(wall, "top flashing")["kind"] = flashing
    sides = TURN_UPS[turn_up].family, FLASHINGS[flashing].family
    first = at_turn_up(wall)
    assert (may_touch(PRACTICE, *sides).answer == "allowed") == (
        not [b for b in first if b.cause == "chemistry"]
    )
    found = wall_of(project(wall), project(wall).parapets[0], PRACTICE)
    ends = found.nodes["roof turn-up"], found.nodes["top flashing"]
    for tape in tapes_for(found, *ends):
        taped = plain()
        part(taped, "roof turn-up")["kind"] = turn_up
        part(taped, "top flashing")["kind"] = flashing
        record: dict[str, Any] = {"role": "bridging tape", "kind": tape.kind, "each_side": "2 in"}
        taped["top"].insert(2, record | {"compatible_with": list(tape.confirm)})
        joint(taped, "roof turn-up").update(tape="bridging tape", primer="as the tape's manufacturer states")
        assert at_turn_up(taped) == (), tape


@pytest.mark.parametrize(("turn_up", "flashing"), list(product(TURN_UPS, FLASHINGS)))
def test_the_letters_that_are_asked_for_close_the_joint(turn_up: str, flashing: str) -> None:
    wall = plain()
    part(wall, "roof turn-up")["kind"] = turn_up
    part(wall, "top flashing")["kind"] = flashing
    joint(wall, "roof turn-up")["primer"] = "as the flashing's manufacturer states"
    one, other = TURN_UPS[turn_up].family, FLASHINGS[flashing].family
    asked = [text for found in at_turn_up(wall) for text in found.least_changes if text.startswith("record")]
    makers = (
        [one, other]
        if any("letters of both manufacturers" in text for text in asked)
        else [one]
        if asked
        else []
    )
    about = {"one": one, "other": other, "date": "2026-11-02", "allows": True}
    assert at_turn_up(wall, [{**about, "makes": maker} for maker in makers]) == ()


@pytest.mark.parametrize("flashing", list(FLASHINGS))
def test_a_turn_up_of_a_kind_with_many_families_names_its_own(flashing: str) -> None:
    """A fluid-applied membrane may be of several families: until one is stated, that is what the joint lacks."""
    wall = plain()
    part(wall, "roof turn-up")["kind"] = "fluid-applied"
    part(wall, "top flashing")["kind"] = flashing
    joint(wall, "roof turn-up")["primer"] = "as the flashing's manufacturer states"
    (unknown,) = at_turn_up(wall)
    assert unknown.condition == "the material family of roof turn-up is not known"
    part(wall, "roof turn-up")["family"] = FLASHINGS[flashing].family
    part(wall, "roof turn-up")["meant"] = {"family": "a coating of the flashing's own material"}
    assert at_turn_up(wall) == ()
