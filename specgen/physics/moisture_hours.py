"""What the hours of a wall mean: how wet, how long, how often frozen, worse from year to year, worst when, dry how soon.

Every series is an array over hours, (hours, places), or (hours,) for one place; results are arrays over the places.
Limits are arguments: the numbers of the trade stand elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, TypeAlias

from specgen.arrays import ArrayLike, NDArray, np
from specgen.physics.errors import PhysicsError, check_array

Array: TypeAlias = "NDArray[np.float64]"
Counts: TypeAlias = "NDArray[np.int64]"

NEVER: Final = -1
"""Stands for an hour that did not come."""
MONTHS: Final = 12
HOURS_A_DAY: Final = 24.0

_TEMPERATURE: Final = ("temperature [°C]", -80.0, 120.0, "parts of buildings")
_HUMIDITY: Final = ("relative humidity [-]", 0.0, 1.0, "definition")
_ANY: Final = (-1e12, 1e12, "hourly results")


@dataclass(frozen=True, eq=False)
class Above:
    """A series against a limit, arrays over the places.

    hours: how many are above. longest: most in a row. first: the first hour above, `NEVER` where there is none.
    peak: the greatest value, in the unit of the series; peak_hour: the first hour that has it.
    """

    hours: Counts
    longest: Counts
    first: Counts
    peak: Array
    peak_hour: Counts


@dataclass(frozen=True, eq=False)
class Freezing:
    """Hours and cycles of frost near saturation, arrays over the places.

    hours: below the temperature of freezing while the share of free saturation is reached. cycles: how often it went
    from not frozen to frozen in such an hour. frozen: hours below the temperature of freezing, wet or not.
    """

    hours: Counts
    cycles: Counts
    frozen: Counts


@dataclass(frozen=True, eq=False)
class YearOnYear:
    """One number of each year, (years, places), and whether it still changes.

    change: of each year over the year before, (years − 1, places). growing and falling: over the places, whether the
    last change is above the tolerance upward or downward; settled: neither.
    """

    years: Array
    change: Array
    growing: NDArray[np.bool_]
    falling: NDArray[np.bool_]
    settled: NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class WorstMonth:
    """means: of each month of the year over all years, (12, places). month: 1 to 12, that of the greatest mean."""

    means: Array
    month: Counts


def content_by_mass(water: ArrayLike, dry_density: ArrayLike) -> Array:
    """Moisture content of wood or gypsum, water over dry mass [-].

    Formula: u = w/ρ.

    Args:
        water: water in the volume w [kg/m³], any shape.
        dry_density: dry density ρ [kg/m³], 50 to 3000; one, or one for each place.

    >>> content_by_mass([60.0, 140.0], 500.0).tolist()
    [0.12, 0.28]
    """
    held = check_array("water in the volume [kg/m³]", water, 0.0, 1200.0, "pores")
    density = check_array("dry density [kg/m³]", dry_density, 50.0, 3000.0, "wood, boards and gypsum")
    return np.asarray(held / density)


def above(series: ArrayLike, limit: ArrayLike) -> Above:
    """Hours above a limit, the most in a row, the first, and the peak.

    Args:
        series: hourly values, (hours, places) or (hours,).
        limit: the limit in the same unit; one, or one for each place. A value that equals it is not above.

    Raises:
        PhysicsError: no hours.

    >>> wet = above([0.1, 0.21, 0.25, 0.2, 0.22], 0.2)
    >>> int(wet.hours), int(wet.longest), int(wet.first), float(wet.peak), int(wet.peak_hour)
    (3, 2, 1, 0.25, 2)
    """
    values = _hourly("series", series, *_ANY)
    over: NDArray[np.bool_] = values > check_array("limit", limit, *_ANY)
    any_over = over.any(axis=0)
    return Above(
        _count(over),
        _longest(over),
        np.where(any_over, np.argmax(over, axis=0), NEVER),
        values.max(axis=0),
        np.argmax(values, axis=0),
    )


def wetness_hours(
    temp_c: ArrayLike, humidity: ArrayLike, least_humidity: float, least_temp_c: float
) -> Counts:
    """Hours in which bare metal corrodes in air: time of wetness.

    Counted are the hours with RH > the limit and θ > the limit.

    Args:
        temp_c: temperature of the metal [°C], (hours, places) or (hours,).
        humidity: relative humidity of the air at it [-], same shape.
        least_humidity: [-], 0 to 1; ISO 9223 takes 0.80.
        least_temp_c: [°C]; ISO 9223 takes 0.

    >>> int(wetness_hours([-1.0, 5.0, 5.0], [0.9, 0.9, 0.7], 0.8, 0.0))
    1

    Reference: ISO 9223, time of wetness, as quoted by Norberg, Surface moisture and time of wetness measurements, ACS
        Symposium Series 805 (2002) (P).
    """
    temp, rh = _pair(_hourly(*_first(_TEMPERATURE, temp_c)), _hourly(*_first(_HUMIDITY, humidity)))
    damp = check_array("least humidity [-]", least_humidity, 0.0, 1.0, "definition")
    mild = check_array("least temperature [°C]", least_temp_c, -30.0, 50.0, "corrosion in air")
    return _count((rh > damp) & (temp > mild))


def freezing(
    temp_c: ArrayLike, water: ArrayLike, free_saturation: ArrayLike, share: float, freezes_c: float = 0.0
) -> Freezing:
    """Hours of frost near saturation, and how often it froze so.

    Args:
        temp_c: temperature [°C], (hours, places) or (hours,).
        water: water in the volume [kg/m³], same shape.
        free_saturation: of the material [kg/m³]; one, or one for each place.
        share: of the free saturation from which ice has no room [-], 0 to 1.
        freezes_c: temperature below which pore water is taken as frozen [°C], −30 to 0.

    An hour that starts the record frozen is no cycle: nobody saw it thawed.

    >>> frost = freezing([1.0, -1.0, -2.0, 1.0, -1.0], [190.0, 190.0, 190.0, 150.0, 150.0], 200.0, 0.9)
    >>> int(frost.hours), int(frost.cycles), int(frost.frozen)
    (2, 1, 3)
    """
    temp, held = _pair(
        _hourly(*_first(_TEMPERATURE, temp_c)),
        _hourly("water in the volume [kg/m³]", water, 0.0, 1200.0, "pores"),
    )
    full = check_array("free saturation [kg/m³]", free_saturation, 0.01, 1000.0, "pores")
    part = check_array("share of free saturation [-]", share, 0.0, 1.0, "definition")
    point = check_array("temperature of freezing [°C]", freezes_c, -30.0, 0.0, "water in pores")
    frozen = temp < point
    wet = held >= part * full
    entered = np.zeros(frozen.shape, dtype=np.bool_)
    entered[1:] = frozen[1:] & ~frozen[:-1]
    return Freezing(_count(frozen & wet), _count(entered & wet), _count(frozen))


def yearly(series: ArrayLike, year: ArrayLike, how: str = "max") -> Array:
    """One number of each year, (years, places).

    Args:
        series: hourly values, (hours, places) or (hours,).
        year: the year of each hour, (hours,), in any numbers that never fall.
        how: "max", "mean", "sum" or "last", the value of the year's last hour.

    Raises:
        PhysicsError: years that fall or do not fit the hours, another word.

    >>> yearly([1.0, 3.0, 2.0, 5.0], [0, 0, 1, 1]).tolist()
    [3.0, 5.0]
    """
    values = _hourly("series", series, *_ANY)
    at = check_array("year of each hour", year, -1e5, 1e5, "calendar")
    if at.shape != values.shape[:1] or (np.diff(at) < 0.0).any():
        raise PhysicsError("years of the hours that fall, or that are not one for each hour")
    starts = np.r_[0, np.flatnonzero(np.diff(at)) + 1]
    ends = np.r_[starts[1:], at.size]
    if how == "last":
        return np.asarray(values[ends - 1])
    if how == "max":
        return np.asarray(np.maximum.reduceat(values, starts, axis=0))
    totals: Array = np.add.reduceat(values, starts, axis=0)
    if how == "sum":
        return totals
    if how == "mean":
        return np.asarray(totals / (ends - starts).reshape(-1, *(1,) * (values.ndim - 1)))
    raise PhysicsError(f"{how!r} is no number of a year: one of max, mean, sum, last")


def year_on_year(years: ArrayLike, tolerance: float) -> YearOnYear:
    """Whether a number of each year still grows.

    Args:
        years: one number a year, (years, places) or (years,), at least two years.
        tolerance: change from one year to the next that is none, in the same unit, 0 or more.

    Raises:
        PhysicsError: fewer than two years.

    >>> bool(year_on_year([0.10, 0.14, 0.17], 0.005).growing), bool(year_on_year([0.2, 0.201], 0.005).settled)
    (True, True)
    """
    values = _hourly("numbers of the years", years, *_ANY)
    none = float(check_array("tolerance", tolerance, 0.0, 1e12, "definition"))
    if values.shape[0] < 2:
        raise PhysicsError("one year has no year before it")
    change = np.diff(values, axis=0)
    growing, falling = change[-1] > none, change[-1] < -none
    return YearOnYear(values, change, growing, falling, ~(growing | falling))


def worst_month(series: ArrayLike, month: ArrayLike) -> WorstMonth:
    """The month of the year with the greatest mean over all years, for each place.

    Args:
        series: hourly values of which more is worse, (hours, places) or (hours,).
        month: 1 to 12 of each hour, (hours,).

    Raises:
        PhysicsError: a month that is no whole number, is absent, or does not fit the hours.

    >>> int(worst_month(np.arange(1.0, 13.0), range(1, 13)).month)
    12
    """
    values = _hourly("series", series, *_ANY)
    at = check_array(
        "month of each hour", list(month) if isinstance(month, range) else month, 1, MONTHS, "calendar"
    )
    if at.shape != values.shape[:1] or (at != np.rint(at)).any():
        raise PhysicsError("months of the hours that are no whole numbers, or not one for each hour")
    chosen = [values[at == number] for number in range(1, MONTHS + 1)]
    absent = [number for number, rows in enumerate(chosen, start=1) if not rows.size]
    if absent:
        raise PhysicsError(f"no hours of month {absent[0]}: a whole year is needed")
    means = np.stack([rows.mean(axis=0) for rows in chosen])
    return WorstMonth(means, np.argmax(means, axis=0) + 1)


def days_to_half(water: ArrayLike, dry: ArrayLike) -> Array:
    """Days until half of the water above the dry state has left, from the first hour of the record on.

    Between the hours it is read on a straight line. Where half never leaves within the record it is infinite.

    Args:
        water: water after the wetting, in any unit, (hours, places) or (hours,).
        dry: water in the dry state, same unit; one, or one for each place, less than that of the first hour.

    Raises:
        PhysicsError: a place that starts no wetter than the dry state.

    >>> float(days_to_half([10.0, 8.0, 7.0, 5.0], 4.0) * 24.0)
    2.0
    """
    values = _hourly("water", water, *_ANY)
    rest = np.broadcast_to(check_array("water in the dry state", dry, *_ANY), values.shape[1:])
    if (values[0] <= rest).any():
        raise PhysicsError("a place starts no wetter than its dry state: there is nothing to dry")
    half = rest + 0.5 * (values[0] - rest)
    reached = values <= half
    there = np.asarray(np.argmax(reached, axis=0))
    after = np.take_along_axis(values, there[None], axis=0)[0]
    before = np.take_along_axis(values, np.maximum(there - 1, 0)[None], axis=0)[0]
    fall = np.where(before > after, before - after, 1.0)
    hours = there - 1.0 + (before - half) / fall
    return np.where(reached.any(axis=0), hours / HOURS_A_DAY, np.inf)


def _first(
    limits: tuple[str, float, float, str], values: ArrayLike
) -> tuple[str, ArrayLike, float, float, str]:
    name, low, high, source = limits
    return name, values, low, high, source


def _hourly(name: str, values: ArrayLike, low: float, high: float, source: str) -> Array:
    checked = check_array(name, values, low, high, source)
    if checked.ndim == 0 or checked.ndim > 2 or not checked.size:
        raise PhysicsError(f"{name}: {checked.shape} is neither (hours, places) nor (hours,)")
    return checked


def _pair(one: Array, other: Array) -> tuple[Array, Array]:
    if one.shape != other.shape:
        raise PhysicsError(f"hourly series of {one.shape} and {other.shape} values do not go together")
    return one, other


def _count(hours: NDArray[np.bool_]) -> Counts:
    return np.asarray(np.sum(hours, axis=0, dtype=np.int64))


def _longest(over: NDArray[np.bool_]) -> Counts:
    """Most hours in a row: each hour less the last one that was not over."""
    at = np.arange(1, over.shape[0] + 1).reshape(-1, *(1,) * (over.ndim - 1))
    last_not = np.maximum.accumulate(np.where(over, 0, at), axis=0)
    return np.asarray((at - last_not).max(axis=0))
