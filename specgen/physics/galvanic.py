"""Galvanic couples by anodic index.

The anodic index of a metal is its voltage to gold in sea water, positive and rounded: the larger index is the
anode and corrodes. The table and the limits are the caller's.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from specgen.physics.errors import PhysicsError, check_range


@dataclass(frozen=True)
class Couple:
    """Two metals in contact: index difference and limit [V], the metal that corrodes (None if equal), verdict."""

    difference_v: float
    limit_v: float
    anode: str | None
    acceptable: bool


def galvanic_couple(first: str, second: str, anodic_index: Mapping[str, float], limit_v: float) -> Couple:
    """Compare the anodic index difference of two metals with a limit.

    ΔV = |V₁ − V₂| ≤ limit.

    Args:
        first, second: names in the table.
        anodic_index: anodic index of each metal [V], 0 for gold, larger for less noble metals.
        limit_v: largest difference for the exposure [V].

    Raises:
        PhysicsError: a metal is not in the table; the nearest names are given.

    >>> couple = galvanic_couple("copper", "aluminium", {"copper": 0.35, "aluminium": 0.90}, 0.15)
    >>> round(couple.difference_v, 2), couple.anode, couple.acceptable
    (0.55, 'aluminium', False)

    Reference: Rule of thumb of corrosion handbooks (P). It leaves out area ratio, electrolyte and runoff
        without contact.
    """
    check_range("galvanic limit [V]", limit_v, 0.0, 3.0, "metals in water")
    one, two = (_index(metal, anodic_index) for metal in (first, second))
    difference = abs(one - two)
    anode = None if one == two else (first if one > two else second)
    # Table values carry two decimals: 0.90 − 0.75 must not exceed 0.15 by rounding.
    return Couple(difference, limit_v, anode, difference <= limit_v + 1e-9)


def _index(metal: str, anodic_index: Mapping[str, float]) -> float:
    if metal not in anodic_index:
        near = get_close_matches(metal, anodic_index, n=3) or sorted(anodic_index)
        raise PhysicsError(f"metal {metal!r} has no anodic index: did you mean {', '.join(near)}?")
    return float(
        check_range(f"anodic index of {metal} [V]", anodic_index[metal], -0.5, 3.0, "metals in water")
    )
