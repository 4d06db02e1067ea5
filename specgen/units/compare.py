"""The arithmetic of the one judge: quantities held against each other, and computed numbers against a limit.

What was typed is compared as the rational number that was typed, without any tolerance. A computed number was not typed:
binary floating point leaves it a little off the number that the formula means. That policy stands here and nowhere else.
"""

from __future__ import annotations

import math

from specgen.units.quantity import Quantity, row_of

# Of the greater of a computed number and its limit. A chain of some thousand operations of double precision, each right
# to 1.1e-16, stays below 1e-12; no trade states a limit to nine places. In between, equal is meant.
_NOISE = 1e-9


def keeps(value: Quantity, comparison: str, limit: Quantity) -> bool:
    """Whether a quantity keeps a limit as it was set, "at least", "at most" or "is", its nominal values aside."""
    if comparison == "at least":
        return value.exact >= limit.exact
    if comparison == "at most":
        return value.exact <= limit.exact
    return value.exact == limit.exact


def deciding(value: Quantity, comparison: str, limit: Quantity) -> Quantity | None:
    """The limit, or the nominal value of it, that a quantity meets; None where it meets neither.

    Raises:
        TypeError: the two are of different dimensions.
    """
    if value.dimension != limit.dimension:
        raise TypeError(f"{value.text} cannot be held against {limit.text}")
    if keeps(value, comparison, limit):
        return limit
    if not limit.nominal:
        return None
    system, own = row_of(limit).system, row_of(value).system
    for twin in limit.nominal:
        other = own == row_of(twin).system != system
        if value.exact == twin.exact or (other and keeps(value, comparison, twin)):
            return twin
    return None


def at_least(value: Quantity, limit: Quantity) -> bool:
    """Whether a quantity is as large as a limit, or a nominal value of it, or larger."""
    return deciding(value, "at least", limit) is not None


def at_most(value: Quantity, limit: Quantity) -> bool:
    """Whether a quantity is as small as a limit, or a nominal value of it, or smaller."""
    return deciding(value, "at most", limit) is not None


def computed_at_most(value: float, limit: float, of: float = 0.0) -> bool:
    """Whether a computed number is at most a limit, both in one unit; ``of``: the greatest number it is a difference of.

    >>> 0.1 * 3 <= 0.3, computed_at_most(0.1 * 3, 0.3), computed_at_most(0.3001, 0.3)
    (False, True, False)
    >>> computed_at_most(0.3 - 0.1 * 3, 0.0, of=0.3), computed_at_most(0.3001 - 0.3, 0.0, of=0.3)
    (True, False)
    """
    return value <= limit or same_computed(value, limit, of)


def computed_at_least(value: float, limit: float, of: float = 0.0) -> bool:
    """Whether a computed number is at least a limit; see :func:`computed_at_most`."""
    return computed_at_most(limit, value, of)


def same_computed(one: float, other: float, of: float = 0.0) -> bool:
    """Whether two computed numbers in one unit are one but for the last binary digits.

    >>> same_computed(0.1 * 3, 0.3), same_computed(0.0, 0.0), same_computed(0.3, 0.3001)
    (True, True, False)
    """
    return math.isclose(one, other, rel_tol=_NOISE, abs_tol=_NOISE * abs(of))


def fitting(computed: float, step: float) -> int:
    """The most whole steps that fit into a computed number: one that it just reaches is not lost.

    >>> fitting(0.1 * 3, 0.1), fitting(0.29, 0.1)
    (3, 2)
    """
    near = round(computed / step)
    return near if same_computed(computed, near * step) else math.floor(computed / step)


def whole_steps(computed: float) -> int:
    """The fewest whole steps that a computed number of them takes: one on a step does not gain another.

    >>> whole_steps(0.1 * 3 * 10), whole_steps(3.01), whole_steps(0.0)
    (3, 4, 0)
    """
    near = round(computed)
    return near if same_computed(computed, near) else math.ceil(computed)
