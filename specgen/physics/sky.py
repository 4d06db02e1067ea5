"""Long waves: what the sky, the ground and a room send onto a face.

Where a record has no infrared radiation, the sky's is estimated: emissivity of the clear sky from the dew point,
raised by clouds that radiate nearly as the air does.
"""

from __future__ import annotations

from typing import Final

from specgen.arrays import ArrayLike, np
from specgen.physics.constants import STEFAN_BOLTZMANN, ZERO_CELSIUS
from specgen.physics.errors import Floats, check_range, plain

CLOUD_EMISSIVITY: Final = 0.9
"""Emissivity by which a sky overcast with opaque clouds closes the window of the clear one [-] (P: in public code that
names Eicker and Dalibard, 2011)."""
HELD_C: Final = (-40.0, 30.0)
"""Dew points beyond which the clear sky is held [°C]: near the lower the parabola turns, near the upper its fit ends."""
CLEAR: Final = (0.758, 0.521, 0.625)
"""Emissivity of the clear sky at a dew point of 0 °C, its rise with the dew point over 100 °C and with the square [-]."""
OFF_BY: Final = 14.0
"""How far the long waves of a clear sky by `CLEAR` are off measurements [W/m²] (P: the same text, "around 14 W/m²")."""
_AIR: Final = (-120.0, 150.0, "air, ground and roofs outdoors")
_ROUNDS: Final = 30
_NEAR: Final = 1e-9  # K


def clear_sky_emissivity(dew_point_c: ArrayLike) -> Floats:
    """Emissivity of a sky without clouds, ε0 = 0.758 + 0.521 t + 0.625 t², t the dew point over 100 °C.

    Args:
        dew_point_c: dew point near the ground [°C], -90 to 50; held below -40 and above 30 °C.

    Returns:
        Emissivity [-].

    >>> round(clear_sky_emissivity(10.0), 4)
    0.8164

    Reference: form of Martin and Berdahl, Solar Energy 33 (1984) 321-336, fitted anew by Li, Jiang and Coimbra, Solar
        Energy 144 (2017) 40-48, to more than 30,000 measurements at seven stations, from which it departs by 13 W/m²
        (root mean square; 22 W/m² before). P: numbers and departure as a public proposal quotes them.
    """
    dew = check_range("dew point [°C]", dew_point_c, -90.0, 50.0, "air outdoors")
    t = np.clip(dew, *HELD_C) / 100.0
    level, slope, bend = CLEAR
    return plain(level + slope * t + bend * t**2)


def sky_emissivity(clear: ArrayLike, cloud: ArrayLike) -> Floats:
    """Emissivity of a sky with clouds, ε = ε0 + (1 − ε0) n εc, εc = 0.9.

    Args:
        clear: emissivity without clouds ε0 [-] (`clear_sky_emissivity`).
        cloud: share of the sky that opaque clouds cover n [-], 0 to 1. The two broadcast.

    Returns:
        Emissivity [-].

    >>> sky_emissivity(0.8, 1.0)
    0.98

    Reference: as `CLOUD_EMISSIVITY`.
    """
    bare = check_range("emissivity of the clear sky [-]", clear, 0.3, 1.0, "a fraction")
    cover = check_range("cloud cover [-]", cloud, 0.0, 1.0, "a fraction")
    return plain(bare + (1.0 - bare) * cover * CLOUD_EMISSIVITY)


def black_body(temp_c: ArrayLike) -> Floats:
    """What a black face sends in long waves, σ T⁴ [W/m²].

    >>> round(black_body(20.0), 1)
    418.8
    """
    t = check_range("temperature [°C]", temp_c, *_AIR)
    return plain(STEFAN_BOLTZMANN * (t + ZERO_CELSIUS) ** 4)


def longwave_on_face(from_sky: ArrayLike, around_c: ArrayLike, tilt: ArrayLike) -> Floats:
    """Long waves that reach a face, L = F Ls + (1 − F) σ T⁴ with F = (1 + cos Σ)/2.

    Args:
        from_sky: what the sky sends onto the level Ls [W/m²].
        around_c: temperature of ground and neighbors T, taken as black [°C].
        tilt: tilt of the face Σ from horizontal [°], 0 to 180. All broadcast.

    Returns:
        Long waves onto the face [W/m²], before its own emittance.

    >>> longwave_on_face(300.0, 20.0, 0.0)
    300.0
    """
    sky = check_range("long waves of the sky [W/m²]", from_sky, 30.0, 800.0, "skies on Earth")
    slope = np.radians(check_range("tilt [°]", tilt, 0.0, 180.0, "0 up, 90 wall, 180 down"))
    share = (1.0 + np.cos(slope)) / 2.0
    return plain(share * sky + (1.0 - share) * black_body(around_c))


def sky_temperature(from_sky: ArrayLike) -> Floats:
    """Temperature of a black sky that sends as much, (Ls/σ)^¼ [°C].

    >>> round(sky_temperature(black_body(-10.0)), 9)
    -10.0
    """
    sky = check_range("long waves of the sky [W/m²]", from_sky, 30.0, 800.0, "skies on Earth")
    return plain((sky / STEFAN_BOLTZMANN) ** 0.25 - ZERO_CELSIUS)


def insulated_surface(
    air_c: ArrayLike, convection: ArrayLike, sun: ArrayLike, longwave: ArrayLike, emittance: float
) -> Floats:
    """Temperature of a surface that hands nothing inward: α E + ε L + h_c (Ta − Ts) = ε σ Ts⁴.

    Args:
        air_c: air temperature Ta [°C].
        convection: convective coefficient h_c [W/(m²·K)], above 0.
        sun: sun absorbed α E [W/m²].
        longwave: long waves onto the surface L [W/m²].
        emittance: ε [-]. All broadcast.

    Returns:
        Temperature Ts [°C], to 1e-9 K, by Newton's method.

    >>> round(insulated_surface(20.0, 12.0, 0.0, black_body(20.0), 0.9), 9)
    20.0

    Reference: balance of heat at a surface, without storage.
    """
    air = check_range("air temperature [°C]", air_c, -90.0, 70.0, "air outdoors")
    h = check_range("convective coefficient [W/(m²·K)]", convection, 0.5, 1000.0, "still air to storm")
    taken = check_range("sun absorbed [W/m²]", sun, 0.0, 1500.0, "below the solar constant")
    waves = check_range("long waves [W/m²]", longwave, 0.0, 1500.0, "skies and roofs")
    e = check_range("emittance [-]", emittance, 0.0, 1.0, "a fraction")
    kelvin = np.asarray(air + ZERO_CELSIUS + 0.0 * (h + taken + waves))
    start = kelvin.copy()
    for _ in range(_ROUNDS):
        over = e * STEFAN_BOLTZMANN * kelvin**4 - h * (start - kelvin) - taken - e * waves
        step = over / (4.0 * e * STEFAN_BOLTZMANN * kelvin**3 + h)
        kelvin = kelvin - step
        if float(np.max(np.abs(step))) < _NEAR:
            break
    return plain(kelvin - ZERO_CELSIUS)
