"""Functions of one number or of an array of them; one number needs no array library."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence

from specgen.arrays import NDArray, np
from specgen.physics.errors import Floats


def exp(value: Floats) -> Floats:
    """e to the power of a number, or of each.

    >>> exp(0.0)
    1.0
    """
    return math.exp(value) if isinstance(value, float) else np.exp(value)


def sqrt(value: Floats) -> Floats:
    """The square root of a number, or of each.

    >>> sqrt(9.0)
    3.0
    """
    return math.sqrt(value) if isinstance(value, float) else np.sqrt(value)


def larger(one: Floats, other: Floats) -> Floats:
    """The larger of two numbers, or of each pair.

    >>> larger(1.0, 2.0)
    2.0
    """
    if isinstance(one, float) and isinstance(other, float):
        return max(one, other)
    return np.maximum(one, other)


def choose(condition: bool | NDArray[np.bool_], first: Floats, second: Floats) -> Floats:
    """The first where a condition holds, else the second; for each number where the condition is an array.

    >>> choose(True, 1.0, 2.0)
    1.0
    """
    if isinstance(condition, bool):
        return first if condition else second
    chosen: NDArray[np.float64] = np.where(condition, first, second)
    return chosen


def between(at: Floats, places: Sequence[float], values: Sequence[float]) -> Floats:
    """Linear between the values of a table, level beyond its ends.

    Args:
        at: where to read the table, one number or an array.
        places: of the table, rising.
        values: one for each place.

    >>> between(2.5, (1.0, 2.0, 4.0), (0.0, 10.0, 30.0)), between(9.0, (1.0, 2.0), (0.0, 10.0))
    (15.0, 10.0)
    """
    if not isinstance(at, float):
        return np.interp(at, places, values)
    right = bisect_right(places, at)
    left = max(right - 1, 0)
    if right in (0, len(places)) or at == places[left]:
        return values[left]
    slope = (values[right] - values[left]) / (places[right] - places[left])
    return slope * (at - places[left]) + values[left]
