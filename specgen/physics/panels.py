"""Control joints that divide a plaster face into panels: the fewest that satisfy area, length and ratio.

Joints run the full height or the full length of the face. Joints that must exist (edges of openings, changes
of substrate) are given; they cut the face into segments. Within a segment equal panels have at once the
smallest greatest side and the greatest smallest side, so only the number of panels per segment is sought.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil
from typing import Final

from specgen.physics.errors import OutOfRange, PhysicsError, check_finite, check_range

MOST_PANELS: Final = 60
"""Most panels tried in one segment: beyond, the face is longer than one elevation."""

_ROUND: Final = 1e-9
"""Relative slack, so that a panel of exactly the limit passes."""


@dataclass(frozen=True)
class PanelLimits:
    """Limits of one panel: area [m²], either side [m], longer over shorter side [-]."""

    area_m2: float
    length_m: float
    ratio: float


@dataclass(frozen=True)
class PanelLayout:
    """Joints of a face, from its left and lower edge [m].

    vertical_m, horizontal_m are all inner joints, given ones included; added counts the joints that were not
    given. The greatest panel area [m²], side [m] and ratio [-] follow.
    """

    vertical_m: tuple[float, ...]
    horizontal_m: tuple[float, ...]
    added: int
    greatest_area_m2: float
    greatest_side_m: float
    greatest_ratio: float


@dataclass(frozen=True)
class _Division:
    """One way to divide a side: panels per segment, and the greatest and smallest panel [m]."""

    counts: tuple[int, ...]
    greatest: float
    smallest: float

    @property
    def joints(self) -> int:
        """Joints between its panels, the given ones included."""
        return sum(self.counts) - 1


def panel_layout(
    length_m: float,
    height_m: float,
    limits: PanelLimits,
    vertical_fixed: Sequence[float] = (),
    horizontal_fixed: Sequence[float] = (),
) -> PanelLayout:
    """Fewest control joints for a rectangular face.

    Among layouts with the fewest joints, the one with the least length of joint, then with the squarest panels.

    Args:
        length_m, height_m: face [m].
        limits: limits of one panel.
        vertical_fixed, horizontal_fixed: joints that must exist, from the left and lower edge [m].

    Raises:
        OutOfRange, NotFinite: a size cannot be, or a given joint lies outside the face.
        PhysicsError: no layout with at most `MOST_PANELS` panels a segment satisfies the limits.

    A parapet face 20 m by 1.2 m, panels to 13.4 m², 5.5 m and 2.5 to 1:

    >>> layout = panel_layout(20.0, 1.2, PanelLimits(13.4, 5.5, 2.5))
    >>> len(layout.vertical_m), layout.horizontal_m, round(layout.greatest_ratio, 2)
    (6, (), 2.38)

    Reference: The limits come from the caller (ASTM C1063 for lath and plaster). Joints through part of a
        face only, and joints at re-entrant corners, are the designer's to add.
    """
    _check(length_m, height_m, limits)
    columns = _divisions(length_m, vertical_fixed, "vertical", limits)
    rows = _divisions(height_m, horizontal_fixed, "horizontal", limits)
    best: tuple[tuple[float, float, float], _Division, _Division] | None = None
    for column in columns:
        across = column.joints
        for row in rows:
            up = row.joints
            if best is not None and across + up > best[0][0]:
                break  # divisions come with ever more joints
            if not _fits(column, row, limits):
                continue
            rank = (across + up, round(across * height_m + up * length_m, 9), _ratio(column, row))
            if best is None or rank < best[0]:
                best = (rank, column, row)
    if best is None:
        raise PhysicsError(
            f"no layout of a face {length_m:g} m by {height_m:g} m satisfies the panel limits: "
            "move a given joint, or ask for a different ratio"
        )
    _, column, row = best
    vertical = _joints(length_m, vertical_fixed, column.counts)
    horizontal = _joints(height_m, horizontal_fixed, row.counts)
    given = len(_segments(length_m, vertical_fixed, "vertical")) + len(
        _segments(height_m, horizontal_fixed, "horizontal")
    )
    return PanelLayout(
        vertical,
        horizontal,
        len(vertical) + len(horizontal) - (given - 2),
        column.greatest * row.greatest,
        max(column.greatest, row.greatest),
        _ratio(column, row),
    )


def _check(length_m: float, height_m: float, limits: PanelLimits) -> None:
    check_range("length of the face [m]", length_m, 0.01, 1000.0, "one elevation")
    check_range("height of the face [m]", height_m, 0.01, 1000.0, "one elevation")
    check_range("greatest panel area [m²]", limits.area_m2, 0.01, 1e4, "a limit")
    check_range("greatest panel side [m]", limits.length_m, 0.01, 1e3, "a limit")
    check_range("greatest panel ratio [-]", limits.ratio, 1.0, 1e3, "a square is 1")


def _segments(side: float, fixed: Sequence[float], what: str) -> list[float]:
    """Lengths between the given joints."""
    lines = sorted({float(check_finite(f"{what} joint [m]", line)) for line in fixed})
    for line in lines:
        if not 0.0 < line < side:
            raise OutOfRange(f"{what} joint [m]", line, 0.0, side, "inside the face")
    return [high - low for low, high in pairwise([0.0, *lines, side])]


def _divisions(side: float, fixed: Sequence[float], what: str, limits: PanelLimits) -> list[_Division]:
    """For each possible greatest panel, the division with the fewest joints."""
    segments = _segments(side, fixed, what)
    sizes = sorted({s / n for s in segments for n in range(1, MOST_PANELS + 1)}, reverse=True)
    found: dict[tuple[int, ...], _Division] = {}
    for size in sizes:
        counts = tuple(max(1, ceil(s / size * (1.0 - _ROUND))) for s in segments)
        if max(counts) > MOST_PANELS:
            break
        panels = [s / n for s, n in zip(segments, counts, strict=True)]
        if max(panels) <= limits.length_m * (1.0 + _ROUND):
            found.setdefault(counts, _Division(counts, max(panels), min(panels)))
    return list(found.values())


def _ratio(column: _Division, row: _Division) -> float:
    """Greatest ratio of longer to shorter side over all panels."""
    return max(column.greatest / row.smallest, row.greatest / column.smallest)


def _fits(column: _Division, row: _Division, limits: PanelLimits) -> bool:
    slack = 1.0 + _ROUND
    return (
        column.greatest * row.greatest <= limits.area_m2 * slack
        and _ratio(column, row) <= limits.ratio * slack
    )


def _joints(side: float, fixed: Sequence[float], counts: tuple[int, ...]) -> tuple[float, ...]:
    edges = [0.0, *sorted({float(v) for v in fixed}), side]
    lines: list[float] = []
    for (low, high), count in zip(pairwise(edges), counts, strict=True):
        step = (high - low) / count
        lines += [*(number * step + low for number in range(1, count)), high]
    return tuple(lines[:-1])
