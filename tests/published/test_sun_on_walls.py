"""Sun on vertical faces: published worked examples, and pvlib through whole days."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pvlib
import pytest

from specgen.physics import sun, sun_on_face
from specgen.physics.constants import SOLAR_CONSTANT
from tests.published.register import How, published

DAYS = ["2023-03-21", "2023-06-21", "2023-10-05", "2023-12-21"]


@published(
    "sun and sky",
    "elevation and azimuth of 17 October 2003, 12:30:30",
    "Reda and Andreas, Solar Position Algorithm, NREL/TP-560-34302",
    "appendix A.5 worked example, read in several public test suites",
    "0.03°",
    How.READ,
    "2008",
)
def test_worked_example_of_the_solar_position_algorithm() -> None:
    """39.742476° N, 105.1786° W, seven hours west; elevation without refraction 39.872046°, azimuth 194.340241°."""
    day = pd.Timestamp("2003-10-17").day_of_year
    found = sun.sun_position(sun.days_since_2000(2003, day, 19.0 + 30.5 / 60.0), 39.742476, -105.1786)
    assert found.elevation == pytest.approx(39.872046, abs=0.03)
    assert found.azimuth == pytest.approx(194.340241, abs=0.03)


@published(
    "sun and sky",
    "declination and noon height of 21 May at 33.7° N",
    "textbook of renewable energy, solved example",
    "20.1° and 76.4°, read on a public page of solved examples",
    "0.3°, the change of a day and a half",
    How.READ,
)
def test_solved_example_of_a_textbook() -> None:
    # Its sine curve has no leap years.
    declination = sun.declination(sun.days_since_2000(2001, 141, 17.6))
    assert declination == pytest.approx(20.1, abs=0.3)
    found = sun.sun_at_solar_time(declination, 33.7, 12.0)
    assert found.elevation == pytest.approx(76.4, abs=0.3)
    assert sun.air_mass(found.elevation) == pytest.approx(1.029, rel=2e-3)


@published(
    "sun and sky",
    "height and azimuth from solar time",
    "pvlib, solar_zenith_analytical and solar_azimuth_analytical",
    "Duffie and Beckman",
    "1e-6°",
    How.PACKAGE,
)
@pytest.mark.parametrize("latitude", [25.0, 41.0, -33.0])
@pytest.mark.parametrize("declination", [-23.0, 0.0, 18.0])
def test_sun_at_solar_time(latitude: float, declination: float) -> None:
    hours = np.array([8.0, 10.5, 13.0, 16.0])
    angle, tilt, place = np.radians(15 * (hours - 12)), np.radians(declination), np.radians(latitude)
    zenith = pvlib.solarposition.solar_zenith_analytical(place, angle, tilt)
    azimuth = pvlib.solarposition.solar_azimuth_analytical(place, angle, tilt, zenith)
    found = sun.sun_at_solar_time(declination, latitude, hours)
    assert found.elevation == pytest.approx(90 - np.degrees(zenith), abs=1e-6)
    turn = (np.asarray(found.azimuth) - np.degrees(azimuth) + 180) % 360 - 180
    assert turn == pytest.approx(np.zeros(4), abs=1e-5)


@published(
    "sun and sky",
    "cosine of incidence on walls and slopes",
    "pvlib, aoi_projection",
    "spherical trigonometry",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize("tilt", [0.0, 60.0, 90.0])
@pytest.mark.parametrize("azimuth", [45.0, 180.0, 270.0])
def test_cosine_of_incidence(tilt: float, azimuth: float) -> None:
    for elevation, direction in ((10.0, 100.0), (40.0, 190.0), (65.0, 250.0)):
        reference = max(float(pvlib.irradiance.aoi_projection(tilt, azimuth, 90 - elevation, direction)), 0.0)
        found = sun_on_face.cosine_of_incidence(sun.SunPosition(elevation, direction), tilt, azimuth)
        assert max(found, 0.0) == pytest.approx(reference, rel=1e-9, abs=1e-12)


def day_on_a_wall(
    day: str, latitude: float, azimuth: float, model: str, even: bool = False
) -> tuple[np.ndarray, np.ndarray]:
    """Hourly irradiance of a wall: by us, and by pvlib's own sun and transposition of the same beam and sky."""
    times = pd.date_range(f"{day} 00:30", periods=24, freq="h", tz="UTC")
    reference = pvlib.solarposition.spa_python(times, latitude, 0.0)
    days = sun.days_since_2000(2023, times[0].day_of_year, np.arange(24) + 0.5)
    place = sun.sun_position(days, latitude, 0.0)
    beam, diffuse = (np.asarray(a) for a in sun.clear_sky(place.elevation, times[0].day_of_year, 0.40, 2.2))
    outside = None if even else sun.extraterrestrial(times[0].day_of_year)
    ours = np.asarray(sun_on_face.irradiance_on_face(place, beam, diffuse, 90.0, azimuth, 0.2, outside))
    height = np.maximum(np.sin(np.radians(reference["elevation"].to_numpy())), 0.0)
    theirs = pvlib.irradiance.get_total_irradiance(
        90.0,
        azimuth,
        reference["zenith"],
        reference["azimuth"],
        beam,
        beam * height + diffuse,
        diffuse,
        dni_extra=pvlib.irradiance.get_extra_radiation(int(times[0].day_of_year)),
        airmass=pvlib.atmosphere.get_relative_airmass(reference["zenith"]),
        albedo=0.2,
        model=model,
    )["poa_global"]
    return ours, theirs.fillna(0.0).to_numpy()


@published(
    "inward drive",
    "sun on a wall hour by hour, four dates, three latitudes, four orientations",
    "pvlib, spa_python and get_total_irradiance",
    "isotropic sky, its own sun",
    "0.1 % of the day's peak",
    How.PACKAGE,
)
@pytest.mark.parametrize("day", DAYS)
@pytest.mark.parametrize("latitude", [26.0, 40.0, 55.0])
@pytest.mark.parametrize("azimuth", [0.0, 90.0, 180.0, 270.0])
def test_wall_through_the_day(day: str, latitude: float, azimuth: float) -> None:
    ours, theirs = day_on_a_wall(day, latitude, azimuth, "isotropic", even=True)
    assert ours == pytest.approx(theirs, abs=0.001 * max(theirs.max(), 1.0))


@published(
    "inward drive",
    "sun on a wall hour by hour under a sky fitted to measurements, four dates, three latitudes, four orientations",
    "pvlib, spa_python and get_total_irradiance",
    "model perez, all sites of 1990, its own sun",
    "1 % of the day's peak",
    How.PACKAGE,
)
@pytest.mark.parametrize("day", DAYS)
@pytest.mark.parametrize("latitude", [26.0, 40.0, 55.0])
@pytest.mark.parametrize("azimuth", [0.0, 90.0, 180.0, 270.0])
def test_wall_under_a_measured_sky(day: str, latitude: float, azimuth: float) -> None:
    ours, theirs = day_on_a_wall(day, latitude, azimuth, "perez")
    assert ours == pytest.approx(theirs, abs=0.01 * max(theirs.max(), 1.0))


@published(
    "inward drive",
    "sky on faces of any tilt, from overcast to clear",
    "pvlib, irradiance.perez",
    "the same sun, air mass and irradiance outside the atmosphere",
    "1e-6",
    How.PACKAGE,
)
def test_sky_of_every_clearness() -> None:
    chance = np.random.default_rng(11)
    size = 400
    elevation, direction = chance.uniform(1.0, 89.0, size), chance.uniform(0.0, 360.0, size)
    tilt, azimuth = chance.uniform(0.0, 120.0, size), chance.uniform(0.0, 360.0, size)
    diffuse, beam = (
        chance.uniform(1.0, 500.0, size),
        chance.uniform(0.0, 1000.0, size) * chance.integers(0, 2, size),
    )
    place = sun.SunPosition(elevation, direction)
    ours = np.asarray(sun_on_face.irradiance_on_face(place, beam, diffuse, tilt, azimuth, 0.0, 1367.0))
    facing = np.maximum(np.asarray(sun_on_face.cosine_of_incidence(place, tilt, azimuth)), 0.0)
    theirs = pvlib.irradiance.perez(
        tilt,
        azimuth,
        diffuse,
        beam,
        np.full(size, 1367.0),
        90.0 - elevation,
        direction,
        np.asarray(sun.air_mass(elevation)),
    )
    assert ours - beam * facing == pytest.approx(np.asarray(theirs), rel=1e-6, abs=1e-6)


@published(
    "sun and sky",
    "extraterrestrial irradiance by ephemeris",
    "pvlib, nrel_earthsun_distance",
    "sun-earth distance of the Solar Position Algorithm",
    "0.3 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("day", [15, 105, 196, 288])
def test_extraterrestrial_by_ephemeris(day: int) -> None:
    moment = pd.DatetimeIndex([pd.Timestamp("2023-01-01", tz="UTC") + pd.Timedelta(days=day - 1, hours=12)])
    distance = float(pvlib.solarposition.nrel_earthsun_distance(moment).iloc[0])
    assert sun.extraterrestrial(day) == pytest.approx(SOLAR_CONSTANT / distance**2, rel=3e-3)


@published(
    "sun and sky",
    "clear-sky global irradiance by turbidity",
    "pvlib, ineichen",
    "Ineichen and Perez 2002, Linke turbidity 3",
    "5 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("elevation", [20.0, 40.0, 65.0])
def test_clear_sky_against_ineichen(elevation: float) -> None:
    mass = pvlib.atmosphere.get_relative_airmass(90 - elevation)
    reference = pvlib.clearsky.ineichen(90 - elevation, mass, 3.0, dni_extra=sun.extraterrestrial(202))
    beam, diffuse = sun.clear_sky(elevation, 202, 0.38, 2.35)
    total = beam * np.sin(np.radians(elevation)) + diffuse
    assert total == pytest.approx(float(reference["ghi"]), rel=0.05)


@published(
    "sun and sky",
    "clear-sky beam by atmospheric constituents",
    "pvlib, bird",
    "Bird and Hulstrom 1981, a clean summer",
    "10 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("elevation", [25.0, 45.0, 70.0])
def test_clear_sky_against_bird(elevation: float) -> None:
    mass = pvlib.atmosphere.get_relative_airmass(90 - elevation)
    extra = float(np.asarray(sun.extraterrestrial(202)))
    reference = pvlib.clearsky.bird(90 - elevation, mass, 0.12, 0.10, 1.5, dni_extra=extra)
    beam, _ = sun.clear_sky(elevation, 202, 0.38, 2.35)
    assert beam == pytest.approx(float(reference["dni"]), rel=0.10)
