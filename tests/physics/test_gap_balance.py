"""The wet gap in balance: heat, pressure and vapor close, and its limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.physics.errors import OutOfRange
from specgen.physics.gap_air import Loss, gap_flow, pressure_used, stack_pressure
from specgen.physics.gap_balance import balances, laminar_pressure, wet_gap
from specgen.physics.moist_air import saturation_pressure

OUTLETS = [Loss(2.8, 0.3)] * 2


@settings(max_examples=60)
@given(
    st.floats(0.0, 35.0),
    st.floats(20.0, 38.0),
    st.floats(0.1, 1.0),
    st.floats(0.0, 3.0),
    st.floats(0.004, 0.02),
)
def test_heat_pressure_and_vapor_close(rise, air, humidity, wind, gap):
    """Second method: each balance written out with its own constants, for a wind that helps."""
    outside = humidity * float(saturation_pressure(air))
    found = wet_gap(air + rise, air, outside, wind, gap, 1.1, OUTLETS, 0.09)
    v, temp = found.flow.velocity_m_s, found.temp_c
    used = 12 * 1.82e-5 * 1.1 * abs(v) / gap**2 + 0.5 * 1.2041 * v**2 * 2 * 2.8 / 0.09
    full = float(saturation_pressure(temp))
    out, gap_air = (
        (101325 - 0.378055 * p) / 287.04 / (t + 273.15) for p, t in ((outside, air), (full, temp))
    )
    stack = 9.80665 * 1.1 * (out - gap_air)
    assert np.sign(v) * used == pytest.approx(stack + wind, rel=2e-3, abs=1e-6)
    per_area = abs(v) * gap / 1.1
    latent = 2.501e6 * per_area * (float(saturation_pressure(temp)) - outside) / (461.5 * (temp + 273.15))
    sensible = per_area * 1.2041 * 1006 * (temp - air)
    assert latent + sensible == pytest.approx((air + rise - temp) / 0.09, rel=2e-3, abs=0.05)


def test_no_more_leaves_than_the_heat_evaporates():
    """However open the gap, the heat of the face bounds what goes: (Te - Tdew)/R at most."""
    for share in (0.1, 1.0, 100.0):
        found = wet_gap(60.0, 35.0, 2000.0, 0.0, 0.015, 1.0, [Loss(1.0, share)], 0.09)
        assert 0.0 < found.removed < (60.0 - 17.5) / 0.09 / 2.4e6


def test_still_air_is_as_hot_as_the_face_and_carries_nothing():
    tight = wet_gap(60.0, 35.0, 2000.0, 0.0, 0.0003, 1.0, OUTLETS, 0.09)
    assert tight.temp_c == pytest.approx(60.0, abs=0.5)
    assert tight.removed < 1e-6
    still = -float(stack_pressure(1.0, 60.0, 35.0, saturation_pressure(60.0), 2000.0))
    held = wet_gap(60.0, 35.0, 2000.0, still, 0.011, 1.0, OUTLETS, 0.09)
    assert abs(held.flow.velocity_m_s) < 1e-3 or held.flow.velocity_m_s < 0


def test_no_sun_no_wind_saturated_air_nothing_moves():
    still = wet_gap(20.0, 20.0, float(saturation_pressure(20.0)), 0.0, 0.011, 1.0, OUTLETS, 0.09)
    assert still.removed == pytest.approx(0.0, abs=1e-12)


def test_arrays_are_the_single_values():
    both = wet_gap([60.0, 45.0], 30.0, 2000.0, [0.0, 0.5], 0.011, 1.0, OUTLETS, 0.09)
    one = wet_gap(45.0, 30.0, 2000.0, 0.5, 0.011, 1.0, OUTLETS, 0.09)
    assert np.asarray(both.removed)[1] == pytest.approx(one.removed, rel=1e-9)


def test_a_storm_is_counted_as_far_as_laminar_flow():
    most = laminar_pressure(0.019, 1.0, OUTLETS)
    storm = wet_gap(30.0, 25.0, 1500.0, 80.0, 0.019, 1.0, OUTLETS, 0.09)
    assert storm.limited and storm.drive_pa == pytest.approx(most)
    assert storm.flow.reynolds == pytest.approx(2300, rel=1e-6)
    assert not wet_gap(30.0, 25.0, 1500.0, 0.1, 0.019, 1.0, OUTLETS, 0.09).limited


def test_pressure_used_is_the_inverse_of_the_flow():
    v = gap_flow(0.4, 0.008, 1.3, OUTLETS).velocity_m_s
    assert pressure_used(v, 0.008, 1.3, OUTLETS) == pytest.approx(0.4, rel=1e-12)


def test_a_face_colder_than_the_air_is_refused():
    with pytest.raises(OutOfRange, match="less air temperature"):
        wet_gap(20.0, 30.0, 1500.0, 0.0, 0.011, 1.0, OUTLETS, 0.09)


def test_a_gap_of_no_depth_has_no_laminar_pressure() -> None:
    with pytest.raises(OutOfRange, match="a gap, not a room"):
        laminar_pressure(0.0, 1.0, OUTLETS)


def test_near_a_wind_that_turns_the_air_every_state_is_found():
    """Each state closes by `wet_gap` on its own terms; without wind there is one, and it is that of `wet_gap`."""
    args = (0.011, 1.0, OUTLETS, 0.09)
    (one,) = balances(60.0, 35.0, 2400.0, 0.0, *args)
    assert one.temp_c == pytest.approx(wet_gap(60.0, 35.0, 2400.0, 0.0, *args).temp_c, abs=1e-6)
    counts = {len(balances(60.0, 35.0, 2400.0, -0.05 * part, *args)) for part in range(60)}
    assert counts == {1, 3}
    for wind in (-0.6, -1.0, -1.4):
        found = balances(60.0, 35.0, 2400.0, wind, *args)
        for state in found:
            assert state.drive_pa == pytest.approx(state.stack_pa + wind)
            heat = (60.0 - state.temp_c) / 0.09
            sensible = abs(state.flow.flow_m2_s) * 1.2041 * 1006 * (state.temp_c - 35.0)
            assert heat == pytest.approx(sensible + 2.501e6 * state.removed, rel=2e-3, abs=0.2)
