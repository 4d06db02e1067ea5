"""Scuppers: round trips, continuity, the orifice limit."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics.errors import NotFinite, OutOfRange
from specgen.physics.scupper import WEIR_COEFFICIENT, discharge, head_for_flow, ponded_water, rain_flow

WIDTH, HEIGHT = st.floats(0.05, 2.0), st.floats(0.05, 0.5)


@given(st.floats(1e-3, 1.5), WIDTH, HEIGHT)
def test_head_inverts_discharge(head, width, height):
    flow = discharge(head, width, height).flow_m3_s
    assert head_for_flow(flow, width, height) == pytest.approx(head, rel=1e-9)


@given(WIDTH, HEIGHT)
def test_discharge_is_continuous_at_the_top_of_the_opening(width, height):
    below, above = discharge(np.array([1 - 1e-9, 1 + 1e-9]) * height, width, height).flow_m3_s
    assert below == pytest.approx(above, rel=1e-6)


def test_far_above_the_opening_it_is_an_orifice():
    """Second method: C_d b H √(2g(h − H/2)) with the weir's own discharge coefficient."""
    cd = WEIR_COEFFICIENT / (2 / 3 * np.sqrt(2 * 9.80665))
    orifice = cd * 0.3 * 0.1 * np.sqrt(2 * 9.80665 * (1.0 - 0.05))
    assert discharge(1.0, 0.3, 0.1).flow_m3_s == pytest.approx(orifice, rel=1e-3)
    assert cd == pytest.approx(0.60, abs=0.005)


def test_strip_by_strip_integral():
    z = np.linspace(0.25 - 0.1, 0.25, 20001)
    cd = WEIR_COEFFICIENT / (2 / 3 * np.sqrt(2 * 9.80665))
    expected = np.trapezoid(cd * 0.4 * np.sqrt(2 * 9.80665 * z), z)
    assert discharge(0.25, 0.4, 0.1).flow_m3_s == pytest.approx(expected, rel=1e-8)


def test_regimes():
    assert discharge([0.0, 0.05, 0.1, 0.12, 0.16], 0.2, 0.1).regime.tolist() == [
        "dry",
        "weir",
        "weir",
        "transition",
        "orifice",
    ]


def test_no_flow_needs_no_head():
    assert head_for_flow(0.0, 0.2, 0.1) == 0.0


def test_rain_flow_and_load():
    assert rain_flow(3.6, 1000.0) == pytest.approx(1e-3)
    water = ponded_water(0.05, [0.0, 0.05])
    assert water.depth_m.tolist() == [0.05, 0.1]
    assert water.load_pa[1] == pytest.approx(2 * water.load_pa[0])


def test_bad_values_are_named():
    with pytest.raises(OutOfRange, match="head"):
        discharge(-0.1, 0.2, 0.1)
    with pytest.raises(OutOfRange, match="width of the scupper"):
        head_for_flow(0.01, 0.0, 0.1)
    with pytest.raises(NotFinite, match="rain intensity"):
        rain_flow(float("inf"), 1.0)
