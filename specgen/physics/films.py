"""What still and moving air carries off a face: heat by convection, and vapor in proportion."""

from __future__ import annotations

from typing import Final

from specgen.arrays import ArrayLike, np
from specgen.physics.constants import MOLAR_MASS_RATIO, SPECIFIC_HEAT_DRY_AIR, STANDARD_ATMOSPHERE
from specgen.physics.errors import Floats, check_range, plain

INDOORS: Final = 2.5
"""Convection at a wall in a room, or in air that stands still [W/(m²·K)]. ISO 6946, annex on surface resistances (M)."""
AT_CALM: Final = 4.0
BY_WIND: Final = 4.0
"""Convection outdoors at calm [W/(m²·K)] and its rise with the wind [J/(m³·K)]. ISO 6946, surface resistances (M)."""

UPWARD: Final = 1.52
"""Air that rises from a warm level face: factor of the cube root of its excess [W/(m²·K^(4/3))]. ASHRAE Handbook of
Fundamentals, free convection in air, turbulent (M)."""


def convection_outdoors(wind_m_s: ArrayLike) -> Floats:
    """Convection at a face outdoors, h_c = 4 + 4 v.

    Args:
        wind_m_s: wind speed near the face v [m/s], 0 to 100.

    Returns:
        Coefficient without long waves [W/(m²·K)].

    >>> convection_outdoors(4.0)
    20.0

    Reference: ISO 6946, annex on surface resistances (from memory, and alike in public code for buildings).
    """
    wind = check_range("wind speed [m/s]", wind_m_s, 0.0, 100.0, "hourly mean wind speed")
    return plain(AT_CALM + BY_WIND * wind)


def rising_air(excess_k: ArrayLike) -> Floats:
    """Convection at a level face that is warmer than calm air, h_c = 1.52 ΔT^(1/3); none where it is colder.

    Args:
        excess_k: temperature of the face less that of the air ΔT [K].

    Returns:
        Coefficient without long waves [W/(m²·K)].

    >>> round(rising_air(64.0), 9)
    6.08

    Reference: as `UPWARD`.
    """
    excess = check_range("excess of the face [K]", excess_k, -200.0, 200.0, "faces in the sun")
    return plain(UPWARD * np.maximum(excess, 0.0) ** (1.0 / 3.0))


def vapor_film(convection: ArrayLike, total_pa: ArrayLike = STANDARD_ATMOSPHERE) -> Floats:
    """Vapor that the air carries off a face for each pascal, β = 0.622 h_c/(c P).

    By the analogy of heat and vapor with a Lewis factor of 1, at which a shaded wet face that exchanges no long waves
    comes to the thermodynamic wet bulb. At one atmosphere β = 6.1e-9 h_c; EN 15026 has 7e-9 h_c (M), 15 % more.

    Args:
        convection: convective coefficient h_c [W/(m²·K)], 0 to 1000.
        total_pa: pressure of the air P [Pa]. The two broadcast.

    Returns:
        Vapor film β [kg/(m²·s·Pa)].

    >>> round(vapor_film(20.0) * 1e9, 1)
    122.0

    Reference: Lewis relation, ASHRAE Handbook of Fundamentals, mass transfer.
    """
    h = check_range("convective coefficient [W/(m²·K)]", convection, 0.0, 1000.0, "still air to storm")
    total = check_range("total pressure [Pa]", total_pa, 3e4, 1.1e5, "barometric pressure on land")
    return plain(MOLAR_MASS_RATIO * h / (SPECIFIC_HEAT_DRY_AIR * total))
