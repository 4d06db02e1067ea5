"""Changes to the small project for the hourly moisture calculations."""

from __future__ import annotations

import shutil
from pathlib import Path

from specgen.model.calculation import CalcTable, Calculation
from specgen.units.quantity import Quantity, to_unit
from tests.intake.weather_files import MIXED_HUMID

PLACE = ("site:\n", "site:\n  latitude: 36.1 deg\n")
WEST = ("    height: 4 ft\n", "    height: 4 ft\n    orientation: west\n    thickness: 14 in\n")
EVENT = (
    "site:\n",
    "site:\n  rain_event: 25.4 mm\n  rain_event_time: 90 min\n  rain_event_wind: 10 m/s\n  terrain: open country\n",
)
YEAR = ("site:\n", "site:\n  weather: year.csv\n")
NO_LIMIT = ("    condensate_limit: 5 g/m2\n", "")
OPEN_TOP = ("kind: dimpled sheet, depth: 7/16 in", "kind: dimpled sheet, depth: 7/16 in, open_at_top: yes")


def with_year(folder: Path) -> Path:
    """Put the mixed-humid year beside the project."""
    shutil.copy(MIXED_HUMID, folder / "year.csv")
    return folder


def column(calc: Calculation, table: str, head: str, unit: str = "") -> dict[tuple[str, str], float]:
    """One column of a table: drainage layer and barrier to its number."""
    found: CalcTable = next(one for one in calc.tables if one.name == table)
    place = found.columns.index(head)
    out = {}
    for row in found.rows:
        cell = row[place]
        assert isinstance(cell, Quantity)
        out[str(row[0]), str(row[1])] = to_unit(cell, unit) if unit else cell.value
    return out


def step(calc: Calculation, symbol: str, unit: str) -> float:
    """A step by its symbol, in a unit."""
    value = next(line.value for line in calc.steps if line.symbol == symbol)
    assert isinstance(value, Quantity)
    return to_unit(value, unit)
