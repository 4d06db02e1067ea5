"""Moist air: saturation, dew point and the measures of humidity.

Saturation pressure follows the two expressions of ISO 13788, Annex E: over water from 0 °C up and over ice
below. Range of every function here: -40 °C to 100 °C. Against the reference equations of state the
expressions stay within 0.6 % from -20 °C to 60 °C and within 0.8 % to 100 °C. Below -20 °C they read low:
1.0 % at -30 °C, 1.9 % (0.24 Pa) at -40 °C (tests/published).
"""

from __future__ import annotations

import math
from typing import Final

from specgen.arrays import ArrayLike, np
from specgen.physics.constants import (
    MOLAR_MASS_RATIO,
    STANDARD_ATMOSPHERE,
)
from specgen.physics.elementwise import choose, exp
from specgen.physics.errors import Floats, check_range, plain

LOWEST_C: Final = -40.0
HIGHEST_C: Final = 100.0
_SOURCE: Final = "range stated for the ISO 13788 expressions here"

PRESSURE_AT_ZERO: Final = 610.5
"""Saturation pressure at 0 °C in both expressions [Pa]. ISO 13788, eq. E.7 and E.8 (number from memory)."""
OVER_WATER: Final = (17.269, 237.3)
OVER_ICE: Final = (21.875, 265.5)
"""Factor and offset [K] of the exponent over water and over ice. ISO 13788, eq. E.7 and E.8."""
_SUPERCOOLED: Final = (17.62, 243.12)


def saturation_pressure(temp_c: ArrayLike) -> Floats:
    """Saturation pressure of water vapor.

    p = 610.5 exp(17.269 t / (237.3 + t)) for t >= 0, and p = 610.5 exp(21.875 t / (265.5 + t)) below.

    Args:
        temp_c: temperature [°C], -40 to 100.

    Returns:
        Pressure [Pa]: over water from 0 °C up, over ice below, same shape.

    >>> round(saturation_pressure(20.0), 1)
    2337.0
    >>> round(saturation_pressure(-10.0), 1)
    259.3

    Reference: ISO 13788:2012, Annex E.
    """
    t = check_range("temperature [°C]", temp_c, LOWEST_C, HIGHEST_C, _SOURCE)
    factor = choose(t >= 0.0, OVER_WATER[0], OVER_ICE[0])
    offset = choose(t >= 0.0, OVER_WATER[1], OVER_ICE[1])
    return plain(PRESSURE_AT_ZERO * exp(factor * t / (offset + t)))


def saturation_over_water(temp_c: ArrayLike) -> Floats:
    """Saturation pressure over water, also over supercooled water below 0 °C.

    p = 610.5 exp(17.269 t / (237.3 + t)) for t >= 0, and p = 610.5 exp(17.62 t / (243.12 + t)) below.

    Args:
        temp_c: temperature [°C], -40 to 100.

    Returns:
        Pressure [Pa], same shape.

    >>> round(saturation_over_water(-20.0), 1)
    125.8

    Reference: ISO 13788:2012, Annex E; below 0 °C the exponent over water of WMO-No. 8, Annex 4.B (from memory).
    """
    t = check_range("temperature [°C]", temp_c, LOWEST_C, HIGHEST_C, _SOURCE)
    factor = choose(t >= 0.0, OVER_WATER[0], _SUPERCOOLED[0])
    offset = choose(t >= 0.0, OVER_WATER[1], _SUPERCOOLED[1])
    return plain(PRESSURE_AT_ZERO * exp(factor * t / (offset + t)))


def frost_points(temp_c: ArrayLike, dew_point_c: ArrayLike, relative_humidity: ArrayLike) -> bool:
    """Whether the dew points below 0 °C of a record are over ice, as its own relative humidity tells.

    Each hour with a dew point below -1 °C is tried three ways: dew point and humidity over water, both over ice, and a
    dew point over ice with humidity over water. The way with the least median difference holds; with fewer than 24 such
    hours a dew point is over water, as weather services report it.

    Args:
        temp_c: air temperature [°C], (hours,).
        dew_point_c: dew point [°C], (hours,).
        relative_humidity: of the record, as a fraction [-], (hours,).

    >>> import numpy as np
    >>> t, td = np.full(48, 5.0), np.linspace(-15.0, -2.0, 48)
    >>> frost_points(t, td, saturation_over_water(td) / saturation_over_water(t))
    False
    >>> frost_points(t, td, saturation_pressure(td) / saturation_over_water(t))
    True
    """
    t, dew, rh = (np.asarray(one, dtype=np.float64) for one in (temp_c, dew_point_c, relative_humidity))
    cold = (dew < -1.0) & (dew >= LOWEST_C) & (t >= LOWEST_C) & (rh < 0.995)
    if int(cold.sum()) < 24:
        return False
    t, dew, rh = t[cold], dew[cold], rh[cold]
    water, ice = np.asarray(saturation_over_water(dew)), np.asarray(saturation_pressure(dew))
    over_water, mixed, over_ice = (
        float(np.median(np.abs(found - rh)))
        for found in (
            water / saturation_over_water(t), ice / saturation_over_water(t), ice / saturation_pressure(t)
        )
    )  # fmt: skip
    return min(mixed, over_ice) < over_water


def dew_point(vapor_pa: ArrayLike) -> Floats:
    """Temperature at which a vapor pressure saturates: the inverse of `saturation_pressure`.

    t = 237.3 ln(p/610.5) / (17.269 - ln(p/610.5)) for p >= 610.5 Pa, else with 265.5 and 21.875
    (then it is a frost point).

    Args:
        vapor_pa: vapor pressure [Pa], from saturation at -40 °C to saturation at 100 °C.

    Returns:
        Dew point or frost point [°C], same shape.

    >>> round(dew_point(saturation_pressure(12.5)), 9)
    12.5

    Reference: ISO 13788:2012, Annex E.
    """
    low, high = np.asarray(saturation_pressure([LOWEST_C, HIGHEST_C]))
    slack = 1e-12
    p = check_range("vapor pressure [Pa]", vapor_pa, low * (1 - slack), high * (1 + slack), _SOURCE)
    log = np.log(p / PRESSURE_AT_ZERO)
    factor = np.where(p >= PRESSURE_AT_ZERO, OVER_WATER[0], OVER_ICE[0])
    offset = np.where(p >= PRESSURE_AT_ZERO, OVER_WATER[1], OVER_ICE[1])
    return plain(offset * log / (factor - log))


def vapor_pressure(temp_c: ArrayLike, relative_humidity: ArrayLike) -> Floats:
    """Vapor pressure of air of a relative humidity: p = φ p_sat(t).

    Args:
        temp_c: temperature [°C], -40 to 100.
        relative_humidity: relative humidity as a fraction [-], 0 to 1, over ice below 0 °C. The two
            broadcast.

    Returns:
        Vapor pressure [Pa].

    >>> round(vapor_pressure(20.0, 0.5), 1)
    1168.5

    Reference: ISO 13788:2012, definition of relative humidity.
    """
    rh = check_range("relative humidity [-]", relative_humidity, 0.0, 1.0, "definition, as a fraction")
    return plain(rh * saturation_pressure(temp_c))


def relative_humidity(temp_c: ArrayLike, vapor_pa: ArrayLike) -> Floats:
    """Relative humidity φ = p / p_sat(t) [-]; above 1 means the air at that place would condense.

    Args:
        temp_c: temperature [°C], -40 to 100.
        vapor_pa: vapor pressure [Pa], 0 or more. The two broadcast.

    Returns:
        Relative humidity as a fraction [-].

    >>> round(relative_humidity(20.0, 1168.5), 3)
    0.5

    Reference: ISO 13788:2012, definition of relative humidity.
    """
    p = check_range("vapor pressure [Pa]", vapor_pa, 0.0, math.inf, "a pressure is not negative")
    return plain(p / saturation_pressure(temp_c))


def humidity_ratio(vapor_pa: ArrayLike, total_pa: ArrayLike = STANDARD_ATMOSPHERE) -> Floats:
    """Mass of vapor over mass of dry air: W = 0.621945 p / (P - p).

    Args:
        vapor_pa: vapor pressure [Pa], 0 or more and below the total pressure.
        total_pa: total pressure [Pa], 50 000 to 110 000.

    Returns:
        Humidity ratio [kg/kg].

    >>> round(humidity_ratio(1168.5), 5)
    0.00726

    Reference: ASHRAE Handbook of Fundamentals, psychrometrics, eq. 20.
    """
    total = check_range("total pressure [Pa]", total_pa, 5e4, 1.1e5, "barometric pressure on land")
    highest = float(np.min(total)) * 0.999
    p = check_range("vapor pressure [Pa]", vapor_pa, 0.0, highest, "part of the total pressure")
    return plain(MOLAR_MASS_RATIO * p / (total - p))
