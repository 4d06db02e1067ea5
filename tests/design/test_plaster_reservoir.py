"""The plaster as a reservoir: by hand, by balance, and where a property has no source."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from specgen.design import plaster_reservoir
from tests.design.moisture import EVENT, WEST, YEAR, step, with_year
from tests.design.projects import calculation, number

A, WF, D = 0.042, 210.0, 7 / 8 * 0.0254  # practice values, plaster of the small project


def test_capacity_and_time_by_hand(tmp_path: Path) -> None:
    calc = calculation(plaster_reservoir, tmp_path, WEST, EVENT)
    assert set(calc.results) == set(plaster_reservoir.SETS)
    assert number(calc, "capacity", "kg/m2") == pytest.approx(D * WF, rel=1e-9)
    assert number(calc, "uptake_hour", "kg/m2") == pytest.approx(A * 60.0, rel=1e-9)
    assert number(calc, "time_to_saturation", "h") == pytest.approx((D * WF / A) ** 2 / 3600, rel=1e-9)
    # A rain far above what the plaster drinks: the front follows the film from the knee m = A²/(2R) on.
    rate = 1.3 * 0.5 * 0.2 * 10 * 25.4 / 1.5 / 3600
    knee = A**2 / (2 * rate)
    first = math.sqrt(knee**2 + A**2 * (3600 - knee / rate))
    assert first < number(calc, "absorbed", "kg/m2") < A * math.sqrt(2 * 3600) + knee
    assert calc.verdict("fills") == "no"


@pytest.mark.parametrize("rain", [EVENT, YEAR])
def test_absorbed_and_runoff_are_the_rain(tmp_path: Path, rain: tuple[str, str]) -> None:
    calc = calculation(plaster_reservoir, with_year(tmp_path), WEST, rain)
    total = number(calc, "absorbed", "kg/m2") + number(calc, "runoff", "kg/m2")
    assert total == pytest.approx(step(calc, "Σr", "kg/m2"), rel=1e-9)
    assert number(calc, "stored_peak", "kg/m2") == pytest.approx(number(calc, "absorbed", "kg/m2"), rel=1e-9)


def test_a_year_fills_the_plaster_when_nothing_dries(tmp_path: Path) -> None:
    calc = calculation(plaster_reservoir, with_year(tmp_path), WEST, YEAR)
    assert calc.verdict("fills") == "yes"
    assert number(calc, "absorbed", "kg/m2") == pytest.approx(D * WF, rel=1e-9)


def test_no_rain_no_result(tmp_path: Path) -> None:
    calc = calculation(plaster_reservoir, tmp_path, WEST)
    assert not calc.done
    assert calc.result("capacity") is None
