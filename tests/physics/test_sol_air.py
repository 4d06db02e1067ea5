"""Sol-air temperature and design-day air: limits, a second method, refusals."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics import sol_air as sa
from specgen.physics.errors import OutOfRange


@given(st.floats(-20.0, 45.0), st.floats(0.1, 1.0), st.floats(0.0, 1200.0), st.floats(5.0, 30.0))
def test_face_with_insulation_behind_balances(air: float, alpha: float, sun: float, film: float) -> None:
    """Second method: at the sol-air temperature what the film carries off is what the sun brings."""
    face = sa.sol_air(air, alpha, sun, film)
    assert film * (face - air) == pytest.approx(alpha * sun, abs=1e-9)


def test_design_day_reaches_its_maximum_and_its_minimum() -> None:
    day = np.asarray(sa.design_day_temperature(35.0, 12.0, np.linspace(0.0, 24.0, 97)))
    assert day.max() == 35.0
    assert day.min() == 23.0
    assert day[0] == day[-1]


def test_fractions_are_a_day_of_fractions() -> None:
    assert len(sa.DAILY_RANGE_FRACTIONS) == 24
    assert min(sa.DAILY_RANGE_FRACTIONS) == 0.0
    assert max(sa.DAILY_RANGE_FRACTIONS) == 1.0


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: sa.sol_air(30.0, 70.0, 800.0, 17.0), "absorptance"),
        (lambda: sa.sol_air(30.0, 0.7, 2000.0, 17.0), "irradiance"),
        (lambda: sa.sol_air(30.0, 0.7, 800.0, 0.0), "film coefficient"),
        (lambda: sa.sol_air(86.0, 0.7, 800.0, 17.0), "air temperature"),
        (lambda: sa.design_day_temperature(35.0, -5.0, 12.0), "daily range"),
        (lambda: sa.design_day_temperature(35.0, 5.0, 25.0), "hour"),
    ],
)
def test_out_of_range_is_named(call, name: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange, match=name):
        call()
