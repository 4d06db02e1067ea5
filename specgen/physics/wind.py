"""Wind pressure on components and cladding, by the equations of ASCE 7-16 and 7-22.

The two editions share their equations and differ in three things the caller passes in: the constants of the
exposure profile, its coefficient (2.01 or 2.41), and where the directionality factor Kd enters: in the
velocity pressure q (7-16) or in the design pressure p (7-22). Never in both: `Directionality` holds it once.

Signs: + presses toward a surface, - pulls away from it.
Left out: tornado loads, special wind regions, and the choice of zones and coefficients.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal

from specgen.arrays import ArrayLike, np
from specgen.physics.elementwise import between, choose, exp, larger
from specgen.physics.errors import Floats, check_finite, check_range, plain

AIR_PRESSURE_FACTOR: Final = 0.613
"""Half the air density of the standard, q = 0.613 V² [kg/m³]. ASCE 7-16, eq. 26.10-1.SI. In inch-pound units
0.00256 psf/mph²."""

GROUND_ELEVATION_RATE: Final = 0.000119
"""Decay of air density with ground elevation [1/m]. ASCE 7-16, table 26.9-1, note 2 (0.0000362 1/ft)."""


def exposure_coefficient(
    height: ArrayLike, alpha: float, gradient_height: float, lowest: float, coefficient: float
) -> Floats:
    """Velocity pressure exposure coefficient.

    Kz = c (z / zg)^(2/α), z not taken below `lowest`; c is 2.01 in ASCE 7-16 and 2.41 in 7-22.

    Args:
        height: height above ground z [m], above 0, to `gradient_height`.
        alpha: exponent of the exposure [-].
        gradient_height: gradient height of the exposure zg [m].
        lowest: height below which Kz stays level [m], 15 ft = 4.57 m, or the edition's own for the exposure.
        coefficient: coefficient of the edition [-].

    Returns:
        Kz [-].

    >>> round(exposure_coefficient(100.0 * 0.3048, 9.5, 900.0 * 0.3048, 15.0 * 0.3048, 2.01), 2)
    1.27

    Reference: ASCE 7-16, table 26.10-1, notes; ASCE 7-22, the same table.
    """
    check_range("exposure exponent alpha [-]", alpha, 4.0, 15.0, "ASCE 7, table 26.11-1")
    check_range("gradient height zg [m]", gradient_height, 150.0, 1500.0, "ASCE 7, table 26.11-1")
    check_range("coefficient of Kz [-]", coefficient, 2.0, 2.5, "2.01 in ASCE 7-16, 2.41 in 7-22")
    check_range("lowest height of Kz [m]", lowest, 0.0, 30.0, "ASCE 7, table 26.10-1")
    z = check_range("height above ground [m]", height, 1e-3, gradient_height, "below the gradient height")
    return plain(coefficient * (larger(z, lowest) / gradient_height) ** (2.0 / alpha))


def ground_elevation_factor(elevation: ArrayLike) -> Floats:
    """Factor for thinner air on high ground: Ke = exp(-0.000119 z), z in metres above sea level.

    Args:
        elevation: ground elevation above sea level [m], -500 to 5000.

    Returns:
        Ke [-].

    >>> round(ground_elevation_factor(1609.0), 3)
    0.826

    Reference: ASCE 7-16, table 26.9-1, note 2.
    """
    z = check_range("ground elevation [m]", elevation, -500.0, 5000.0, "inhabited ground")
    return plain(exp(-GROUND_ELEVATION_RATE * z))


@dataclass(frozen=True)
class Directionality:
    """Directionality factor Kd [-] and where it enters: "q" (ASCE 7-16) or "p" (ASCE 7-22)."""

    factor: float
    enters: Literal["q", "p"]

    def __post_init__(self) -> None:
        check_range("directionality factor Kd [-]", self.factor, 0.5, 1.0, "ASCE 7, table 26.6-1")
        if self.enters not in ("q", "p"):
            raise ValueError(f'Kd enters "q" or "p", not {self.enters!r}')

    @property
    def in_q(self) -> float:
        """Factor on the velocity pressure."""
        return self.factor if self.enters == "q" else 1.0

    @property
    def in_p(self) -> float:
        """Factor on the design pressure."""
        return self.factor if self.enters == "p" else 1.0


def velocity_pressure(
    speed: ArrayLike, kz: ArrayLike, kzt: ArrayLike, ke: ArrayLike, directionality: Directionality
) -> Floats:
    """Velocity pressure: q = 0.613 Kz Kzt Ke V² in pascal and metres per second, times Kd in ASCE 7-16.

    Args:
        speed: basic wind speed, 3-second gust at strength level [m/s], 20 to 120.
        kz: exposure coefficient at the height of the parapet top [-].
        kzt: topographic factor [-], 1 on flat ground.
        ke: ground elevation factor [-].
        directionality: all arrays broadcast.

    Returns:
        q [Pa].

    >>> round(velocity_pressure(50.0, 1.0, 1.0, 1.0, Directionality(0.85, "q")), 1)
    1302.6
    >>> round(velocity_pressure(50.0, 1.0, 1.0, 1.0, Directionality(0.85, "p")), 1)
    1532.5

    Reference: ASCE 7-16, eq. 26.10-1; ASCE 7-22, eq. 26.10-1.
    """
    v = check_range("basic wind speed [m/s]", speed, 20.0, 120.0, "ASCE 7 maps, with room")
    z = check_range("exposure coefficient Kz [-]", kz, 0.3, 2.5, "ASCE 7, table 26.10-1")
    t = check_range("topographic factor Kzt [-]", kzt, 1.0, 4.0, "ASCE 7, figure 26.8-1")
    e = check_range("ground elevation factor Ke [-]", ke, 0.5, 1.1, "ASCE 7, table 26.9-1")
    return plain(AIR_PRESSURE_FACTOR * z * t * e * directionality.in_q * v**2)


def design_pressure(q: ArrayLike, gcp: ArrayLike, gcpi: ArrayLike, directionality: Directionality) -> Floats:
    """Pressure on a component before the minimum: p = q ((GCp) - (GCpi)), times Kd in ASCE 7-22.

    Args:
        q: velocity pressure [Pa].
        gcp: external coefficient [-], with its sign.
        gcpi: internal coefficient [-], with its sign. All broadcast.
        directionality: factor Kd, and where it enters.

    Returns:
        p [Pa].

    >>> round(design_pressure(1000.0, -1.4, 0.18, Directionality(0.85, "q")), 6)
    -1580.0

    Reference: ASCE 7-16, eq. 30.8-1; ASCE 7-22, eq. 30.6-1.
    """
    pressure = check_range("velocity pressure q [Pa]", q, 0.0, 3e4, "a pressure is not negative")
    outer = check_range("external coefficient GCp [-]", gcp, -6.0, 3.0, "ASCE 7, figures of chapter 30")
    inner = check_range("internal coefficient GCpi [-]", gcpi, -0.55, 0.55, "ASCE 7, table 26.13-1")
    return plain(directionality.in_p * pressure * (outer - inner))


def at_least_minimum(pressure: ArrayLike, least: float) -> Floats:
    """Raise a pressure to the standard's minimum, keeping its sign; zero counts as +.

    Args:
        pressure: design pressure at strength level [Pa].
        least: least design pressure on components and cladding [Pa], 0 to 5,000.

    Returns:
        Pressure [Pa].

    >>> at_least_minimum(-500.0, 766.0), at_least_minimum(900.0, 766.0)
    (-766.0, 900.0)

    Reference: ASCE 7-16, section 30.2.2.
    """
    p = check_finite("design pressure [Pa]", pressure)
    check_range("least design pressure [Pa]", least, 0.0, 5e3, "ASCE 7, section 30.2.2")
    return plain(choose(p < 0.0, -larger(-p, least), larger(p, least)))


def allowable(pressure: ArrayLike, factor: float) -> Floats:
    """Wind pressure at allowable stress level: a factor times the strength level.

    Args:
        pressure: pressure at strength level [Pa].
        factor: allowable stress level over strength level [-], above 0 and at most 1.

    Returns:
        Pressure [Pa].

    >>> allowable(-1000.0, 0.6)
    -600.0

    Reference: ASCE 7-16, section 2.4.1.
    """
    check_range("factor to allowable level [-]", factor, 0.0, 1.0, "ASCE 7, section 2.4.1")
    return plain(factor * check_finite("design pressure [Pa]", pressure))


def coefficient_at_area(area: ArrayLike, areas: Sequence[float], coefficients: Sequence[float]) -> Floats:
    """External coefficient at an effective wind area: straight in log10 of the area between table points.

    Below the first and above the last point the coefficient stays level, as the figures draw it.

    Args:
        area: effective wind area, above 0, in the unit of `areas`.
        areas: table areas, rising, length n.
        coefficients: table coefficients GCp [-], length n.

    Returns:
        GCp [-].

    Raises:
        OutOfRange, NotFinite: areas that are not positive.
        ValueError: tables that differ in length or do not rise.

    >>> round(coefficient_at_area(31.6227766, [10.0, 100.0], [-3.0, -2.0]), 6)
    -2.5

    Reference: ASCE 7-16, figures 30.3-1 and 30.3-2A (logarithmic area axis).
    """
    a = check_range("effective wind area", area, 1e-6, 1e6, "above 0")
    table = [
        float(check_range("effective wind area of the table", one, 1e-6, 1e6, "above 0")) for one in areas
    ]
    values = [float(check_finite("external coefficient of the table", one)) for one in coefficients]
    if len(table) != len(values) or not table or any(a >= b for a, b in pairwise(table)):
        raise ValueError("table of areas and coefficients: one coefficient for each area, areas rising")
    at = math.log10(a) if isinstance(a, float) else np.log10(a)
    return plain(between(at, [math.log10(one) for one in table], values))
