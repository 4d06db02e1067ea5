"""Twelve months of condensation and drying, by the balance of ISO 13788.

Valid where one side is indoor air that drives vapor through the year. With the same air on both sides there
is no drive and the balance passes whatever is built: use an hourly study there. What `steady` leaves out is
left out here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum
from typing import Final

from specgen.physics.errors import OutOfRange
from specgen.physics.steady import Layers, Side, steady_state

MONTH_SECONDS: Final = tuple(days * 86400.0 for days in (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31))
"""Length of each month, January first [s]. Calendar, no leap day."""


@dataclass(frozen=True)
class Month:
    """One month at the planes that are wet at some time of the year.

    Attributes:
        month: month of the year, 1 to 12.
        rate: condensing (+) or drying (-) rate at each plane of the balance [kg/(s·m²)].
        held: water held at each plane at the end of the month [kg/m²].
    """

    month: int
    rate: tuple[float, ...]
    held: tuple[float, ...]


@dataclass(frozen=True)
class Balance:
    """Balance of a year.

    Attributes:
        planes: planes where water is held in some month. Empty: the assembly stays dry.
        months: from the month in which condensation starts, length 12, or 0 when dry.
        peak: most water held at one time, all planes together [kg/m²].
        residual: water held when the year is over [kg/m²]. Above 0: it does not dry out in the year.
    """

    planes: tuple[int, ...]
    months: tuple[Month, ...]
    peak: float
    residual: float


def monthly_balance(layers: Layers, first: Sequence[Side], second: Sequence[Side]) -> Balance:
    """Condensation and drying through twelve mean months.

    The year starts in the first month with condensation that follows a month without. In each month every
    plane gains rate x time; a plane that holds water stands at saturation; one that would fall below zero is
    dry. Where every month condenses, the start changes nothing and January is taken.

    Args:
        layers: subdivide thick insulating layers first (`specgen.physics.steady.subdivide`).
        first, second: mean environments of the months, January first, length 12.

    Raises:
        OutOfRange, NotFinite: not twelve months, or what `steady_state` refuses.

    >>> wall = Layers(("board", "wool"), (0.1, 2.0), (1e9, 1e9))
    >>> dry = [Side(20.0, 900.0, 0.13)] * 12
    >>> monthly_balance(wall, dry, dry).planes
    ()

    Reference: ISO 13788:2012, clause 6.
    """
    for which, sides in (("first", first), ("second", second)):
        if len(sides) != 12:
            raise OutOfRange(f"number of months of the {which} side", len(sides), 12, 12, "one year")
    start = _start(layers, first, second)
    if start is None:
        return Balance((), (), 0.0, 0.0)
    history = _year(layers, first, second, start)
    planes = tuple(sorted({plane for _, rates, _ in history for plane in rates}))
    months = tuple(
        Month(month + 1, tuple(rates.get(k, 0.0) for k in planes), tuple(held.get(k, 0.0) for k in planes))
        for month, rates, held in history
    )
    return Balance(planes, months, max(fsum(m.held) for m in months), fsum(months[-1].held))


def _start(layers: Layers, first: Sequence[Side], second: Sequence[Side]) -> int | None:
    condensing = [bool(steady_state(layers, a, b).planes) for a, b in zip(first, second, strict=True)]
    if not any(condensing):
        return None
    return next((m for m in range(12) if condensing[m] and not condensing[m - 1]), 0)


def _year(
    layers: Layers, first: Sequence[Side], second: Sequence[Side], start: int
) -> list[tuple[int, dict[int, float], dict[int, float]]]:
    held: dict[int, float] = {}
    history = []
    for step in range(12):
        month = (start + step) % 12
        state = steady_state(layers, first[month], second[month], wet=sorted(held))
        rates = {plane.number: plane.rate for plane in state.planes}
        gained = {k: held.get(k, 0.0) + rate * MONTH_SECONDS[month] for k, rate in rates.items()}
        held = {k: water for k, water in (held | gained).items() if water > 0.0}
        history.append((month, rates, dict(held)))
    return history
