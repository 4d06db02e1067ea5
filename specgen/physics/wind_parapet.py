"""Wind on a parapet and its coping: both load cases of ASCE 7, face by face, and what a coping must resist.

Signs: + presses toward a surface, - pulls away from it. A coping's exterior face takes the outer face, its top the
uplift of the roof zone, its interior face the roof face.
"""

from __future__ import annotations

from dataclasses import dataclass

from specgen.arrays import ArrayLike
from specgen.physics.elementwise import larger
from specgen.physics.errors import Floats, check_finite, check_range, plain
from specgen.physics.wind import Directionality, at_least_minimum, design_pressure


@dataclass(frozen=True)
class ParapetCoefficients:
    """External coefficients GCp [-] that meet at one stretch of parapet, with their signs.

    Attributes:
        wall_toward: positive wall coefficient, edge or corner zone.
        wall_away: negative wall coefficient, edge or corner zone.
        roof_away: negative roof coefficient, edge or corner zone.
    """

    wall_toward: float
    wall_away: float
    roof_away: float

    def __post_init__(self) -> None:
        check_range("positive wall coefficient GCp [-]", self.wall_toward, 0.1, 3.0, "ASCE 7, figure 30.3-1")
        check_range("negative wall coefficient GCp [-]", self.wall_away, -6.0, -0.1, "ASCE 7, figure 30.3-1")
        check_range("negative roof coefficient GCp [-]", self.roof_away, -6.0, -0.1, "ASCE 7, figure 30.3-2A")


@dataclass(frozen=True)
class ParapetPressures:
    """Design pressures at one stretch of parapet at strength level [Pa], the minimum applied.

    Attributes:
        outer_toward, outer_away: on the outer face: pressed (case A, + sign) and pulled off (case B, - sign).
        inner_toward, inner_away: on the roof face: pressed (case B, +) and pulled off (case A, -).
        top_away: uplift on the top (-), roof zone.
        net_a, net_b: across the whole parapet: case A pushes it toward the roof, case B away from the roof.
            Both positive.
    """

    outer_toward: float
    outer_away: float
    inner_toward: float
    inner_away: float
    top_away: float
    net_a: float
    net_b: float


def parapet_pressures(
    q: float, coefficients: ParapetCoefficients, gcpi: float, directionality: Directionality, least: float
) -> ParapetPressures:
    """Pressures on the faces and top of a parapet, and across it, for both load cases.

    Case A, parapet on the windward side: positive wall pressure on the outer face, negative roof edge or
    corner pressure on the roof face. Case B, leeward side: positive wall pressure on the roof face, negative
    wall pressure on the outer face. Each face takes the sign of the internal pressure that is worse for it;
    across the whole parapet internal pressure cancels.

    Args:
        q: velocity pressure at the top of the parapet [Pa].
        coefficients: those that meet at this stretch.
        gcpi: size of the internal coefficient within the parapet [-], 0 for a solid one.
        directionality: factor Kd, and where it enters.
        least: least design pressure [Pa].

    >>> one = ParapetCoefficients(1.0, -1.4, -2.3)
    >>> p = parapet_pressures(1000.0, one, 0.0, Directionality(0.85, "q"), 766.0)
    >>> p.net_a, p.net_b, p.top_away
    (3300.0, 2400.0, -2300.0)

    Reference: ASCE 7-16, eq. 30.8-1 and figure 30.8-1; ASCE 7-22, eq. 30.6-1 and figure 30.6-1.
    """
    check_range("internal coefficient GCpi, without sign [-]", gcpi, 0.0, 0.55, "ASCE 7, table 26.13-1")

    def face(gcp: float, inner: float) -> float:
        return float(at_least_minimum(design_pressure(q, gcp, inner, directionality), least))

    def across(front: float, back: float) -> float:
        pushed, pulled = (design_pressure(q, gcp, 0.0, directionality) for gcp in (front, back))
        return float(at_least_minimum(pushed - pulled, least))

    c = coefficients
    return ParapetPressures(
        outer_toward=face(c.wall_toward, -gcpi),
        outer_away=face(c.wall_away, gcpi),
        inner_toward=face(c.wall_toward, -gcpi),
        inner_away=face(c.roof_away, gcpi),
        top_away=face(c.roof_away, gcpi),
        net_a=across(c.wall_toward, c.roof_away),
        net_b=across(c.wall_toward, c.wall_away),
    )


def required_resistance(allowable_pressure: ArrayLike, factor: float) -> Floats:
    """Tested resistance a coping needs: a factor times the size of the allowable pressure.

    Args:
        allowable_pressure: design pressure at allowable level [Pa], either sign.
        factor: safety factor on the allowable pressure [-], 1 to 5.

    Returns:
        Resistance [Pa], positive.

    >>> required_resistance(-600.0, 2.0)
    1200.0

    Reference: ANSI/SPRI/FM 4435/ES-1 (from memory).
    """
    check_range("safety factor [-]", factor, 1.0, 5.0, "ANSI/SPRI/FM 4435/ES-1")
    pressure = check_finite("allowable pressure [Pa]", allowable_pressure)
    return plain(factor * larger(pressure, -pressure))
