"""A calculation that others ask for is made once for a parapet, and again for another."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from specgen.design import cleat_fasteners, coping_wind, lath_fasteners
from specgen.design.shared import shared
from specgen.intake.project import load_project
from specgen.practice.load import load_practice

PRACTICE = load_practice()
PROJECT = load_project(Path(__file__).parents[2] / "projects/mixed-humid-midrise", PRACTICE)


def test_the_same_arguments_give_the_same_object_and_others_their_own() -> None:
    first, second = PROJECT.parapets[:2]
    made = shared(coping_wind.calculate, PROJECT, first, PRACTICE)
    assert shared(coping_wind.calculate, PROJECT, first, PRACTICE) is made
    assert made == coping_wind.calculate(PROJECT, first, PRACTICE)
    assert shared(coping_wind.calculate, PROJECT, second, PRACTICE).parapet == second.name
    other = replace(PROJECT, site=replace(PROJECT.site, values={}, marks={}))
    assert shared(coping_wind.calculate, other, first, PRACTICE).missing and not made.missing


def test_those_that_share_the_wind_calculate_it_once(monkeypatch) -> None:
    asked = []
    whole = coping_wind.calculate

    def counted(*arguments: object) -> object:
        asked.append(arguments)
        return whole(*arguments)

    monkeypatch.setattr(coping_wind, "calculate", counted)
    for room in (cleat_fasteners, lath_fasteners):
        room.calculate(PROJECT, PROJECT.parapets[0], PRACTICE)
    assert len(asked) == 1
