"""The three weather file formats: where each column stands, its unit, range and code for a missing value.

EPW: the published data dictionary of the weather format. TMY3: Users Manual for TMY3 Data Sets (NREL
TP-581-43156). TM2: User's Manual for TMY2s (NREL SP-463-7668). The codes for missing values are those of the
first two; TMY2 fills its gaps and the manual's 9999 and 999 are kept as a guard.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from specgen.files.marks import shown
from specgen.model.weather import WeatherPlace


class FormatError(ValueError):
    """A line cannot be read: its number counted from 0, what is wrong, and the fix."""

    def __init__(self, line: int, message: str, fix: str = "") -> None:
        super().__init__(message)
        self.line, self.message, self.fix = line, message, fix


@dataclass(frozen=True)
class Column:
    """One quantity: where it stands, factor to our unit, its range in our unit, and when it is missing."""

    name: str
    at: int
    low: float
    high: float
    missing: Callable[[float], bool]
    factor: float = 1.0


@dataclass(frozen=True)
class Form:
    """A format: rows before the data, how a line splits, columns, and how date and hour are read."""

    name: str
    head: int
    cells: Callable[[str], Sequence[str]]
    columns: tuple[Column, ...]
    time: Callable[[Sequence[str]], tuple[int, int, int, int]]  # year, month, day, hour 1 to 24
    widths: tuple[int, int]  # fewest and most cells


def _above(code: float) -> Callable[[float], bool]:
    return lambda value: value >= code


def _tmy3_missing(value: float) -> bool:
    return value <= -9900.0


def _no_sky(code: float) -> Callable[[float], bool]:
    """Missing infrared radiation: the code, or nothing at all, which no sky sends."""
    return lambda value: value >= code or value == 0.0


def _sky(
    names: Sequence[str],
    places: Sequence[int],
    missing: Sequence[Callable[[float], bool]],
) -> tuple[Column, ...]:
    """Columns of `SKY_RANGES`; cover is written in tenths."""
    return tuple(
        Column(name, at, *SKY_RANGES[name], code, 1.0 if name == "longwave" else 0.1)
        for name, at, code in zip(names, places, missing, strict=True)
    )


def _columns(
    places: Sequence[int],
    missing: Sequence[Callable[[float], bool]],
    factors: Sequence[float],
) -> tuple[Column, ...]:
    """The columns in the order of `RANGES`."""
    return tuple(
        Column(name, at, low, high, code, factor)
        for (name, (low, high)), at, code, factor in zip(
            RANGES.items(), places, missing, factors, strict=False
        )
    )


RANGES = {
    "temp_c": (-90.0, 70.0),
    "dew_point_c": (-90.0, 50.0),
    "rh": (0.0, 1.1),
    "pressure_pa": (30_000.0, 110_000.0),
    "wind_speed": (0.0, 100.0),
    "wind_direction": (0.0, 360.0),
    "ghi": (0.0, 1500.0),
    "dni": (0.0, 1500.0),
    "dhi": (0.0, 1500.0),
    "rain_mm": (0.0, 5000.0),  # as written; what remains above MOST_RAIN is not used
    "rain_hours": (0.0, 99.0),
}
SKY_RANGES = {"longwave": (30.0, 800.0), "opaque": (0.0, 1.0), "covered": (0.0, 1.0)}
"""Long waves of the sky [W/m²]; opaque and total cloud cover [-]. A file may lack them."""
EPW_HEAD = 8
DAYLIGHT_SAVING = "HOLIDAYS/DAYLIGHT SAVING"  # the head of an EPW line; some files write SAVINGS
EPW_WITHOUT_RAIN, EPW_WITH_RAIN = 32, 35


def _comma(line: str) -> Sequence[str]:
    return line.split(",")


def _epw_time(cells: Sequence[str]) -> tuple[int, int, int, int]:
    year, month, day, hour = (int(cell) for cell in cells[:4])
    return year, month, day, hour


_EPW_MISSING = (
    *(_above(99.9), _above(99.9), _above(999.0), _above(999_999.0), _above(999.0), _above(999.0)),
    *(_above(9999.0), _above(9999.0), _above(9999.0), _above(999.0), _above(99.0)),
)
EPW = Form(
    "EPW",
    EPW_HEAD,
    _comma,
    (
        *_columns((6, 7, 8, 9, 21, 20, 13, 14, 15, 33, 34), _EPW_MISSING, (1.0, 1.0, 0.01, *(1.0,) * 8)),
        *_sky(("longwave", "opaque", "covered"), (12, 23, 22), (_no_sky(9999.0), _above(99.0), _above(99.0))),
    ),
    _epw_time,
    (EPW_WITHOUT_RAIN, EPW_WITH_RAIN),
)

TMY3_HEADS = (
    *("Dry-bulb (C)", "Dew-point (C)", "RHum (%)", "Pressure (mbar)", "Wspd (m/s)", "Wdir (degrees)"),
    *("GHI (W/m^2)", "DNI (W/m^2)", "DHI (W/m^2)", "Lprecip depth (mm)", "Lprecip quantity (hr)"),
)


def _tmy3_time(cells: Sequence[str]) -> tuple[int, int, int, int]:
    date = re.fullmatch(r"(\d{1,2})/(\d{1,2})/(\d{4})", cells[0].strip())
    clock = re.fullmatch(r"(\d{1,2}):00", cells[1].strip())
    if not date or not clock:
        raise ValueError("no date MM/DD/YYYY and whole hour HH:00")
    month, day, year = (int(part) for part in date.groups())
    return year, month, day, int(clock[1])


def tmy3_form(lines: Sequence[str]) -> Form:
    """TMY3 with its columns found by their heads.

    Raises:
        FormatError: a column is missing.
    """
    heads = [head.strip() for head in _comma(lines[1])]
    absent = [head for head in TMY3_HEADS if head not in heads]
    if absent:
        raise FormatError(1, f"no column {absent[0]!r}", "export the file again as TMY3")
    places = [heads.index(head) for head in TMY3_HEADS]
    factors = (1.0, 1.0, 0.01, 100.0, *(1.0,) * 7)
    columns = _columns(places, (_tmy3_missing,) * len(places), factors)
    sky = {
        name: heads.index(head)
        for name, head in (("opaque", "OpqCld (tenths)"), ("covered", "TotCld (tenths)"))
        if head in heads
    }
    columns += _sky(tuple(sky), tuple(sky.values()), (_tmy3_missing,) * len(sky))
    return Form("TMY3", 2, _comma, columns, _tmy3_time, (len(heads), len(heads)))


# First and last character of year, month, day, hour and of each column of RANGES; TMY2 has no rain depth.
TM2_TIME = ((1, 3), (3, 5), (5, 7), (7, 9))
TM2_PLACES = ((67, 71), (73, 77), (79, 82), (84, 88), (95, 98), (90, 93), (17, 21), (23, 27), (29, 33))
TM2_SKY = ((63, 65), (59, 61))  # opaque and total cover
TM2_LENGTH = 142
_TM2_MISSING = (
    *(_above(9999.0),) * 2,
    _above(999.0),
    _above(9999.0),
    *(_above(999.0),) * 2,
    *(_above(9999.0),) * 3,
)


def _fixed(line: str) -> Sequence[str]:
    if len(line) < TM2_LENGTH:
        raise ValueError(f"{len(line)} characters, {TM2_LENGTH} are wanted")
    return [line[first:last] for first, last in (*TM2_TIME, *TM2_PLACES, *TM2_SKY)]


def _tm2_time(cells: Sequence[str]) -> tuple[int, int, int, int]:
    year, month, day, hour = (int(cell) for cell in cells[:4])
    return 1900 + year, month, day, hour


TM2 = Form(
    "TM2",
    1,
    _fixed,
    (
        *_columns(range(4, 13), _TM2_MISSING, (0.1, 0.1, 0.01, 100.0, 0.1, 1.0, 1.0, 1.0, 1.0)),
        *_sky(("opaque", "covered"), (13, 14), (_above(99.0),) * 2),
    ),
    _tm2_time,
    (15, 15),
)
_TM2_HEAD = re.compile(
    r"\s*\d{5} (?P<name>.{22}) (?P<state>[A-Z]{2}) +(?P<tz>-?\d+)"
    r" (?P<ns>[NS]) +(?P<lat>\d+) +(?P<latm>\d+) (?P<ew>[EW]) +(?P<lon>\d+) +(?P<lonm>\d+) +(?P<up>-?\d+)\s*"
)


def recognise(lines: Sequence[str]) -> tuple[Form, WeatherPlace]:
    """The format of a weather file, by its first lines, and its place.

    Raises:
        FormatError: none of the three, or its head is damaged.
    """
    if lines and lines[0].startswith("LOCATION,"):
        return EPW, _epw_place(lines)
    if len(lines) > 1 and lines[1].lstrip().startswith("Date (MM/DD/YYYY)"):
        return tmy3_form(lines), _tmy3_place(lines[0])
    head = _TM2_HEAD.fullmatch(lines[0]) if lines else None
    if head:
        north = 1.0 if head["ns"] == "N" else -1.0
        east = 1.0 if head["ew"] == "E" else -1.0
        latitude = north * (int(head["lat"]) + int(head["latm"]) / 60.0)
        longitude = east * (int(head["lon"]) + int(head["lonm"]) / 60.0)
        return TM2, _place(head["name"], latitude, longitude, float(head["tz"]), float(head["up"]))
    raise FormatError(0, "not a weather file that is known here", "use EPW, TMY3 (.csv) or TMY2 (.tm2)")


def _epw_place(lines: Sequence[str]) -> WeatherPlace:
    cells = _comma(lines[0])
    if len(cells) != 10:
        raise FormatError(0, f"LOCATION has {len(cells)} fields, 10 are wanted")
    last = lines[EPW_HEAD - 1] if len(lines) >= EPW_HEAD else ""
    periods = _comma(last)
    if periods[0] != "DATA PERIODS":
        raise FormatError(
            min(len(lines), EPW_HEAD) - 1, "line 8 is not DATA PERIODS", "download the file again"
        )
    if [cell.strip() for cell in periods[1:3]] != ["1", "1"]:
        raise FormatError(
            EPW_HEAD - 1, "more than one data period or record an hour", "use hourly records of one year"
        )
    return _place(cells[1], *_floats(0, cells[6:10]))


def _tmy3_place(line: str) -> WeatherPlace:
    cells = _comma(line)
    if len(cells) < 7:
        raise FormatError(0, f"the first line has {len(cells)} fields, 7 are wanted")
    zone, latitude, longitude, up = _floats(0, cells[-4:])
    return _place(",".join(cells[1:-5]), latitude, longitude, zone, up)


def _floats(line: int, cells: Sequence[str]) -> list[float]:
    try:
        return [number(cell) for cell in cells]
    except ValueError as error:
        raise FormatError(line, f"latitude, longitude, time zone, elevation: {error}") from error


def _place(name: str, latitude: float, longitude: float, zone: float, up: float) -> WeatherPlace:
    for title, value, low, high in (
        ("latitude", latitude, -90.0, 90.0),
        ("longitude", longitude, -180.0, 180.0),
        ("time zone", zone, -12.0, 14.0),
        ("elevation", up, -500.0, 9000.0),
    ):
        if not low <= value <= high:
            raise FormatError(0, f"{title} {value:g} is outside {low:g} to {high:g}")
    printable = "".join(character for character in name if character.isprintable())
    return WeatherPlace(" ".join(printable.strip(' "').split())[:80], latitude, longitude, zone, up)


_NUMBER = re.compile(r"\s*[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,2})?\s*", re.ASCII)


def number(cell: str) -> float:
    """A plain decimal number; no NaN, no infinity, no other script's digits.

    Raises:
        ValueError: it is none.

    >>> number(" 12.5 ")
    12.5
    """
    if len(cell) > 40 or not _NUMBER.fullmatch(cell):
        raise ValueError(f"{shown(cell)} is no number")
    return float(cell)
