"""Numba where the extra ``hourly`` is installed; the same functions as plain Python where it is not."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

Function = TypeVar("Function", bound=Callable[..., Any])

try:
    import numba
except ImportError:
    numba = None

COMPILED: bool = numba is not None
"""Whether loops over hours run compiled."""


def compiled(function: Function) -> Function:
    """A function compiled when first called, its machine code kept beside it for the next run."""
    if numba is None:
        return function
    made: Function = numba.njit(cache=True, error_model="numpy")(function)
    return made
