"""What the sun sends to a face of any tilt and direction: beam, sky, and light from the ground.

Angles are degrees. Azimuth runs clockwise from north. Tilt is measured from horizontal facing up: a roof 0, a
wall 90. Sky diffuse light comes evenly from the whole sky, or in part from around the sun and from the horizon (Hay,
Davies and Reindl); light from the ground is diffuse.
"""

from __future__ import annotations

from typing import Final

from specgen.arrays import ArrayLike, np
from specgen.physics.errors import Floats, check_range, plain
from specgen.physics.sun import SUNLIGHT, SunPosition

LOWEST: Final = 0.01745
"""Least sine of the sun's elevation by which its light around it is divided: that of 1°."""


def cosine_of_incidence(sun: SunPosition, tilt: ArrayLike, azimuth: ArrayLike) -> Floats:
    """Cosine of the angle between the sun and the normal of a face; negative when the sun is behind it.

    cos θ = sin β cos Σ + cos β sin Σ cos(azimuth of sun - azimuth of face)

    Args:
        sun: where the sun stands.
        tilt: tilt of the face from horizontal [°], 0 to 180.
        azimuth: direction the face looks to [°], clockwise from north, 0 to 360. All broadcast.

    Returns:
        Cosine [-].

    >>> round(cosine_of_incidence(SunPosition(30.0, 180.0), 90.0, 180.0), 4)
    0.866

    Reference: ASHRAE Handbook of Fundamentals, climatic design information, angle of incidence.
    """
    slope = np.radians(check_range("tilt [°]", tilt, 0.0, 180.0, "0 up, 90 wall, 180 down"))
    facing = check_range("azimuth of the face [°]", azimuth, 0.0, 360.0, "clockwise from north")
    beta = np.radians(sun.elevation)
    turn = np.radians(sun.azimuth - facing)
    return plain(np.sin(beta) * np.cos(slope) + np.cos(beta) * np.sin(slope) * np.cos(turn))


def irradiance_on_face(
    sun: SunPosition,
    beam_normal: ArrayLike,
    diffuse_horizontal: ArrayLike,
    tilt: ArrayLike,
    azimuth: ArrayLike,
    ground_reflectance: ArrayLike,
    outside: ArrayLike | None = None,
) -> Floats:
    """Total irradiance on a face: beam, sky, and ground or roof reflecting diffusely.

    E = Eb max(cos θ, 0) + Ed S + (Eb sin β + Ed) ρ (1 - cos Σ) / 2. An isotropic sky has S = (1 + cos Σ) / 2; else
    S = A max(cos θ, 0) / sin β + (1 - A) (1 + cos Σ) / 2 [1 + √(Eb sin β / (Eb sin β + Ed)) sin³(Σ / 2)],
    with A = Eb / E0 the part that comes from around the sun, sin β there not below that of 1°, and the bracket for a
    bright horizon.

    Args:
        sun: where the sun stands.
        beam_normal, diffuse_horizontal: irradiance [W/m²], as `clear_sky` gives it, or measured.
        tilt, azimuth: tilt from horizontal and direction of the face [°].
        ground_reflectance: reflectance of what the face looks down on [-], 0 to 1. All broadcast.
        outside: irradiance outside the atmosphere, square to the sun, E0 [W/m²] (`sun.extraterrestrial`);
            without it the sky is isotropic.

    Returns:
        Irradiance [W/m²].

    >>> round(irradiance_on_face(SunPosition(30.0, 180.0), 800.0, 100.0, 90.0, 180.0, 0.2), 1)
    792.8
    >>> round(irradiance_on_face(SunPosition(30.0, 180.0), 800.0, 100.0, 90.0, 180.0, 0.2, 1370.0), 1)
    871.3

    Reference: Liu and Jordan (1963), isotropic sky; Hay and Davies (1980), light around the sun, and Reindl,
        Beckman and Duffie (1990), bright horizon (both as the package `pvlib` names and computes them).
    """
    beam = check_range("beam irradiance [W/m²]", beam_normal, 0.0, 1500.0, SUNLIGHT)
    diffuse = check_range("diffuse irradiance [W/m²]", diffuse_horizontal, 0.0, 1500.0, SUNLIGHT)
    rho = check_range("ground reflectance [-]", ground_reflectance, 0.0, 1.0, "a fraction")
    up = np.cos(np.radians(np.asarray(tilt, dtype=np.float64)))
    facing = np.maximum(cosine_of_incidence(sun, tilt, azimuth), 0.0)
    height = np.maximum(np.sin(np.radians(sun.elevation)), 0.0)
    level = beam * height + diffuse
    sky = (1.0 + up) / 2.0
    if outside is not None:
        top = check_range("irradiance outside the atmosphere [W/m²]", outside, 1300.0, 1450.0, SUNLIGHT)
        around = np.minimum(beam / top, 1.0)
        share = beam * height / np.where(level > 0.0, level, 1.0)
        horizon = 1.0 + np.sqrt(share) * ((1.0 - up) / 2.0) ** 1.5
        sky = around * facing / np.maximum(height, LOWEST) + (1.0 - around) * sky * horizon
    return plain(beam * facing + diffuse * sky + level * rho * (1.0 - up) / 2.0)
