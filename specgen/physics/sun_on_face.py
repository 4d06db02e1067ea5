"""What the sun sends to a face of any tilt and direction: beam, sky, and light from the ground.

Angles are degrees. Azimuth runs clockwise from north. Tilt is measured from horizontal facing up: a roof 0, a
wall 90. Sky diffuse light comes evenly from the whole sky, or in part from around the sun and from the horizon as
skies of the same clearness and brightness were measured (Perez); light from the ground is diffuse.
"""

from __future__ import annotations

from typing import Any, Final

from specgen.arrays import ArrayLike, np
from specgen.physics.errors import Floats, check_range, plain
from specgen.physics.sun import SUNLIGHT, SunPosition, air_mass

LOWEST: Final = 0.08715574274765817
"""Least sine of the sun's elevation by which its light around it is divided: that of 5°."""

CLEARNESS: Final = (1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2)
"""Upper ends of the classes of clearness ε of a sky, from overcast to clear; the last has none."""

PEREZ: Final = (
    (-0.008, 0.588, -0.062, -0.060, 0.072, -0.022),
    (0.130, 0.683, -0.151, -0.019, 0.066, -0.029),
    (0.330, 0.487, -0.221, 0.055, -0.064, -0.026),
    (0.568, 0.187, -0.295, 0.109, -0.152, -0.014),
    (0.873, -0.392, -0.362, 0.226, -0.462, 0.001),
    (1.132, -1.237, -0.412, 0.288, -0.823, 0.056),
    (1.060, -1.600, -0.359, 0.264, -1.127, 0.131),
    (0.678, -0.327, -0.250, 0.156, -1.377, 0.251),
)
"""By class of clearness: f11, f12, f13 of the light around the sun, f21, f22, f23 of the horizon's (all sites, 1990)."""


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
    S = (1 - F1) (1 + cos Σ) / 2 + F1 max(cos θ, 0) / max(sin β, sin 5°) + F2 sin Σ, not below zero, with
    F1 = max(f11 + f12 Δ + f13 z, 0) around the sun and F2 = f21 + f22 Δ + f23 z at the horizon by class of clearness
    ε = ((Ed + Eb) / Ed + 1.041 z³) / (1 + 1.041 z³), brightness Δ = Ed m / E0, z the sun's distance from the zenith in
    radians and m the air mass.

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
    872.1

    Reference: Liu and Jordan (1963), isotropic sky; Perez, Ineichen, Seals, Michalsky and Stewart (1990), with the
        coefficients of all sites (as the package `pvlib` holds and computes them).
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
        sky = _perez(sun, beam, diffuse, top, up, facing)
    return plain(beam * facing + diffuse * sky + level * rho * (1.0 - up) / 2.0)


def _perez(sun: SunPosition, beam: Any, diffuse: Any, top: Any, up: Any, facing: Any) -> Any:
    """The share of the diffuse light of the level that the sky sends to a face."""
    elevation = np.maximum(np.asarray(sun.elevation, dtype=np.float64), 0.0)
    zenith = np.radians(90.0 - elevation)
    bent = 1.041 * zenith**3
    some = np.where(diffuse > 0.0, diffuse, 1.0)
    clearness = np.where(diffuse > 0.0, ((some + beam) / some + bent) / (1.0 + bent), 1.0)
    f = np.asarray(PEREZ)[np.digitize(clearness, CLEARNESS)]
    bright = diffuse * np.asarray(air_mass(elevation)) / top
    around = np.maximum(f[..., 0] + f[..., 1] * bright + f[..., 2] * zenith, 0.0)
    horizon = f[..., 3] + f[..., 4] * bright + f[..., 5] * zenith
    height = np.maximum(np.sin(np.radians(elevation)), LOWEST)
    tilted = np.sqrt(np.maximum(1.0 - up**2, 0.0))
    return np.maximum((1.0 - around) * (1.0 + up) / 2.0 + around * facing / height + horizon * tilted, 0.0)
