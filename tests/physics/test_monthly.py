"""The yearly balance: start month, accumulation, drying, what is left."""

from __future__ import annotations

import math

import pytest

from specgen.physics.errors import OutOfRange
from specgen.physics.moist_air import saturation_pressure
from specgen.physics.monthly import MONTH_SECONDS, monthly_balance
from specgen.physics.steady import Layers, Side, steady_state

INSIDE = [Side(20.0, 1100.0, 0.13)] * 12


def outside(mean: float, swing: float, shift: int = 0) -> list[Side]:
    """A sinusoidal year of saturated-to-0.8 outdoor air, coldest in January (+ shift)."""
    temps = [mean - swing * math.cos(2 * math.pi * (m - shift) / 12) for m in range(12)]
    return [Side(t, 0.8 * float(saturation_pressure(t)), 0.04) for t in temps]


WALL = Layers(("board", "wool", "sheathing"), (0.1, 3.0, 0.1), (1e9, 1e9, 2e10))


def test_length_of_the_year() -> None:
    assert sum(MONTH_SECONDS) == 365 * 86400


def test_winter_condensation_dries_in_summer() -> None:
    balance = monthly_balance(WALL, INSIDE, outside(10.0, 12.0))
    assert balance.planes == (2,)
    assert balance.peak > 0.0
    assert balance.residual == 0.0
    assert balance.months[-1].held == (0.0,)


def test_the_year_starts_where_condensation_starts() -> None:
    balance = monthly_balance(WALL, INSIDE, outside(10.0, 12.0))
    first = balance.months[0]
    assert first.rate[0] > 0.0
    before = (first.month - 2) % 12
    assert steady_state(WALL, INSIDE[before], outside(10.0, 12.0)[before]).planes == ()


@pytest.mark.parametrize("shift", [1, 5, 6, 11])
def test_moving_the_seasons_moves_the_start_and_keeps_the_peak(shift: int) -> None:
    base = monthly_balance(WALL, INSIDE, outside(10.0, 12.0))
    moved = monthly_balance(WALL, INSIDE, outside(10.0, 12.0, shift))
    assert (moved.months[0].month - base.months[0].month) % 12 == shift
    # Months differ in length by up to three days in thirty-one.
    assert moved.peak == pytest.approx(base.peak, rel=0.1)


def test_accumulation_is_rate_times_time() -> None:
    balance = monthly_balance(WALL, INSIDE, outside(10.0, 12.0))
    held = 0.0
    for month in balance.months:
        held = max(0.0, held + month.rate[0] * MONTH_SECONDS[month.month - 1])
        assert month.held[0] == pytest.approx(held, rel=1e-12, abs=1e-15)
    assert balance.peak == pytest.approx(max(month.held[0] for month in balance.months))


def test_tight_outside_leaves_water_when_the_year_is_over() -> None:
    tight = Layers(("board", "wool", "sheet"), (0.1, 3.0, 0.0), (1e9, 1e9, 1e13))
    balance = monthly_balance(tight, INSIDE, outside(2.0, 10.0))
    assert balance.residual > 0.0


def test_condensation_in_every_month_starts_in_january() -> None:
    tight = Layers(("board", "wool", "sheet"), (0.1, 3.0, 0.0), (1e9, 1e9, 1e13))
    balance = monthly_balance(tight, INSIDE, outside(-5.0, 5.0))
    assert balance.months[0].month == 1
    assert all(month.rate[0] > 0.0 for month in balance.months)


def test_equal_air_on_both_sides_shows_nothing() -> None:
    """The stated limit of the method: no drive, no result, whatever is built."""
    air = [Side(s.temp_c, s.vapor_pa, 0.04) for s in outside(10.0, 12.0)]
    assert monthly_balance(WALL, air, air).planes == ()


def test_a_year_has_twelve_months() -> None:
    with pytest.raises(OutOfRange, match="number of months of the second side"):
        monthly_balance(WALL, INSIDE, INSIDE[:11])
