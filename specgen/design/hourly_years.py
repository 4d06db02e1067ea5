"""Years of hours through one cut, and what they did at its places."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import fsum
from typing import Final, TypeAlias

from specgen.arrays import NDArray, np
from specgen.design.hourly_cuts import Cut, Place, YearFaces
from specgen.model.hourly import GYPSUM, OTHER, WOOD, AcrossLayer, LeakRun, PlaceHours
from specgen.physics.heat_moisture.grid import Gap, Grid, grid
from specgen.physics.heat_moisture.simulate import Source, simulate
from specgen.physics.moisture_hours import above, days_to_half, freezing, wetness_hours, worst_month
from specgen.physics.mold import DECLINES, mold_index
from specgen.practice.entries import Practice

Array: TypeAlias = "NDArray[np.float64]"
LEAST_YEARS: Final = 3
MONTH: Final = 24 * 30
"""Fewest years of a run; hours of which a running mean of humidity is taken."""
HOURS_A_YEAR: Final = 8760
EVERY: Final = 6
MOST_ROWS: Final = 6
"""Hours between the profiles that are kept, and the most rows that a layer is told in."""


@dataclass(frozen=True)
class Limits:
    """What the places are held against (practice values of the same names), and when years count as settled."""

    mold: float
    wood_wet: float
    wood_decay: float
    corrosion_rh: float
    corrosion_c: float
    corrosion_wood: float
    frost_share: float
    settled_moisture: float
    settled_mold: float
    start_humidity: float
    wetting_humidity: float
    most_leak: float
    leak_step: float
    wet_share: float
    least_air: float
    most_air: float

    @property
    def airs(self) -> tuple[float, float]:
        """Air changes of a gap that is open at one end, fewest and most that are run [1/h]."""
        return self.least_air, self.most_air

    @classmethod
    def of(cls, practice: Practice) -> Limits:
        """The numbers of the practice folder, in SI."""
        keys = (
            "hours.mold_index", "hours.wood_wet", "hours.wood_decay", "hours.corrosion_humidity",
            "hours.corrosion_temperature", "hours.corrosion_wood", "hours.frost_share", "hourly.settled_moisture",
            "hourly.settled_mold", "hourly.start_humidity", "hourly.wetting_humidity", "hourly.most_leak",
            "hourly.leak_step", "hourly.wet_share", "hourly.closed_exchange_least", "hourly.closed_exchange_most",
        )  # fmt: skip
        return cls(*(practice.quantity(key).value for key in keys))


@dataclass(frozen=True, eq=False)
class Years:
    """The hours of a run of several years: temperature [°C] and humidity of the places (hours, places), water of each
    part [kg/m²] (hours, parts), water taken by each leak [kg/m²] (hours, leaks), month of each hour; humidity of all
    nodes four times a day (rows, nodes), with its months; cycle: after so many years the same weather comes again."""

    wall: Grid
    temp_c: Array
    humidity: Array
    water: Array
    taken: Array
    offered: Array
    month: NDArray[np.int64]
    hours: tuple[int, ...]
    mass_error: float
    heat_error: float
    profile: Array
    profile_month: NDArray[np.int64]
    cycle: int

    def year(self, number: int) -> slice:
        """The hours of a year, counted from 0."""
        start = sum(self.hours[:number])
        return slice(start, start + self.hours[number])


def _holds(places: Sequence[PlaceHours], growing: bool, limits: Limits) -> bool:
    """Whether mold stays below its index, no wood stands above decay or is wet most of the year, none gets wetter by the
    year, being wet."""
    behind = [one for one in places if one.mold]
    decays = any(one.hours_28 > 0 for one in behind)
    wetter = growing and any(one.hours_20 > 0 for one in behind)
    soaked = any(one.hours_20 > limits.wet_share * HOURS_A_YEAR for one in behind)
    return max((one.mold_peak for one in behind), default=0.0) < limits.mold and not (
        decays or wetter or soaked
    )


def march_years(
    cut: Cut, share: float, limits: Limits, *, finer: float = 1.0, steps: int = 1, most: int | None = None
) -> Years:
    """Year after year until neither peaks nor mold change any more, or all years are done.

    Args:
        cut: what is run.
        share: of the rain, at the leak that is varied [-].
        limits: when peaks count as settled, and the humidity at the start.
        finer, steps: cells and steps so many times as fine.
        most: at most so many years.
    """
    wall = grid(cut.parts, finer)
    nodes = [node_of(wall, place) for place in cut.places]
    state = None
    found = []
    peaks: list[Array] = []
    molds: list[Array] = []
    index: Array = np.zeros(len(nodes))
    cycle = len({id(year.rain) for year in cut.years})
    for number, year in enumerate(cut.years[:most]):
        run = simulate(
            wall, year.outside, year.inside, watch=nodes, sources=sources(cut, year, share), start=state,
            start_c=_first_day(year), start_humidity=start_humidity(cut, wall, limits), gap_air=gap_air(cut, year),
            gap_wind=gap_wind(cut, year), finer_steps=steps, profile_every=EVERY,
        )  # fmt: skip
        state = run.end
        found.append(run)
        peaks.append(
            np.array([_peak(run.water, run.humidity, wall, cut, at) for at in range(len(cut.places))])
        )
        grown = _mold(cut, run.temp_c, run.humidity, index)
        index = grown[-1]
        molds.append(grown.max(axis=0))
        if number + 1 >= max(LEAST_YEARS, 2 * cycle) and all(
            _settled(series, cycle, limit)
            for series, limit in ((peaks, limits.settled_moisture), (molds, limits.settled_mold))
        ):
            break
    taken = [source.water for source in sources(cut, cut.years[len(found) - 1], share)]
    offered = [fsum(one.tolist()) * 3600.0 for one in taken]
    return Years(
        wall,
        np.concatenate([run.temp_c for run in found]),
        np.concatenate([run.humidity for run in found]),
        np.concatenate([run.water for run in found]),
        np.concatenate([run.taken[:, : 1 + len(taken)] for run in found]),
        np.array([0.0, *offered]),
        np.concatenate([year.month for year in cut.years[: len(found)]]),
        tuple(run.temp_c.shape[0] for run in found),
        max(run.balance.mass_error for run in found),
        max(run.balance.heat_error for run in found),
        np.concatenate([run.profile_humidity for run in found]),
        np.concatenate([year.month[EVERY - 1 :: EVERY] for year in cut.years[: len(found)]]),
        cycle,
    )


def _settled(years: Sequence[Array], cycle: int, none: float) -> bool:
    """Whether every year of the last round through the weather is like the year of the same weather before it."""
    return all(np.abs(years[-at] - years[-at - cycle]).max() < none for at in range(1, cycle + 1))


def _grows(years: Sequence[float], cycle: int, none: float) -> bool:
    """Whether a number still grows: from one round through the weather to the next, or through its second half."""
    if not years:
        return False
    turn = cycle if len(years) >= 2 * cycle else (len(years) + 1) // 2
    before = years[-2 * turn : -turn]
    return bool(before) and max(years[-turn:]) - max(before) > none


def _mold(cut: Cut, temp_c: Array, humidity: Array, start: Array) -> Array:
    """Mold index of every hour and place, nothing where the criterion is not held."""
    held = np.array([place.held for place in cut.places])
    found = mold_index(
        temp_c,
        np.minimum(humidity, 1.0),
        [place.mold_class for place in cut.places],
        [DECLINES[place.decline] for place in cut.places],
        start,
    )
    return np.asarray(np.where(held, found, 0.0))


def _first_day(year: YearFaces) -> float:
    """Temperature of the wall at the start: the mean outdoors of the first day [°C]."""
    return float(np.clip(year.outside.air_c[:24].mean(), -30.0, 40.0))


def start_humidity(cut: Cut, wall: Grid, limits: Limits) -> Array:
    """Humidity of every node at the start; where two parts meet, that of the wetter one."""
    humid = np.full(wall.nodes, limits.start_humidity)
    for name, wet in cut.start.items():
        number = wall.named(name)
        own = slice(wall.first[number], wall.last[number] + 1)
        humid[own] = np.maximum(humid[own], wet) if wet > limits.start_humidity else wet
    return humid


def gap_air(cut: Cut, year: YearFaces) -> dict[str, tuple[Array, Array]]:
    """The air of the room, for the gaps that exchange theirs with it."""
    return dict.fromkeys(cut.roomy, (year.room.air_c, year.room.vapor_pa))


def gap_wind(cut: Cut, year: YearFaces) -> dict[str, Array]:
    """The pressure of the wind along the gaps whose outlets it moves air through [Pa]."""
    moved = (part.name for part in cut.parts if isinstance(part, Gap) and part.losses is not None)
    return dict.fromkeys(moved, year.gap_wind)


def node_of(wall: Grid, place: Place) -> int:
    """The node of a place."""
    number = wall.named(place.part)
    return wall.first[number] if place.outer else wall.last[number]


def sources(cut: Cut, year: YearFaces, share: float) -> list[Source]:
    """What leaks in in a year: always, and the share that is varied."""
    always = [Source(part, amount * year.rain) for part, amount in cut.always]
    return [*always, Source(cut.leak, share * year.rain)] if share > 0.0 else always


def _moisture(years_water: Array, wall: Grid, place: Place) -> Array:
    """Moisture of the layer of a place by mass [-], (hours,)."""
    return np.asarray(years_water[:, wall.named(place.part)] / (place.thickness * place.density))


def _peak(water: Array, humidity: Array, wall: Grid, cut: Cut, at: int) -> float:
    place = cut.places[at]
    if place.sort == OTHER:
        return float(_month_mean(humidity[:, at]).max())
    return float(_moisture(water, wall, place).max())


def _month_mean(series: Array) -> Array:
    """Running means of 30 days."""
    span = min(MONTH, series.size)
    total = np.concatenate(([0.0], np.cumsum(series)))
    return np.asarray((total[span:] - total[:-span]) / span)


def judged(cut: Cut, share: float, hours: Years, limits: Limits) -> LeakRun:
    """What the hours of a run did at each place."""
    molds = _mold(cut, hours.temp_c, hours.humidity, np.zeros(len(cut.places)))
    places = tuple(_place(hours, limits, place, at, molds[:, at]) for at, place in enumerate(cut.places))
    years = len(hours.hours)
    growing = any(
        _grows(one.peaks, hours.cycle, limits.settled_moisture)
        or _grows(one.mold, hours.cycle, limits.settled_mold)
        for one in places
    )
    taken = hours.taken[hours.year(years - 1)].sum(axis=0)
    return LeakRun(
        share,
        years,
        growing,
        places,
        float(taken[1:].sum()),
        float(max(0.0, hours.offered.sum() - taken[1:].sum())),
        hours.mass_error,
        hours.heat_error,
        _holds(places, growing, limits),
    )


def _place(hours: Years, limits: Limits, place: Place, at: int, mold: Array) -> PlaceHours:
    count = len(hours.hours)
    number = hours.wall.named(place.part)
    content = hours.water[:, number] / place.thickness
    moisture = _moisture(hours.water, hours.wall, place)
    by_mass = place.sort in (WOOD, GYPSUM)
    worse = moisture if by_mass else hours.humidity[:, at]
    # Of several years of weather that come again and again, the one that is worst here in the last round.
    round_ = range(max(0, count - hours.cycle), count)
    last = hours.year(max(round_, key=lambda year: float(worse[hours.year(year)].mean())))
    temp, rh = hours.temp_c[last, at], np.minimum(hours.humidity[last, at], 1.0)
    frost = freezing(temp, content[last], place.free_saturation, limits.frost_share)
    if place.sort == WOOD:
        corroding = int(above(moisture[last], limits.corrosion_wood).hours)
    else:
        corroding = int(wetness_hours(temp, rh, limits.corrosion_rh, limits.corrosion_c))
    peaks = tuple(
        float(
            moisture[hours.year(one)].max()
            if by_mass
            else _month_mean(hours.humidity[hours.year(one), at]).max()
        )
        for one in range(count)
    )
    return PlaceHours(
        name=place.name,
        layer=place.part,
        sort=place.sort,
        moisture_peak=float(moisture[last].max()) if by_mass else None,
        moisture_end=float(moisture[-1]) if by_mass else None,
        hours_20=int(above(moisture[last], limits.wood_wet).hours) if place.sort == WOOD else 0,
        hours_28=int(above(moisture[last], limits.wood_decay).hours) if place.sort == WOOD else 0,
        humidity_peak=float(_month_mean(hours.humidity[last, at]).max()),
        mold=tuple(float(mold[hours.year(one)].max()) for one in range(count)) if place.held else (),
        mold_class=place.mold_class,
        corrosion_hours=corroding,
        freeze_hours=int(frost.hours),
        freeze_cycles=int(frost.cycles),
        worst_month=int(worst_month(worse[last], hours.month[last]).month),
        peaks=peaks,
    )


def course(cut: Cut, hours: Years) -> Mapping[str, tuple[float, ...]]:
    """Mean of every month, place by place: moisture by mass of wood and gypsum, else relative humidity."""
    out = {}
    for at, place in enumerate(cut.places):
        series = hours.humidity[:, at] if place.sort == OTHER else _moisture(hours.water, hours.wall, place)
        out[place.name] = tuple(_by_month(series, hours.month).tolist())
    return out


def _by_month(series: Array, month: NDArray[np.int64]) -> Array:
    """Mean of every month in a row, along the first axis."""
    turns = np.flatnonzero(np.diff(month, prepend=month[0] - 1))
    counts = np.diff(np.append(turns, month.size)).reshape(-1, *(1,) * (series.ndim - 1))
    return np.asarray((np.add.reduceat(series, turns, axis=0) / counts).round(5))


def across(hours: Years) -> tuple[tuple[AcrossLayer, ...], tuple[tuple[float, ...], ...]]:
    """The layers from outside to inside, cut into a few rows, and the mean humidity of each row in every month."""
    wall, layers, rows = hours.wall, [], []
    for number, part in enumerate(wall.parts):
        links = np.arange(wall.first[number], wall.last[number])
        if isinstance(part, Gap):
            layers.append(AcrossLayer(part.name, part.depth))
        elif not part.stores:
            layers.append(AcrossLayer(part.name, 0.0))
        else:
            groups = np.array_split(links, min(MOST_ROWS, links.size))
            sizes = tuple(float(wall.spans[one].sum()) for one in groups)
            layers.append(AcrossLayer(part.name, part.thickness, sizes))
            for one in groups:
                middle = 0.5 * (hours.profile[:, one] + hours.profile[:, one + 1])
                rows.append(np.minimum(middle @ (wall.spans[one] / wall.spans[one].sum()), 1.0))
    months = _by_month(np.stack(rows, axis=1), hours.profile_month)
    return tuple(layers), tuple(tuple(one) for one in months.tolist())


def drying(cut: Cut, limits: Limits) -> tuple[float | None, tuple[float, ...]]:
    """Days in which half of a wetting of the layer behind the barrier leaves the wall again, without rain or leak [d].

    What moves on inward is still there: all that stands behind the barrier counts. None where it does not in a year.
    With it what is left at the start and after each day [-].
    """
    wall = grid(cut.parts)
    year = cut.years[0]
    dry_face = replace(year.outside, rain=np.zeros(year.rain.shape))
    number = wall.named(cut.leak)
    humid = np.full(wall.nodes, limits.start_humidity)
    soaked = humid.copy()
    soaked[wall.first[number] : wall.last[number] + 1] = limits.wetting_humidity
    air, start = gap_air(cut, year), _first_day(year)
    water = [
        simulate(
            wall,
            dry_face,
            year.inside,
            start_c=start,
            start_humidity=one,
            gap_wind=gap_wind(cut, year),
            gap_air=air,
        )
        .water[:, number:]
        .sum(axis=1)
        for one in (soaked, humid)
    ]
    more = water[0] - water[1]
    days = float(days_to_half(more, 0.0))
    left = (more[[0, *range(23, more.size, 24)]] / more[0]).round(5)
    return days if np.isfinite(days) else None, tuple(left.tolist())
