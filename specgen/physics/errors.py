"""Errors of the physics room, and the checks that raise them.

A formula is only as good as the range it was fitted to. Each function states its range and calls
`check_range` or `check_finite`, so a value outside it stops the calculation and is named: each may raise
`OutOfRange` and `NotFinite`. A docstring names only what else it raises.
"""

from __future__ import annotations

import math
from typing import TypeAlias

from specgen.arrays import ArrayLike, NDArray, np

Floats: TypeAlias = "float | NDArray[np.float64]"
"""A float, or an array of floats. Functions take either; floats alone give a float back."""


class PhysicsError(ValueError):
    """Base of every error a physics function raises on purpose."""


class OutOfRange(PhysicsError):  # noqa: N818 - the name reads as the statement it makes
    """A value lies outside the range in which a formula holds.

    Args:
        name: the quantity, with its unit.
        value: the first offending value.
        low, high: the range, ends included. Infinite where there is no limit on that side.
        source: who states the range.

    >>> raise OutOfRange("relative humidity [-]", 1.2, 0.0, 1.0, "definition")
    Traceback (most recent call last):
    ...
    specgen.physics.errors.OutOfRange: relative humidity [-] is 1.2, outside 0 to 1 (definition)
    """

    def __init__(self, name: str, value: float, low: float, high: float, source: str) -> None:
        self.name = name
        self.value = float(value)
        self.low = float(low)
        self.high = float(high)
        self.source = source
        super().__init__(f"{name} is {self.value:.9g}, outside {self.low:.9g} to {self.high:.9g} ({source})")


class NotFinite(PhysicsError):  # noqa: N818 - the name reads as the statement it makes
    """A value is blank, NaN or infinite where a number is needed.

    >>> raise NotFinite("thickness [m]", float("nan"))
    Traceback (most recent call last):
    ...
    specgen.physics.errors.NotFinite: thickness [m] is nan: a finite number is needed
    """

    def __init__(self, name: str, value: object) -> None:
        self.name = name
        self.value = value
        super().__init__(f"{name} is {value}: a finite number is needed")


def check_finite(name: str, value: ArrayLike | None) -> Floats:
    """Return `value` as a float where it is one number, else as an array of floats, or raise `NotFinite` naming it.

    >>> check_finite("speed [m/s]", 3)
    3.0
    """
    if isinstance(
        value, float | int
    ):  # nearly every call of a check is with one number, which needs no array
        if not math.isfinite(value):
            raise NotFinite(name, float(value))
        return float(value)
    if value is None:
        raise NotFinite(name, "blank")
    try:
        array = np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError) as error:
        raise NotFinite(name, repr(value)) from error
    bad = ~np.isfinite(array)
    if bad.any():
        raise NotFinite(name, float(array[bad].flat[0]))
    return array


def check_range(name: str, value: ArrayLike | None, low: float, high: float, source: str) -> Floats:
    """Return `value` as a float, or as an array of floats, between `low` and `high`, or raise naming the first outside.

    Raises:
        NotFinite: a value is blank, NaN or infinite.
        OutOfRange: a value is below `low` or above `high`.

    >>> check_range("speed [m/s]", [3, 4], 0, math.inf, "definition")
    array([3., 4.])
    """
    checked = check_finite(name, value)
    if isinstance(checked, float):
        if not low <= checked <= high:
            raise OutOfRange(name, checked, low, high, source)
        return checked
    bad = (checked < low) | (checked > high)
    if bad.any():
        raise OutOfRange(name, float(checked[bad].flat[0]), low, high, source)
    return checked


def check_array(
    name: str, value: ArrayLike | None, low: float, high: float, source: str
) -> NDArray[np.float64]:
    """Return what :func:`check_range` passes as an array, whatever it was."""
    return np.asarray(check_range(name, value, low, high, source))


def plain(result: ArrayLike) -> Floats:
    """Return a float where `result` has no dimension, else the array.

    >>> plain(np.float64(2.5))
    2.5
    """
    if isinstance(result, float):
        return float(result)
    array = np.asarray(result, dtype=np.float64)
    return float(array) if array.ndim == 0 else array
