"""Driving rain on a wall and rain on a coping.

Two forms: the driving-rain indices of ISO 15927-3 from hourly wind and rain, and the exposure-deposition form
of ASHRAE Standard 160. Rain in mm per hour equals kg per m² and hour.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from specgen.arrays import ArrayLike, np
from specgen.physics.errors import Floats, check_range, plain

INDEX_FACTOR: Final = 2.0 / 9.0
INDEX_EXPONENT: Final = 8.0 / 9.0
"""Factor and exponent of the driving-rain index. ISO 15927-3:2009, clause 3 (M; the formula was also read in
public code that cites the standard)."""

RAIN_COEFFICIENT: Final = 0.2
"""Empirical constant F_L [kg·s/(m³·mm)]. ASHRAE Standard 160 (M; read in secondary sources as 0.2 s/m)."""

_RAIN: Final = (0.0, 500.0, "rain of one hour")
_WIND: Final = (0.0, 100.0, "hourly mean wind speed")
_ANGLE: Final = (-360.0, 720.0, "degrees clockwise from north")
_FACTOR: Final = (0.0, 5.0, "reduction and exposure factors")


@dataclass(frozen=True)
class CopingRunoff:
    """Water from a coping per metre of length: caught by it and running over one drip [kg/(h·m)]."""

    caught: Floats
    over_drip: Floats


def hourly_index(
    wind_m_s: ArrayLike, direction_deg: ArrayLike, rain_mm_h: ArrayLike, wall_deg: ArrayLike
) -> Floats:
    """Driving rain of each hour through a vertical plane in open country, signed.

    I = (2/9) v r^(8/9) cos(D − θ)  (ISO 15927-3, clause 3). Negative where the wind blows off the wall.

    Args:
        wind_m_s: hourly mean wind speed at 10 m in open country v [m/s].
        direction_deg: direction the wind comes from D [° from north].
        rain_mm_h: rain of the hour r [mm].
        wall_deg: direction the wall faces θ [° from north].

    Returns:
        Driving rain [kg/m²] in the hour.

    >>> round(hourly_index(5.0, 270.0, 1.0, 270.0), 3)
    1.111
    """
    v = check_range("wind speed [m/s]", wind_m_s, *_WIND)
    d = check_range("wind direction [°]", direction_deg, *_ANGLE)
    r = check_range("rain [mm/h]", rain_mm_h, *_RAIN)
    wall = check_range("direction the wall faces [°]", wall_deg, *_ANGLE)
    return plain(INDEX_FACTOR * v * r**INDEX_EXPONENT * np.cos(np.radians(d - wall)))


def airfield_annual_index(hourly: ArrayLike, years: float) -> Floats:
    """Mean driving rain of a year, I_A = Σ I/N over the hours in which it blows onto the wall (ISO 15927-3).

    Args:
        hourly: signed index of each hour, as `hourly_index` gives it [kg/m²], shape (hours, ...).
        years: years N that the hours cover [-].

    Returns:
        Annual index [kg/m² per year].

    >>> airfield_annual_index([1.5, -2.0, 0.5], 1.0)
    2.0
    """
    values = check_range("hourly index [kg/m²]", hourly, -math.inf, math.inf, "definition")
    n = check_range("years of record [-]", years, 1e-3, 200.0, "a weather record")
    return plain(np.sum(np.maximum(values, 0.0), axis=0) / n)


def roughness_coefficient(
    height_m: ArrayLike, terrain_factor: ArrayLike, roughness_m: ArrayLike, least_height_m: ArrayLike
) -> Floats:
    """Terrain roughness coefficient C_R = K_R ln(z/z₀), with z not below z_min (ISO 15927-3, clause 5, M).

    Args:
        height_m: height above ground z [m].
        terrain_factor, roughness_m, least_height_m: K_R [-], z₀ [m] and z_min [m] of the terrain category.

    >>> round(roughness_coefficient(10.0, 0.19, 0.05, 4.0), 3)
    1.007
    """
    z = check_range("height above ground [m]", height_m, 0.0, 500.0, "a building")
    factor = check_range("terrain factor [-]", terrain_factor, 0.01, 1.0, "ISO 15927-3 terrain categories")
    rough = check_range("roughness length [m]", roughness_m, 1e-4, 5.0, "ISO 15927-3 terrain categories")
    least = check_range("least height [m]", least_height_m, 0.1, 50.0, "ISO 15927-3 terrain categories")
    return plain(factor * np.log(np.maximum(z, least) / rough))


def wall_index(
    airfield_index: ArrayLike,
    roughness: ArrayLike,
    topography: ArrayLike,
    obstruction: ArrayLike,
    wall_factor: ArrayLike,
) -> Floats:
    """Driving rain on a wall, I_W = I · C_R · C_T · O · W (ISO 15927-3, clause 5).

    Args:
        airfield_index: annual, spell or hourly index in open country [kg/m²].
        roughness, topography, obstruction, wall_factor: C_R, C_T, O and W [-].

    >>> round(wall_index(400.0, 0.8, 1.0, 0.7, 0.5), 6)
    112.0
    """
    product = check_range("airfield index [kg/m²]", airfield_index, 0.0, math.inf, "definition")
    for name, value in (
        ("roughness coefficient [-]", roughness),
        ("topography coefficient [-]", topography),
        ("obstruction factor [-]", obstruction),
        ("wall factor [-]", wall_factor),
    ):
        product = product * check_range(name, value, *_FACTOR)
    return plain(product)


def rain_deposition(
    wind_m_s: ArrayLike,
    incidence_deg: ArrayLike,
    rain_mm_h: ArrayLike,
    exposure: ArrayLike,
    deposition: ArrayLike,
) -> Floats:
    """Rain deposited on a vertical wall, r = F_E F_D F_L U cosθ R_h (ASHRAE Standard 160).

    Args:
        wind_m_s: hourly mean wind speed at 10 m U [m/s].
        incidence_deg: angle between the wind and the normal of the wall θ [°]; beyond 90° the wall stays dry.
        rain_mm_h: rain on a horizontal surface R_h [mm/h].
        exposure, deposition: F_E and F_D [-].

    Returns:
        Rain deposited [kg/(m²·h)].

    >>> round(rain_deposition(5.0, 0.0, 2.0, 1.0, 0.5), 6)
    1.0
    """
    u = check_range("wind speed [m/s]", wind_m_s, *_WIND)
    angle = check_range("angle of incidence [°]", incidence_deg, -_ANGLE[1], _ANGLE[1], _ANGLE[2])
    r = check_range("rain [mm/h]", rain_mm_h, *_RAIN)
    fe = check_range("exposure factor [-]", exposure, *_FACTOR)
    fd = check_range("deposition factor [-]", deposition, *_FACTOR)
    facing = np.maximum(np.cos(np.radians(angle)), 0.0)
    return plain(fe * fd * RAIN_COEFFICIENT * u * facing * r)


def coping_runoff(
    width_m: ArrayLike,
    rain_mm_h: ArrayLike,
    share_over_drip: ArrayLike,
    rise_m: ArrayLike = 0.0,
    driving_mm_h: ArrayLike = 0.0,
) -> CopingRunoff:
    """Water caught by a coping top and running over one of its drips, per metre of length.

    q = r w + r_d s, in kg/(h·m): rain on the plan width, and driving rain on the rise of a top that faces it.

    Args:
        width_m: plan width of the top w [m].
        rain_mm_h: rain on a horizontal surface r [mm/h].
        share_over_drip: share of the water that runs to the drip in question [-], 0 to 1: 1 where the top
            falls all to it.
        rise_m: rise of the sloped top between its edges s [m].
        driving_mm_h: rain deposited on a vertical face r_d [kg/(m²·h)].

    >>> coping_runoff(0.4, 50.0, 1.0).over_drip
    20.0
    """
    w = check_range("width of the coping [m]", width_m, 0.0, 5.0, "a coping")
    r = check_range("rain [mm/h]", rain_mm_h, *_RAIN)
    share = check_range("share over the drip [-]", share_over_drip, 0.0, 1.0, "definition")
    rise = check_range("rise of the coping [m]", rise_m, 0.0, 1.0, "a coping")
    driving = check_range("driving rain [kg/(m²·h)]", driving_mm_h, *_RAIN)
    caught = r * w + driving * rise
    return CopingRunoff(plain(caught), plain(caught * share))
