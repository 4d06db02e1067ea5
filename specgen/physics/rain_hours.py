"""Hours of rain made from monthly depths, where a weather record has no rain of its own.

The hours are made, not measured: they are seeded, fall where the record's air is damp, its sky covered and its sun
away, and add up to the depths handed in. What rests on them is run with several seeds.
"""

from __future__ import annotations

import math
from typing import Final

from specgen.arrays import ArrayLike, NDArray, np
from specgen.physics.errors import Floats, PhysicsError, check_array, check_range, plain

SUNSHINE: Final = 120.0
"""Direct sun above which the sun is said to shine [W/m²]. WMO-No. 8, sunshine duration (M)."""
BY_CLOUD: Final = 0.5
"""What a sky wholly covered adds to the weight of an hour, against 1 for saturated air [-] (M)."""
BY_WIND: Final = 0.03
MOST_WIND: Final = 10.0
"""What each m/s of wind adds to it [s/m], and the wind above which no more is added [m/s] (M)."""
BY_CHANCE: Final = 0.15
"""Standard deviation of what chance adds to that weight [-] (M): see `rain_hours`."""
LASTS: Final = 0.8
"""How much of that chance an hour hands to the next [-] (M)."""
TAIL: Final = 1.4
"""Exponent of an exponential law that gives the depth of an hour [-]: above 1 great depths are rarer and greater (M)."""
HEAVIEST_MEAN: Final = 20.0
"""Mean depth of the wet hours of a month above which too few hours are left for its rain [mm]."""


def may_rain(temp_c: ArrayLike, direct_sun: ArrayLike) -> NDArray[np.bool_]:
    """Hours in which rain may be put: above freezing, and no sunshine (direct sun at most 120 W/m²).

    Args:
        temp_c: air temperature [°C].
        direct_sun: direct sun, square to it [W/m²]. The two broadcast.

    >>> may_rain([5.0, 5.0, -5.0], [0.0, 600.0, 0.0]).tolist()
    [True, False, False]
    """
    return np.asarray((np.asarray(temp_c) > 0.0) & (np.asarray(direct_sun) <= SUNSHINE))


def rain_weight(relative_humidity: ArrayLike, wind_m_s: ArrayLike, cloud: ArrayLike | None) -> Floats:
    """How likely an hour is to be wet before chance speaks, φ + n/2 + 0.03 min(v, 10) [-].

    Args:
        relative_humidity: φ [-], 0 to 1.
        wind_m_s: wind speed v [m/s]: it tells rain from fog.
        cloud: share of the sky that is covered n [-], 0 to 1; None where the record does not tell. All broadcast.

    >>> rain_weight(0.9, 5.0, 1.0)
    1.55
    """
    damp = check_range("relative humidity [-]", relative_humidity, 0.0, 1.0, "definition, as a fraction")
    wind = check_range("wind speed [m/s]", wind_m_s, 0.0, 100.0, "hourly mean wind speed")
    weight = damp + BY_WIND * np.minimum(wind, MOST_WIND)
    if cloud is None:
        return plain(weight)
    return plain(weight + BY_CLOUD * check_range("cloud cover [-]", cloud, 0.0, 1.0, "a fraction"))


def rain_hours(
    monthly_mm: ArrayLike,
    month: ArrayLike,
    weight: ArrayLike,
    allowed: NDArray[np.bool_],
    wet_hour_mm: float,
    seed: int,
) -> NDArray[np.float64]:
    """Rain of each hour of a year whose months have given depths.

    A month of depth R has n = R/r wet hours, r the mean depth of a wet hour: those allowed whose weight and chance
    together are highest. Chance z runs on from hour to hour, z = 0.8 z' + 0.6 u with u even and of deviation 1, so that
    wet hours come in spells. Depths are (−ln(1 − v))^1.4, v even from 0 to 1, times what makes their sum R. Chance comes
    from the generator PCG64 under seed and month.

    Args:
        monthly_mm: depth of rain of each month, January first [mm], (12,).
        month: month of each hour, 1 to 12, (hours,).
        weight: how likely each hour is (`rain_weight`), (hours,).
        allowed: whether it may be wet (`may_rain`), (hours,).
        wet_hour_mm: mean depth of an hour with rain r [mm], 0.1 to 20.
        seed: 0 or more.

    Returns:
        Rain of each hour [mm], (hours,); the sum of each month is its depth.

    Raises:
        PhysicsError: the rain of a month does not fit in the hours that may be wet.

    >>> every = np.ones(8760, dtype=bool)
    >>> month = np.repeat(np.arange(1, 13), 730)
    >>> made = rain_hours([50.0] * 12, month, np.zeros(8760), every, 2.0, 1)
    >>> float(made.sum().round(9)), int((made > 0).sum())
    (600.0, 300)

    Reference: none; the numbers are this program's own (M), held against the one public record in the tests.
    """
    depths = check_array("rain of a month [mm]", monthly_mm, 0.0, 15_000.0, "rain of one month")
    months, likely = np.asarray(month), check_array("weight [-]", weight, -10.0, 10.0, "weights of hours")
    mean = float(check_range("mean depth of a wet hour [mm]", wet_hour_mm, 0.1, 20.0, "hours of rain"))
    check_range("months [-]", depths.size, 12.0, 12.0, "a year")
    made = np.zeros(months.shape)
    for number, depth in enumerate(depths.tolist(), 1):
        if depth > 0.0:
            at = np.nonzero(months == number)[0]
            made[at] = _one_month(depth, likely[at], allowed[at], mean, (seed, number))
    return made


def _one_month(
    depth: float, weight: NDArray[np.float64], allowed: NDArray[np.bool_], mean: float, seed: tuple[int, int]
) -> NDArray[np.float64]:
    fit = int(allowed.sum())
    count = min(max(round(depth / mean), 1), fit)
    if count == 0 or depth / count > HEAVIEST_MEAN:
        raise PhysicsError(
            f"month {seed[1]}: {depth:g} mm of rain do not fit in {fit} hours above freezing and without sunshine"
        )
    chance = np.random.Generator(np.random.PCG64(np.random.SeedSequence(seed)))
    score = np.where(allowed, weight + BY_CHANCE * _spells(chance.random(weight.size)), -np.inf)
    wet = np.argsort(-score, kind="stable")[:count]
    shares = (-np.log1p(-chance.random(count))) ** TAIL + 1e-3  # never an hour that is wet by nothing
    amounts = shares * (depth / math.fsum(shares.tolist()))
    amounts[np.argmax(amounts)] += depth - math.fsum(amounts.tolist())
    out = np.zeros(weight.shape)
    out[np.sort(wet)] = amounts
    return out


def _spells(even: NDArray[np.float64]) -> NDArray[np.float64]:
    """Chance that lasts, of deviation 1: each value is made of the one before and of an even draw."""
    steps = (even - 0.5) * math.sqrt(12.0)
    fresh = math.sqrt(1.0 - LASTS**2)
    now, out = float(steps[0]), []
    for step in steps.tolist():
        now = LASTS * now + fresh * step
        out.append(now)
    return np.array(out)
