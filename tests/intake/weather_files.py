"""Weather files for the tests: the years that ship inside pvlib, and an EPW file made from one of them."""

from __future__ import annotations

from pathlib import Path

import pvlib

DATA = Path(pvlib.__file__).parent / "data"
MIXED_HUMID = DATA / "723170TYA.CSV"  # TMY3
COLD_MARINE = DATA / "703165TY.csv"  # TMY3
HOT_HUMID = DATA / "12839.tm2"  # TMY2

EPW_HEAD = (
    "LOCATION,Exampleton,XX,YYY,TMY3,000000,36.10,-79.95,-5.0,273.0",
    "DESIGN CONDITIONS,0",
    "TYPICAL/EXTREME PERIODS,0",
    "GROUND TEMPERATURES,0",
    "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
    "COMMENTS 1,made for a test",
    "COMMENTS 2,",
    "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
)
DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def epw_row(month: int, day: int, hour: int, rain: str = "0.0,1.0") -> str:
    """One hour of an EPW file whose numbers depend on the hour, so that a shifted row would show."""
    cells = ["2001", str(month), str(day), str(hour), "0", "?9?9"]
    cells += [f"{10 + hour / 10:.1f}", f"{5 + day / 10:.1f}", str(50 + month), "101325"]
    cells += ["0", "0", "300", str(hour * 10), str(hour * 20), str(hour * 5), "0", "0", "0", "0"]
    cells += [
        str(hour * 15),
        f"{hour / 4:.2f}",
        "5",
        "5",
        "10",
        "7700",
        "9",
        "999999999",
        "10",
        "0.1",
        "0",
        "88",
    ]
    return ",".join([*cells, "0.2", rain])


def epw_lines() -> list[str]:
    """A whole invented EPW year."""
    rows = [
        epw_row(month, day, hour)
        for month, days in enumerate(DAYS, 1)
        for day in range(1, days + 1)
        for hour in range(1, 25)
    ]
    return [*EPW_HEAD, *rows]
