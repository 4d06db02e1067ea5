"""Where the sun stands, and what it sends to a face on a clear day.

Angles are degrees at the border of every function. Azimuth runs clockwise from north: east 90, south 180.
Tilt is measured from horizontal facing up: a roof 0, a wall 90.

Clear sky: the ASHRAE model with two optical depths taken from the climate tables, its air-mass exponents
those of the 2013 and later handbooks (status M: from memory, and alike in several public programs; the
handbook itself was not read).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final

from specgen.arrays import ArrayLike, np
from specgen.physics.constants import SOLAR_CONSTANT
from specgen.physics.errors import Floats, check_range, plain

_ALMANAC: Final = "Astronomical Almanac formula, good from 1950 to 2050"
_LATITUDE: Final = "degrees north of the equator"
SUNLIGHT: Final = "not above what the sun can send"


def days_since_2000(year: int, day_of_year: ArrayLike, hour_utc: ArrayLike) -> Floats:
    """Days from 1 January 2000, 12:00 universal time, the epoch of the solar formulas.

    Args:
        year: calendar year, 1950 to 2050.
        day_of_year: 1 for 1 January, to 366.
        hour_utc: universal time [h]; hours below 0 or above 24 fall on the next days. The two broadcast.

    Returns:
        Days [d].

    >>> days_since_2000(2000, 1, 12.0)
    0.0
    """
    y = int(check_range("year", year, 1950, 2050, _ALMANAC))
    day = check_range("day of year", day_of_year, 1, 366, "calendar")
    hour = check_range("hour, universal time [h]", hour_utc, -24.0, 48.0, "within a day of the date")
    whole = date(y, 1, 1).toordinal() - date(2000, 1, 1).toordinal()
    return plain(whole + day - 1.0 + (hour - 12.0) / 24.0)


@dataclass(frozen=True)
class SunPosition:
    """Sun over a place: elevation above the horizon [°], azimuth clockwise from north [°]; no refraction."""

    elevation: Floats
    azimuth: Floats


def declination(days: ArrayLike) -> Floats:
    """Angle of the sun north of the equator.

    sin δ = sin ε sin λ, with the ecliptic longitude λ and obliquity ε of the low-precision almanac.

    Args:
        days: days since 2000 (`days_since_2000`).

    Returns:
        Declination [°].

    >>> round(declination(days_since_2000(2023, 172, 15.0)), 2)
    23.44

    Reference: Astronomical Almanac; Michalsky, Solar Energy 40 (1988) 227-235.
    """
    _, longitude, obliquity = _ecliptic(days)
    return plain(np.degrees(np.arcsin(np.sin(obliquity) * np.sin(longitude))))


def equation_of_time(days: ArrayLike) -> Floats:
    """Sundial time less clock time at the standard meridian.

    E = 4 min/° (L - α): mean longitude less right ascension.

    Args:
        days: days since 2000 (`days_since_2000`).

    Returns:
        Equation of time [min].

    >>> round(equation_of_time(days_since_2000(2023, 307, 12.0)), 1)
    16.4

    Reference: Astronomical Almanac; Michalsky, Solar Energy 40 (1988) 227-235.
    """
    mean, longitude, obliquity = _ecliptic(days)
    ascension = np.degrees(np.arctan2(np.cos(obliquity) * np.sin(longitude), np.cos(longitude)))
    return plain(4.0 * ((mean - ascension + 180.0) % 360.0 - 180.0))


def _ecliptic(days: ArrayLike) -> tuple[Floats, Floats, Floats]:
    """Mean longitude [°], ecliptic longitude [rad], obliquity [rad]."""
    n = check_range("days since 2000", days, -18628.0, 18628.0, _ALMANAC)
    mean = 280.460 + 0.9856474 * n
    anomaly = np.radians(357.528 + 0.9856003 * n)
    longitude = np.radians(mean + 1.915 * np.sin(anomaly) + 0.020 * np.sin(2.0 * anomaly))
    return mean, longitude, np.radians(23.439 - 4e-7 * n)


def sun_position(days: ArrayLike, latitude: ArrayLike, longitude: ArrayLike) -> SunPosition:
    """Sun over a place at a moment.

    sin h = sin φ sin δ + cos φ cos δ cos H, with the hour angle H from universal time, longitude and equation
    of time.

    Args:
        days: days since 2000, universal time (`days_since_2000`).
        latitude, longitude: degrees, north and east positive. All broadcast.

    >>> noon = sun_position(days_since_2000(2023, 172, 12.0), 40.0, 0.0)
    >>> round(noon.elevation, 1)
    73.4

    Reference: Astronomical Almanac; Michalsky, Solar Energy 40 (1988) 227-235.
    """
    east = check_range("longitude [°]", longitude, -180.0, 180.0, "degrees east of Greenwich")
    n = check_range("days since 2000", days, -18628.0, 18628.0, _ALMANAC)
    clock = 24.0 * ((n + 0.5) % 1.0)
    return sun_at_solar_time(declination(n), latitude, clock + east / 15.0 + equation_of_time(n) / 60.0)


def sun_at_solar_time(declination_deg: ArrayLike, latitude: ArrayLike, solar_hour: ArrayLike) -> SunPosition:
    """Sun over a place at an hour of solar time (12 when it stands highest).

    Args:
        declination_deg: declination [°].
        latitude: degrees north.
        solar_hour: apparent solar time [h]. All broadcast.

    >>> morning = sun_at_solar_time(0.0, 40.0, 6.0)
    >>> round(morning.azimuth, 6)
    90.0

    Reference: ASHRAE Handbook of Fundamentals, climatic design information, solar angles.
    """
    dec = np.radians(
        check_range("declination [°]", declination_deg, -23.5, 23.5, "obliquity of the ecliptic")
    )
    lat = np.radians(check_range("latitude [°]", latitude, -90.0, 90.0, _LATITUDE))
    hour = np.radians(15.0 * (check_range("solar hour [h]", solar_hour, -48.0, 72.0, "hour of a day") - 12.0))
    up = np.sin(lat) * np.sin(dec) + np.cos(lat) * np.cos(dec) * np.cos(hour)
    east = -np.cos(dec) * np.sin(hour)
    north = np.cos(lat) * np.sin(dec) - np.sin(lat) * np.cos(dec) * np.cos(hour)
    elevation = np.degrees(np.arctan2(up, np.hypot(east, north)))
    return SunPosition(plain(elevation), plain(np.degrees(np.arctan2(east, north)) % 360.0))


def extraterrestrial(day_of_year: ArrayLike) -> Floats:
    """Irradiance outside the atmosphere, square to the sun: E0 = 1367 (1 + 0.033 cos(360° (n - 3) / 365)).

    Args:
        day_of_year: 1 to 366.

    Returns:
        Irradiance [W/m²].

    >>> round(extraterrestrial(3), 1)
    1412.1

    Reference: ASHRAE Handbook of Fundamentals, climatic design information, eq. 4.
    """
    n = check_range("day of year", day_of_year, 1, 366, "calendar")
    return plain(SOLAR_CONSTANT * (1.0 + 0.033 * np.cos(2.0 * np.pi * (n - 3.0) / 365.0)))


def air_mass(elevation: ArrayLike) -> Floats:
    """Relative optical air mass: m = 1 / (sin β + 0.50572 (6.07995 + β)^-1.6364), β in degrees.

    Args:
        elevation: elevation of the sun [°], 0 to 90.

    Returns:
        Air mass [-].

    >>> round(air_mass(30.0), 3)
    1.994

    Reference: Kasten and Young, Applied Optics 28 (1989) 4735-4738.
    """
    beta = check_range("elevation of the sun [°]", elevation, 0.0, 90.0, "Kasten and Young 1989")
    return plain(1.0 / (np.sin(np.radians(beta)) + 0.50572 * (6.07995 + beta) ** -1.6364))


def clear_sky(
    elevation: ArrayLike, day_of_year: ArrayLike, tau_beam: ArrayLike, tau_diffuse: ArrayLike
) -> tuple[Floats, Floats]:
    """Clear-sky irradiance: beam square to the sun, and diffuse on the horizontal.

    Eb = E0 exp(-τb m^ab), Ed = E0 exp(-τd m^ad), ab = 1.454 - 0.406 τb - 0.268 τd + 0.021 τb τd,
    ad = 0.507 + 0.205 τb - 0.080 τd - 0.190 τb τd. Zero when the sun is below the horizon.

    Args:
        elevation: elevation of the sun [°], -90 to 90.
        day_of_year: 1 to 366.
        tau_beam, tau_diffuse: optical depths of the place and month [-], 0.1 to 1.0 and 1.0 to 3.5. All
            broadcast.

    Returns:
        beam_normal, diffuse_horizontal: irradiance [W/m²].

    >>> beam, diffuse = clear_sky(60.0, 202, 0.45, 2.1)
    >>> round(beam), round(diffuse)
    (803, 150)

    Reference: ASHRAE Handbook of Fundamentals (2013 and later), climatic design information, eq. 17 to 20.
    """
    beta = check_range("elevation of the sun [°]", elevation, -90.0, 90.0, "geometry")
    tb = check_range("optical depth for beam [-]", tau_beam, 0.1, 1.0, "ASHRAE climate tables")
    td = check_range("optical depth for diffuse [-]", tau_diffuse, 1.0, 3.5, "ASHRAE climate tables")
    m = air_mass(np.maximum(beta, 0.0))
    outside = np.where(beta > 0.0, extraterrestrial(day_of_year), 0.0)
    ab = 1.454 - 0.406 * tb - 0.268 * td + 0.021 * tb * td
    ad = 0.507 + 0.205 * tb - 0.080 * td - 0.190 * tb * td
    return plain(outside * np.exp(-tb * m**ab)), plain(outside * np.exp(-td * m**ad))
