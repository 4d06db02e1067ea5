"""Driving rain: definitions, limits, spells."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics.errors import NotFinite, OutOfRange
from specgen.physics.rain import (
    airfield_annual_index,
    coping_runoff,
    hourly_index,
    rain_deposition,
    roughness_coefficient,
    wall_index,
)


@given(st.floats(0, 40), st.floats(0, 360), st.floats(0, 80), st.floats(0, 360))
def test_opposite_walls_mirror(wind, direction, rain, wall):
    front, back = hourly_index(wind, direction, rain, [wall, wall + 180])
    assert front == pytest.approx(-back, abs=1e-9)


def test_index_by_hand():
    # 2/9 · 6 · 3^(8/9) · cos 60°
    assert hourly_index(6.0, 210.0, 3.0, 270.0) == pytest.approx(2 / 9 * 6 * 3 ** (8 / 9) * 0.5)


def test_annual_index_counts_only_rain_onto_the_wall():
    assert airfield_annual_index(np.array([[1.0, -1.0], [2.0, 4.0]]), 2.0).tolist() == [1.5, 2.0]


def test_roughness_is_level_below_the_least_height():
    low, least, high = roughness_coefficient([1.0, 4.0, 20.0], 0.19, 0.05, 4.0)
    assert low == least < high


def test_wall_index_is_a_product():
    assert wall_index(300.0, 0.9, 1.1, 0.6, 0.4) == pytest.approx(300 * 0.9 * 1.1 * 0.6 * 0.4)


def test_both_forms_agree_in_order():
    """At 1 mm/h the free driving rain of the index is 0.222 v; exposure and deposition of 1 give 0.2 v."""
    assert rain_deposition(5.0, 0.0, 1.0, 1.0, 1.0) / hourly_index(5.0, 0.0, 1.0, 0.0) == pytest.approx(0.9)


def test_leeward_wall_stays_dry():
    values = rain_deposition(10.0, [89.0, 90.0, 135.0, 180.0], 5.0, 1.0, 1.0)
    assert values[0] > 0 and np.abs(values[1:]).max() == pytest.approx(0.0, abs=1e-12)


def test_coping_runoff():
    water = coping_runoff(0.5, 40.0, [1.0, 0.5], rise_m=0.02, driving_mm_h=10.0)
    assert water.caught == pytest.approx(20.2)
    assert water.over_drip == pytest.approx([20.2, 10.1])


def test_bad_values_are_named():
    with pytest.raises(OutOfRange, match=r"rain \[mm/h\] is -1"):
        hourly_index(1.0, 0.0, -1.0, 0.0)
    with pytest.raises(NotFinite, match="wind speed"):
        hourly_index(float("nan"), 0.0, 1.0, 0.0)
    with pytest.raises(OutOfRange, match="wall factor"):
        wall_index(1.0, 1.0, 1.0, 1.0, -0.1)
    with pytest.raises(OutOfRange, match="share over the drip"):
        coping_runoff(0.4, 10.0, 1.5)
