"""What the hours mean, against loops in plain Python and against cases worked by hand."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from specgen.physics import moisture_hours as hours
from specgen.physics.errors import NotFinite, OutOfRange, PhysicsError

RNG = np.random.default_rng(15)
TEMP = 3.0 + np.cumsum(RNG.normal(0.0, 1.0, (4000, 3)), axis=0) * 0.2
WATER = np.clip(150.0 + np.cumsum(RNG.normal(0.0, 4.0, (4000, 3)), axis=0), 0.0, 200.0)
HUMIDITY = np.clip(RNG.normal(0.78, 0.1, (4000, 3)), 0.0, 1.0)


def runs(over: np.ndarray) -> list[int]:
    """Lengths of the runs of true, by hand."""
    found, length = [0], 0
    for one in over:
        length = length + 1 if one else 0
        found.append(length)
    return found


@pytest.mark.parametrize("limit", [0.0, 120.0, 150.0, 199.0, 200.0])
def test_above_a_limit_as_a_loop_counts(limit: float) -> None:
    seen = hours.above(WATER, limit)
    for p in range(3):
        over = [value > limit for value in WATER[:, p]]
        assert seen.hours[p] == sum(over)
        assert seen.longest[p] == max(runs(np.array(over)))
        assert seen.first[p] == (over.index(True) if any(over) else hours.NEVER)
        assert seen.peak[p] == max(WATER[:, p]) == WATER[seen.peak_hour[p], p]
    alone = hours.above(WATER[:, 1], limit)
    assert (alone.hours, alone.longest, alone.first) == (seen.hours[1], seen.longest[1], seen.first[1])


def test_each_place_has_its_own_limit() -> None:
    assert hours.above(np.ones((4, 2)), [0.5, 1.0]).hours.tolist() == [4, 0]


def test_wood_and_gypsum_by_mass() -> None:
    assert hours.content_by_mass([[80.0, 8.0]], [400.0, 800.0]).tolist() == [[0.2, 0.01]]


def test_time_of_wetness_as_a_loop_counts() -> None:
    found = hours.wetness_hours(TEMP, HUMIDITY, 0.8, 0.0)
    for p in range(3):
        assert found[p] == sum(t > 0.0 and h > 0.8 for t, h in zip(TEMP[:, p], HUMIDITY[:, p], strict=True))
    assert hours.wetness_hours([5.0, 0.0], [0.8, 0.9], 0.8, 0.0) == 0  # neither limit itself counts


@pytest.mark.parametrize("freezes_c", [0.0, -2.0])
def test_frost_as_a_loop_counts(freezes_c: float) -> None:
    found = hours.freezing(TEMP, WATER, 200.0, 0.9, freezes_c)
    for p in range(3):
        cycles = frozen_wet = frozen_all = 0
        before = True  # the first hour is no cycle
        for t, w in zip(TEMP[:, p], WATER[:, p], strict=True):
            frozen, wet = t < freezes_c, w >= 180.0
            cycles += frozen and wet and not before
            frozen_wet += frozen and wet
            frozen_all += frozen
            before = frozen
        assert (found.cycles[p], found.hours[p], found.frozen[p]) == (cycles, frozen_wet, frozen_all)
    assert found.frozen.max() > 0


def test_frost_of_a_dry_wall_and_of_a_warm_one_does_nothing() -> None:
    dry = hours.freezing([1.0, -5.0, 1.0, -5.0], [20.0] * 4, 200.0, 0.9)
    assert (dry.hours, dry.cycles, dry.frozen) == (0, 0, 2)
    warm = hours.freezing([1.0] * 4, [200.0] * 4, 200.0, 0.9)
    assert (warm.hours, warm.cycles, warm.frozen) == (0, 0, 0)


def test_years_of_unequal_length() -> None:
    year = np.repeat([2019, 2020], [3, 5])
    series = np.arange(8.0)[:, None] * [1.0, 2.0]
    assert hours.yearly(series, year).tolist() == [[2.0, 4.0], [7.0, 14.0]]
    assert hours.yearly(series, year, "mean").tolist() == [[1.0, 2.0], [5.0, 10.0]]
    assert hours.yearly(series, year, "sum").tolist() == [[3.0, 6.0], [25.0, 50.0]]
    assert hours.yearly(series, year, "last").tolist() == [[2.0, 4.0], [7.0, 14.0]]


def test_growing_falling_and_settled() -> None:
    seen = hours.year_on_year([[1.0, 1.0, 1.0], [2.0, 0.5, 3.0], [3.0, 0.2, 3.005]], 0.01)
    assert seen.growing.tolist() == [True, False, False]
    assert seen.falling.tolist() == [False, True, False]
    assert seen.settled.tolist() == [False, False, True]
    assert seen.change.shape == (2, 3)


def test_the_worst_month_over_all_years() -> None:
    month = np.tile(np.repeat(np.arange(1, 13), 730), 2)
    series = np.column_stack([np.cos((month - 4) / 12 * 2 * np.pi), -np.cos((month - 4) / 12 * 2 * np.pi)])
    seen = hours.worst_month(series, month)
    assert seen.month.tolist() == [4, 10] and seen.means.shape == (12, 2)
    assert seen.means[3].tolist() == pytest.approx([1.0, -1.0])


@pytest.mark.parametrize("days", [0.3, 2.0, 17.0])
def test_half_of_an_exponential_decay(days: float) -> None:
    at = np.arange(24 * 60)
    water = 30.0 + 50.0 * 0.5 ** (at / 24.0 / days)
    assert hours.days_to_half(water, 30.0) == pytest.approx(days, rel=2e-3)
    both = hours.days_to_half(np.column_stack([water, water + 5.0]), [30.0, 35.0])
    assert both.tolist() == pytest.approx([days, days], rel=2e-3)


def test_what_never_dries_by_half_is_infinite() -> None:
    assert hours.days_to_half([[10.0, 10.0], [9.0, 3.0]], 0.0).tolist() == [
        math.inf,
        pytest.approx(5 / 7 / 24),
    ]


def test_water_that_first_rises_is_half_when_it_falls() -> None:
    assert hours.days_to_half([10.0, 12.0, 8.0, 4.0], 0.0) * 24.0 == pytest.approx(2.75)


BAD: dict[str, tuple[Callable[..., Any], tuple[Any, ...], type[PhysicsError], str]] = {
    "water below nothing": (hours.content_by_mass, ([-1.0], 500.0), OutOfRange, "water in the volume"),
    "no density": (hours.content_by_mass, ([1.0], 0.0), OutOfRange, "dry density"),
    "NaN": (hours.above, ([1.0, math.nan], 0.5), NotFinite, "series"),
    "no hours": (hours.above, (np.ones((0, 3)), 0.5), PhysicsError, "neither"),
    "one number": (hours.above, (1.0, 0.5), PhysicsError, "neither"),
    "humidity in percent": (hours.wetness_hours, ([5.0], [85.0], 0.8, 0.0), OutOfRange, "relative humidity"),
    "unlike": (hours.wetness_hours, ([5.0, 5.0], [0.8], 0.8, 0.0), PhysicsError, "do not go together"),
    "share in percent": (hours.freezing, ([1.0], [1.0], 200.0, 90.0), OutOfRange, "share of free saturation"),
    "freezes warm": (hours.freezing, ([1.0], [1.0], 200.0, 0.9, 4.0), OutOfRange, "temperature of freezing"),
    "years fall": (hours.yearly, ([1.0, 2.0], [1, 0]), PhysicsError, "fall"),
    "years short": (hours.yearly, ([1.0, 2.0], [1]), PhysicsError, "each hour"),
    "no such number": (hours.yearly, ([1.0, 2.0], [1, 1], "median"), PhysicsError, "median"),
    "one year": (hours.year_on_year, ([1.0], 0.1), PhysicsError, "no year before"),
    "half a year": (hours.worst_month, (np.ones(6), np.arange(1, 7)), PhysicsError, "month 7"),
    "month 13": (hours.worst_month, (np.ones(13), np.arange(1, 14)), OutOfRange, "month"),
    "month 1.5": (hours.worst_month, (np.ones(2), [1.0, 1.5]), PhysicsError, "whole"),
    "starts dry": (hours.days_to_half, ([4.0, 3.0], 5.0), PhysicsError, "nothing to dry"),
}


@pytest.mark.parametrize("case", BAD)
def test_what_cannot_be_is_named(case: str) -> None:
    function, values, error, words = BAD[case]
    with pytest.raises(error, match=words):
        function(*values)
