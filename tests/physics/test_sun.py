"""Sun geometry: known moments, symmetry, limits, refusals."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics import sun, sun_on_face
from specgen.physics.errors import NotFinite, OutOfRange
from specgen.physics.sun import SunPosition

LATITUDES = st.floats(-60.0, 60.0)
DECLINATIONS = st.floats(-23.4, 23.4)


@pytest.mark.parametrize(
    ("year", "days"), [(1999, -365.5), (2000, -0.5), (2001, 365.5), (2005, 1826.5), (2024, 8765.5)]
)
def test_days_count_leap_years(year: int, days: float) -> None:
    """1 January, 0 h universal time."""
    assert sun.days_since_2000(year, 1, 0.0) == days


@given(LATITUDES, DECLINATIONS)
def test_noon_elevation_is_ninety_less_latitude_plus_declination(latitude: float, declination: float) -> None:
    position = sun.sun_at_solar_time(declination, latitude, 12.0)
    assert position.elevation == pytest.approx(90.0 - abs(latitude - declination), abs=1e-9)


@given(LATITUDES, DECLINATIONS, st.floats(0.1, 11.9))
def test_morning_mirrors_afternoon(latitude: float, declination: float, before_noon: float) -> None:
    am = sun.sun_at_solar_time(declination, latitude, 12.0 - before_noon)
    pm = sun.sun_at_solar_time(declination, latitude, 12.0 + before_noon)
    assert am.elevation == pytest.approx(pm.elevation, abs=1e-9)
    assert am.azimuth == pytest.approx(360.0 - pm.azimuth, abs=1e-6)


@pytest.mark.parametrize("latitude", [0.0, 35.0, 60.0])
def test_equinox_day_lasts_twelve_hours_and_rises_in_the_east(latitude: float) -> None:
    rise = sun.sun_at_solar_time(0.0, latitude, 6.0)
    assert rise.elevation == pytest.approx(0.0, abs=1e-9)
    assert rise.azimuth == pytest.approx(90.0)


def test_a_face_square_to_the_sun_sees_all_of_the_beam() -> None:
    assert sun_on_face.cosine_of_incidence(SunPosition(40.0, 230.0), 50.0, 230.0) == pytest.approx(1.0)


def test_a_face_turned_away_gets_no_beam() -> None:
    position = SunPosition(30.0, 180.0)
    assert sun_on_face.cosine_of_incidence(position, 90.0, 0.0) < 0.0
    assert sun_on_face.irradiance_on_face(position, 900.0, 0.0, 90.0, 0.0, 0.0) == 0.0


@pytest.mark.parametrize(
    ("elevation", "azimuth", "beam", "diffuse", "tilt", "face", "expected"),
    [
        (30.0, 180.0, 800.0, 100.0, 90.0, 180.0, 872.116),
        (30.0, 180.0, 800.0, 100.0, 90.0, 0.0, 101.155),
        (10.0, 100.0, 400.0, 60.0, 90.0, 90.0, 520.630),
        (60.0, 200.0, 900.0, 80.0, 90.0, 270.0, 282.714),
        (45.0, 250.0, 300.0, 250.0, 90.0, 270.0, 427.525),
        (20.0, 130.0, 0.0, 120.0, 90.0, 180.0, 73.765),
        (50.0, 180.0, 850.0, 90.0, 30.0, 180.0, 955.670),
        (3.0, 95.0, 150.0, 40.0, 90.0, 90.0, 263.353),
    ],
)
def test_perez_sky_of_a_table(
    elevation: float, azimuth: float, beam: float, diffuse: float, tilt: float, face: float, expected: float
) -> None:
    """pvlib 0.16.1, get_total_irradiance, model perez, 1370 W/m² outside, ground 0.2."""
    sun_at = SunPosition(elevation, azimuth)
    found = sun_on_face.irradiance_on_face(sun_at, beam, diffuse, tilt, face, 0.2, 1370.0)
    assert found == pytest.approx(expected, abs=2e-3)


def test_no_sky_light_is_divided_by_a_dark_sky() -> None:
    """At night, and with beam alone, the sky adds nothing and no number is lost."""
    for place, beam in ((SunPosition(-20.0, 0.0), 0.0), (SunPosition(40.0, 180.0), 700.0)):
        with_sky = sun_on_face.irradiance_on_face(place, beam, 0.0, 90.0, 180.0, 0.0, 1370.0)
        cosine = max(float(sun_on_face.cosine_of_incidence(place, 90.0, 180.0)), 0.0)
        assert with_sky == pytest.approx(beam * cosine)


def test_a_roof_gets_the_horizontal_irradiance() -> None:
    e = sun_on_face.irradiance_on_face(SunPosition(30.0, 180.0), 800.0, 100.0, 0.0, 0.0, 0.7)
    assert e == pytest.approx(800.0 * math.sin(math.radians(30.0)) + 100.0)


def test_a_soffit_sees_only_the_ground() -> None:
    e = sun_on_face.irradiance_on_face(SunPosition(30.0, 180.0), 800.0, 100.0, 180.0, 0.0, 0.2)
    assert e == pytest.approx(0.2 * 500.0)


def test_night_is_dark() -> None:
    assert sun.clear_sky(-5.0, 180, 0.4, 2.2) == (0.0, 0.0)


def test_clear_sky_straight_overhead_by_hand() -> None:
    """Air mass 1 takes the exponents out of the formula."""
    beam, diffuse = sun.clear_sky(90.0, 94, 0.4, 2.2)
    m = sun.air_mass(90.0)
    assert m == pytest.approx(1.0, abs=1e-3)
    assert beam == pytest.approx(sun.extraterrestrial(94) * math.exp(-0.4), rel=1e-3)
    assert diffuse == pytest.approx(sun.extraterrestrial(94) * math.exp(-2.2), rel=1e-3)


@given(st.floats(1.0, 89.0), st.floats(0.2, 0.7), st.floats(1.6, 2.6))
def test_haze_dims_the_beam(elevation: float, tau_beam: float, tau_diffuse: float) -> None:
    clear, _ = sun.clear_sky(elevation, 180, tau_beam, tau_diffuse)
    hazy, _ = sun.clear_sky(elevation, 180, tau_beam + 0.05, tau_diffuse)
    assert hazy < clear < sun.extraterrestrial(180)


def test_west_wall_peaks_in_the_afternoon() -> None:
    hours = np.arange(5.0, 20.0, 0.5)
    position = sun.sun_at_solar_time(20.0, 40.0, hours)
    beam, diffuse = sun.clear_sky(position.elevation, 202, 0.4, 2.2)
    west = np.asarray(sun_on_face.irradiance_on_face(position, beam, diffuse, 90.0, 270.0, 0.2))
    east = np.asarray(sun_on_face.irradiance_on_face(position, beam, diffuse, 90.0, 90.0, 0.2))
    assert 15.0 <= hours[west.argmax()] <= 18.0
    assert east.max() == pytest.approx(west.max(), rel=1e-9)
    assert west.shape == hours.shape


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: sun.days_since_2000(1900, 1, 0.0), "year"),
        (lambda: sun.days_since_2000(2020, 0, 0.0), "day of year"),
        (lambda: sun.sun_position(0.0, 95.0, 0.0), "latitude"),
        (lambda: sun.sun_position(0.0, 45.0, 200.0), "longitude"),
        (lambda: sun.clear_sky(30.0, 180, 4.0, 2.0), "optical depth for beam"),
        (lambda: sun.air_mass(-1.0), "elevation"),
        (
            lambda: sun_on_face.cosine_of_incidence(SunPosition(30.0, 180.0), 90.0, -10.0),
            "azimuth of the face",
        ),
        (lambda: sun_on_face.irradiance_on_face(SunPosition(30.0, 180.0), -1.0, 0.0, 0.0, 0.0, 0.2), "beam"),
        (
            lambda: sun_on_face.irradiance_on_face(SunPosition(30.0, 180.0), 1.0, 0.0, 0.0, 0.0, 20.0),
            "reflectance",
        ),
    ],
)
def test_out_of_range_is_named(call, name: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange, match=name):
        call()


def test_nan_is_refused() -> None:
    with pytest.raises(NotFinite, match="latitude"):
        sun.sun_at_solar_time(0.0, math.nan, 12.0)
