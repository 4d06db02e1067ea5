"""Wind: units, editions, limits, refusals."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics import wind
from specgen.physics.errors import NotFinite, OutOfRange
from specgen.physics.wind import Directionality
from specgen.practice.load import load_practice

FT = 0.3048
MPH = 0.44704
PSF = 47.880258980336
IN_Q = Directionality(0.85, "q")
IN_P = Directionality(0.85, "p")


def kz_c(height_ft: float) -> float:
    return float(wind.exposure_coefficient(height_ft * FT, 9.5, 900 * FT, 15 * FT, 2.01))


def test_kz_is_level_below_the_lowest_height() -> None:
    assert kz_c(5.0) == kz_c(15.0) < kz_c(16.0)


def test_kz_at_the_gradient_height_is_the_coefficient() -> None:
    assert kz_c(900.0) == pytest.approx(2.01)


@given(st.floats(15.0, 899.0), st.floats(15.0, 899.0))
def test_kz_rises_with_height(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert kz_c(low) <= kz_c(high)


@pytest.mark.parametrize("mph", [90.0, 115.0, 180.0])
def test_si_and_inch_pound_forms_agree(mph: float) -> None:
    """0.00256 psf/mph² and 0.613 kg/m³ are one number, rounded: 0.1 %."""
    si = wind.velocity_pressure(mph * MPH, 0.9, 1.0, 1.0, Directionality(1.0, "q"))
    assert si / PSF == pytest.approx(0.00256 * 0.9 * mph**2, rel=1e-3)


@given(st.floats(30.0, 90.0), st.floats(-3.0, -0.2), st.floats(0.0, 0.55))
def test_directionality_counts_once_wherever_it_enters(speed: float, gcp: float, gcpi: float) -> None:
    pressures = [
        wind.design_pressure(wind.velocity_pressure(speed, 1.0, 1.0, 1.0, d), gcp, gcpi, d)
        for d in (IN_Q, IN_P)
    ]
    assert pressures[0] == pytest.approx(pressures[1], rel=1e-12)
    none = Directionality(1.0, "q")
    bare = wind.design_pressure(wind.velocity_pressure(speed, 1.0, 1.0, 1.0, none), gcp, gcpi, none)
    assert pressures[0] == pytest.approx(0.85 * bare, rel=1e-12)


def test_velocity_pressure_of_7_22_is_without_directionality() -> None:
    ratio = wind.velocity_pressure(50, 1, 1, 1, IN_Q) / wind.velocity_pressure(50, 1, 1, 1, IN_P)
    assert ratio == pytest.approx(0.85)


def test_minimum_keeps_the_sign_and_leaves_larger_alone() -> None:
    assert np.asarray(wind.at_least_minimum([-1.0, 1.0, -2000.0, 2000.0], 766.0)).tolist() == [
        -766.0,
        766.0,
        -2000.0,
        2000.0,
    ]


def test_minimum_is_sixteen_psf() -> None:
    assert pytest.approx(16.0 * PSF, rel=1e-3) == load_practice().quantity("wind.minimum").value


def test_coefficient_at_area() -> None:
    areas, values = [10.0, 100.0, 500.0], [-3.2, -2.3, -1.7]
    assert wind.coefficient_at_area(1.0, areas, values) == -3.2
    assert wind.coefficient_at_area(900.0, areas, values) == -1.7
    assert wind.coefficient_at_area(100.0, areas, values) == pytest.approx(-2.3)
    assert wind.coefficient_at_area(10.0**1.5, areas, values) == pytest.approx(-2.75)


@pytest.mark.parametrize(
    ("areas", "values"),
    [([10.0, 5.0], [1.0, 2.0]), ([10.0], [1.0, 2.0]), ([], []), ([10.0, 10.0], [1.0, 2.0])],
)
def test_a_bad_table_is_refused(areas: list[float], values: list[float]) -> None:
    with pytest.raises(ValueError, match="one coefficient for each area"):
        wind.coefficient_at_area(20.0, areas, values)


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: kz_c(0.0), "height above ground"),
        (lambda: kz_c(901.0), "height above ground"),
        (lambda: wind.exposure_coefficient(10.0, 9.5, 900.0, 4.6, 2.01 * 3.28), "coefficient of Kz"),
        (lambda: wind.exposure_coefficient(10.0, 2.0, 900.0, 4.6, 2.01), "alpha"),
        (lambda: wind.exposure_coefficient(10.0, 9.5, 3280.0, 4.6, 2.41), "gradient height"),
        (lambda: wind.velocity_pressure(150.0, 1.0, 1.0, 1.0, IN_Q), "wind speed"),
        (lambda: wind.velocity_pressure(50.0, 1.0, 0.5, 1.0, IN_Q), "Kzt"),
        (lambda: wind.design_pressure(1000.0, -8.0, 0.0, IN_Q), "GCp"),
        (lambda: wind.design_pressure(1000.0, -1.0, 0.8, IN_Q), "GCpi"),
        (lambda: wind.ground_elevation_factor(9000.0), "ground elevation"),
        (lambda: Directionality(0.3, "q"), "Kd"),
        (lambda: wind.coefficient_at_area(0.0, [10.0, 100.0], [-1.0, -2.0]), "effective wind area"),
    ],
)
def test_out_of_range_is_named(call, name: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange, match=name):
        call()


def test_other_refusals() -> None:
    with pytest.raises(ValueError, match='"q" or "p"'):
        Directionality(0.85, "both")  # type: ignore[arg-type]
    with pytest.raises(NotFinite, match="design pressure"):
        wind.allowable(float("nan"), 0.6)
