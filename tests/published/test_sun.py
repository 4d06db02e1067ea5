"""Sun, irradiance and sol-air temperature against pvlib (reference library) and ASHRAE figures."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pvlib
import pytest

from specgen.physics import sol_air as sa
from specgen.physics import sun, sun_on_face
from specgen.physics.constants import SOLAR_CONSTANT
from tests.published.register import How, published

PLACES = [(25.8, -80.3), (40.0, -105.0), (47.6, -122.3), (61.2, -149.9), (-33.9, 151.2), (0.0, 0.0)]


def moments(year: int) -> pd.DatetimeIndex:
    return pd.date_range(f"{year}-01-01 00:30", f"{year}-12-31 23:30", freq="37h", tz="UTC")


def ours(times: pd.DatetimeIndex, latitude: float, longitude: float) -> sun.SunPosition:
    hours = np.asarray(times.hour + times.minute / 60.0, dtype=float)
    days = sun.days_since_2000(times[0].year, np.asarray(times.day_of_year, dtype=float), hours)
    return sun.sun_position(days, latitude, longitude)


@published(
    "sun and sky",
    "direction of the sun, six places, three years",
    "pvlib, spa_python",
    "NREL Solar Position Algorithm",
    "0.03°",
    How.PACKAGE,
)
@pytest.mark.parametrize("year", [1988, 2023, 2040])
@pytest.mark.parametrize(("latitude", "longitude"), PLACES)
def test_sun_position_against_spa(year: int, latitude: float, longitude: float) -> None:
    """NREL Solar Position Algorithm in pvlib, 237 moments a year; 0.03° across the sky. The almanac
    formulas claim 0.01°; the rest is difference between universal and terrestrial time."""
    times = moments(year)
    reference = pvlib.solarposition.spa_python(times, latitude, longitude)
    mine = ours(times, latitude, longitude)
    h1, h2 = np.radians(np.asarray(mine.elevation)), np.radians(reference["elevation"].to_numpy())
    turn = np.radians(np.asarray(mine.azimuth) - reference["azimuth"].to_numpy())
    cosine = np.sin(h1) * np.sin(h2) + np.cos(h1) * np.cos(h2) * np.cos(turn)
    assert np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))).max() < 0.03


@published(
    "sun and sky",
    "declination and equation of time",
    "pvlib, declination_spencer71, equation_of_time_spencer71",
    "Spencer 1971",
    "0.4°; 1 min",
    How.PACKAGE,
)
@pytest.mark.parametrize("day", [1, 80, 172, 202, 266, 355])
def test_declination_and_equation_of_time_against_spencer(day: int) -> None:
    """Spencer (1971) in pvlib: an independent Fourier series of a mean year. At the
    equinox one day is 0.4° of declination, and the leap-year cycle moves the date by as much."""
    days = sun.days_since_2000(2023, day, 12.0)
    assert sun.declination(days) == pytest.approx(
        np.degrees(pvlib.solarposition.declination_spencer71(day)), abs=0.4
    )
    assert sun.equation_of_time(days) == pytest.approx(
        pvlib.solarposition.equation_of_time_spencer71(day), abs=1.0
    )


@published(
    "sun and sky",
    "extraterrestrial irradiance through the year",
    "pvlib, get_extra_radiation",
    "Spencer 1971",
    "0.3 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("day", [3, 94, 186, 277])
def test_extraterrestrial_against_spencer(day: int) -> None:
    """Spencer (1971) in pvlib with the same solar constant; 0.3 %."""
    reference = pvlib.irradiance.get_extra_radiation(day, solar_constant=SOLAR_CONSTANT, method="spencer")
    assert sun.extraterrestrial(day) == pytest.approx(reference, rel=0.003)


@published(
    "sun and sky",
    "air mass",
    "pvlib, get_relative_airmass",
    "Kasten and Young 1989",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize("elevation", [2.0, 10.0, 30.0, 60.0, 90.0])
def test_air_mass_against_pvlib(elevation: float) -> None:
    """Kasten and Young (1989): the same formula, independent code."""
    reference = pvlib.atmosphere.get_relative_airmass(90.0 - elevation, model="kastenyoung1989")
    assert sun.air_mass(elevation) == pytest.approx(reference, rel=1e-9)


@published(
    "sun and sky",
    "irradiance on tilted faces, isotropic sky",
    "pvlib, get_total_irradiance",
    "isotropic model",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize("tilt", [0.0, 30.0, 90.0, 135.0])
@pytest.mark.parametrize("azimuth", [0.0, 90.0, 200.0, 315.0])
@pytest.mark.parametrize(("elevation", "sun_azimuth"), [(5.0, 80.0), (35.0, 150.0), (70.0, 260.0)])
def test_irradiance_against_pvlib(tilt: float, azimuth: float, elevation: float, sun_azimuth: float) -> None:
    """pvlib.irradiance.get_total_irradiance, isotropic sky."""
    dni, dhi, albedo = 700.0, 120.0, 0.25
    ghi = dni * np.sin(np.radians(elevation)) + dhi
    reference = pvlib.irradiance.get_total_irradiance(
        tilt, azimuth, 90.0 - elevation, sun_azimuth, dni, ghi, dhi, albedo=albedo, model="isotropic"
    )["poa_global"]
    mine = sun_on_face.irradiance_on_face(
        sun.SunPosition(elevation, sun_azimuth), dni, dhi, tilt, azimuth, albedo
    )
    assert mine == pytest.approx(float(reference), rel=1e-9, abs=1e-9)


@published(
    "sun and sky",
    "clear-sky beam and global irradiance",
    "pvlib, simplified_solis",
    "Ineichen 2008",
    "10 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("elevation", [15.0, 30.0, 45.0, 60.0, 75.0])
def test_clear_sky_against_another_model(elevation: float) -> None:
    """Simplified Solis (Ineichen 2008) in pvlib, aerosol depth 0.1 and 1.5 cm of water, against the optical
    depths of a clean summer month (0.38, 2.35). Two models of one sky: beam 10 %, global 10 %."""
    extra = sun.extraterrestrial(202)
    other = pvlib.clearsky.simplified_solis(elevation, aod700=0.1, precipitable_water=1.5, dni_extra=extra)
    beam, diffuse = sun.clear_sky(elevation, 202, 0.38, 2.35)
    assert beam == pytest.approx(float(other["dni"]), rel=0.10)
    total = beam * np.sin(np.radians(elevation)) + diffuse
    assert total == pytest.approx(float(other["ghi"]), rel=0.10)


# ASHRAE Handbook of Fundamentals, sol-air temperature: α/ho of 0.15 h·ft²·°F/Btu for a light surface and 0.30
# for a dark one, at ho = 3.0 Btu/(h·ft²·°F). Read in an open encyclopedia that quotes the
# handbook, not in the handbook.
BTU_PER_H_FT2 = 3.15459  # W/m²
FILM_3 = 3.0 * 5.678263  # W/(m²·K)


@published(
    "inward drive",
    "sol-air rise of light and dark faces",
    "ASHRAE Handbook of Fundamentals, sol-air temperature",
    "0.15 and 0.30 h·ft²·°F/Btu at 3.0 Btu/(h·ft²·°F), read second hand in an open encyclopedia",
    "0.1 %",
    How.READ,
)
@pytest.mark.parametrize(("absorptance", "ratio"), [(0.45, 0.15), (0.90, 0.30)])
@pytest.mark.parametrize("sun_btu", [100.0, 250.0])
def test_sol_air_rise_of_light_and_dark_faces(absorptance: float, ratio: float, sun_btu: float) -> None:
    rise_k = sa.sol_air(30.0, absorptance, sun_btu * BTU_PER_H_FT2, FILM_3) - 30.0
    assert rise_k * 1.8 == pytest.approx(ratio * sun_btu, rel=1e-3)
