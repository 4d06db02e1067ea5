"""The comparison tables of the inward drive study."""

from __future__ import annotations

from specgen.design.drive_study import DayResult
from specgen.design.drive_walls import BARRIERS, LAYERS
from specgen.design.worksheet import CONDENSATE, NUMBER, Unit, Worksheet
from specgen.model.calculation import CalcTable
from specgen.physics.hygro_hourly import DriveSummary
from specgen.units.quantity import Quantity

HOUR = Unit("time", "h", "h")


def day_table(work: Worksheet, day: DayResult) -> CalcTable:
    """Condensate, hours and drying of every layer with every barrier."""
    rows = []
    for place, layer in enumerate(LAYERS):
        for column, barrier in enumerate(BARRIERS):
            at = place, column
            hours = int(day.dry_after[at])
            rows.append(
                (
                    layer,
                    barrier,
                    work.quantity(day.inward[at], CONDENSATE),
                    work.quantity(day.behind[at], CONDENSATE),
                    work.quantity(day.condensate[at], CONDENSATE),
                    work.quantity(float(day.wet_hours[at]) * 3600.0, HOUR),
                    f"{hours} h" if hours >= 0 else "not dry",
                )
            )
    columns = (
        "drainage layer",
        "barrier",
        "vapor into the gap",
        "vapor through the barrier",
        "condensate",
        "wet",
        "dry after",
    )
    note = (
        "Each class of barrier at its greatest permeance; vapor-open at the practice value. Plaster soaked "
        "all day, then dry."
    )
    return CalcTable("design day", "Design day, plaster soaked", columns, tuple(rows), note)


def year_table(work: Worksheet, name: str, title: str, total: DriveSummary) -> CalcTable:
    """Condensate of a year for every layer with every barrier."""

    def row(layer: str, barrier: str, at: tuple[int, int]) -> tuple[Quantity | str, ...]:
        return (
            layer,
            barrier,
            work.quantity(total.condensed[at], CONDENSATE),
            work.quantity(total.greatest_day[at], CONDENSATE),
            work.quantity(total.greatest[at], CONDENSATE),
            work.quantity(float(total.wet_hours[at]), NUMBER),
        )

    rows = tuple(
        row(layer, barrier, (place, column))
        for place, layer in enumerate(LAYERS)
        for column, barrier in enumerate(BARRIERS)
    )
    columns = (
        "drainage layer",
        "barrier",
        "condensed in the year",
        "most in 24 hours",
        "most at one time",
        "wet hours",
    )
    return CalcTable(name, title, columns, rows)
