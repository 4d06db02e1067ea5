"""Straight pieces around a curve in plan: how far a chord leaves its arc, and what a drip needs for it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from specgen.physics.errors import check_range

_LENGTH = (1e-3, 100.0, "geometry")


@dataclass(frozen=True)
class Chord:
    """A piece on a curve: greatest clearance [m] of its edge, at its ends or its middle, and its turn [rad]."""

    clear_m: float
    turn_rad: float


def chord_outside(radius_m: float, piece_m: float, least_clear_m: float) -> Chord:
    """The edge of straight pieces around a convex face: nearest to the face at the middle of a piece.

    Formulas: Rn = √((R + d)² + (L/2)²), greatest clearance Rn - R, at the joints; turn θ = 2 atan(L / (2 (R + d))).

    Args:
        radius_m: radius of the face in plan [m].
        piece_m: length of a piece along its edge [m].
        least_clear_m: clearance that the edge keeps everywhere [m].

    Returns:
        The clearance of the edge at the joints, and the turn from piece to piece.

    Raises:
        OutOfRange: a value outside its range.

    >>> round(chord_outside(6.0, 3.0, 0.025).clear_m, 4)
    0.2089
    """
    check_range("radius", radius_m, 0.1, 1e4, "geometry")
    check_range("piece", piece_m, *_LENGTH)
    check_range("clearance", least_clear_m, 0.0, 1.0, "geometry")
    near = radius_m + least_clear_m
    return Chord(math.hypot(near, piece_m / 2.0) - radius_m, 2.0 * math.atan(piece_m / (2.0 * near)))


def chord_inside(radius_m: float, turn_rad: float, least_clear_m: float) -> Chord:
    """The edge of straight pieces within a concave face: nearest to the face at the joints.

    Formula: greatest clearance R - (R - d) cos(θ/2), at the middle of a piece.

    Args:
        radius_m: radius of the face in plan [m].
        turn_rad: turn from piece to piece [rad].
        least_clear_m: clearance that the edge keeps everywhere [m]; less than the radius.

    Returns:
        The clearance of the edge at the middle of a piece, and the same turn.

    Raises:
        OutOfRange: a value outside its range.

    >>> round(chord_inside(5.7, 0.4904, 0.025).clear_m, 4)
    0.1947
    """
    check_range("radius", radius_m, 0.1, 1e4, "geometry")
    check_range("turn", turn_rad, 0.0, math.pi, "geometry")
    check_range("clearance", least_clear_m, 0.0, radius_m, "geometry")
    return Chord(radius_m - (radius_m - least_clear_m) * math.cos(turn_rad / 2.0), turn_rad)


def longest_piece(radius_m: float, clear_m: float, least_clear_m: float) -> float:
    """The longest straight piece around a convex face whose edge keeps its clearance [m]; 0 where none does.

    Formula: L = 2 √((R + ds)² - (R + d)²).

    Args:
        radius_m: radius of the face in plan [m].
        clear_m: clearance of the edge at the joints [m].
        least_clear_m: clearance that it keeps everywhere [m].

    Raises:
        OutOfRange: a value outside its range.

    >>> round(longest_piece(6.0, 0.2093, 0.025), 2)
    3.0
    """
    check_range("radius", radius_m, 0.1, 1e4, "geometry")
    check_range("clearance", clear_m, 0.0, 10.0, "geometry")
    check_range("clearance", least_clear_m, 0.0, 1.0, "geometry")
    if clear_m <= least_clear_m:
        return 0.0
    return 2.0 * math.sqrt((radius_m + clear_m) ** 2 - (radius_m + least_clear_m) ** 2)
