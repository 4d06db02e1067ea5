"""Thermal movement of sheet metal, the temperatures it goes through, and the gaps at its joints."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.arrays import ArrayLike
from specgen.physics.errors import Floats, check_range, plain
from specgen.physics.sol_air import sol_air

_METALS = "metals, 1/K"


def length_change(length: ArrayLike, expansion: ArrayLike, temp_change: ArrayLike) -> Floats:
    """Change of length of a free piece: ΔL = α L ΔT.

    Parameters
    ----------
    length : float or array
        Length [m], above 0.
    expansion : float or array
        Coefficient of linear expansion [1/K], 1e-6 to 2e-4.
    temp_change : float or array
        Temperature change [K], -200 to 200. All broadcast.

    Returns
    -------
    float or array
        Change of length [m], with the sign of the temperature change.

    Raises
    ------
    OutOfRange, NotFinite

    Examples
    --------
    >>> round(length_change(3.0, 24e-6, 50.0), 6)
    0.0036

    References
    ----------
    Definition of the coefficient of linear expansion.
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


def metal_range(
    summer_c: float,
    irradiance: float,
    absorptance: float,
    summer_film: float,
    winter_c: float,
    night_loss: float,
    emittance: float,
    night_film: float,
) -> MetalRange:
    """Temperature range of thin metal with insulation behind it: sol-air by day, sky-cooled by night.

    hottest = t_summer + α E / h_summer; coldest = t_winter - ε ΔR / h_night. The metal stores no heat and
    sends none inward, so both ends are on the safe side.

    Parameters
    ----------
    summer_c : float
        Air temperature of the hot design hour [°C].
    irradiance : float
        Greatest irradiance on the metal [W/m²].
    absorptance : float
        Absorptance for sunlight, weathered [-].
    summer_film, night_film : float
        Film coefficients of the calm hot day and the calm cold night [W/(m²·K)].
    winter_c : float
        Air temperature of the cold design night [°C].
    night_loss : float
        Long-wave loss to the clear night sky [W/m²] (`sol_air.longwave_loss`), 0 to leave it out.
    emittance : float
        Long-wave emittance [-].

    Returns
    -------
    MetalRange

    Raises
    ------
    OutOfRange, NotFinite

    Examples
    --------
    >>> one = metal_range(35.0, 900.0, 0.8, 15.0, -15.0, 60.0, 0.9, 12.0)
    >>> one.hottest_c, one.coldest_c
    (83.0, -19.5)

    References
    ----------
    ASHRAE Handbook of Fundamentals, sol-air temperature.
    """
    hottest = float(sol_air(summer_c, absorptance, irradiance, summer_film, 0.0, 0.0))
    coldest = float(sol_air(winter_c, 0.0, 0.0, night_film, emittance, night_loss))
    return MetalRange(coldest, hottest)


@dataclass(frozen=True)
class JointGap:
    """Gap of a movement joint between two pieces [m].

    Attributes
    ----------
    at_install : float
        To set at the temperature of installation.
    hottest : float
        Left when the metal is hottest: the least clear gap, or more.
    coldest : float
        Open when the metal is coldest: what the cover plate has to span.
    movement : float
        Difference between the two, without the factor.
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

    Parameters
    ----------
    length : float
        Length that moves into the joint [m].
    expansion : float
        Coefficient of linear expansion [1/K].
    metal : MetalRange
    install_c : float
        Temperature of the metal when the joint is set [°C], within the range.
    least_gap : float
        Clear gap to keep when hottest [m], 0 to 0.05.
    range_factor : float
        Factor on the movement that closes the joint [-], 1 to 2.

    Returns
    -------
    JointGap

    Raises
    ------
    OutOfRange, NotFinite

    Examples
    --------
    >>> gap = joint_gap(3.0, 24e-6, MetalRange(-20.0, 80.0), 20.0, 0.002, 1.0)
    >>> round(gap.at_install, 5), round(gap.hottest, 5), round(gap.coldest, 5)
    (0.00632, 0.002, 0.0092)

    References
    ----------
    Definition of the coefficient of linear expansion; factor and least gap are common practice of the caller.
    """
    source = "range of the metal"
    check_range("temperature at installation [°C]", install_c, metal.coldest_c, metal.hottest_c, source)
    clear = float(check_range("least clear gap [m]", least_gap, 0.0, 0.05, "a sheet metal joint"))
    factor = float(check_range("range factor [-]", range_factor, 1.0, 2.0, "never below the movement itself"))
    closing = float(length_change(length, expansion, metal.hottest_c - install_c))
    opening = float(length_change(length, expansion, install_c - metal.coldest_c))
    at_install = clear + factor * closing
    return JointGap(at_install, at_install - closing, at_install + opening, closing + opening)
