"""Air moving through a drainage gap open at both ends, and the vapor it carries away.

Stack and wind pressure work against laminar friction between parallel plates and the losses of entry, exit
and outlets. One quadratic gives the velocity; nothing is iterated.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from specgen.arrays import ArrayLike, np
from specgen.physics.constants import (
    AIR_DENSITY_20C,
    AIR_VISCOSITY_20C,
    GAS_CONSTANT_DRY_AIR,
    GAS_CONSTANT_VAPOR,
    GRAVITY,
    MOLAR_MASS_RATIO,
    STANDARD_ATMOSPHERE,
    ZERO_CELSIUS,
)
from specgen.physics.errors import Floats, check_finite, check_range, plain

LAMINAR_REYNOLDS_LIMIT: Final = 2300.0
"""Reynolds number on the hydraulic diameter 2b to which duct flow is laminar [-].
ASHRAE Handbook of Fundamentals, duct design (M)."""

_AIR: Final = "outdoor air and sun-heated cavities"


@dataclass(frozen=True)
class Loss:
    """A local pressure loss: coefficient ζ on the velocity in it [-], free area over the gap's area [-]."""

    coefficient: float
    area_ratio: float


@dataclass(frozen=True)
class GapFlow:
    """Air flow in a gap, positive upward.

    velocity_m_s is the mean velocity [m/s], flow_m2_s the flow per metre of wall [m²/s], reynolds on the
    hydraulic diameter [-], air_changes_per_h the exchange of the gap's volume [1/h].
    """

    velocity_m_s: Floats
    flow_m2_s: Floats
    reynolds: Floats
    air_changes_per_h: Floats


def stack_pressure(
    height_m: ArrayLike,
    gap_c: ArrayLike,
    outdoor_c: ArrayLike,
    gap_pa: ArrayLike = 0.0,
    outdoor_pa: ArrayLike = 0.0,
) -> Floats:
    """Pressure that lifts warm and moist air in a gap, Δp = g H (ρ_out − ρ_gap), at sea level.

    ρ = (P − (1 − 0.621945) p)/(R_a T): vapor is lighter than the air whose place it takes.

    Args:
        height_m: height between the outlets H [m].
        gap_c, outdoor_c: air temperatures [°C].
        gap_pa, outdoor_pa: vapor pressures p [Pa]; 0 for dry air.

    Returns:
        Pressure [Pa], positive upward where the gap is warmer or moister.

    >>> round(stack_pressure(1.0, 40.0, 20.0), 2), round(stack_pressure(1.0, 40.0, 20.0, 7375.0, 1168.0), 2)
    (0.75, 1.01)

    Reference: ASHRAE Handbook of Fundamentals, ventilation and infiltration, stack pressure (M); the density is that of
        an ideal mixture of dry air and vapor.
    """
    height = check_range("height between outlets [m]", height_m, 0.0, 500.0, "a building")
    inside, outside = (
        (STANDARD_ATMOSPHERE - (1.0 - MOLAR_MASS_RATIO) * _vapor(pa)) / _kelvin(celsius)
        for celsius, pa in ((gap_c, gap_pa), (outdoor_c, outdoor_pa))
    )
    return plain(GRAVITY * height / GAS_CONSTANT_DRY_AIR * (outside - inside))


def wind_pressure(wind_m_s: ArrayLike, coefficient_difference: ArrayLike) -> Floats:
    """Pressure between two outlets under wind, Δp = ½ ρ v² (Cp,low − Cp,high).

    Args:
        wind_m_s: wind speed to which the pressure coefficients refer [m/s].
        coefficient_difference: pressure coefficient at the low outlet less that at the high one [-].

    Returns:
        Pressure [Pa], positive where it drives air upward.

    >>> round(wind_pressure(4.0, 0.1), 3)
    0.963
    """
    v = check_range("wind speed [m/s]", wind_m_s, 0.0, 120.0, "wind on buildings")
    difference = check_range(
        "pressure coefficient difference [-]", coefficient_difference, -5.0, 5.0, "buildings"
    )
    return plain(0.5 * AIR_DENSITY_20C * v**2 * difference)


def gap_flow(
    pressure_pa: ArrayLike,
    gap_m: ArrayLike,
    height_m: ArrayLike,
    losses: Sequence[Loss],
    density: float = AIR_DENSITY_20C,
    viscosity: float = AIR_VISCOSITY_20C,
) -> GapFlow:
    """Air velocity in a gap from the pressure along it.

    Δp = 12 μ H v/b² + ½ ρ v² Σ ζ_i/r_i², where the friction is Darcy-Weisbach with f = 96/Re on the hydraulic
    diameter 2b, and r_i is the outlet's free area over the gap's. Solved as a quadratic in v.

    Args:
        pressure_pa: driving pressure [Pa]; its sign gives the direction.
        gap_m, height_m: clear gap b and length of the path H [m].
        losses: entry, exit and outlets; empty for none.

    Raises:
        OutOfRange: an input cannot be, or the Reynolds number exceeds `LAMINAR_REYNOLDS_LIMIT`.

    >>> flow = gap_flow(0.75, 0.010, 1.0, [Loss(0.5, 1.0), Loss(1.0, 1.0)])
    >>> round(flow.velocity_m_s, 3), round(flow.air_changes_per_h)
    (0.305, 1098)

    Reference: White, Fluid Mechanics, laminar flow between parallel plates, f·Re = 96 (M). The pressure
        balance is checked against the package `fluids`.
    """
    drive = check_finite("driving pressure [Pa]", pressure_pa)
    b = check_range("gap [m]", gap_m, 1e-4, 1.0, "a gap, not a room")
    height = check_range("length of the gap [m]", height_m, 1e-3, 500.0, "a building")
    linear, quadratic = balance_terms(b, height, losses, density, viscosity)
    # The root written with the sum in the denominator keeps its digits as either term vanishes.
    size = np.abs(drive)
    speed = 2.0 * size / (linear + np.sqrt(linear**2 + 4.0 * quadratic * size))
    reynolds = check_range(
        "Reynolds number in the gap [-]",
        density * speed * 2.0 * b / viscosity,
        0.0,
        LAMINAR_REYNOLDS_LIMIT,
        "laminar duct flow",
    )
    velocity = np.sign(drive) * speed
    return GapFlow(plain(velocity), plain(velocity * b), plain(reynolds), plain(3600.0 * speed / height))


def pressure_used(
    velocity_m_s: ArrayLike,
    gap_m: ArrayLike,
    height_m: ArrayLike,
    losses: Sequence[Loss],
    density: float = AIR_DENSITY_20C,
    viscosity: float = AIR_VISCOSITY_20C,
) -> Floats:
    """Pressure that laminar friction and outlets use up at a velocity [Pa], the inverse of `gap_flow`.

    Δp = 12 μ H v/b² + ½ ρ v² Σ ζ_i/r_i².

    >>> losses = [Loss(0.5, 1.0), Loss(1.0, 1.0)]
    >>> round(pressure_used(gap_flow(0.75, 0.010, 1.0, losses).velocity_m_s, 0.010, 1.0, losses), 9)
    0.75
    """
    v = check_range("air velocity [m/s]", velocity_m_s, 0.0, 100.0, _AIR)
    b = check_range("gap [m]", gap_m, 1e-4, 1.0, "a gap, not a room")
    height = check_range("length of the gap [m]", height_m, 1e-3, 500.0, "a building")
    linear, quadratic = balance_terms(b, height, losses, density, viscosity)
    return plain(linear * v + quadratic * v**2)


def vapor_conductance(flow_m2_s: ArrayLike, height_m: ArrayLike, temp_c: ArrayLike) -> Floats:
    """Vapor that ventilation carries off per area of wall and pressure difference.

    K = |q|/(H R_v T) [kg/(m²·s·Pa)], so the vapor removed is K (p_gap − p_out). It holds for a gap whose air
    leaves at its mean vapor pressure.

    Args:
        flow_m2_s: air flow per metre of wall q [m²/s], either direction.
        height_m: height of wall that the flow serves H [m].
        temp_c: air temperature in the gap [°C].

    >>> round(vapor_conductance(0.003, 1.0, 20.0) * 1e8, 3)
    2.217
    """
    q = np.abs(check_finite("air flow per metre [m²/s]", flow_m2_s))
    height = check_range("length of the gap [m]", height_m, 1e-3, 500.0, "a building")
    return plain(q / (height * GAS_CONSTANT_VAPOR * _kelvin(temp_c)))


def balance_terms(
    b: Floats, height: Floats, losses: Sequence[Loss], density: float, viscosity: float
) -> tuple[Floats, float]:
    """The factors of v and of v² in the pressure balance."""
    check_range("air density [kg/m³]", density, 0.5, 2.0, _AIR)
    check_range("air viscosity [Pa·s]", viscosity, 1e-5, 3e-5, _AIR)
    return 12.0 * viscosity * height / b**2, 0.5 * density * _loss_sum(losses)


def _loss_sum(losses: Sequence[Loss]) -> float:
    total = 0.0
    for loss in losses:
        check_range("loss coefficient [-]", loss.coefficient, 0.0, 1000.0, "outlets and screens")
        check_range("free area over gap area [-]", loss.area_ratio, 1e-3, 1000.0, "outlets and screens")
        total += loss.coefficient / loss.area_ratio**2
    return total


def _vapor(vapor_pa: ArrayLike) -> Floats:
    return check_range("vapor pressure [Pa]", vapor_pa, 0.0, STANDARD_ATMOSPHERE, _AIR)


def _kelvin(temp_c: ArrayLike) -> Floats:
    return check_range("air temperature [°C]", temp_c, -60.0, 120.0, _AIR) + ZERO_CELSIUS
