"""Air in the gap: the quadratic, its limits, and vapor carried off."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics.errors import NotFinite, OutOfRange
from specgen.physics.gap_air import (
    Loss,
    gap_flow,
    stack_pressure,
    vapor_conductance,
    wind_pressure,
)

LOSSES = [Loss(0.5, 1.0), Loss(1.0, 1.0), Loss(2.5, 0.4)]


@given(st.floats(-2, 2), st.floats(1e-3, 1.2e-2), st.floats(0.3, 3.0))
def test_pressure_is_used_up_by_friction_and_losses(pressure, gap, height):
    flow = gap_flow(pressure, gap, height, LOSSES)
    v = abs(flow.velocity_m_s)
    lost = 12 * 1.82e-5 * height * v / gap**2 + 0.5 * 1.2041 * v**2 * (1.5 + 2.5 / 0.16)
    assert lost == pytest.approx(abs(pressure), rel=1e-9, abs=1e-15)
    assert np.sign(flow.velocity_m_s) == np.sign(pressure)


def test_limits_of_the_quadratic():
    friction_only = gap_flow(0.5, 0.005, 1.0, []).velocity_m_s
    assert friction_only == pytest.approx(0.5 * 0.005**2 / (12 * 1.82e-5))
    wide = gap_flow(0.01, 0.02, 0.01, [Loss(400.0, 1.0)]).velocity_m_s
    assert wide == pytest.approx(np.sqrt(2 * 0.01 / 1.2041 / 400), rel=0.01)


def test_opposite_pressure_gives_the_mirrored_flow():
    up, down = gap_flow([0.3, -0.3], 0.01, 1.0, LOSSES).flow_m2_s
    assert up == -down > 0


def test_smaller_outlets_slow_the_air():
    free = gap_flow(0.5, 0.01, 1.0, [Loss(2.0, 1.0)]).velocity_m_s
    tight = gap_flow(0.5, 0.01, 1.0, [Loss(2.0, 0.1)]).velocity_m_s
    assert tight < 0.4 * free


def test_turbulent_flow_is_refused():
    with pytest.raises(OutOfRange, match="Reynolds number in the gap"):
        gap_flow(20.0, 0.02, 0.5, [])


@given(st.floats(-20, 60), st.floats(-20, 40))
def test_stack_pressure_sign_and_rule_of_thumb(gap, outdoor):
    pressure = stack_pressure(2.0, gap, outdoor)
    assert pressure == pytest.approx(-stack_pressure(2.0, outdoor, gap), abs=1e-12)
    # 0.04 Pa per metre and kelvin is the handbook's rule of thumb near room temperature.
    assert pressure == pytest.approx(0.043 * 2.0 * (gap - outdoor), rel=0.36, abs=1e-9)


def test_moist_air_is_lighter_by_the_mass_of_what_it_replaces():
    """Second method: masses of dry air and vapor of a cubic metre each by the ideal gas law."""

    def density(celsius, pa):
        return (101325 - pa) / (287.04 * (celsius + 273.15)) + pa / (461.52 * (celsius + 273.15))

    expected = 9.80665 * (density(30.0, 1200.0) - density(45.0, 9590.0))
    assert stack_pressure(1.0, 45.0, 30.0, 9590.0, 1200.0) == pytest.approx(expected, rel=1e-4)
    assert stack_pressure(1.0, 30.0, 30.0, 4000.0, 1200.0) > 0.0


def test_wind_pressure_grows_with_the_square():
    assert wind_pressure(8.0, 0.2) == pytest.approx(4 * wind_pressure(4.0, 0.2))
    assert wind_pressure(4.0, -0.2) == -wind_pressure(4.0, 0.2)


def test_conductance_broadcasts_and_ignores_direction():
    k = vapor_conductance([0.001, -0.001], 1.0, [20.0, 20.0])
    assert k.shape == (2,) and k[0] == k[1] > 0


def test_bad_values_are_named():
    with pytest.raises(NotFinite, match="driving pressure"):
        gap_flow(float("inf"), 0.01, 1.0, [])
    with pytest.raises(OutOfRange, match="free area"):
        gap_flow(0.1, 0.01, 1.0, [Loss(1.0, 0.0)])
