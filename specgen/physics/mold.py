"""Mold on a surface, hour by hour: the growth index from 0 (none) to 6 (all covered) of its temperature and humidity.

1 is seen under the microscope alone, 3 is the first that the eye sees. The index grows while it is warm and humid
enough, the slower the nearer it comes to what the humidity carries, and declines when it is too dry or too cold. A
class of sensitivity says how fast and how far it grows on a surface, a relative decline how much of it goes again.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, TypeAlias

from specgen.arrays import ArrayLike, NDArray, np
from specgen.physics.errors import PhysicsError, check_array

Array: TypeAlias = "NDArray[np.float64]"

COLDEST: Final = 0.0
WARMEST: Final = 50.0
"""Between these temperatures mold grows [°C], ends excluded."""
LEVEL: Final = 20.0
"""Temperature above which the critical humidity falls no further [°C]."""
DAMPING: Final = 2.3
"""How sharply growth ends at the greatest index: k2 = 1 − exp(2.3 (M − M_max)) [-]."""
FIRST_HOURS: Final = 6
STILL_HOURS: Final = 24
"""Hours since growth stopped: decline until the sixth, none until the 24th, slower decline after it."""
FIRST_DECLINE: Final = 0.032
LATER_DECLINE: Final = 0.016
"""Decline of the index in a day on pine, within the first 6 hours and after the 24th [1/d]."""
HOURS_A_DAY: Final = 24.0
HOURS_A_WEEK: Final = 168.0
BLOCK: Final = 8760
"""Hours whose growth is worked out at once: a year, so that memory does not grow with the years."""

_TEMPERATURE: Final = ("temperature of the surface [°C]", -80.0, 120.0, "surfaces of buildings")
_HUMIDITY: Final = ("relative humidity at the surface [-]", 0.0, 1.0, "definition")


@dataclass(frozen=True)
class Sensitivity:
    """How a surface takes mold.

    slow_start and later: k1 below and from index 1 on, over the growth on pine sapwood [-]. least, rise, bend: greatest
    index M_max = least + rise x − bend x², x = (RH_crit − RH)/(RH_crit − 100 %) [-]. driest: the lowest relative
    humidity at which mold grows [-].
    """

    slow_start: float
    later: float
    least: float
    rise: float
    bend: float
    driest: float


SENSITIVITIES: Final = {
    "very sensitive": Sensitivity(1.0, 2.0, 1.0, 7.0, 2.0, 0.80),
    "sensitive": Sensitivity(0.578, 0.386, 0.3, 6.0, 1.0, 0.80),
    "medium resistant": Sensitivity(0.072, 0.097, 0.0, 5.0, 1.5, 0.85),
    "resistant": Sensitivity(0.033, 0.014, 0.0, 3.0, 1.0, 0.85),
}
"""The four classes of Ojanen et al. (2010), as published source code of a university and of a package for the care of
collections repeats them (P): pine sapwood; planed or glued wood and paper; concrete, cement and mineral wool; glass,
metal and what is treated."""

DECLINES: Final = {"pine": 1.0, "marked": 0.5, "slight": 0.25, "almost none": 0.1}
"""Relative decline C_mat of four classes of material [-]. Ojanen et al. (2010), (M)."""


def critical_humidity(temp_c: ArrayLike, driest: float) -> Array:
    """Lowest relative humidity at which mold grows [-].

    Formula: −0.00267 θ³ + 0.160 θ² − 3.13 θ + 100 [%] up to 20 °C, no less than that of the class; that of the class
    above 20 °C. At 0 °C and below it is 1.

    Args:
        temp_c: temperature of the surface [°C].
        driest: the class's own limit [-], 0.5 to 1.

    >>> critical_humidity([-5.0, 5.0, 15.0, 30.0], 0.8).round(4).tolist()
    [1.0, 0.8802, 0.8004, 0.8]

    Reference: Hukka and Viitanen, A mathematical model of mould growth on wooden material, Wood Science and Technology
        33 (1999), eq. 3, with the sign of its corrigendum (P).
    """
    at = check_array(_TEMPERATURE[0], temp_c, *_TEMPERATURE[1:])
    least = check_array("driest humidity of the class [-]", driest, 0.5, 1.0, "classes of sensitivity")
    cold = np.clip(at, COLDEST, LEVEL)
    curve = (-0.00267 * cold**3 + 0.160 * cold**2 - 3.13 * cold + 100.0) / 100.0
    return np.where(at > LEVEL, least, np.maximum(curve, least))


def greatest_index(temp_c: ArrayLike, humidity: ArrayLike, sensitivity: Sensitivity) -> Array:
    """The index beyond which a humidity carries no more growth, M_max [-], 0 where nothing grows.

    Args:
        temp_c: temperature of the surface [°C].
        humidity: relative humidity there [-].
        sensitivity: of the surface.

    >>> round(float(greatest_index(20.0, 0.97, SENSITIVITIES["very sensitive"])), 2)
    5.5

    Reference: Ojanen et al., Mold growth modeling of building structures using sensitivity classes of materials,
        Thermal Performance of the Exterior Envelopes of Whole Buildings XI (2010) (P).
    """
    rh = check_array(_HUMIDITY[0], humidity, *_HUMIDITY[1:])
    critical = critical_humidity(temp_c, sensitivity.driest)
    room = np.maximum(1.0 - critical, 1e-12)
    x = np.clip((rh - critical) / room, 0.0, 1.0)
    grown = sensitivity.least + sensitivity.rise * x - sensitivity.bend * x**2
    return np.where(_grows(np.asarray(temp_c), rh, critical), np.maximum(grown, 0.0), 0.0)


def weeks_to_first(temp_c: ArrayLike, humidity: ArrayLike) -> Array:
    """Time until the index is 1 on pine sapwood at constant conditions [weeks].

    Formula: t = exp(−0.68 ln θ − 13.9 ln RH + 66.02), RH in %.

    Args:
        temp_c: temperature [°C], 0.1 to 50.
        humidity: relative humidity [-], 0.5 to 1; below the critical one nothing grows, however long.

    >>> round(float(weeks_to_first(20.0, 0.97)), 2)
    1.48

    Reference: Hukka and Viitanen (1999), eq. 1, resawn surfaces (P).
    """
    at = check_array("temperature [°C]", temp_c, 0.1, WARMEST, "growth of mold")
    rh = check_array("relative humidity [-]", humidity, 0.5, 1.0, "growth of mold")
    return np.exp(-0.68 * np.log(at) - 13.9 * np.log(100.0 * rh) + 66.02)


def mold_index(
    temp_c: ArrayLike,
    humidity: ArrayLike,
    sensitivity: Sequence[str],
    decline: ArrayLike,
    start: ArrayLike = 0.0,
) -> Array:
    """Mold growth index at the end of each hour [-], shape (hours, places).

    Growth: dM/dt = k1 k2/(7 t) a day with t of `weeks_to_first`, k1 of the class below and from index 1 on,
    k2 = max(1 − exp(2.3 (M − M_max)), 0), while 0 < θ < 50 °C and RH ≥ RH_crit. Else decline: C_mat times 0.032 a day
    until the sixth hour, nothing until the 24th, 0.016 a day after it; never below 0.

    Args:
        temp_c: temperature of each surface [°C], shape (hours, places).
        humidity: relative humidity there [-], 0 to 1, same shape.
        sensitivity: a name of `SENSITIVITIES` for each place.
        decline: relative decline C_mat of each place [-], 0 to 1, or one for all (`DECLINES`).
        start: index at the start [-], 0 to 6, of each place or one for all.

    Raises:
        PhysicsError: arrays that are not (hours, places) alike, a class of no such name.

    Six weeks at 20 °C and 97 % on pine sapwood, then six dry weeks; the index after 2, 6 and 12 weeks:

    >>> humid = np.r_[np.full(1008, 0.97), np.full(1008, 0.5)][:, None]
    >>> index = mold_index(np.full((2016, 1), 20.0), humid, ["very sensitive"], 1.0)
    >>> index[[335, 1007, 2015], 0].round(2).tolist()
    [1.69, 5.49, 4.83]

    Reference: Hukka and Viitanen (1999); Ojanen et al. (2010) for classes and relative decline; the hourly form is that
        of ASHRAE Standard 160 (M).
    """
    temp = check_array(_TEMPERATURE[0], temp_c, *_TEMPERATURE[1:])
    rh = check_array(_HUMIDITY[0], humidity, *_HUMIDITY[1:])
    if temp.ndim != 2 or temp.shape != rh.shape:
        raise PhysicsError(f"temperature {temp.shape} and humidity {rh.shape} are not (hours, places) alike")
    hours, places = temp.shape
    of = [_sensitivity(name) for name in sensitivity]
    if len(of) != places:
        raise PhysicsError(f"{places} places have {len(of)} classes of sensitivity")
    back = _for_places("relative decline [-]", decline, 1.0, places)
    index = _for_places("mold index at the start [-]", start, 6.0, places)
    pace = np.array([(one.slow_start, one.later) for one in of]).reshape(places, 2)
    idle = np.zeros(places, dtype=np.int64)
    out = np.empty(temp.shape)
    advance = _advance()
    for first in range(0, hours, BLOCK):
        block = slice(first, first + BLOCK)
        grows, rate, limit = _growth(temp[block], rh[block], of)
        advance(index, idle, grows, rate, limit, pace, back, out[block])
    return out


@lru_cache(maxsize=1)
def _advance() -> Callable[..., None]:
    """The loop over the hours: compiled, or by rows of places."""
    from specgen.physics.heat_moisture.compiled import COMPILED, compiled  # loads numba, which takes long

    return compiled(_hour_by_hour) if COMPILED else _row_by_row


def _sensitivity(name: str) -> Sensitivity:
    if name not in SENSITIVITIES:
        raise PhysicsError(f"{name!r} is no class of sensitivity: one of {', '.join(SENSITIVITIES)}")
    return SENSITIVITIES[name]


def _for_places(name: str, value: ArrayLike, high: float, places: int) -> Array:
    checked = check_array(name, value, 0.0, high, "definition")
    if checked.ndim and checked.shape != (places,):
        raise PhysicsError(f"{name}: {checked.shape} values for {places} places")
    return np.array(np.broadcast_to(checked, (places,)))


def _grows(temp: Array, rh: Array, critical: Array) -> NDArray[np.bool_]:
    grows: NDArray[np.bool_] = (temp > COLDEST) & (temp < WARMEST) & (rh >= critical)
    return grows


def _growth(temp: Array, rh: Array, of: Sequence[Sensitivity]) -> tuple[NDArray[np.bool_], Array, Array]:
    """Whether mold grows in each hour, how much of an index on pine [1/h], and up to which index."""
    critical = np.column_stack([critical_humidity(temp[:, p], one.driest) for p, one in enumerate(of)])
    grows = _grows(temp, rh, critical)
    weeks = weeks_to_first(np.where(grows, np.maximum(temp, 0.1), LEVEL), np.where(grows, rh, 1.0))
    limit = np.column_stack([greatest_index(temp[:, p], rh[:, p], one) for p, one in enumerate(of)])
    return grows, np.where(grows, 1.0 / (HOURS_A_WEEK * weeks), 0.0), limit


def _hour_by_hour(
    index: Array, idle: NDArray[np.int64], grows: NDArray[np.bool_], rate: Array, limit: Array,
    pace: Array, back: Array, out: Array,
) -> None:  # fmt: skip
    """One place after the other; index and idle hours of each are left as they are at the end."""
    for p in range(grows.shape[1]):
        m, since = index[p], idle[p]
        for t in range(grows.shape[0]):
            if grows[t, p]:
                since = 0
                left = 1.0 - math.exp(DAMPING * (m - limit[t, p]))
                if left > 0.0:
                    m += (pace[p, 0] if m < 1.0 else pace[p, 1]) * left * rate[t, p]
            else:
                since += 1
                if since <= FIRST_HOURS:
                    m -= back[p] * (FIRST_DECLINE / HOURS_A_DAY)
                elif since > STILL_HOURS:
                    m -= back[p] * (LATER_DECLINE / HOURS_A_DAY)
                if m < 0.0:
                    m = 0.0
            out[t, p] = m
        index[p], idle[p] = m, since


def _row_by_row(
    index: Array, idle: NDArray[np.int64], grows: NDArray[np.bool_], rate: Array, limit: Array,
    pace: Array, back: Array, out: Array,
) -> None:  # fmt: skip
    """All places of an hour at once."""
    first, later = back * (FIRST_DECLINE / HOURS_A_DAY), back * (LATER_DECLINE / HOURS_A_DAY)
    for t in range(grows.shape[0]):
        left = np.maximum(1.0 - np.exp(np.minimum(DAMPING * (index - limit[t]), 0.0)), 0.0)
        grown = np.where(index < 1.0, pace[:, 0], pace[:, 1]) * left * rate[t]
        idle[:] = np.where(grows[t], 0, idle + 1)
        lost = np.where(idle <= FIRST_HOURS, first, np.where(idle > STILL_HOURS, later, 0.0))
        index[:] = np.where(grows[t], index + grown, np.maximum(index - lost, 0.0))
        out[t] = index
