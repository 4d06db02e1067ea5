"""When two places of a drawing are one: geometry of the sheet, never a comparison of a size with a limit."""

from __future__ import annotations

SAME_M = 1e-9  # [m] of the wall, between two sums of the same sizes
SAME_MM = 1e-6  # [mm] of the sheet, far finer than any pen
PARALLEL = 1e-12  # cross product of two directions that never meet on a sheet


def between(at: float, start: float, end: float) -> bool:
    """Whether a place [m] lies between two others or on one of them."""
    return start - SAME_M <= at <= end + SAME_M


def strictly_between(at: float, start: float, end: float) -> bool:
    """Whether a place [m] lies between two others and on neither."""
    return start + SAME_M < at < end - SAME_M
