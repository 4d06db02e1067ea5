"""Weather files: each format against pvlib's reader, and files that are damaged or hostile."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib.iotools import read_epw, read_tmy2, read_tmy3

from specgen.files.marks import InputError
from specgen.intake.weather import MOST_BYTES, load_weather
from specgen.intake.weather_formats import number
from tests.intake.weather_files import (
    COLD_MARINE,
    EPW_HEAD,
    HOT_HUMID,
    MIXED_HUMID,
    epw_lines,
    epw_row,
)

NAMES = ("temp_c", "dew_point_c", "rh", "pressure_pa", "wind_speed", "wind_direction", "ghi", "dni", "dhi")
TMY3_NAMES = (
    *("Dry-bulb (C)", "Dew-point (C)", "RHum (%)", "Pressure (mbar)", "Wspd (m/s)", "Wdir (degrees)"),
    *("GHI (W/m^2)", "DNI (W/m^2)", "DHI (W/m^2)"),
)
TM2_NAMES = ("DryBulb", "DewPoint", "RHum", "Pressure", "Wspd", "Wdir", "GHI", "DNI", "DHI")
EPW_NAMES = (
    *("temp_air", "temp_dew", "relative_humidity", "atmospheric_pressure", "wind_speed", "wind_direction"),
    *("ghi", "dni", "dhi"),
)


def written(folder: Path, lines: list[str], name: str = "year.epw") -> Path:
    path = folder / name
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def problem(path: Path) -> str:
    with pytest.raises(InputError) as caught:
        load_weather(path, "w")
    return str(caught.value)


@pytest.mark.parametrize("path", [MIXED_HUMID, COLD_MARINE])
def test_tmy3_against_pvlib(path: Path) -> None:
    frame, meta = read_tmy3(path, map_variables=False)
    weather = load_weather(path)
    factors = (1, 1, 0.01, 100, 1, 1, 1, 1, 1)
    for name, column, factor in zip(NAMES, TMY3_NAMES, factors, strict=True):
        np.testing.assert_allclose(getattr(weather, name), frame[column] * factor, rtol=1e-12, err_msg=name)
    assert weather.place.latitude == meta["latitude"]
    assert (weather.place.longitude, weather.place.time_zone) == (meta["longitude"], meta["TZ"])
    assert weather.place.elevation_m == meta["altitude"]
    assert weather.place.name == meta["Name"].strip('"')


def test_tmy2_against_pvlib() -> None:
    frame, meta = read_tmy2(HOT_HUMID)
    weather = load_weather(HOT_HUMID)
    factors = (0.1, 0.1, 0.01, 100, 0.1, 1, 1, 1, 1)
    for name, column, factor in zip(NAMES, TM2_NAMES, factors, strict=True):
        np.testing.assert_allclose(getattr(weather, name), frame[column] * factor, rtol=1e-12, err_msg=name)
    assert weather.place.latitude == pytest.approx(meta["latitude"])
    assert weather.place.longitude == pytest.approx(meta["longitude"])
    assert weather.rain_mm is None


def test_epw_against_pvlib(tmp_path: Path) -> None:
    lines = epw_lines()
    lines[100] = lines[100].replace("0.0,1.0", "3.5,1.0")
    path = written(tmp_path, lines)
    frame, meta = read_epw(path)
    weather = load_weather(path)
    for name, column in zip(NAMES, EPW_NAMES, strict=True):
        factor = 0.01 if name == "rh" else 1.0
        np.testing.assert_allclose(getattr(weather, name), frame[column] * factor, rtol=1e-12, err_msg=name)
    assert weather.rain_mm is not None
    np.testing.assert_array_equal(weather.rain_mm, frame["liquid_precipitation_depth"])
    assert weather.place.elevation_m == meta["altitude"]
    np.testing.assert_array_equal(weather.hour, frame["hour"])


def test_sky_of_epw_against_pvlib(tmp_path: Path) -> None:
    lines = changed(changed(epw_lines(), TOTAL, "7", range(8760)), OPAQUE, "4", range(8760))
    path = written(tmp_path, lines)
    frame, _ = read_epw(path)
    weather = load_weather(path)
    assert weather.longwave is not None
    assert weather.cloud is not None
    np.testing.assert_array_equal(weather.longwave, frame["ghi_infrared"])
    np.testing.assert_allclose(weather.cloud, frame["opaque_sky_cover"] / 10.0)
    assert frame["total_sky_cover"].iloc[0] == 7
    assert weather.notes == ()


def test_cloud_of_typical_years_against_pvlib() -> None:
    for path in (MIXED_HUMID, COLD_MARINE):
        frame, _ = read_tmy3(path, map_variables=False)
        weather = load_weather(path)
        assert weather.longwave is None
        assert weather.cloud is not None
        np.testing.assert_allclose(weather.cloud, frame["OpqCld (tenths)"] / 10.0)
    frame, _ = read_tmy2(HOT_HUMID)
    weather = load_weather(HOT_HUMID)
    assert weather.cloud is not None
    np.testing.assert_allclose(weather.cloud, frame["OpqCld"] / 10.0)


def changed(lines: list[str], cell: int, value: str, hours: range) -> list[str]:
    """The year with one cell of some hours replaced."""
    out = list(lines)
    for hour in hours:
        cells = out[len(EPW_HEAD) + hour].split(",")
        cells[cell] = value
        out[len(EPW_HEAD) + hour] = ",".join(cells)
    return out


INFRARED, TOTAL, OPAQUE = 12, 22, 23


@pytest.mark.parametrize("code", ["9999", "0", "99999"])
def test_infrared_that_is_missing_all_year(tmp_path: Path, code: str) -> None:
    weather = load_weather(written(tmp_path, changed(epw_lines(), INFRARED, code, range(8760))))
    assert weather.longwave is None
    assert weather.notes == ()


def test_short_gap_of_the_sky_is_filled_and_a_long_one_drops_the_column(tmp_path: Path) -> None:
    lines = changed(epw_lines(), INFRARED, "320", range(13, 14))
    short = load_weather(written(tmp_path, changed(lines, INFRARED, "9999", range(11, 13))))
    assert short.longwave is not None
    assert short.longwave[10:14] == pytest.approx([300.0, 300.0 + 20.0 / 3, 300.0 + 40.0 / 3, 320.0])
    assert short.notes == ("longwave: 2 missing hours filled on a straight line",)
    long = load_weather(written(tmp_path, changed(lines, INFRARED, "9999", range(20, 27))))
    assert long.longwave is None
    assert long.notes == ("longwave: 7 hours are missing, more than 6 in a row: it is not used",)


def test_total_cover_stands_in_for_the_opaque(tmp_path: Path) -> None:
    lines = changed(changed(epw_lines(), OPAQUE, "99", range(8760)), TOTAL, "8", range(8760))
    weather = load_weather(written(tmp_path, lines))
    assert weather.cloud is not None
    assert (weather.cloud == 0.8).all()
    none = load_weather(written(tmp_path, changed(lines, TOTAL, "99", range(8760))))
    assert none.cloud is None


@pytest.mark.parametrize(
    ("cell", "text", "found"),
    [
        (INFRARED, "nan", "w:10:1: error: longwave: 'nan' is no number"),
        (INFRARED, "12", "longwave: 12 is outside 30 to 800"),
        (INFRARED, "-300", "longwave: -300 is outside 30 to 800"),
        (OPAQUE, "11", "opaque: 1.1 is outside 0 to 1"),
        (TOTAL, "inf", "covered: 'inf' is no number"),
    ],
)
def test_damaged_sky(tmp_path: Path, cell: int, text: str, found: str) -> None:
    assert found in problem(written(tmp_path, changed(epw_lines(), cell, text, range(1, 2))))


def test_daylight_saving_of_the_head_is_named_and_not_applied(tmp_path: Path) -> None:
    lines = epw_lines()
    plain = load_weather(written(tmp_path, lines))
    lines[4] = "HOLIDAYS/DAYLIGHT SAVINGS,No,3/ 8,11/ 1,0"
    weather = load_weather(written(tmp_path, lines))
    np.testing.assert_array_equal(weather.hour, plain.hour)
    np.testing.assert_array_equal(weather.ghi, plain.ghi)
    assert weather.notes == (
        "daylight saving time is named in the head: hours are read as standard time, as the format has them",
    )


def test_sky_of_a_leap_year_south_of_the_equator(tmp_path: Path) -> None:
    lines = epw_lines()
    at = len(EPW_HEAD) + (31 + 28) * 24
    lines[at:at] = [epw_row(2, 29, hour) for hour in range(1, 25)]
    lines[0] = lines[0].replace("36.10", "-36.10")
    weather = load_weather(written(tmp_path, lines))
    assert weather.place.latitude == -36.1
    assert weather.longwave is not None
    assert weather.longwave.size == 8784


def test_rain_in_tenths_is_told() -> None:
    weather = load_weather(MIXED_HUMID)
    frame, _ = read_tmy3(MIXED_HUMID, map_variables=False)
    assert weather.rain_mm is not None
    np.testing.assert_allclose(weather.rain_mm, frame["Lprecip depth (mm)"] / 10)
    assert 600 < weather.rain_mm.sum() < 1500  # mm a year, humid climate
    assert "divided by 10" in weather.notes[0]


def test_rain_with_holes_is_not_used() -> None:
    weather = load_weather(COLD_MARINE)
    assert weather.rain_mm is None
    assert "8011 hours have no rain depth" in weather.notes[0]


def test_arrays_are_read_only() -> None:
    weather = load_weather(HOT_HUMID)
    with pytest.raises(ValueError, match="read-only"):
        weather.temp_c[0] = 1.0
    with pytest.raises(ValueError, match="read-only"):
        weather.month[0] = 2


def test_leap_year(tmp_path: Path) -> None:
    lines = epw_lines()
    at = len(EPW_HEAD) + (31 + 28) * 24
    lines[at:at] = [epw_row(2, 29, hour) for hour in range(1, 25)]
    weather = load_weather(written(tmp_path, lines))
    assert weather.hours == 8784
    assert weather.day_of_year[-1] == 366


def test_short_gap_is_filled_and_told(tmp_path: Path) -> None:
    lines = epw_lines()
    for at in (20, 21):
        cells = lines[at].split(",")
        cells[6] = "99.9"
        lines[at] = ",".join(cells)
    weather = load_weather(written(tmp_path, lines))
    ends = weather.temp_c[11], weather.temp_c[14]
    assert weather.temp_c[12] == pytest.approx(ends[0] + (ends[1] - ends[0]) / 3)
    assert weather.notes == ("temp_c: 2 missing hours filled on a straight line",)


@pytest.mark.parametrize(
    ("cell", "code", "found"),
    [
        (6, "99.9", "w:21:1: error: temp_c is missing for more than 6 hours"),
        (14, "9999", "w:21:1: error: dni is missing for more than 0 hours"),
    ],
)
def test_long_gap(tmp_path: Path, cell: int, code: str, found: str) -> None:
    lines = epw_lines()
    for at in range(20, 27):
        cells = lines[at].split(",")
        cells[cell] = code
        lines[at] = ",".join(cells)
    assert found in problem(written(tmp_path, lines))


def test_missing_wind_direction_and_few_rain_gaps(tmp_path: Path) -> None:
    lines = epw_lines()
    cells = lines[50].split(",")
    cells[20], cells[33] = "999", "999"
    lines[50] = ",".join(cells)
    weather = load_weather(written(tmp_path, lines))
    assert weather.wind_direction[42] == 0.0
    assert weather.rain_mm is not None
    assert weather.rain_mm[42] == 0.0
    assert len(weather.notes) == 2


@pytest.mark.parametrize("rain", ["999,99", "3.0,6"])
def test_rain_missing_or_gathered(tmp_path: Path, rain: str) -> None:
    lines = [line.replace(",0.0,1.0", f",{rain}") for line in epw_lines()]
    assert load_weather(written(tmp_path, lines)).rain_mm is None


def test_old_epw_without_rain_columns(tmp_path: Path) -> None:
    lines = epw_lines()
    lines = lines[:8] + [",".join(line.split(",")[:32]) for line in lines[8:]]
    assert load_weather(written(tmp_path, lines)).rain_mm is None


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        (",101325,", ",nan,", "w:9:1: error: pressure_pa: 'nan' is no number"),
        (",101325,", ",1e9999,", "w:9:1: error: pressure_pa: '1e9999' is no number"),
        (",101325,", ",1_0,", "'1_0' is no number"),
        (",101325,", ",12,", "pressure_pa: 12 is outside 30000 to 110000"),
        (",101325,", ",101325,7,7,", "w:9:1: error: 37 fields, 35 are wanted"),
        ("2001,1,1,1,", "2001,1,1,3,", "w:9:1: error: month 1, day 1, hour 1 is wanted here"),
        ("2001,1,1,1,", "2001,x,1,1,", "w:9:1"),
        ("2001,1,1,1,", "2001,99999999999999999999,1,1,", "w:9:1"),
    ],
)
def test_damaged_row(tmp_path: Path, old: str, new: str, found: str) -> None:
    lines = epw_lines()
    assert old in lines[8]
    lines[8] = lines[8].replace(old, new)
    assert found in problem(written(tmp_path, lines))


@pytest.mark.parametrize(
    ("line", "text", "found"),
    [
        (0, "LOCATION,a,b", "w:1:1: error: LOCATION has 3 fields"),
        (0, EPW_HEAD[0].replace("36.10", "136.1"), "latitude 136.1 is outside"),
        (0, EPW_HEAD[0].replace("36.10", "north"), "'north' is no number"),
        (7, "DATA PERIODS,1,4,Data,Sunday,1/1,12/31", "more than one data period or record an hour"),
        (7, "nothing", "line 8 is not DATA PERIODS"),
        (0, "something else", "not a weather file"),
    ],
)
def test_damaged_head(tmp_path: Path, line: int, text: str, found: str) -> None:
    lines = epw_lines()
    lines[line] = text
    assert found in problem(written(tmp_path, lines))


def test_cut_file(tmp_path: Path) -> None:
    assert "5000 hours after the head" in problem(written(tmp_path, epw_lines()[:5008]))
    assert "line 8 is not DATA PERIODS" in problem(written(tmp_path, epw_lines()[:3]))


def test_not_text_too_long_too_large_absent(tmp_path: Path) -> None:
    assert "there is no such file" in problem(tmp_path / "none.epw")
    assert "this is a folder" in problem(tmp_path)
    path = tmp_path / "w"
    path.write_bytes(b"")
    assert "the file is empty" in problem(path)
    path.write_bytes(b"LOCATION," + b"x" * 5000)
    assert "a line of more than" in problem(path)
    path.write_bytes(b"LOCATION,\0\0\n")
    assert "not text" in problem(path)
    with path.open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    assert f"bytes, limit {MOST_BYTES}" in problem(path)


def test_tmy3_without_a_column_and_short_tm2_line(tmp_path: Path) -> None:
    lines = MIXED_HUMID.read_text(encoding="utf-8").splitlines()
    lines[1] = lines[1].replace("Dew-point (C)", "Dew (C)")
    assert "w:2:1: error: no column 'Dew-point (C)'" in problem(written(tmp_path, lines))
    lines = HOT_HUMID.read_text(encoding="utf-8").splitlines()
    lines[5] = lines[5][:60]
    assert "w:6:1: error: 60 characters, 142 are wanted" in problem(written(tmp_path, lines))


def test_many_problems_are_cut(tmp_path: Path) -> None:
    lines = [line.replace(",101325,", ",x,") for line in epw_lines()]
    assert problem(written(tmp_path, lines)).count("error:") == 20


@given(st.binary(max_size=3000))
def test_any_bytes_give_a_problem(tmp_path_factory: pytest.TempPathFactory, content: bytes) -> None:
    path = tmp_path_factory.mktemp("bytes") / "w"
    path.write_bytes(content)
    with pytest.raises(InputError):
        load_weather(path)


@given(st.text(max_size=20))
def test_number_is_finite_or_refused(cell: str) -> None:
    try:
        assert np.isfinite(number(cell))
    except ValueError:
        return


LINES = epw_lines()


@settings(max_examples=20)
@given(
    st.integers(0, len(LINES) - 1),
    st.integers(0, 34),
    st.one_of(st.text(max_size=12), st.floats(width=32).map(str), st.integers(-(10**30), 10**30).map(str)),
)
def test_one_damaged_cell_is_read_or_told_at_its_line(
    tmp_path_factory: pytest.TempPathFactory, at: int, cell: int, text: str
) -> None:
    """Any text in any cell: a year of finite numbers, or problems; never another error, never NaN."""
    cells = LINES[at].split(",")
    cells[min(cell, len(cells) - 1)] = text
    path = written(tmp_path_factory.mktemp("cell"), [*LINES[:at], ",".join(cells), *LINES[at + 1 :]])
    try:
        weather = load_weather(path)
    except InputError as error:
        assert all(problem.mark.line >= 1 for problem in error.problems)
        return
    for name in (*NAMES, "rain_mm", "longwave", "cloud"):
        series = getattr(weather, name)
        assert series is None or np.isfinite(series).all(), name
