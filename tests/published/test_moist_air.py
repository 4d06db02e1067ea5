"""Moist air against outside sources.

psychrolib (ASHRAE Handbook of Fundamentals equations) and CoolProp (IAPWS-95, IAPWS ice) are reference
libraries run here. Tolerances are the disagreement the sources are expected to have.
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

psychrolib.SetUnitSystem(psychrolib.SI)
RANGE = np.arange(-40.0, 60.1, 2.5)


def expected_disagreement(temp_c: float) -> float:
    """0.6 %; below -20 °C the ice expression falls away from the reference, to 1.9 % at -40 °C."""
    return 0.006 if temp_c >= -20.0 else 0.020


@published(
    "moist air",
    "saturation pressure over water and ice",
    "psychrolib, GetSatVapPres",
    "ASHRAE equations 5 and 6",
    "0.6 %; 2 % below -20 °C",
    How.PACKAGE,
)
@pytest.mark.parametrize("temp_c", RANGE)
def test_saturation_pressure_against_psychrolib(temp_c: float) -> None:
    """ASHRAE (Hyland and Wexler) equations 5 and 6; reference library."""
    reference = psychrolib.GetSatVapPres(temp_c)
    assert ma.saturation_pressure(temp_c) == pytest.approx(reference, rel=expected_disagreement(temp_c))


@published(
    "moist air",
    "saturation pressure over water to 60 °C",
    "CoolProp, PropsSI",
    "IAPWS-95 saturation line",
    "0.2 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("temp_c", [t for t in RANGE if t > 0.0])
def test_saturation_pressure_over_water_against_iapws(temp_c: float) -> None:
    """IAPWS-95 saturation line; reference library CoolProp; 0.2 % to 60 °C."""
    reference = PropsSI("P", "T", temp_c + 273.15, "Q", 0, "Water")
    assert ma.saturation_pressure(temp_c) == pytest.approx(reference, rel=0.002)


@published(
    "moist air",
    "saturation pressure of hot faces to 99 °C",
    "CoolProp, PropsSI",
    "IAPWS-95 saturation line",
    "0.8 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("temp_c", [65.0, 80.0, 99.0])
def test_saturation_pressure_of_hot_faces_against_iapws(temp_c: float) -> None:
    """IAPWS-95 saturation line; reference library CoolProp; 0.8 % to 100 °C."""
    reference = PropsSI("P", "T", temp_c + 273.15, "Q", 0, "Water")
    assert ma.saturation_pressure(temp_c) == pytest.approx(reference, rel=0.008)


@published(
    "moist air",
    "sublimation pressure of ice",
    "IAPWS R14-08",
    "eq. 6, coefficients from memory",
    "0.6 %; 2 % below -20 °C",
    How.MEMORY,
)
@pytest.mark.parametrize("temp_c", [-40.0, -30.0, -20.0, -10.0, -5.0, -1.0])
def test_saturation_pressure_over_ice_against_iapws(temp_c: float) -> None:
    """IAPWS R14-08(2011) sublimation pressure of ice Ih, eq. 6, coefficients from memory."""
    theta = (temp_c + 273.15) / 273.16
    terms = ((-21.2144006, 0.00333333333), (27.3203819, 1.20666667), (-6.10598130, 1.70333333))
    reference = 611.657 * np.exp(sum(a * theta**b for a, b in terms) / theta)
    assert ma.saturation_pressure(temp_c) == pytest.approx(reference, rel=expected_disagreement(temp_c))


# Saturation table of the German building physics standard DIN 4108-3, as reprinted in textbooks; from memory.
TABLE = [
    (0.0, 611, 1),
    (5.0, 872, 1),
    (10.0, 1228, 1),
    (15.0, 1706, 2),
    (20.0, 2340, 4),
    (25.0, 3169, 4),
    (-10.0, 260, 1),
]


@published(
    "moist air",
    "saturation table",
    "DIN 4108-3",
    "table from memory",
    "1 to 4 Pa",
    How.MEMORY,
)
@pytest.mark.parametrize(("temp_c", "pressure_pa", "tolerance"), TABLE)
def test_saturation_table(temp_c: float, pressure_pa: float, tolerance: float) -> None:
    assert ma.saturation_pressure(temp_c) == pytest.approx(pressure_pa, abs=tolerance)


@published(
    "moist air",
    "dew point from relative humidity",
    "psychrolib, GetTDewPointFromRelHum",
    "ASHRAE equations inverted",
    "0.1 K",
    How.PACKAGE,
)
@pytest.mark.parametrize("temp_c", [-20.0, 0.0, 10.0, 25.0, 40.0, 60.0])
@pytest.mark.parametrize("rh", [0.3, 0.6, 0.9])
def test_dew_point_against_psychrolib(temp_c: float, rh: float) -> None:
    """Reference library. 0.6 % of pressure is at most 0.1 K of dew point."""
    ours = ma.dew_point(ma.vapor_pressure(temp_c, rh))
    assert ours == pytest.approx(psychrolib.GetTDewPointFromRelHum(temp_c, rh), abs=0.1)


@published(
    "moist air",
    "dew point of real humid air",
    "CoolProp, HAPropsSI",
    "ASHRAE RP-1485",
    "0.1 K",
    How.PACKAGE,
)
@pytest.mark.parametrize("temp_c", [5.0, 20.0, 35.0, 50.0])
@pytest.mark.parametrize("rh", [0.2, 0.5, 1.0])
def test_dew_point_against_coolprop(temp_c: float, rh: float) -> None:
    """Reference library, real gas humid air (RP-1485)."""
    reference = HAPropsSI("D", "T", temp_c + 273.15, "R", rh, "P", 101325.0) - 273.15
    assert ma.dew_point(ma.vapor_pressure(temp_c, rh)) == pytest.approx(reference, abs=0.1)


@published(
    "moist air",
    "humidity ratio",
    "psychrolib, GetHumRatioFromVapPres",
    "same equation, independent code",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize("vapor_pa", [50.0, 800.0, 2000.0, 7000.0])
@pytest.mark.parametrize("total_pa", [80000.0, 101325.0])
def test_humidity_ratio_against_psychrolib(vapor_pa: float, total_pa: float) -> None:
    """Same equation, independent code; reference library."""
    reference = psychrolib.GetHumRatioFromVapPres(vapor_pa, total_pa)
    assert ma.humidity_ratio(vapor_pa, total_pa) == pytest.approx(reference, rel=1e-9)


def at_20c(key: str, fluid: str) -> float:
    return float(PropsSI(key, "T", 293.15, "P", 101325, fluid))


# quantity, our constant, CoolProp value at 20 °C and one atmosphere, tolerance
CONSTANTS = [
    ("water density", c.WATER_DENSITY_20C, at_20c("D", "Water"), 1e-4),
    ("water viscosity", c.WATER_VISCOSITY_20C, at_20c("V", "Water"), 1e-3),
    ("surface tension", c.WATER_SURFACE_TENSION_20C, PropsSI("I", "T", 293.15, "Q", 0, "Water"), 2e-3),
    ("air density", c.AIR_DENSITY_20C, at_20c("D", "Air"), 1e-3),
    ("air viscosity", c.AIR_VISCOSITY_20C, at_20c("V", "Air"), 2e-3),
]


@published(
    "moist air",
    "density, viscosity, surface tension of water and air at 20 °C",
    "CoolProp, PropsSI",
    "IAPWS and reference equation of air",
    "1e-4 to 2e-3",
    How.PACKAGE,
)
@pytest.mark.parametrize(("name", "ours", "reference", "rel"), CONSTANTS)
def test_constants_against_coolprop(name: str, ours: float, reference: float, rel: float) -> None:
    assert ours == pytest.approx(reference, rel=rel), name


@published(
    "moist air",
    "gas and gravity constants",
    "scipy.constants",
    "CODATA",
    "1e-9",
    How.PACKAGE,
)
def test_constants_against_codata_in_scipy() -> None:
    """CODATA as shipped in scipy; reference library."""
    from scipy import constants as codata

    assert pytest.approx(codata.R, rel=1e-12) == c.GAS_CONSTANT
    assert codata.g == c.GRAVITY
    assert codata.atm == c.STANDARD_ATMOSPHERE
