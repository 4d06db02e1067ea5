"""Made rain: exact months, the same under the same seed, no rain in sunshine, and like the one public record."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.intake.weather import load_weather
from specgen.model.weather import Weather
from specgen.physics.errors import OutOfRange, PhysicsError
from specgen.physics.rain_hours import SUNSHINE, may_rain, rain_hours, rain_weight
from tests.intake.weather_files import COLD_MARINE, HOT_HUMID, MIXED_HUMID

WET_HOUR = 2.0
SEEDS = range(1, 9)
MONTHS = np.repeat(np.arange(1, 13), 730)
EVERY = np.ones(8760, dtype=bool)


@pytest.fixture(scope="module")
def year() -> Weather:
    return load_weather(MIXED_HUMID)


def of_year(weather: Weather, monthly: list[float], seed: int) -> np.ndarray:
    weight = rain_weight(weather.rh, weather.wind_speed, weather.cloud)
    return rain_hours(monthly, weather.month, weight, may_rain(weather.temp_c, weather.dni), WET_HOUR, seed)


def totals(weather: Weather, rain: np.ndarray) -> list[float]:
    return [math.fsum(rain[weather.month == month].tolist()) for month in range(1, 13)]


def spells(rain: np.ndarray) -> np.ndarray:
    """Hours of each run of wet hours."""
    edges = np.diff(np.concatenate(([0], (rain > 0.0).astype(int), [0])))
    return np.nonzero(edges == -1)[0] - np.nonzero(edges == 1)[0]


@given(st.lists(st.floats(0.0, 900.0), min_size=12, max_size=12), st.integers(0, 10**6))
def test_every_month_has_its_depth(monthly: list[float], seed: int) -> None:
    found = rain_hours(monthly, MONTHS, np.zeros(8760), EVERY, WET_HOUR, seed)
    assert (found >= 0.0).all()
    for month, depth in enumerate(monthly, 1):
        hours = found[month == MONTHS]
        assert math.fsum(hours.tolist()) == pytest.approx(depth, rel=1e-14, abs=1e-300)
        assert (hours > 0.0).sum() == (max(round(depth / WET_HOUR), 1) if depth > 0.0 else 0)


@pytest.mark.parametrize("path", [MIXED_HUMID, COLD_MARINE, HOT_HUMID])
def test_no_rain_in_sunshine_or_frost(path: object) -> None:
    weather = load_weather(path)  # type: ignore[arg-type]
    monthly = [80.0] * 12
    found = of_year(weather, monthly, 1)
    wet = found > 0.0
    assert weather.dni[wet].max() <= SUNSHINE
    assert weather.temp_c[wet].min() > 0.0
    assert totals(weather, found) == pytest.approx(monthly, rel=1e-14)


def test_same_seed_same_hours_other_seed_other_hours(year: Weather) -> None:
    monthly = [60.0] * 12
    one, again, other = (of_year(year, monthly, seed) for seed in (5, 5, 6))
    np.testing.assert_array_equal(one, again)
    assert ((one > 0.0) & (other > 0.0)).sum() < 0.6 * (one > 0.0).sum()


def test_a_month_does_not_change_another(year: Weather) -> None:
    one = of_year(year, [60.0] * 12, 5)
    other = of_year(year, [60.0] * 11 + [10.0], 5)
    early = year.month < 12
    np.testing.assert_array_equal(one[early], other[early])


def test_made_hours_are_like_the_public_record_of_rain(year: Weather) -> None:
    """Mixed-humid year, 835 mm in 358 hours, 157 spells of 2.3 h, 97 days; made: the mean of eight seeds."""
    assert year.rain_mm is not None
    monthly = totals(year, year.rain_mm)
    made = [of_year(year, monthly, seed) for seed in SEEDS]

    def mean_of(what: object) -> float:
        return float(np.mean([what(one) for one in made]))  # type: ignore[operator]

    def driven(rain: np.ndarray) -> float:
        return float((year.wind_speed * rain ** (8 / 9)).sum())

    for what, tolerance in (
        (lambda rain: float((rain > 0.0).sum()), 0.2),
        (lambda rain: float(spells(rain).mean()), 0.25),
        (lambda rain: float((rain.reshape(-1, 24) > 0.0).any(axis=1).sum()), 0.25),
        (lambda rain: float(year.wind_speed[rain > 0.0].mean()), 0.1),
        (lambda rain: float(np.median(year.rh[rain > 0.0])), 0.06),
        (driven, 0.1),
    ):
        assert mean_of(what) == pytest.approx(what(year.rain_mm), rel=tolerance)
    assert all(driven(one) == pytest.approx(driven(year.rain_mm), rel=0.15) for one in made)


def test_a_record_without_cloud_has_its_rain_in_damp_air(year: Weather) -> None:
    weight = rain_weight(year.rh, year.wind_speed, None)
    found = rain_hours([60.0] * 12, year.month, weight, may_rain(year.temp_c, year.dni), WET_HOUR, 1)
    wet = found > 0.0
    assert totals(year, found) == pytest.approx([60.0] * 12, rel=1e-14)
    assert np.median(year.rh[wet]) > np.median(year.rh) + 0.15
    assert year.dni[wet].max() <= SUNSHINE


def test_depths_follow_their_law() -> None:
    """(−ln(1 − v))^1.4 has mean Γ(2.4) and deviation √(Γ(3.8) − Γ(2.4)²): ratio 1.43."""
    ratio = math.sqrt(math.gamma(3.8) / math.gamma(2.4) ** 2 - 1.0)
    found = rain_hours([1400.0] * 12, MONTHS, np.zeros(8760), EVERY, WET_HOUR, 3)
    wet = found[found > 0.0]
    assert wet.std() / wet.mean() == pytest.approx(ratio, rel=0.05)


def test_rain_that_does_not_fit_is_told() -> None:
    none = np.zeros(8760, dtype=bool)
    with pytest.raises(PhysicsError, match="month 2: 30 mm of rain do not fit in 0 hours"):
        rain_hours([0.0, 30.0, *[0.0] * 10], MONTHS, np.zeros(8760), none, WET_HOUR, 1)
    few = none.copy()
    few[:3] = True
    with pytest.raises(PhysicsError, match="month 1: 100 mm of rain do not fit in 3 hours"):
        rain_hours([100.0, *[0.0] * 11], MONTHS, np.zeros(8760), few, WET_HOUR, 1)
    assert rain_hours([0.0] * 12, MONTHS, np.zeros(8760), none, WET_HOUR, 1).max() == 0.0
    with pytest.raises(OutOfRange, match="months"):
        rain_hours([1.0] * 11, MONTHS, np.zeros(8760), EVERY, WET_HOUR, 1)
    with pytest.raises(OutOfRange, match="rain of a month"):
        rain_hours([-1.0] * 12, MONTHS, np.zeros(8760), EVERY, WET_HOUR, 1)
