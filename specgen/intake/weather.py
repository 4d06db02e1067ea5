"""A weather file that the user names (EPW, TMY3, TMY2) to a :class:`Weather`, with every problem at its line."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from pathlib import Path
from typing import TypeAlias

from specgen.arrays import NDArray, np
from specgen.files.foreign import foreign_bytes
from specgen.files.marks import InputError, InputProblem, Mark
from specgen.intake.weather_formats import (
    DAYLIGHT_SAVING,
    EPW_HEAD,
    SKY_RANGES,
    Column,
    Form,
    FormatError,
    number,
    recognise,
)
from specgen.model.weather import Hours, Weather

MOST_BYTES = 20_000_000
LONGEST_LINE = 4_000
YEARS = {8760: 2001, 8784: 2000}  # hours of a record to a year of that length, for its calendar
MOST_PROBLEMS = 20
LONGEST_GAP = 6  # hours that are filled on a straight line
FILLED = ("temp_c", "dew_point_c", "rh", "pressure_pa", "wind_speed")
RAIN_GAPS = 0.01  # share of the hours that may lack a rain depth and count as dry
MOST_RAIN = 500.0  # mm in an hour
WET_HOURS_FOR_PATTERN = 30
PATTERN_SHARE = 0.9  # depths in millimetres would fall on such steps four times in ten
HUNDREDTH_INCH = 2.54  # tenths of a millimetre in a hundredth of an inch

Grid: TypeAlias = "NDArray[np.float64]"


def load_weather(path: Path, named: str = "") -> Weather:
    """Read one year of hourly weather.

    Args:
        path: the file; its format is told by its content.
        named: how messages name it; its path if empty.

    Returns:
        The year, its arrays read-only.

    Raises:
        InputError: the file cannot be read, is too large, of no known format, not a whole year in order, or has
            values that are no numbers, out of range or missing over more than 6 hours in a row.
    """
    name = named or str(path)
    content = foreign_bytes(
        path, MOST_BYTES, "a weather file", "a year of hourly weather is far smaller", name
    )
    lines = _lines(content, name)
    try:
        form, place = recognise(lines)
    except FormatError as error:
        raise _unusable(name, error.line, error.message, error.fix) from error
    rows = lines[form.head :]
    if len(rows) not in YEARS:
        fix = "8760 hours make a year, 8784 a leap year: the file is cut or not hourly"
        raise _unusable(name, max(len(lines) - 1, 0), f"{len(rows)} hours after the head", fix)
    times, grid = _values(form, rows, name)
    _check_order(times, form, name)
    notes: list[str] = []
    values = _filled(form, grid, name, notes)
    rain = _rain(values, notes)
    longwave, cloud = (_sky(values, names, notes) for names in (("longwave",), ("opaque", "covered")))
    notes += _daylight_saving(lines)
    for array in (times, *values.values(), rain, longwave, cloud):
        if array is not None:
            array.flags.writeable = False
    year, month, day, hour = (times[:, part] for part in range(4))
    return Weather(
        place=place,
        format=form.name,
        path=name,
        year=year,
        month=month,
        day=day,
        hour=hour,
        temp_c=values["temp_c"],
        dew_point_c=values["dew_point_c"],
        rh=values["rh"],
        pressure_pa=values["pressure_pa"],
        wind_speed=values["wind_speed"],
        wind_direction=values["wind_direction"],
        ghi=values["ghi"],
        dni=values["dni"],
        dhi=values["dhi"],
        rain_mm=rain,
        notes=tuple(notes),
        sha256=hashlib.sha256(content).hexdigest(),
        longwave=longwave,
        cloud=cloud,
    )


def _unusable(name: str, line: int, message: str, fix: str = "") -> InputError:
    return InputError([InputProblem(Mark(name, line + 1, 1), message, fix)])


def _lines(content: bytes, name: str) -> list[str]:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")  # place names in older files
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    while lines and not lines[-1].strip("\x1a \t"):
        lines.pop()
    if not lines:
        raise _unusable(name, 0, "the file is empty")
    for at, line in enumerate(lines):
        if len(line) > LONGEST_LINE or "\0" in line:
            raise _unusable(name, at, f"a line of more than {LONGEST_LINE} characters, or not text")
    return lines


def _values(form: Form, rows: Sequence[str], name: str) -> tuple[NDArray[np.int64], Grid]:
    """Year, month, day, hour; and the columns with NaN where the file says missing."""
    problems: list[InputProblem] = []
    times = np.zeros((len(rows), 4), dtype=np.int64)
    grid = np.full((len(rows), len(form.columns)), np.nan)
    for hour, row in enumerate(rows):
        if len(problems) >= MOST_PROBLEMS:
            break
        mark = Mark(name, form.head + hour + 1, 1)
        try:
            cells = form.cells(row)
            if not form.widths[0] <= len(cells) <= form.widths[1]:
                raise ValueError(f"{len(cells)} fields, {form.widths[1]} are wanted")
            times[hour] = form.time(cells)
        except (ValueError, OverflowError) as error:
            problems.append(InputProblem(mark, str(error)))
            continue
        for place, column in enumerate(form.columns):
            if column.at >= len(cells):
                continue
            try:
                grid[hour, place] = _value(column, cells[column.at])
            except ValueError as error:
                problems.append(InputProblem(mark, f"{column.name}: {error}"))
    if problems:
        raise InputError(problems[:MOST_PROBLEMS])
    return times, grid


def _value(column: Column, cell: str) -> float:
    written = number(cell)
    if column.missing(written):
        return np.nan
    value = written * column.factor
    if not column.low <= value <= column.high:
        raise ValueError(f"{value:g} is outside {column.low:g} to {column.high:g}")
    return value


def _check_order(times: NDArray[np.int64], form: Form, name: str) -> None:
    """Hours follow each other from 1 January, 01:00, to 31 December, 24:00."""
    first = np.datetime64(f"{YEARS[len(times)]}-01-01", "h")
    expected = first + np.arange(len(times))
    months = expected.astype("datetime64[M]")
    days = (expected.astype("datetime64[D]") - months.astype("datetime64[D]")).astype(np.int64) + 1
    wanted = np.stack((months.astype(np.int64) % 12 + 1, days, np.arange(len(times)) % 24 + 1), axis=1)
    wrong = np.nonzero((times[:, 1:] != wanted).any(axis=1))[0]
    if wrong.size:
        at = int(wrong[0])
        month, day, hour = wanted[at]
        message = f"month {month}, day {day}, hour {hour} is wanted here"
        raise _unusable(name, form.head + at, message, "hours are missing or out of order")


def _filled(form: Form, grid: Grid, name: str, notes: list[str]) -> dict[str, Hours]:
    """Every column by name; short gaps filled, a longer one is a problem."""
    values = {column.name: grid[:, place].copy() for place, column in enumerate(form.columns)}
    humid = ("dew_point_c", "rh")
    for one, other in (humid, humid[::-1]):
        if np.isnan(values[one]).all() and not np.isnan(values[other]).all():
            raise _unusable(name, form.head, f"{one} is missing all year", "use a file that has it")
    problems = []
    for key, series in values.items():
        gaps = np.isnan(series)
        if key in ("rain_mm", "rain_hours", *SKY_RANGES) or not gaps.any():
            continue
        if key == "wind_direction":
            series[gaps] = 0.0
            notes.append(f"{key}: {int(gaps.sum())} missing hours read as 0, calm or unknown")
            continue
        at = _long_gap(gaps, LONGEST_GAP if key in FILLED else 0)
        if at is not None:
            message = f"{key} is missing for more than {LONGEST_GAP if key in FILLED else 0} hours from here"
            problems.append(
                InputProblem(Mark(name, form.head + at + 1, 1), message, "use a file without this gap")
            )
            continue
        _fill(key, series, gaps, notes)
    if problems:
        raise InputError(problems)
    np.minimum(values["rh"], 1.0, out=values["rh"])
    return values


def _fill(key: str, series: Hours, gaps: NDArray[np.bool_], notes: list[str]) -> None:
    hours = np.arange(series.size)
    series[gaps] = np.interp(hours[gaps], hours[~gaps], series[~gaps])
    notes.append(f"{key}: {int(gaps.sum())} missing hours filled on a straight line")


def _sky(values: dict[str, Hours], names: Sequence[str], notes: list[str]) -> Hours | None:
    """The first column that the file has with no gap of more than 6 hours; None without one."""
    for name in names:
        series = values.get(name)
        if series is None or np.isnan(series).all():
            continue
        gaps = np.isnan(series)
        if _long_gap(gaps, LONGEST_GAP) is not None:
            notes.append(
                f"{name}: {int(gaps.sum())} hours are missing, more than {LONGEST_GAP} in a row: it is not used"
            )
            continue
        if gaps.any():
            _fill(name, series, gaps, notes)
        return series
    return None


def _daylight_saving(lines: Sequence[str]) -> list[str]:
    """A note where an EPW head names days of daylight saving: the records are in standard time all the same."""
    head = next((line for line in lines[:EPW_HEAD] if line.startswith(DAYLIGHT_SAVING)), "")
    start, end = (*head.split(",")[2:4], "", "")[:2]
    if all(day.strip() in ("", "0") for day in (start, end)):
        return []
    return [
        "daylight saving time is named in the head: hours are read as standard time, as the format has them"
    ]


def _long_gap(gaps: NDArray[np.bool_], longest: int) -> int | None:
    """Where the first run of missing hours longer than allowed begins."""
    edges = np.diff(np.concatenate(([0], gaps.astype(np.int8), [0])))
    starts, ends = np.nonzero(edges == 1)[0], np.nonzero(edges == -1)[0]
    too_long = np.nonzero(ends - starts > longest)[0]
    return int(starts[too_long[0]]) if too_long.size else None


def _rain(values: dict[str, Hours], notes: list[str]) -> Hours | None:
    """Rain of each hour [mm], or None where the file does not give it hour by hour."""
    depth = values.get("rain_mm")
    if depth is None or np.isnan(depth).all():
        notes.append("rain_mm: the file has no rain depth")
        return None
    gaps = np.isnan(depth)
    if gaps.mean() > RAIN_GAPS:
        notes.append(f"rain_mm: {int(gaps.sum())} hours have no rain depth: rain is not used")
        return None
    wet = np.nan_to_num(depth) > 0.0
    if np.fmax.reduce(values["rain_hours"][wet], initial=1.0) > 1.0:
        notes.append("rain_mm: depths are gathered over more than one hour: rain is not used")
        return None
    if gaps.any():
        notes.append(f"rain_mm: {int(gaps.sum())} hours without rain depth read as dry")
    rain = np.where(gaps, 0.0, depth)
    if _in_tenths(rain[wet]):
        notes.append(
            "rain_mm: depths are hundredths of an inch written in tenths of a millimetre: divided by 10"
        )
        rain = rain / 10.0
    if rain.max() > MOST_RAIN:
        notes.append(f"rain_mm: {rain.max():g} mm in an hour cannot be: rain is not used")
        return None
    return rain


def _in_tenths(depths: Hours) -> bool:
    """Whether depths are whole hundredths of an inch in tenths of a millimetre, as older typical years write."""
    if depths.size < WET_HOURS_FOR_PATTERN:
        return False
    whole = np.round(np.round(depths / HUNDREDTH_INCH) * HUNDREDTH_INCH)
    return float((whole == depths).mean()) >= PATTERN_SHARE
