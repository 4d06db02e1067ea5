"""Round trips, limits and refusals of the moist air functions."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

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


@pytest.mark.parametrize(
    ("over", "found"), [(ma.saturation_over_water, False), (ma.saturation_pressure, True)]
)
@pytest.mark.parametrize("humidity", ["over water", "over ice"])
def test_dew_points_below_freezing_are_read_as_the_humidity_of_the_same_hours_tells(
    over: Callable[[Any], Any], found: bool, humidity: str
) -> None:
    """Whole degrees in tenths and humidity in whole percent, as weather files write them."""
    chance = np.random.default_rng(7)
    air = np.round(chance.uniform(-20.0, 12.0, 2000), 1)
    dew = np.round(np.minimum(air - chance.uniform(0.5, 12.0, 2000), air), 1)
    of_air = ma.saturation_over_water if humidity == "over water" or not found else ma.saturation_pressure
    rh = np.round(np.asarray(over(dew)) / np.asarray(of_air(air)), 2)
    assert ma.frost_points(air, dew, rh) is found


def test_a_record_without_cold_hours_is_over_water() -> None:
    air = np.full(8760, 25.0)
    assert ma.frost_points(air, np.full(8760, 12.0), np.full(8760, 0.44)) is False


@pytest.mark.parametrize(("temp_c", "pascal"), [(0.0, 611.2), (-10.0, 286.5), (-20.0, 125.4), (-30.0, 50.9)])
def test_saturation_over_supercooled_water(temp_c: float, pascal: float) -> None:
    """Smithsonian tables over supercooled water, from memory: 286.5 Pa at -10 °C, 125.4 at -20, 50.9 at -30."""
    assert ma.saturation_over_water(temp_c) == pytest.approx(pascal, rel=0.006)
    assert temp_c == 0.0 or ma.saturation_over_water(temp_c) > ma.saturation_pressure(temp_c)
