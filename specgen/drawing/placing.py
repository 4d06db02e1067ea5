"""From the wall to the sheet: scale, place, and the stretches of plain wall that are left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import fsum

from specgen.drawing.shapes import Area, Item, Point, Stroke, moved, rectangle

BAND = 4.0  # of the sheet, for what is left out
LEAST_CUT = 10.0  # less is not worth a break


@dataclass(frozen=True)
class Placing:
    """``unit`` is meters of the wall in a millimeter of the sheet; ``cuts`` are left out, from below upward [m]."""

    unit: float
    origin: Point  # on the sheet, of the outer face at the height of the finished roof
    cuts: tuple[tuple[float, float], ...] = ()

    def y(self, height: float) -> float:
        """A height on the sheet."""
        return self.origin[1] + self._run(height) - self._run(0.0)

    def _run(self, height: float) -> float:
        total = height / self.unit
        for low, high in self.cuts:
            share = min(max((height - low) / (high - low), 0.0), 1.0)
            total -= share * ((high - low) / self.unit - BAND)
        return total

    def x(self, across: float) -> float:
        """A distance from the outer face on the sheet."""
        return self.origin[0] + across / self.unit

    def at(self, point: Point) -> Point:
        """A point on the sheet."""
        return self.x(point[0]), self.y(point[1])

    def item(self, item: Item) -> Item:
        """An item of the wall on the sheet."""
        return moved(item, self.at)

    @property
    def bands(self) -> tuple[tuple[float, float], ...]:
        """The heights on the sheet between which something is left out."""
        return tuple((self.y(low), self.y(high)) for low, high in self.cuts)


def cuts_for(
    zones: Sequence[tuple[float, float]], unit: float, room: float
) -> tuple[tuple[float, float], ...] | None:
    """What to leave out between the zones that must be seen, so that the rest fits the room.

    Args:
        zones: heights that must be seen [m], in any order; the lowest and highest end the drawing.
        unit: meters of the wall in a millimeter of the sheet.
        room: height on the sheet [mm].

    Returns:
        The cuts from below upward; none if all fits; None if the zones alone do not fit.
    """
    merged: list[tuple[float, float]] = []
    for low, high in sorted(zones):
        if merged and (low - merged[-1][1]) / unit < LEAST_CUT:
            merged[-1] = merged[-1][0], max(merged[-1][1], high)
        else:
            merged.append((low, high))
    total = (merged[-1][1] - merged[0][0]) / unit
    if total <= room:
        return ()
    gaps = [(a[1], b[0]) for a, b in pairwise(merged)]
    spare = fsum((high - low) / unit - BAND for low, high in gaps)
    excess = total - room
    if spare < excess or not gaps:
        return None
    found = []
    for low, high in gaps:
        take = BAND + ((high - low) / unit - BAND) * excess / spare
        rest = ((high - low) - take * unit) / 2.0
        found.append((low + rest, high - rest))
    return tuple(found)


def break_lines(placing: Placing, left: float, right: float) -> list[Item]:
    """The mark of each cut: a blank band between two broken lines."""
    items: list[Item] = []
    for low, high in placing.bands:
        items.append(Area("break", rectangle(left, low, right, high), "blank", None))
        for y in (low, high):
            items.append(Stroke("break", broken(left - 3.0, right + 3.0, y), "medium"))
    return items


def broken(left: float, right: float, y: float) -> tuple[Point, ...]:
    """A level line with one zigzag in its middle."""
    middle = (left + right) / 2.0
    return (
        (left, y),
        (middle - 1.5, y),
        (middle - 0.7, y + 1.6),
        (middle + 0.7, y - 1.6),
        (middle + 1.5, y),
        (right, y),
    )


def broken_upright(x: float, low: float, high: float) -> tuple[Point, ...]:
    """An upright line with one zigzag in its middle."""
    return tuple((b, a) for a, b in broken(low, high, x))
