"""The tangent construction of ISO 13788: a string of vapor pressure pulled tight below saturation."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True)
class Depths:
    """Planes gathered by summed vapor resistance: planes with none between them share one pressure."""

    z: tuple[float, ...]
    upper: tuple[float, ...]
    plane: tuple[int, ...]
    held: tuple[int, ...]
    surface_wet: tuple[bool, bool]


def taut_string(depths: Depths) -> list[int]:
    """Depths at which the string bends or is held: a lower convex hull between each two held depths.

    Three planes, the ends held, the middle far above the straight line: the string passes below it.

    >>> taut_string(Depths((0.0, 1.0, 2.0), (1000.0, 3000.0, 500.0), (0, 1, 2), (0, 2), (False, False)))
    [0, 2]
    """
    vertices = [0]
    rounding = 1e-13 * max(depths.upper)
    for start, end in pairwise(depths.held):
        hull = [start]
        for k in range(start + 1, end + 1):
            while len(hull) > 1 and not _turns_up(depths, hull[-2], hull[-1], k, rounding):
                hull.pop()
            hull.append(k)
        vertices.extend(hull[1:])
    return vertices


def _turns_up(depths: Depths, a: int, b: int, c: int, rounding: float) -> bool:
    """Whether the string through a, b, c bends up at b by more than rounding [Pa]."""
    left = (depths.upper[b] - depths.upper[a]) * (depths.z[c] - depths.z[b])
    right = (depths.upper[c] - depths.upper[b]) * (depths.z[b] - depths.z[a])
    return right - left > rounding * (depths.z[c] - depths.z[a])
