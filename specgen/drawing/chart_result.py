"""The charts of a kept result of hours: each cut over its years, and what its leak does to the mold index."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from specgen.arrays import np
from specgen.drawing.chart import MOST_LINES, Calendar
from specgen.drawing.chart_hours import ChartPanel, LimitLine, over_years
from specgen.drawing.shapes import Drawing
from specgen.model.hourly import OTHER, CutHours, HourlyResult, PlaceHours
from specgen.practice.entries import Practice
from specgen.units.quantity import to_unit

MONTHS_A_YEAR: Final = 12
MOST_INDEX: Final = 6.0


@dataclass(frozen=True)
class ChartLimits:
    """What the lines are held against, as printed: wood by mass [%] and the mold index."""

    wet: float
    decay: float
    mold: float

    @classmethod
    def of(cls, practice: Practice) -> ChartLimits:
        """The limits of the trade."""
        wet, decay = (to_unit(practice.quantity(f"hours.{name}"), "%") for name in ("wood_wet", "wood_decay"))
        return cls(wet, decay, practice.quantity("hours.mold_index").value)


def result_charts(result: HourlyResult, practice: Practice) -> tuple[Drawing, ...]:
    """A chart for each cut of a result that has the course of its months.

    Moisture content of wood and gypsum and humidity elsewhere, month by month, and the greatest mold index of each year,
    without a leak past the barrier; of more than five places those that are wettest.

    Args:
        result: as kept.
        practice: the limits.

    Returns:
        The charts, in the order of the cuts; none for a cut without whole years.
    """
    limits = ChartLimits.of(practice)
    charts = (_chart(result, cut, limits) for cut in result.cuts)
    return tuple(one for one in charts if one is not None)


def _chart(result: HourlyResult, cut: CutHours, limits: ChartLimits) -> Drawing | None:
    run = cut.at(0.0)
    if run is None:
        return None
    chosen = _chosen(run.places, cut.course)
    months = min((len(cut.course[one.name]) for one in chosen), default=0) // MONTHS_A_YEAR * MONTHS_A_YEAR
    if not months:
        return None
    years = Calendar.alike(months // MONTHS_A_YEAR, "month")
    by_mass = tuple(n for n, one in enumerate(chosen) if one.sort != OTHER)
    by_air = tuple(n for n, one in enumerate(chosen) if one.sort == OTHER)
    wood = (LimitLine(limits.wet, "wet wood"), LimitLine(limits.decay, "wood decays"))
    panels = []
    for of, name, unit, against in (
        (by_mass, "moisture content", "% by mass", wood),
        (by_air, "relative humidity", "%", ()),
    ):
        if of:
            columns = [cut.course[chosen[number].name][:months] for number in of]
            panels.append(ChartPanel(name, unit, 100.0 * np.array(columns).T, against, of=of))
    panels += _mold(chosen, limits)
    rain = f"{100.0 * cut.always:.3g} % of the rain reaches the barrier, none gets past it"
    title = f"{result.parapet}, {cut.cut}: {rain}"
    name = f"hours-{result.parapet}-{cut.cut}"
    return over_years(name, title, [one.name for one in chosen], panels, years)


def _mold(chosen: Sequence[PlaceHours], limits: ChartLimits) -> list[ChartPanel]:
    """The greatest index of each year of the places that have one."""
    of = tuple(number for number, one in enumerate(chosen) if one.mold)
    if not of:
        return []
    count = min(len(chosen[number].mold) for number in of)
    values = np.array([chosen[number].mold[:count] for number in of]).T
    against = (LimitLine(limits.mold, "mold that is seen"),)
    years = Calendar.alike(count, "year")
    return [
        ChartPanel("greatest mold index of each year", "", values, against, 0.0, MOST_INDEX + 0.2, of, years)
    ]


def _chosen(places: Sequence[PlaceHours], course: Mapping[str, Sequence[float]]) -> tuple[PlaceHours, ...]:
    """The places with a course, in their order; of too many those with the most mold, then the wettest."""
    there = [one for one in places if course.get(one.name)]

    def rank(one: PlaceHours) -> tuple[float, bool, float]:
        return one.mold_peak, one.sort != OTHER, max(course[one.name])

    kept = sorted(there, key=rank, reverse=True)[:MOST_LINES]
    return tuple(one for one in there if one in kept)
