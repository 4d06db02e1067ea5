"""The charts of a kept result of hours: each cut over its years and across its depth, its leak, two walls that dry."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from specgen.arrays import np
from specgen.drawing.chart import MOST_LINES, Calendar
from specgen.drawing.chart_depth import DepthLayer, across_wall
from specgen.drawing.chart_drying import Racer, drying_race
from specgen.drawing.chart_hours import ChartPanel, LimitLine, over_years
from specgen.drawing.chart_leak import leak_chart
from specgen.drawing.shapes import Drawing
from specgen.model.hourly import GYPSUM, OTHER, WOOD, CutHours, HourlyResult, PlaceHours
from specgen.practice.entries import Practice
from specgen.units.quantity import to_unit

MONTHS_A_YEAR: Final = 12
MOST_INDEX: Final = 6.0
LEAST_DAYS, TIMES_HALF = 14, 3.0  # of a race that is shown: days, and days over those of the slower half
LEVELS: Final = (0.0, 50.0, 60.0, 70.0, 80.0, 90.0, 95.0, 100.0)  # of humidity [%]


@dataclass(frozen=True)
class ChartLimits:
    """What the lines are held against, as printed: wood by mass [%], the mold index, humidity at metal [%]."""

    wet: float
    decay: float
    mold: float
    humid: float

    @classmethod
    def of(cls, practice: Practice) -> ChartLimits:
        """The limits of the trade."""
        shares = ("wood_wet", "wood_decay", "corrosion_humidity")
        wet, decay, humid = (to_unit(practice.quantity(f"hours.{name}"), "%") for name in shares)
        return cls(wet, decay, practice.quantity("hours.mold_index").value, humid)


def result_charts(result: HourlyResult, practice: Practice, system: str = "SI") -> tuple[Drawing, ...]:
    """The charts of a result: each cut over its years and across its depth, then what each leak does.

    Over the years: moisture content of wood and gypsum and humidity elsewhere, month by month, and the greatest mold
    index of each year, without a leak past the barrier; of more than five places those that are wettest.

    Args:
        result: as kept.
        practice: the limits.
        system: of units for the depths, "SI" or "inch-pound".

    Returns:
        The charts, in the order of the cuts; of a cut that lacks what a chart shows, or whole years, there is none.
    """
    limits = ChartLimits.of(practice)
    found: list[Drawing | None] = []
    for cut in result.cuts:
        found += [_over_years(result, cut, limits), _across(result, cut, limits, system)]
    if any(len(cut.runs) > 1 for cut in result.cuts):
        found.append(leak_chart(result, limits.mold))
    return tuple(one for one in found if one is not None)


def race_chart(cut: str, first: HourlyResult, second: HourlyResult) -> Drawing | None:
    """The same wetting of one cut of two walls; None where either has no record of it.

    Args:
        cut: name of the cut.
        first, second: the walls, named by their parapets.
    """
    walls = []
    for result in (first, second):
        found = result.cut(cut)
        if found is None or len(found.drying) < 2:
            return None
        walls.append((result.parapet, found))
    days = min(len(found.drying) for _, found in walls)
    slowest = max(days if found.half_days is None else found.half_days for _, found in walls)
    days = min(days, max(LEAST_DAYS, math.ceil(TIMES_HALF * slowest)) + 1)
    racers = [
        Racer(name, np.array(one.drying[:days]), math.inf if one.half_days is None else one.half_days, 1.0)
        for name, one in walls
    ]
    title = f"{first.parapet} and {second.parapet}, {cut}: the layer behind the barrier dries"
    return drying_race(f"{first.parapet} drying race {second.parapet} {cut}", title, *racers)


def _across(result: HourlyResult, cut: CutHours, limits: ChartLimits, system: str) -> Drawing | None:
    layers = [DepthLayer(one.name, one.thickness, len(one.rows), one.rows) for one in cut.across]
    months = len(cut.profile) // MONTHS_A_YEAR * MONTHS_A_YEAR
    rows = sum(layer.rows for layer in layers)
    if not months or not rows or any(len(month) != rows for month in cut.profile):
        return None
    return across_wall(
        f"{result.parapet} depth {cut.cut}",
        f"{result.parapet}, {cut.cut}: humidity, no leak past the barrier",
        "relative humidity", "%", layers, 100.0 * np.array(cut.profile[:months]),
        Calendar.alike(months // MONTHS_A_YEAR, "month"), LEVELS,
        LimitLine(limits.humid, "mold may grow"), system,
    )  # fmt: skip


def _rain(cut: CutHours) -> str:
    return f"{100.0 * cut.always:.3g} % of the rain reaches the barrier, none gets past it"


def _over_years(result: HourlyResult, cut: CutHours, limits: ChartLimits) -> Drawing | None:
    run = cut.at(0.0)
    if run is None:
        return None
    chosen = _chosen(run.places, cut.course)
    months = min((len(cut.course[one.name]) for one in chosen), default=0) // MONTHS_A_YEAR * MONTHS_A_YEAR
    if not months:
        return None
    years = Calendar.alike(months // MONTHS_A_YEAR, "month")
    wood = (LimitLine(limits.wet, "wet wood"), LimitLine(limits.decay, "wood decays"))
    panels = []
    for sort, name, unit, against in (
        (WOOD, "moisture content of wood", "% by mass", wood),
        (GYPSUM, "moisture content of gypsum", "% by mass", ()),
        (OTHER, "relative humidity", "%", ()),
    ):
        of = _unlike([number for number, one in enumerate(chosen) if one.sort == sort], chosen, cut.course)
        if of:
            columns = [cut.course[chosen[number].name][:months] for number in of]
            panels.append(ChartPanel(name, unit, 100.0 * np.array(columns).T, against, of=of))
    panels += _mold(chosen, limits)
    title = f"{result.parapet}, {cut.cut}: {_rain(cut)}"
    name = f"{result.parapet} hours {cut.cut}"
    return over_years(name, title, [one.name for one in chosen], panels, years)


def _unlike(
    numbers: Sequence[int], chosen: Sequence[PlaceHours], course: Mapping[str, Sequence[float]]
) -> tuple[int, ...]:
    """The first of those that have the same months: moisture is that of a layer, whichever face is watched."""
    found: dict[tuple[float, ...], int] = {}
    for number in numbers:
        found.setdefault(tuple(course[chosen[number].name]), number)
    return tuple(found.values())


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
