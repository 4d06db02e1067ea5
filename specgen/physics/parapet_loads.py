"""What a parapet hands to its base: shear and moment of a load across it, and the load of an earthquake.

All per length of parapet, as a cantilever that nothing braces above the roof.
"""

from __future__ import annotations

from dataclasses import dataclass

from specgen.physics.errors import check_range


@dataclass(frozen=True)
class BaseReaction:
    """Shear [N/m] and moment [N·m/m] at the base, per length of parapet."""

    shear: float
    moment: float


def base_of(pressure: float, height: float) -> BaseReaction:
    """Shear and moment at the base of a cantilever under an even pressure: V = p h, M = p h²/2.

    Args:
        pressure: net pressure across the parapet [Pa], 0 to 100,000.
        height: height above the base [m], above 0 and at most 20.

    Raises:
        OutOfRange: a value outside its range.

    >>> base_of(2000.0, 1.0)
    BaseReaction(shear=2000.0, moment=1000.0)
    """
    check_range("net pressure [Pa]", pressure, 0.0, 1e5, "loads on a parapet")
    check_range("height of the parapet [m]", height, 0.01, 20.0, "a parapet")
    return BaseReaction(pressure * height, pressure * height**2 / 2.0)


def brace_of(pressure: float, height: float, brace_height: float) -> float:
    """Horizontal force of braces per length of parapet [N/m], the base a hinge: R = p h²/(2 b).

    Args:
        pressure: net pressure across the parapet [Pa], 0 to 100,000.
        height: height above the base [m], above 0 and at most 20.
        brace_height: height of the braces above the base [m], above 0 and at most the height.

    Raises:
        OutOfRange: a value outside its range.

    >>> brace_of(2000.0, 2.0, 1.6)
    2500.0
    """
    check_range("height of the braces [m]", brace_height, 0.01, height, "a brace of the parapet")
    return base_of(pressure, height).moment / brace_height


@dataclass(frozen=True)
class SeismicBounds:
    """Multiples of SDS Ip Wp between which the force of a component stands [-]."""

    least: float
    most: float


def seismic_share(sds: float, importance: float, amplification: float, bounds: SeismicBounds) -> float:
    """Horizontal force of an earthquake on a component over its weight, Fp/Wp [-], strength level.

    Formula: Fp/Wp = 0.4 SDS Ip A, at least 0.3 SDS Ip and at most 1.6 SDS Ip. To ASCE 7-16 A = (ap/Rp)(1 + 2 z/h), in
    ASCE 7-22 A = (Hf/Rμ)(CAR/Rpo).

    Args:
        sds: design spectral acceleration at short periods, as a fraction of g [-], 0 to 5.
        importance: component importance factor Ip [-], 1 to 1.5.
        amplification: 0.4 A [-].
        bounds: 0.3 and 1.6.

    Raises:
        OutOfRange: a value outside its range.

    >>> seismic_share(1.0, 1.0, 1.2, SeismicBounds(0.3, 1.6))
    1.2

    Reference: ASCE 7-05 to 7-22, section 13.3.1, eq. 13.3-1 to 13.3-3.
    """
    check_range("SDS [g]", sds, 0.0, 5.0, "ASCE 7, section 11.4")
    check_range("component importance factor Ip [-]", importance, 1.0, 1.5, "ASCE 7, section 13.1.3")
    check_range("force over weight and SDS [-]", amplification, 0.0, 20.0, "ASCE 7, section 13.3.1")
    return min(max(amplification, bounds.least), bounds.most) * sds * importance
