"""What the hours bring to each face: against pvlib, by hand, at limits, and what is said of it."""

from __future__ import annotations

import shutil
from dataclasses import fields, replace
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from pvlib.atmosphere import get_relative_airmass
from pvlib.irradiance import get_extra_radiation, get_total_irradiance
from pvlib.solarposition import get_solarposition

from specgen.design import driving_rain
from specgen.design.drive_study import Sky, weather_climate
from specgen.design.hourly_faces import (
    Outdoors,
    Skin,
    WallFaces,
    faces_of_years,
    join,
    outdoor_face,
    roof_surface,
    room_air,
    sheltered_face,
    wall_faces,
    years,
)
from specgen.design.hourly_rain import ASHRAE, ISO, SEEDS
from specgen.design.outdoor_hours import BY_CLOUD, COLUMN, sky_waves, sun_at_night, sunlight
from specgen.design.worksheet import Unknown, Worksheet
from specgen.intake.weather import load_weather
from specgen.model.weather import Weather
from specgen.physics.heat_moisture.faces import Face
from specgen.physics.moist_air import relative_humidity, saturation_pressure
from specgen.physics.sky import black_body
from specgen.physics.sol_air import sol_air
from specgen.practice.load import load_practice
from specgen.units.quantity import Quantity
from tests.design.moisture import WEST, YEAR
from tests.design.projects import calculation, changed_project, number
from tests.intake.weather_files import COLD_MARINE, HOT_HUMID, MIXED_HUMID, epw_lines

MONTHLY = ("site:\n", "site:\n  rain_months: 90, 80, 100, 80, 90, 100, 0, 90, 100, 80, 80, 110 mm\n")
SKIN = Skin(0.6, 0.9)
SERIES = ("hour", "temp_c", "ghi", "dni", "dhi")  # what the sun on a face reads


@pytest.fixture(scope="module")
def weather() -> Weather:
    return load_weather(MIXED_HUMID)


def sheet(folder: Path, *changes: tuple[str, str]) -> Worksheet:
    project = changed_project(folder, *changes)
    return Worksheet("trial", "Trial", project, project.parapets[0], load_practice(), "", [])


def by_pvlib(weather: Weather, tilt: float, azimuth: float) -> np.ndarray:
    """Irradiance of the middles of the hours by pvlib's Perez sky of all sites."""
    ends = pd.date_range("2001-01-01 00:30", periods=weather.hours, freq="h")
    middle = ends - pd.Timedelta(hours=weather.place.time_zone)
    sun = get_solarposition(middle.tz_localize("UTC"), weather.place.latitude, weather.place.longitude)
    height = np.maximum(np.sin(np.radians(90.0 - sun["zenith"].to_numpy())), 0.0)
    total = get_total_irradiance(
        tilt,
        azimuth,
        sun["zenith"].to_numpy(),
        sun["azimuth"].to_numpy(),
        weather.dni,
        weather.dni * height + weather.dhi,
        weather.dhi,
        dni_extra=np.asarray(get_extra_radiation(middle.day_of_year)),
        airmass=get_relative_airmass(sun["zenith"].to_numpy()),
        albedo=0.2,
        model="perez",
    )["poa_global"]
    return np.nan_to_num(np.asarray(total))


@pytest.mark.parametrize("path", [MIXED_HUMID, COLD_MARINE, HOT_HUMID])
@pytest.mark.parametrize(
    ("tilt", "azimuth"), [(90.0, 270.0), (90.0, 90.0), (90.0, 0.0), (14.0, 225.0), (0.0, 0.0)]
)
def test_sun_on_every_face_against_pvlib(path: Path, tilt: float, azimuth: float) -> None:
    weather = load_weather(path)
    ours, theirs = sunlight(weather, tilt, azimuth, 0.2), by_pvlib(weather, tilt, azimuth)
    assert ours.sum() == pytest.approx(theirs.sum(), rel=0.01)
    assert np.corrcoef(ours, theirs)[0, 1] > 0.999


def test_face_and_drive_study_have_the_same_sun_and_air(weather: Weather) -> None:
    """Sol-air of the drive study, with the sun of the face: one way to the sun, one to the vapor."""
    climate = weather_climate(weather, 270.0, Sky(0.2, 0.6, 0.3, 17.0))
    face = outdoor_face(Outdoors(weather, 0.2, 1.0, 0.5), 90.0, 270.0, SKIN)
    np.testing.assert_allclose(climate.face_c, weather.temp_c + face.sun / 17.0, rtol=1e-12)
    np.testing.assert_allclose(climate.face_c, sol_air(weather.temp_c, 1.0, face.sun, 17.0), rtol=1e-12)
    np.testing.assert_array_equal(climate.outdoor_pa, face.vapor_pa)


def test_a_face_by_hand(weather: Weather) -> None:
    here = Outdoors(weather, 0.2, 0.8, 0.5)
    face = outdoor_face(here, 90.0, 270.0, SKIN)
    waves, _ = sky_waves(weather, 0.5)
    for hour in (5, 4000, 8000):
        h = 4.0 + 4.0 * 0.8 * weather.wind_speed[hour]
        assert face.convection[hour] == pytest.approx(h, rel=1e-12)
        by_hand = 0.621945 * h / (1006.0 * weather.pressure_pa[hour])
        assert face.vapor_film[hour] == pytest.approx(by_hand, rel=1e-12)
        around = 5.670374419e-8 * (weather.temp_c[hour] + 273.15) ** 4
        assert face.longwave[hour] == pytest.approx((waves[hour] + around) / 2.0, rel=1e-12)
    assert face.rain.max() == 0.0
    assert face.emittance == 0.9


def test_air_rises_off_a_hot_level_face(weather: Weather) -> None:
    """The convection that is found fits the temperature that it leads to; the wind's own is never undercut."""
    here = Outdoors(weather, 0.2, 1.0, 0.5)
    face = outdoor_face(here, 0.0, 0.0, Skin(0.85, 0.9))
    wind = 4.0 + 4.0 * weather.wind_speed
    assert (face.convection >= wind - 1e-12).all()
    more = face.convection > wind + 1e-9
    assert 0.01 < more.mean() < 0.2
    assert weather.wind_speed[more].max() < 1.0
    surface = roof_surface(here, Skin(0.85, 0.9))
    rises = 1.52 * np.maximum(surface - weather.temp_c, 0.0) ** (1.0 / 3.0)
    np.testing.assert_allclose(face.convection, np.maximum(wind, rises), atol=0.01)


def test_still_air_gives_and_takes_nothing() -> None:
    """A face as warm as still air and in balance with its vapor exchanges nothing."""
    air, vapor = np.array([5.0, 20.0]), np.array([600.0, 1200.0])
    face = sheltered_face(air, vapor, 0.9, 1e5)
    np.testing.assert_allclose(face.longwave, black_body(air))
    assert face.sun.max() == face.rain.max() == 0.0
    assert (face.convection == 2.5).all()


def test_the_sky_of_a_file_goes_before_the_estimate(weather: Weather) -> None:
    measured = replace(weather, longwave=np.full(weather.hours, 321.0))
    waves, basis = sky_waves(measured, 0.5)
    assert basis == COLUMN
    assert (waves == 321.0).all()
    assert sky_waves(weather, 0.5)[1] == BY_CLOUD
    blind, basis = sky_waves(replace(weather, cloud=None), 0.5)
    assert "cloud cover of 0.5, as the weather file has none" in basis
    clear, covered = (sky_waves(replace(weather, cloud=None), cover)[0] for cover in (0.0, 1.0))
    assert (clear < blind).all()
    assert (blind < covered).all()
    assert (covered < black_body(weather.temp_c)).all()


def test_coldest_skies_of_a_typical_year_are_those_of_clear_dry_nights(weather: Weather) -> None:
    """A clear sky is some 20 K colder than the air, an overcast one nearly as warm (sizes from memory)."""
    waves, _ = sky_waves(weather, 0.5)
    assert weather.cloud is not None
    colder = weather.temp_c - ((waves / 5.670374419e-8) ** 0.25 - 273.15)
    assert 15.0 < colder[weather.cloud == 0.0].mean() < 30.0
    assert 0.0 < colder[weather.cloud == 1.0].mean() < 3.0


def test_every_face_of_a_parapet(tmp_path: Path, weather: Weather) -> None:
    work = sheet(tmp_path, WEST)
    found = wall_faces(work, weather)
    for name in ("plaster", "roof_side", "coping", "room", "still"):
        face: Face = getattr(found, name)
        for one in fields(Face):
            if one.name == "emittance":
                continue
            series = getattr(face, one.name)
            assert series.shape == (8760,), (name, one.name)
            assert np.isfinite(series).all()
            assert (series >= 0.0).all() or one.name == "air_c"
    afternoon, morning = weather.hour == 17, weather.hour == 9
    assert found.plaster.sun[afternoon].mean() > 2.0 * found.plaster.sun[morning].mean()
    assert found.roof_side.sun[morning].mean() > 2.0 * found.roof_side.sun[afternoon].mean()
    assert found.coping.longwave.mean() < found.plaster.longwave.mean() < found.still.longwave.mean()
    assert weather.rain_mm is not None
    assert found.coping.rain.sum() * 3600.0 == pytest.approx(weather.rain_mm.sum(), rel=1e-12)


def test_roof_side_of_a_dark_membrane(tmp_path: Path, weather: Weather) -> None:
    light = wall_faces(sheet(tmp_path, WEST), weather).roof_side
    by_kind = wall_faces(sheet(tmp_path, WEST, ("kind: TPO", "kind: EPDM")), weather).roof_side
    by_choice = wall_faces(sheet(tmp_path, WEST), weather, dark_membrane=True).roof_side
    np.testing.assert_array_equal(by_kind.sun, by_choice.sun)
    np.testing.assert_allclose(by_kind.sun, light.sun * 0.85 / 0.3)


def test_roof_before_the_roof_side_is_hot_by_day_and_cold_by_night(weather: Weather) -> None:
    """A dark insulated roof: 30 K and more above the air in the summer sun, some kelvins below it on clear nights."""
    here = Outdoors(weather, 0.2, 1.0, 0.5)
    dark, light = (roof_surface(here, Skin(alpha, 0.9)) for alpha in (0.85, 0.3))
    assert weather.cloud is not None
    night = (weather.ghi == 0.0) & (weather.cloud == 0.0)
    assert (dark[night] < weather.temp_c[night]).all()
    assert 2.0 < (weather.temp_c - dark)[night].mean() < 12.0
    assert 25.0 < (dark - weather.temp_c).max() < 70.0
    assert (dark >= light - 1e-9).all()
    face = outdoor_face(here, 90.0, 90.0, SKIN, around_c=dark)
    as_air = outdoor_face(here, 90.0, 90.0, SKIN)
    np.testing.assert_allclose(
        face.longwave - as_air.longwave, (black_body(dark) - black_body(weather.temp_c)) / 2.0
    )


def test_coping_that_falls_to_the_roof_looks_there(tmp_path: Path, weather: Weather) -> None:
    falls = ("color: dark,", "color: light, slope: 3 in/ft, slope_toward: roof,")
    sloped = wall_faces(sheet(tmp_path, WEST, falls), weather).coping
    level = wall_faces(sheet(tmp_path, WEST, ("color: dark,", "color: light,")), weather).coping
    morning = weather.hour == 9
    assert sloped.sun[morning].mean() > 1.1 * level.sun[morning].mean()
    tilt = np.arctan(0.25)
    np.testing.assert_allclose(sloped.rain, level.rain * np.cos(tilt))


def test_room_follows_the_days_or_the_project(tmp_path: Path, weather: Weather) -> None:
    air, vapor = room_air(sheet(tmp_path), weather)
    outdoors = np.repeat(weather.temp_c.reshape(-1, 24).mean(axis=1), 24)
    assert (air[outdoors <= 10.0] == 20.0).all()
    assert (air[outdoors >= 20.0] == 25.0).all()
    rh = np.asarray(relative_humidity(air, vapor))
    middle = (outdoors > -10.0) & (outdoors < 20.0)
    np.testing.assert_allclose(rh[middle], 0.3 + 0.3 * (outdoors[middle] + 10.0) / 30.0)
    own = ("building: {", "building: {indoor_temp: 68 degF, indoor_humidity: 45 %, ")
    work = sheet(tmp_path, own)
    air, vapor = room_air(work, weather)
    assert air == pytest.approx(20.0)
    assert vapor == pytest.approx(0.45 * float(saturation_pressure(20.0)))
    assert not any("EN 15026" in line for line in work.leaves_out)
    by_class = ("building: {", 'building: {indoor_temp: 68 degF, indoor_class: "3", ')
    _, vapor = room_air(sheet(tmp_path, by_class), weather)
    cold, hot = int(np.argmin(outdoors)), int(np.argmax(outdoors))
    damp = np.repeat(outdoor_mean(weather).reshape(-1, 24).mean(axis=1), 24)
    assert vapor[cold] == pytest.approx(damp[cold] + 810.0)
    assert vapor[hot] == pytest.approx(min(damp[hot], float(saturation_pressure(20.0))))


def outdoor_mean(weather: Weather) -> np.ndarray:
    """Vapor pressure outdoors through the face, which the tests above hold."""
    return outdoor_face(Outdoors(weather, 0.2, 1.0, 0.5), 90.0, 0.0, SKIN).vapor_pa


def words_of(work: Worksheet) -> str:
    return "\n".join(
        [*work.leaves_out, *(str(line.value) for line in work.steps if isinstance(line.value, str))]
    )


def test_what_the_faces_rest_on_is_written(tmp_path: Path, weather: Weather) -> None:
    work = sheet(tmp_path, WEST)
    wall_faces(work, weather)
    text = words_of(work)
    assert BY_CLOUD in text
    assert "rain of the weather file" in text
    assert "below the horizon" not in text
    with_column = sheet(tmp_path, WEST)
    wall_faces(with_column, replace(weather, longwave=np.full(weather.hours, 321.0)))
    assert COLUMN in words_of(with_column)
    assert "estimated" not in words_of(with_column)


@pytest.mark.parametrize("lacking", ["orientation: west", "thickness: 14 in"])
def test_a_wall_that_looks_nowhere_is_unknown(tmp_path: Path, weather: Weather, lacking: str) -> None:
    work = sheet(tmp_path, WEST, (f"    {lacking}\n", ""))
    if "thickness" in lacking:
        wall_faces(work, weather)
        return
    with pytest.raises(Unknown):
        wall_faces(work, weather)
    assert work.missing == ["parapet.orientation: direction the outer face looks to"]


def test_air_below_the_range_of_the_vapor_formulas(tmp_path: Path, weather: Weather) -> None:
    """A place of extreme cold: the hours go on, and their air is nearly without vapor."""
    cold = replace(weather, temp_c=weather.temp_c - 40.0, dew_point_c=weather.dew_point_c - 45.0)
    found = wall_faces(sheet(tmp_path, WEST), cold)
    assert cold.temp_c.min() < -50.0
    frozen = cold.temp_c < -40.0
    assert found.plaster.vapor_pa[frozen].max() < 13.0
    assert np.isfinite(found.room.vapor_pa).all()


# Places, clocks and years


def test_sun_at_night_finds_hours_of_another_clock(weather: Weather, tmp_path: Path) -> None:
    assert sun_at_night(weather) < 0.001
    for wrong in ({"time_zone": 5.0}, {"longitude": 79.95}, {"time_zone": 0.0}):
        assert sun_at_night(replace(weather, place=replace(weather.place, **wrong))) > 0.05, wrong
    work = sheet(tmp_path, WEST)
    wall_faces(work, replace(weather, place=replace(weather.place, time_zone=5.0)))
    assert "falls while it is below the horizon" in words_of(work)


def test_south_of_the_equator_the_north_face_has_the_sun(weather: Weather) -> None:
    """The record half a year on, its place mirrored: a north face there has what a south face has here."""
    half = 24 * 182
    moved = {
        one.name: np.roll(getattr(weather, one.name), half)
        for one in fields(Weather)
        if one.name in ("dni", "dhi", "ghi")
    }
    south = replace(weather, place=replace(weather.place, latitude=-weather.place.latitude), **moved)
    there = {side: sunlight(south, 90.0, side, 0.2).sum() for side in (0.0, 180.0)}
    here = {side: sunlight(weather, 90.0, side, 0.2).sum() for side in (0.0, 180.0)}
    assert there[0.0] > 1.5 * there[180.0]
    assert there[0.0] == pytest.approx(here[180.0], rel=0.03)
    assert there[180.0] == pytest.approx(here[0.0], rel=0.03)


def leap_year(folder: Path) -> Weather:
    lines = epw_lines()
    at = 8 + (31 + 28) * 24
    lines[at:at] = [line.replace("2001,2,28,", "2001,2,29,") for line in lines[at - 24 : at]]
    path = folder / "leap.epw"
    path.write_text("\n".join(lines), encoding="utf-8")
    return load_weather(path)


def test_years_repeat_join_and_keep_their_days(tmp_path: Path, weather: Weather) -> None:
    leap = leap_year(tmp_path)
    near = replace(leap, place=weather.place)
    assert years(weather, 3) == (weather,) * 3
    assert years([weather, near], 5) == (weather, near, weather, near, weather)

    def make(one: Weather) -> WallFaces:
        made.append(one.hours)
        return wall_faces(sheet(tmp_path, WEST), one)

    made: list[int] = []
    several = faces_of_years(years([weather, near], 4), make)
    assert made == [8760, 8784]
    joined = join([faces.plaster for _, faces in several])
    assert joined.air_c.shape == (2 * (8760 + 8784),)
    np.testing.assert_array_equal(joined.sun[:8760], joined.sun[8760 + 8784 : 2 * 8760 + 8784])
    assert near.day_of_year[-1] == 366
    march = 24 * (31 + 28)
    made_up = replace(
        near, **{name: np.delete(getattr(near, name), slice(march, march + 24)) for name in SERIES}
    )
    plain, bent = (sunlight(one, 90.0, 270.0, 0.2) for one in (made_up, near))
    assert bent[march + 24 :].sum() == pytest.approx(plain[march:].sum(), rel=1e-3)  # the day before, no more


def test_years_that_cannot_be(weather: Weather) -> None:
    for files, count in (([], 1), (weather, 0)):
        with pytest.raises(ValueError, match="at least one of each"):
            years(files, count)
    with pytest.raises(ValueError, match="emittances"):
        join([])


# Driving rain and made rain


def test_both_laws_by_loops(tmp_path: Path, weather: Weather) -> None:
    """26 ft + 4 ft in open country: CR = 0.19 ln(9.144/0.05); W 0.5, FE 1.3, FD 0.5."""
    work = sheet(tmp_path, WEST, ("site:\n", "site:\n  terrain: open country\n"))
    found = wall_faces(work, weather).on_plaster
    assert weather.rain_mm is not None
    roughness = 0.19 * np.log(9.144 / 0.05)
    iso = ashrae = 0.0
    for rain, speed, direction in zip(
        weather.rain_mm, weather.wind_speed, weather.wind_direction, strict=True
    ):
        facing = max(np.cos(np.radians(direction - 270.0)), 0.0)
        iso += 2 / 9 * speed * rain ** (8 / 9) * facing * roughness * 0.5
        ashrae += 1.3 * 0.5 * 0.2 * speed * facing * rain
    assert found.year(ISO) == pytest.approx(iso, rel=1e-9)
    assert found.year(ASHRAE) == pytest.approx(ashrae, rel=1e-9)
    assert found.law == (ASHRAE if ashrae > iso else ISO)
    assert found.taken.sum() * 3600.0 == pytest.approx(max(iso, ashrae), rel=1e-9)
    titles = {line.title for line in work.steps}
    for law in (ISO, ASHRAE):
        assert f"rain driven onto the plaster in the year by {law}" in titles
        assert f"rain driven onto the roof side in the year by {law}" in titles


def test_annual_index_is_that_of_the_driving_rain_sheet(tmp_path: Path, weather: Weather) -> None:
    shutil.copy(MIXED_HUMID, tmp_path / "year.csv")
    calc = calculation(driving_rain, tmp_path, WEST, YEAR)
    found = wall_faces(sheet(tmp_path, WEST), weather).on_plaster
    assert found.year(ISO) == pytest.approx(number(calc, "wall_index", "kg/m2"), rel=1e-9)
    assert found.year(ASHRAE) == pytest.approx(number(calc, "load_total", "kg/m2"), rel=1e-9)


@pytest.mark.parametrize("law", [ISO, ASHRAE])
def test_law_of_driving_rain_as_chosen(tmp_path: Path, weather: Weather, law: str) -> None:
    found = wall_faces(sheet(tmp_path, WEST), weather, law=law)  # type: ignore[arg-type]
    assert found.on_plaster.law == law
    np.testing.assert_array_equal(
        found.plaster.rain, getattr(found.on_plaster, "iso" if law == ISO else "ashrae")
    )


@pytest.mark.parametrize("path", [COLD_MARINE, HOT_HUMID])
def test_without_rain_the_sheet_stops(tmp_path: Path, path: Path) -> None:
    work = sheet(tmp_path, WEST)
    with pytest.raises(Unknown):
        wall_faces(work, load_weather(path))
    assert work.missing == [
        "site.rain_months: monthly depths of rain, without snow, as the weather file has no usable hourly rain"
    ]


@pytest.mark.parametrize("path", [COLD_MARINE, HOT_HUMID])
def test_made_rain_has_the_months_and_says_so(tmp_path: Path, path: Path) -> None:
    weather = load_weather(path)
    sums = []
    for seed in SEEDS:
        work = sheet(tmp_path, WEST, MONTHLY)
        found = wall_faces(work, weather, seed=seed)
        marked = f"rain made from monthly totals, seed {seed}"
        assert found.year.basis == marked
        assert marked in [line.value for line in work.steps]
        assert any(marked in line for line in work.leaves_out)
        rain = found.year.rain_mm
        monthly = [float(rain[weather.month == month].sum()) for month in range(1, 13)]
        assert monthly == pytest.approx([90, 80, 100, 80, 90, 100, 0, 90, 100, 80, 80, 110])
        total = [line.value for line in work.steps if line.symbol == "ΣR"]
        assert isinstance(total[0], Quantity)
        assert total[0].value == pytest.approx(1000.0)
        sums.append(found.on_plaster.year(ASHRAE))
    assert len(set(sums)) == len(SEEDS)
    assert min(sums) > 0.0
    assert weather.rain_mm is None  # the record itself stays as it was read


def test_rain_of_the_file_goes_before_monthly_depths(tmp_path: Path, weather: Weather) -> None:
    found = wall_faces(sheet(tmp_path, WEST, MONTHLY), weather)
    assert found.year.seed is None
    np.testing.assert_array_equal(found.year.rain_mm, weather.rain_mm)
