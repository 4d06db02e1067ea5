"""Plaster as a reservoir: closed forms, balance, second method."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from specgen.physics.errors import NotFinite, OutOfRange
from specgen.physics.reservoir import hourly_uptake, stored_water, time_to_saturation, uptake


@given(st.floats(1e-3, 0.5), st.floats(0.005, 0.1), st.floats(20, 400))
def test_time_to_saturation_inverts_uptake(absorption, thickness, saturation):
    t = time_to_saturation(absorption, thickness, saturation)
    assert uptake(absorption, t) == pytest.approx(stored_water(thickness, saturation), rel=1e-12)


def test_steady_downpour_follows_the_root_of_time():
    """Supply far above what the plaster drinks: the closed form A √t, until full."""
    result = hourly_uptake(np.full(30, 100.0), 0.02, 0.022, 200.0)
    expected = np.minimum(uptake(0.02, 3600.0 * np.arange(1, 31)), 4.4)
    # The knee A²/(2R) costs a moment at the start, so the front lags the ideal by under 1 %.
    assert result.stored == pytest.approx(expected, rel=0.005)
    assert result.stored[-1] == pytest.approx(4.4, rel=1e-12)


def test_weak_rain_is_absorbed_whole():
    result = hourly_uptake(np.full(10, 0.1), 0.05, 0.022, 200.0)
    assert result.runoff.max() == 0.0 and result.stored[-1] == pytest.approx(1.0)


def test_fine_steps_give_the_same_hour():
    """Second method: dm/dt = min(R, A²/2m) in 200,000 explicit steps."""
    a, m, rain = 0.02, 0.3, 1.2
    dt = 3600 / 200_000
    rate = rain / 3600
    for _ in range(200_000):
        m += min(rate, a**2 / (2 * m)) * dt
    result = hourly_uptake([rain], a, 0.05, 300.0, initial=0.3)
    assert result.stored[0] == pytest.approx(m, rel=1e-5)
    assert 0.0 < result.runoff[0] < rain


HOURS = 48


@settings(deadline=None)
@given(
    arrays(np.float64, (HOURS, 3), elements=st.floats(0, 30)),
    arrays(np.float64, (HOURS,), elements=st.floats(0, 0.3)),
    st.floats(1e-4, 1.0),
)
def test_every_hour_balances(rain, drying, absorption):
    result = hourly_uptake(rain, absorption, [0.01, 0.022, 0.05], 220.0, drying=drying, initial=0.4)
    assert np.allclose(result.absorbed + result.runoff, rain, rtol=0, atol=1e-12)
    before = np.vstack([np.full((1, 3), 0.4), result.stored[:-1]])
    assert np.allclose(before + result.absorbed - result.dried, result.stored, rtol=0, atol=1e-12)
    assert (result.runoff >= 0).all() and (result.stored >= 0).all()
    assert (result.stored <= np.array([2.2, 4.84, 11.0]) + 1e-9).all()
    assert (result.dried <= drying[:, None] + 1e-15).all()


@given(st.floats(0, 20), st.floats(0, 20))
def test_more_rain_never_leaves_less_water(one, two):
    low, high = sorted((one, two))
    results = [hourly_uptake([x, x], 0.03, 0.022, 200.0).stored[-1] for x in (low, high)]
    assert results[0] <= results[1] + 1e-12


def test_parapets_side_by_side_equal_parapets_one_by_one():
    rain = np.array([[0.5, 3.0], [8.0, 0.0], [2.0, 2.0]])
    together = hourly_uptake(rain, [0.01, 0.04], 0.022, 200.0).stored
    for column, a in enumerate((0.01, 0.04)):
        assert hourly_uptake(rain[:, column], a, 0.022, 200.0).stored == pytest.approx(together[:, column])


def test_bad_values_are_named():
    with pytest.raises(OutOfRange, match="rain on the face"):
        hourly_uptake([-0.1], 0.02, 0.022, 200.0)
    with pytest.raises(OutOfRange, match="over capacity"):
        hourly_uptake([0.1], 0.02, 0.022, 200.0, initial=5.0)
    with pytest.raises(NotFinite, match="absorption"):
        uptake(float("nan"), 1.0)
