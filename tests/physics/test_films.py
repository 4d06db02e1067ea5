"""Convection and the vapor film: limits and the ways that published numbers of it go."""

from __future__ import annotations

import numpy as np
import pytest

from specgen.physics.constants import (
    GAS_CONSTANT_DRY_AIR,
    GAS_CONSTANT_VAPOR,
    SPECIFIC_HEAT_DRY_AIR,
    STEFAN_BOLTZMANN,
    ZERO_CELSIUS,
)
from specgen.physics.errors import OutOfRange
from specgen.physics.films import INDOORS, convection_outdoors, rising_air, vapor_film


def test_wind_raises_convection_on_a_straight_line() -> None:
    assert np.asarray(convection_outdoors([0.0, 1.0, 2.5])).tolist() == [4.0, 8.0, 14.0]
    assert convection_outdoors(0.0) > INDOORS
    with pytest.raises(OutOfRange, match="wind speed"):
        convection_outdoors(-1.0)


def test_vapor_film_by_density_and_gas_constant() -> None:
    """β = h/(ρ c R_v T) with ρ = P/(R_a T): the temperature falls out."""
    for temp in (-10.0, 20.0, 45.0):
        kelvin = temp + ZERO_CELSIUS
        density = 101325.0 / (GAS_CONSTANT_DRY_AIR * kelvin)
        by_hand = 18.0 / (density * SPECIFIC_HEAT_DRY_AIR * GAS_CONSTANT_VAPOR * kelvin)
        assert vapor_film(18.0) == pytest.approx(by_hand, rel=1e-4)


def test_thin_air_carries_more() -> None:
    assert vapor_film(18.0, 8e4) == pytest.approx(float(vapor_film(18.0)) * 101325.0 / 8e4, rel=1e-12)


def test_films_with_long_waves_are_the_surface_resistances_of_the_standard() -> None:
    """ISO 6946: Rse 0.04 m²·K/W at 4 m/s and 10 °C, Rsi 0.13 at a wall of 20 °C, emittance 0.9 (numbers from memory)."""
    outdoors = float(convection_outdoors(4.0)) + 0.9 * 4.0 * STEFAN_BOLTZMANN * (10.0 + ZERO_CELSIUS) ** 3
    indoors = INDOORS + 0.9 * 4.0 * STEFAN_BOLTZMANN * (20.0 + ZERO_CELSIUS) ** 3
    assert round(1.0 / outdoors, 2) == 0.04
    assert round(1.0 / indoors, 2) == 0.13


def test_air_rises_off_a_warm_face_alone() -> None:
    found = np.asarray(rising_air([-20.0, 0.0, 1.0, 8.0, 64.0]))
    assert found == pytest.approx([0.0, 0.0, 1.52, 3.04, 6.08])
