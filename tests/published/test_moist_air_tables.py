"""Moist air against the tables of the ASHRAE Handbook of Fundamentals, and against more of the reference libraries.

The tables of 2017, chapter 1, were read in the tests of the library psychrolib, which quote table and edition; the
handbook itself was not open. Tolerances are those of two formulations of the same thing.
"""

from __future__ import annotations

import numpy as np
import psychrolib
import pytest
from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAPropsSI

from specgen.physics import constants as c
from specgen.physics import moist_air as ma
from tests.published.register import How, published

HANDBOOK = "ASHRAE Handbook of Fundamentals"
READ_IN = "read in the tests of psychrolib"


@pytest.fixture(autouse=True)
def _si() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


@published(
    "moist air", "saturation pressure", HANDBOOK, f"chapter 1, table 3, {READ_IN}", "0.6 %", How.READ, "2017"
)
@pytest.mark.parametrize(
    ("temp_c", "pressure_pa"), [(-20, 103.24), (-5, 401.74), (5, 872.6), (25, 3169.7), (50, 12351.3)]
)
def test_saturation_pressure_of_table_3(temp_c: float, pressure_pa: float) -> None:
    assert ma.saturation_pressure(temp_c) == pytest.approx(pressure_pa, rel=0.006)


@published(
    "moist air",
    "saturation humidity ratio",
    HANDBOOK,
    f"chapter 1, table 2, {READ_IN}",
    "1.5 %",
    How.READ,
    "2017",
)
@pytest.mark.parametrize(
    ("temp_c", "ratio"), [(-20, 0.0006373), (-5, 0.0024863), (5, 0.005425), (25, 0.020173), (50, 0.086863)]
)
def test_saturation_humidity_ratio_of_table_2(temp_c: float, ratio: float) -> None:
    """The table is of real air, 0.4 to 1 % above the ideal mixture."""
    assert ma.humidity_ratio(ma.saturation_pressure(temp_c)) == pytest.approx(ratio, rel=0.015)


@published(
    "moist air",
    "dew point and relative humidity of air at 40 °C and 20 °C wet bulb",
    HANDBOOK,
    f"chapter 1, example 1, {READ_IN}",
    "0.5 K; 0.01",
    How.READ,
    "2017",
)
def test_example_1() -> None:
    """40 °C with 20 °C wet bulb: ratio 0.0065, dew point 7 °C, 14 %; read off a chart there.

    This project has no wet bulb, so psychrolib makes the ratio from it.
    """
    ratio = psychrolib.GetHumRatioFromTWetBulb(40.0, 20.0, 101325.0)
    vapor = ratio * c.STANDARD_ATMOSPHERE / (c.MOLAR_MASS_RATIO + ratio)
    assert ma.humidity_ratio(vapor) == pytest.approx(0.0065, abs=1e-4)
    assert ma.dew_point(vapor) == pytest.approx(7.0, abs=0.5)
    assert ma.relative_humidity(40.0, vapor) == pytest.approx(0.14, abs=0.01)


@published(
    "moist air",
    "relative humidity",
    "psychrolib, GetRelHumFromVapPres",
    "ASHRAE equations",
    "0.6 %",
    How.PACKAGE,
)
@pytest.mark.parametrize(("temp_c", "vapor"), [(-10, 150), (5, 500), (20, 1200), (35, 3000), (55, 9000)])
def test_relative_humidity_against_psychrolib(temp_c: float, vapor: float) -> None:
    reference = psychrolib.GetRelHumFromVapPres(temp_c, vapor)
    assert ma.relative_humidity(temp_c, vapor) == pytest.approx(reference, rel=0.006)


@published(
    "moist air",
    "vapor pressure from relative humidity",
    "psychrolib, GetVapPresFromRelHum",
    "ASHRAE equations",
    "0.6 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("temp_c", [-15.0, 5.0, 25.0, 45.0])
@pytest.mark.parametrize("rh", [0.25, 0.75])
def test_vapor_pressure_against_psychrolib(temp_c: float, rh: float) -> None:
    assert ma.vapor_pressure(temp_c, rh) == pytest.approx(
        psychrolib.GetVapPresFromRelHum(temp_c, rh), rel=0.006
    )


@published(
    "moist air",
    "humidity ratio of real humid air",
    "CoolProp, HAPropsSI",
    "ASHRAE RP-1485",
    "1 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("temp_c", [5.0, 20.0, 35.0, 50.0])
@pytest.mark.parametrize("rh", [0.3, 0.8])
def test_humidity_ratio_against_coolprop(temp_c: float, rh: float) -> None:
    reference = HAPropsSI("W", "T", temp_c + 273.15, "R", rh, "P", 101325.0)
    assert ma.humidity_ratio(ma.vapor_pressure(temp_c, rh)) == pytest.approx(reference, rel=0.01)


@published(
    "moist air",
    "relative humidity of real humid air",
    "CoolProp, HAPropsSI",
    "ASHRAE RP-1485",
    "1 %",
    How.PACKAGE,
)
@pytest.mark.parametrize(("temp_c", "vapor"), [(10, 600), (25, 1500), (45, 6000)])
def test_relative_humidity_against_coolprop(temp_c: float, vapor: float) -> None:
    reference = HAPropsSI("R", "T", temp_c + 273.15, "P_w", vapor, "P", 101325.0)
    assert ma.relative_humidity(temp_c, vapor) == pytest.approx(reference, rel=0.01)


@published(
    "moist air",
    "gas constants of vapor and dry air",
    "CoolProp, PropsSI",
    "molar gas constant over molar mass",
    "0.05 %",
    How.PACKAGE,
)
@pytest.mark.parametrize(
    ("ours", "fluid"), [(c.GAS_CONSTANT_VAPOR, "Water"), (c.GAS_CONSTANT_DRY_AIR, "Air")]
)
def test_gas_constants_against_coolprop(ours: float, fluid: str) -> None:
    assert ours == pytest.approx(PropsSI("GAS_CONSTANT", fluid) / PropsSI("M", fluid), rel=5e-4)


@published(
    "moist air",
    "heat of vaporization at 0 °C, specific heat of air",
    "CoolProp, PropsSI",
    "IAPWS-95 and reference equation of air",
    "0.1 %, 0.2 %",
    How.PACKAGE,
)
def test_caloric_constants_against_coolprop() -> None:
    heat = PropsSI("H", "T", 273.16, "Q", 1, "Water") - PropsSI("H", "T", 273.16, "Q", 0, "Water")
    assert pytest.approx(heat, rel=1e-3) == c.LATENT_HEAT_VAPORISATION_0C
    air = PropsSI("CP0MASS", "T", 293.15, "P", 101325, "Air")
    assert pytest.approx(air, rel=2e-3) == c.SPECIFIC_HEAT_DRY_AIR


@published(
    "moist air",
    "slope of the saturation curve",
    "CoolProp, PropsSI",
    "IAPWS-95, differences of 0.2 K",
    "1.5 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("temp_c", [2.0, 15.0, 30.0, 50.0])
def test_slope_of_saturation_against_iapws(temp_c: float) -> None:
    """The tangent construction lives on this slope."""

    def slope(curve) -> float:
        return float(curve(temp_c + 0.1) - curve(temp_c - 0.1)) / 0.2

    reference = slope(lambda t: PropsSI("P", "T", t + 273.15, "Q", 0, "Water"))
    assert slope(ma.saturation_pressure) == pytest.approx(reference, rel=0.015)
    assert np.isfinite(reference)
