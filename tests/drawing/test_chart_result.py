"""The charts of a kept result: which places, which panels, against the limits of the trade."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from specgen.drawing.chart_result import Limits, result_charts
from specgen.drawing.shapes import Drawing, Text
from specgen.model.hourly import MID_HEIGHT, OTHER, TOP, WOOD, CutHours, HourlyResult, LeakRun, PlaceHours
from specgen.practice.load import load_practice
from specgen.render.svg import svg_bytes

PRACTICE = load_practice()
MONTHS = 48


def place(name: str, sort: str, level: float, mold: tuple[float, ...] = ()) -> PlaceHours:
    return PlaceHours(
        name=name, layer=name, sort=sort, moisture_peak=level, moisture_end=level, hours_20=0, hours_28=0,
        humidity_peak=0.8, mold=mold, mold_class="sensitive", corrosion_hours=0, freeze_hours=0, freeze_cycles=0,
        worst_month=3, peaks=(level,) * 4,
    )  # fmt: skip


def course(level: float) -> tuple[float, ...]:
    return tuple(level + 0.02 * math.cos(2 * math.pi * (n - 2) / 12) + 0.001 * n for n in range(MONTHS))


PLACES = (
    place("back of the plaster", OTHER, 0.9),
    place("plywood", WOOD, 0.22, (0.5, 1.2, 2.2, 3.1)),
    place("roof plywood", WOOD, 0.14, (0.1, 0.2, 0.2, 0.2)),
    place("cavity, inner side", OTHER, 0.7, (0.0, 0.0, 0.0, 0.0)),
)


def result(places: tuple[PlaceHours, ...] = PLACES, months: int = MONTHS) -> HourlyResult:
    run = LeakRun(
        share=0.0, years=4, growing=True, places=places, taken=0.1, drained=0.2, mass_error=1e-9, heat_error=1e-9,
        holds=False,
    )  # fmt: skip
    lines = {one.name: course(float(one.moisture_peak or 0.0))[:months] for one in places}
    cut = CutHours(
        cut=MID_HEIGHT, always=0.01, leak="past the barrier", runs=(run,), forgiven=0.01, forgiven_all=False,
        half_days=20.0, course=lines,
    )  # fmt: skip
    bare = replace(cut, cut=TOP, course={})
    return HourlyResult(
        parapet="P-1", key="key", years=10, weather="a file", rain="measured", cuts=(cut, bare)
    )


def words_of(one: Drawing) -> list[str]:
    return [item.words for item in one.items if isinstance(item, Text)]


def test_the_limits_are_those_of_the_trade() -> None:
    assert Limits.of(PRACTICE) == Limits(20.0, 28.0, 3.0)


def test_a_chart_for_each_cut_with_a_course() -> None:
    (one,) = result_charts(result(), PRACTICE)
    assert one.title == "P-1, parapet at mid-height: 1 % of the rain reaches the barrier, none gets past it"
    assert "wet wood: 20 % by mass" in words_of(one) and "mold that is seen: 3" in words_of(one)
    assert "Moisture content peaks at 27.8 % by mass (plywood, March of year 4), above the limit of 20 %" in (
        one.description
    )
    assert "Relative humidity peaks at 95.8 % (back of the plaster, March of year 4)." in one.description
    assert (
        "Greatest mold index of each year peaks at 3.1 (plywood, year 4), above the limit of 3"
        in one.description
    )
    assert "plywood: highest 3.1 in year 4, 1 year above 3" in one.description
    assert (
        "back of the plaster"
        not in one.description[one.description.index("Greatest mold index of each year, over") :]
    )
    assert svg_bytes(one) == svg_bytes(result_charts(result(), PRACTICE)[0])


def test_of_many_places_those_with_the_most_mold_and_the_wettest_in_their_order() -> None:
    many = (*PLACES, *(replace(place(f"dry {n}", OTHER, 0.4 + n / 100), name=f"dry {n}") for n in range(4)))
    (one,) = result_charts(result(many), PRACTICE)
    keyed = [words for words in words_of(one) if words[1:3] == "  "]
    assert keyed == [f"{n + 1}  {name}" for n, name in enumerate([*(p.name for p in PLACES), "dry 3"])]


@pytest.mark.parametrize("months", [0, 11])
def test_less_than_a_year_is_no_chart(months: int) -> None:
    assert result_charts(result(months=months), PRACTICE) == ()


def test_a_part_of_a_year_is_left_out() -> None:
    (one,) = result_charts(result(months=30), PRACTICE)
    assert "over 2 years" in one.description


def test_a_wall_without_wood_or_without_mold() -> None:
    (one,) = result_charts(result(PLACES[:1]), PRACTICE)
    assert "moisture content" not in one.description and "old index" not in one.description
