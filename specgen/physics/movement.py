"""Thermal movement of sheet metal, the temperatures it goes through, and the gaps at its joints."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.arrays import ArrayLike
from specgen.physics.errors import Floats, check_range, plain

_METALS = "metals, 1/K"


def length_change(length: ArrayLike, expansion: ArrayLike, temp_change: ArrayLike) -> Floats:
    """Change of length of a free piece: ΔL = α L ΔT.

    Args:
        length: length [m], above 0.
        expansion: coefficient of linear expansion [1/K], 1e-6 to 2e-4.
        temp_change: temperature change [K], -200 to 200. All broadcast.

    Returns:
        Change of length [m], with the sign of the temperature change.

    >>> round(length_change(3.0, 24e-6, 50.0), 6)
    0.0036

    Reference: Definition of the coefficient of linear expansion.
    """
    size = check_range("length [m]", length, 1e-6, 1e4, "a piece of metal")
    alpha = check_range("expansion coefficient [1/K]", expansion, 1e-6, 2e-4, _METALS)
    change = check_range("temperature change [K]", temp_change, -200.0, 200.0, "constant coefficient")
    return plain(alpha * size * change)


@dataclass(frozen=True)
class MetalRange:
    """Coldest and hottest temperature of a piece of metal [°C]."""

    coldest_c: float
    hottest_c: float

    def __post_init__(self) -> None:
        low = check_range("coldest temperature [°C]", self.coldest_c, -80.0, 120.0, "weather and sun")
        check_range("hottest temperature [°C]", self.hottest_c, float(low), 120.0, "not below the coldest")

    @property
    def span(self) -> float:
        """Hottest less coldest [K]."""
        return self.hottest_c - self.coldest_c


@dataclass(frozen=True)
class JointGap:
    """Gap of a movement joint between two pieces [m].

    Attributes:
        at_install: to set at the temperature of installation.
        hottest: left when the metal is hottest: the least clear gap, or more.
        coldest: open when the metal is coldest: what the cover plate has to span.
        movement: difference between the two, without the factor.
    """

    at_install: float
    hottest: float
    coldest: float
    movement: float


def joint_gap(
    length: float,
    expansion: float,
    metal: MetalRange,
    install_c: float,
    least_gap: float,
    range_factor: float,
) -> JointGap:
    """Gap to set at installation so that the joint never closes.

    gap = least gap + k α L (T_hottest - T_install), L the length that moves toward the joint: one piece
    length where pieces are held at their middle or all at one end. k covers tolerance of setting and cutting.

    Args:
        length: length that moves into the joint [m].
        expansion: coefficient of linear expansion [1/K].
        metal: coldest and hottest temperature of the metal [°C].
        install_c: temperature of the metal when the joint is set [°C], within the range.
        least_gap: clear gap to keep when hottest [m], 0 to 0.05.
        range_factor: factor on the movement that closes the joint [-], 1 to 2.

    >>> gap = joint_gap(3.0, 24e-6, MetalRange(-20.0, 80.0), 20.0, 0.002, 1.0)
    >>> round(gap.at_install, 5), round(gap.hottest, 5), round(gap.coldest, 5)
    (0.00632, 0.002, 0.0092)

    Reference: Definition of the coefficient of linear expansion; factor and least gap are common practice of
        the caller.
    """
    source = "range of the metal"
    check_range("temperature at installation [°C]", install_c, metal.coldest_c, metal.hottest_c, source)
    clear = float(check_range("least clear gap [m]", least_gap, 0.0, 0.05, "a sheet metal joint"))
    factor = float(check_range("range factor [-]", range_factor, 1.0, 2.0, "never below the movement itself"))
    closing = float(length_change(length, expansion, metal.hottest_c - install_c))
    opening = float(length_change(length, expansion, install_c - metal.coldest_c))
    at_install = clear + factor * closing
    return JointGap(at_install, at_install - closing, at_install + opening, closing + opening)
