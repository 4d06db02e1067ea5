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
DRIEST_C: Final = -35.0
"""Dew point below which the clear sky is held [°C]: near it the parabola in the dew point turns."""
_AIR: Final = (-90.0, 70.0, "air and ground outdoors")


def clear_sky_emissivity(dew_point_c: ArrayLike, hour: ArrayLike, pressure_pa: ArrayLike) -> Floats:
    """Emissivity of a sky without clouds.

    ε0 = 0.711 + 0.56 t + 0.73 t² + 0.013 cos(2π h/24) + 0.00012 (P/100 − 1000), t the dew point over 100 °C.

    Args:
        dew_point_c: dew point near the ground [°C], -90 to 50; fitted from -20 to 30 °C, below -35 °C held.
        hour: hour of the day [h], 0 to 24: the air near the ground is colder at night than that above.
        pressure_pa: air pressure [Pa]: there is less sky over a mountain. All broadcast.

    Returns:
        Emissivity [-].

    >>> round(clear_sky_emissivity(10.0, 6.0, 100000.0), 4)
    0.7743

    Reference: Berdahl and Martin, Solar Energy 32 (1984) 663-664 (the coefficients as public code that names it has them,
        P; the 1000 hPa from memory: such code also has 1013.25, which is 0.0016 less).
    """
    dew = check_range("dew point [°C]", dew_point_c, -90.0, 50.0, "air outdoors")
    clock = check_range("hour [h]", hour, 0.0, 24.0, "hours of a day")
    pressure = check_range("air pressure [Pa]", pressure_pa, 3e4, 1.1e5, "barometric pressure on land")
    t = np.maximum(dew, DRIEST_C) / 100.0
    day = 0.013 * np.cos(2.0 * np.pi * clock / 24.0)
    return plain(0.711 + 0.56 * t + 0.73 * t**2 + day + 0.00012 * (pressure / 100.0 - 1000.0))


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
