"""The one judge: whether a value meets a limit. Nobody else compares a value with a requirement.

Quantities are compared as the rational numbers that were typed, so that 8 in and 203.2 mm are equal and no tolerance
is needed.
"""

from __future__ import annotations

from specgen.model.project import Value
from specgen.model.requirement import Comparison
from specgen.practice.entries import PracticeEntry
from specgen.units.quantity import Quantity, quantity


def meets(value: Value, comparison: Comparison, limit: Value | PracticeEntry) -> bool:
    """Whether a value meets a limit; equal to the limit counts as met.

    Args:
        value: a quantity, a count, a word, a flag or a tuple of words.
        comparison: "at least", "at most", "is", "one of" or "includes"; the last two take a tuple of words.
        limit: what the value is held against; an entry of the practice where one gives the limit.

    Raises:
        TypeError: the value is not of the limit's type or dimension.

    >>> from specgen.units.quantity import parse
    >>> meets(parse("203.2 mm"), "at least", parse("8 in")), meets(parse("203.19 mm"), "at least", parse("8 in"))
    (True, False)
    """
    if isinstance(limit, PracticeEntry):
        limit = limit.quantity() if comparison in ("at least", "at most") else limit.words()
    if isinstance(limit, Quantity):
        return _holds(_as_quantity(value, limit), comparison, limit)
    if isinstance(limit, tuple) and comparison == "includes":
        return isinstance(value, tuple) and set(limit) <= set(value)
    if isinstance(limit, tuple):
        return value in limit
    return type(value) is type(limit) and value == limit


def at_least(value: Quantity, limit: Quantity | PracticeEntry) -> bool:
    """Whether a quantity is as large as a limit or larger. An entry of the practice is the better limit to give."""
    return meets(value, "at least", limit)


def at_most(value: Quantity, limit: Quantity | PracticeEntry) -> bool:
    """Whether a quantity is as small as a limit or smaller. An entry of the practice is the better limit to give."""
    return meets(value, "at most", limit)


def _as_quantity(value: Value, limit: Quantity) -> Quantity:
    if isinstance(value, int) and not isinstance(value, bool):  # a count
        value = quantity(value, "")
    if not isinstance(value, Quantity) or value.dimension != limit.dimension:
        raise TypeError(f"{value!r} cannot be held against {limit.text}")
    return value


def _holds(value: Quantity, comparison: Comparison, limit: Quantity) -> bool:
    if comparison == "at least":
        return value.exact >= limit.exact
    if comparison == "at most":
        return value.exact <= limit.exact
    return value.exact == limit.exact
