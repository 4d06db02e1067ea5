"""Round trips, limits and refusals of the moist air functions."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics import moist_air as ma
from specgen.physics.errors import NotFinite, OutOfRange

TEMPS = st.floats(-40.0, 100.0)


@given(TEMPS)
def test_dew_point_is_the_inverse_of_saturation(temp_c: float) -> None:
    assert ma.dew_point(ma.saturation_pressure(temp_c)) == pytest.approx(temp_c, abs=1e-7)


@given(TEMPS, TEMPS)
def test_saturation_rises_with_temperature(one: float, other: float) -> None:
    low, high = sorted((one, other))
    if high - low > 1e-6:
        assert ma.saturation_pressure(low) < ma.saturation_pressure(high)


def test_the_two_expressions_meet_at_zero() -> None:
    below, above = ma.saturation_pressure(-1e-9), ma.saturation_pressure(0.0)
    assert below == pytest.approx(above, rel=1e-9)


@given(TEMPS, st.floats(0.0, 1.0))
def test_relative_humidity_round_trip(temp_c: float, rh: float) -> None:
    back = ma.relative_humidity(temp_c, ma.vapor_pressure(temp_c, rh))
    assert back == pytest.approx(rh, abs=1e-12)


def test_dry_air_holds_nothing() -> None:
    assert ma.vapor_pressure(20.0, 0.0) == 0.0
    assert ma.humidity_ratio(0.0) == 0.0


def test_float_in_float_out_array_in_array_out() -> None:
    assert type(ma.saturation_pressure(20.0)) is float
    array = ma.vapor_pressure(np.array([[10.0], [20.0]]), np.array([0.2, 0.5, 0.8]))
    assert isinstance(array, np.ndarray)
    assert array.shape == (2, 3)
    assert array[1, 1] == pytest.approx(ma.vapor_pressure(20.0, 0.5))


@pytest.mark.parametrize("temp_c", [-40.1, 100.1])
def test_temperature_outside_the_range_is_named(temp_c: float) -> None:
    with pytest.raises(OutOfRange, match=r"temperature \[°C\] is .* outside -40 to 100"):
        ma.saturation_pressure(temp_c)


def test_percent_given_for_a_fraction_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"relative humidity .* 50, outside 0 to 1"):
        ma.vapor_pressure(20.0, 50.0)


def test_nan_is_refused() -> None:
    with pytest.raises(NotFinite, match="temperature"):
        ma.saturation_pressure([10.0, float("nan")])


@pytest.mark.parametrize("vapor_pa", [-1.0, 0.0, 10.0, 2e5])
def test_dew_point_outside_the_range_is_refused(vapor_pa: float) -> None:
    with pytest.raises(OutOfRange, match="vapor pressure"):
        ma.dew_point(vapor_pa)


def test_vapor_above_total_pressure_is_refused() -> None:
    with pytest.raises(OutOfRange, match="vapor pressure"):
        ma.humidity_ratio(102000.0)
