"""Convection and the vapor film: limits and the ways that published numbers of it go."""

from __future__ import annotations

import numpy as np
import pytest

from specgen.physics.constants import (
    GAS_CONSTANT_DRY_AIR,
    GAS_CONSTANT_VAPOR,
    SPECIFIC_HEAT_DRY_AIR,
    ZERO_CELSIUS,
)
from specgen.physics.errors import OutOfRange
from specgen.physics.films import INDOORS, convection_outdoors, vapor_film


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
