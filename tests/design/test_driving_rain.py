"""Driving rain: an event by hand, a year against sums by another way, and what is unknown."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from specgen.design import driving_rain
from specgen.intake.weather import load_weather
from tests.design.moisture import EVENT, WEST, YEAR, step, with_year
from tests.design.projects import calculation, number
from tests.intake.weather_files import HOT_HUMID, MIXED_HUMID

COUNTRY = ("site:\n", "site:\n  terrain: open country\n")


def test_event_by_hand(tmp_path: Path) -> None:
    """1 in in 90 min, 10 m/s: 16.93 mm/h; 1.3 × 0.5 × 0.2 × 10 × 16.93 = 22.0 kg/(m²·h), 33.0 kg/m² in all."""
    calc = calculation(driving_rain, tmp_path, WEST, EVENT)
    assert calc.missing == ()
    assert set(calc.results) == set(driving_rain.SETS)
    assert number(calc, "load_peak", "kg/m2") == pytest.approx(1.3 * 0.5 * 0.2 * 10 * 25.4 / 1.5, rel=1e-9)
    assert number(calc, "load_total", "kg/m2") == pytest.approx(1.3 * 0.5 * 0.2 * 10 * 25.4, rel=1e-9)
    assert step(calc, "ΣR", "kg/m2") == pytest.approx(25.4, rel=1e-9)
    # 14 in of top, all of it outward: 16.93 kg/(m²·h) × 0.3556 m × 3.048 m
    assert number(calc, "over_drip_peak", "L/s") == pytest.approx(
        25.4 / 1.5 * 0.3556 * 3.048 / 3600, rel=1e-9
    )
    assert "no hourly rain" in str(calc.verdict("wall_index"))


@pytest.mark.parametrize(("toward", "share"), [("roof", 0.0), ("both sides", 0.5), ("outer face", 1.0)])
def test_share_over_the_outer_drip(tmp_path: Path, toward: str, share: float) -> None:
    change = ("color: dark,", f"color: dark, slope_toward: {toward},")
    calc = calculation(driving_rain, tmp_path, WEST, EVENT, change)
    full = calculation(driving_rain, tmp_path, WEST, EVENT)
    assert number(calc, "over_drip_peak", "L/s") == pytest.approx(
        share * number(full, "over_drip_peak", "L/s")
    )


def test_short_event_keeps_its_rate(tmp_path: Path) -> None:
    short = calculation(driving_rain, tmp_path, WEST, EVENT, ("90 min", "15 min"))
    assert number(short, "load_peak", "kg/m2") == pytest.approx(1.3 * 0.5 * 0.2 * 10 * 25.4 * 4, rel=1e-9)
    assert number(short, "load_total", "kg/m2") == pytest.approx(1.3 * 0.5 * 0.2 * 10 * 25.4, rel=1e-9)


def test_year_by_loops(tmp_path: Path) -> None:
    """Second way: a plain loop over the hours of the file."""
    calc = calculation(driving_rain, with_year(tmp_path), WEST, YEAR, COUNTRY)
    weather = load_weather(MIXED_HUMID)
    assert weather.rain_mm is not None
    index = load = 0.0
    for rain, speed, direction in zip(
        weather.rain_mm, weather.wind_speed, weather.wind_direction, strict=True
    ):
        facing = max(np.cos(np.radians(direction - 270.0)), 0.0)
        index += 2 / 9 * speed * rain ** (8 / 9) * facing
        load += 1.3 * 0.5 * 0.2 * speed * facing * rain
    assert number(calc, "airfield_index", "kg/m2") == pytest.approx(index, rel=1e-9)
    assert number(calc, "load_total", "kg/m2") == pytest.approx(load, rel=1e-9)
    # CR = 0.19 ln(z/0.05), z = 30 ft; CT = O = 1; W = 0.5
    cr = 0.19 * np.log(30 * 0.3048 / 0.05)
    assert number(calc, "wall_index", "kg/m2") == pytest.approx(index * cr * 0.5, rel=1e-9)


def test_without_rain_unknown(tmp_path: Path) -> None:
    assert "is not named" in calculation(driving_rain, tmp_path, WEST).missing[0]
    (tmp_path / "dry.tm2").write_bytes(HOT_HUMID.read_bytes())
    calc = calculation(driving_rain, tmp_path, WEST, ("site:\n", "site:\n  weather: dry.tm2\n"))
    assert "has no hourly rain" in calc.missing[0]


def test_incomplete_event_names_the_rest(tmp_path: Path) -> None:
    calc = calculation(driving_rain, tmp_path, WEST, ("site:\n", "site:\n  rain_event: 1 in\n"))
    assert [line.split(":")[0] for line in calc.missing] == ["site.rain_event_time", "site.rain_event_wind"]


def test_terrain_assumed_is_said_once(tmp_path: Path) -> None:
    calc = calculation(driving_rain, with_year(tmp_path), WEST, YEAR)
    assert sum("site.terrain" in line for line in calc.leaves_out) == 1


@pytest.mark.parametrize(
    ("height", "factor"), [("30 ft", 1.0), ("40 ft", 1.1), ("60 ft", 1.2), ("80 ft", 1.3)]
)
def test_exposure_by_height(tmp_path: Path, height: str, factor: float) -> None:
    changes = (("open country", "suburban"), ("building: {height: 26 ft", f"building: {{height: {height}"))
    calc = calculation(driving_rain, tmp_path, WEST, EVENT, *changes)
    assert number(calc, "load_total", "kg/m2") == pytest.approx(factor * 0.5 * 0.2 * 10 * 25.4, rel=1e-9)
    assert any("one factor for every height" in line for line in calc.leaves_out) is (height == "80 ft")


def test_the_highest_exposure_is_taken_and_told_without_a_height(tmp_path: Path) -> None:
    changes = (("open country", "suburban"), ("building: {height: 26 ft, ", "building: {"))
    calc = calculation(driving_rain, tmp_path, WEST, EVENT, *changes)
    assert any("No height is given (building.height)" in line for line in calc.leaves_out)
