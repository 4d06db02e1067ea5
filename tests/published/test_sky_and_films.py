"""Long waves of the sky and the films of a face, against another published formula and a reference library."""

from __future__ import annotations

import numpy as np
import psychrolib
import pytest

from specgen.physics.constants import LATENT_HEAT_VAPORISATION_0C
from specgen.physics.films import convection_outdoors, vapor_film
from specgen.physics.moist_air import saturation_over_water, saturation_pressure, vapor_pressure
from specgen.physics.sky import black_body, clear_sky_emissivity, sky_emissivity
from tests.published.register import How, published

CLOUDS = (0.0224, -0.0035, 0.00028)  # of tenths, their squares and their cubes


@published(
    "sun and sky",
    "long waves of a clear sky",
    "Brunt's formula, fitted anew by Li, Jiang and Coimbra",
    "0.618 + 0.056 √p, p in hPa, read in a public proposal and in several public programs",
    "1.5 %",
    How.READ,
    "2017",
)
@pytest.mark.parametrize("dew", [-20.0, -10.0, 0.0, 5.0, 10.0, 15.0, 20.0, 25.0])
def test_clear_sky_against_another_formula_of_the_same_measurements(dew: float) -> None:
    brunt = 0.618 + 0.056 * float(saturation_over_water(dew) / 100.0) ** 0.5
    assert clear_sky_emissivity(dew) == pytest.approx(brunt, rel=0.015)


def clark_allen(dew_point_c: float, tenths: float) -> float:
    """ε = (0.787 + 0.764 ln(Td/273)) (1 + 0.0224 n − 0.0035 n² + 0.00028 n³)."""
    clear = 0.787 + 0.764 * np.log((dew_point_c + 273.15) / 273.0)
    return float(clear * (1.0 + sum(c * tenths ** (power + 1) for power, c in enumerate(CLOUDS))))


@published(
    "sun and sky",
    "long waves of a clear and a covered sky",
    "Clark and Allen (1978), with the clouds of Walton (1983)",
    "formula and 341.2 W/m² at 20 °C, dew point 10 °C, clear; read in several public programs",
    "11 % of the whole",
    How.READ,
    "1978",
)
@pytest.mark.parametrize("tenths", [0.0, 2.0, 5.0, 8.0, 10.0])
def test_sky_against_a_third_formula(tenths: float) -> None:
    """Skies of weather files without measured infrared radiation are made by this one; overcast ones are colder there."""
    assert clark_allen(10.0, 0.0) * float(black_body(20.0)) == pytest.approx(341.2, abs=0.1)
    for dew in (-10.0, 0.0, 10.0, 20.0):
        found = float(sky_emissivity(clear_sky_emissivity(dew), tenths / 10.0))
        assert found == pytest.approx(clark_allen(dew, tenths), rel=0.11), dew


def wet_face(air_c: float, rh: float, wind: float, total_pa: float) -> float:
    """Temperature at which a shaded wet face without long waves loses by evaporation what the air brings."""
    h = float(convection_outdoors(wind))
    beta = float(vapor_film(h, total_pa))
    outdoors = float(vapor_pressure(air_c, rh))
    low, high = -5.0, air_c
    for _ in range(60):
        at = (low + high) / 2.0
        latent = LATENT_HEAT_VAPORISATION_0C - 2360.0 * at
        gain = h * (air_c - at) - latent * beta * (float(saturation_pressure(at)) - outdoors)
        low, high = (at, high) if gain > 0.0 else (low, at)
    return (low + high) / 2.0


@published(
    "inward drive",
    "temperature of a shaded wet face",
    "psychrolib, GetTWetBulbFromRelHum",
    "thermodynamic wet bulb",
    "0.3 K",
    How.PACKAGE,
)
@pytest.mark.parametrize("air_c", [10.0, 20.0, 30.0, 38.0])
@pytest.mark.parametrize("rh", [0.2, 0.5, 0.8, 1.0])
def test_shaded_wet_face_comes_to_the_wet_bulb(air_c: float, rh: float) -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)
    theirs = psychrolib.GetTWetBulbFromRelHum(air_c, rh, 101325.0)
    found = [wet_face(air_c, rh, wind, 101325.0) for wind in (0.5, 8.0)]
    assert found[0] == pytest.approx(found[1], abs=1e-6)  # wind dries faster, not colder
    if theirs > 0.0:
        assert found[0] == pytest.approx(theirs, abs=0.3)
