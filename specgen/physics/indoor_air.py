"""Air indoors as it follows the air outdoors: on a straight line between two temperatures, or by a humidity class."""

from __future__ import annotations

from typing import Final

from specgen.arrays import ArrayLike, np
from specgen.physics.elementwise import between, choose
from specgen.physics.errors import Floats, check_range, plain
from specgen.physics.moist_air import saturation_pressure

NO_EXCESS_C: Final = 20.0
"""Outdoor temperature from which the excess of a humidity class is zero [°C]. ISO 13788, annex A (M)."""
_OUTDOORS: Final = (-90.0, 70.0, "air outdoors")
HOURS: Final = 24


def daily_mean(hourly: ArrayLike) -> Floats:
    """Mean of each day, at each of its hours.

    Args:
        hourly: whole days from their first hour, (hours,).

    Returns:
        (hours,), the unit of what is handed in.

    >>> float(daily_mean([*[0.0] * 12, *[10.0] * 12])[0])
    5.0
    """
    values = np.asarray(hourly, dtype=np.float64)
    check_range("hours over whole days [-]", values.size % HOURS, 0.0, 0.0, "a record of whole days")
    return plain(np.repeat(values.reshape(-1, HOURS).mean(axis=1), HOURS))


def by_outdoors(outdoor_c: ArrayLike, cold: tuple[float, float], warm: tuple[float, float]) -> Floats:
    """A value indoors that rises with the air outdoors: level up to one temperature, straight, level from another.

    Args:
        outdoor_c: daily mean outdoors [°C].
        cold, warm: outdoor temperature [°C] and the value there, the first below the second.

    Returns:
        The value, its unit that of cold and warm.

    >>> by_outdoors(15.0, (10.0, 20.0), (20.0, 25.0))
    22.5

    Reference: form of EN 15026, annex C, and ISO 13788, annex A (as public code has it).
    """
    t = check_range("outdoor temperature [°C]", outdoor_c, *_OUTDOORS)
    check_range("step between the outdoor temperatures [K]", warm[0] - cold[0], 1e-9, 200.0, "a rising line")
    return plain(between(t, (cold[0], warm[0]), (cold[1], warm[1])))


def class_vapor(outdoor_c: ArrayLike, outdoor_pa: ArrayLike, indoor_c: ArrayLike, excess_pa: float) -> Floats:
    """Vapor pressure indoors by a humidity class, p = min(psat(θi), pe + Δp max(0, min(1, 1 − θe/20))).

    Args:
        outdoor_c: mean outdoors θe, of the day or month [°C].
        outdoor_pa: vapor pressure outdoors pe [Pa].
        indoor_c: air indoors θi [°C]. All broadcast.
        excess_pa: excess of the class at 0 °C and below Δp [Pa].

    Returns:
        Vapor pressure [Pa].

    >>> class_vapor(0.0, 500.0, 20.0, 810.0)
    1310.0

    Reference: ISO 13788, annex A (M).
    """
    t = check_range("outdoor temperature [°C]", outdoor_c, *_OUTDOORS)
    p = check_range("vapor pressure [Pa]", outdoor_pa, 0.0, 20_000.0, "air outdoors")
    excess = check_range("vapor pressure excess [Pa]", excess_pa, 0.0, 5_000.0, "humidity classes")
    wanted = p + between(t, (0.0, NO_EXCESS_C), (1.0, 0.0)) * excess
    most = saturation_pressure(indoor_c)
    return plain(choose(wanted < most, wanted, most))
