"""Demand on fasteners that hold plaster lath across a drainage gap or a cleat to its blocking.

The fastener carries the weight as a lever across the gap and the wind suction in withdrawal.
"""

from __future__ import annotations

from dataclasses import dataclass

from specgen.arrays import ArrayLike, np
from specgen.physics.errors import Floats, check_range, plain

_LOAD = (0.0, 1e5, "loads on cladding")
_SPACING = (1e-3, 10.0, "fastener spacing")


@dataclass(frozen=True)
class LathDemand:
    """Demand per fastener: tributary area [m²], shear from weight [N], withdrawal [N], bending moment [N·m]."""

    area_m2: Floats
    shear_n: Floats
    withdrawal_n: Floats
    moment_nm: Floats


@dataclass(frozen=True)
class Utilisation:
    """Demand over capacity [-]: withdrawal, bending, and their sum for joint action."""

    withdrawal: Floats
    bending: Floats
    combined: Floats


def lath_demand(
    dead_pa: ArrayLike,
    suction_pa: ArrayLike,
    spacing_across_m: ArrayLike,
    spacing_up_m: ArrayLike,
    lever_m: ArrayLike,
    moment_share: ArrayLike,
) -> LathDemand:
    """Demand per fastener of lath and plaster held across a gap.

    A = s_x s_y, V = w A, T = p A, M = k V e.

    Args:
        dead_pa: weight of the cladding per area of wall w [Pa].
        suction_pa: net outward wind pressure p [Pa].
        spacing_across_m, spacing_up_m: fastener spacing s_x, s_y [m].
        lever_m: distance from the plane of the lath to the support e [m]: the gap and all soft layers.
        moment_share: k [-]: 1 for a free head (cantilever), 0.5 where the cladding keeps the head from
            turning.

    >>> demand = lath_demand(480.0, 1000.0, 0.4, 0.15, 0.02, 1.0)
    >>> round(demand.shear_n, 3), round(demand.withdrawal_n, 3), round(demand.moment_nm, 4)
    (28.8, 60.0, 0.576)

    Reference: Statics. Friction, arching of the plaster and the crushing of soft layers are left out.
    """
    w = check_range("weight of the cladding [Pa]", dead_pa, *_LOAD)
    p = check_range("outward wind pressure [Pa]", suction_pa, *_LOAD)
    across = check_range("fastener spacing across [m]", spacing_across_m, *_SPACING)
    up = check_range("fastener spacing up [m]", spacing_up_m, *_SPACING)
    lever = check_range("lever of the fastener [m]", lever_m, 0.0, 0.5, "a gap, not a room")
    share = check_range("moment share [-]", moment_share, 0.5, 1.0, "held to free head")
    area = across * up
    shear = w * area
    return LathDemand(plain(area), plain(shear), plain(p * area), plain(share * shear * lever))


def plastic_moment(diameter_m: ArrayLike, yield_pa: ArrayLike) -> Floats:
    """Plastic moment of a round fastener, M = f_y d³/6 [N·m].

    Args:
        diameter_m: diameter, for a screw its root diameter d [m].
        yield_pa: bending yield strength f_y [Pa].

    >>> round(plastic_moment(4.0e-3, 600e6), 2)
    6.4

    Reference: Plastic section modulus of a circle; the dowel theory of ANSI/AWC NDS uses it (M).
    """
    d = check_range("diameter [m]", diameter_m, 5e-4, 0.05, "nails and screws")
    f = check_range("bending yield strength [Pa]", yield_pa, 1e7, 3e9, "metals")
    return plain(f * d**3 / 6.0)


def utilisation(demand: LathDemand, withdrawal_n: ArrayLike, moment_nm: ArrayLike) -> Utilisation:
    """Demand over given capacities, T/T_c, M/M_c and their sum.

    Args:
        demand: what one fastener carries.
        withdrawal_n, moment_nm: capacities at the same safety level as the loads [N], [N·m].

    >>> use = utilisation(lath_demand(480.0, 1000.0, 0.4, 0.15, 0.02, 1.0), 300.0, 2.88)
    >>> round(use.withdrawal, 3), round(use.bending, 3), round(use.combined, 3)
    (0.2, 0.2, 0.4)

    Reference: The linear sum is the cautious choice for withdrawal with bending (P).
    """
    tension = check_range(
        "withdrawal capacity [N]", withdrawal_n, 1e-3, 1e6, "a tested or calculated capacity"
    )
    moment = check_range("bending capacity [N·m]", moment_nm, 1e-6, 1e4, "a tested or calculated capacity")
    pull, bend = np.asarray(demand.withdrawal_n) / tension, np.asarray(demand.moment_nm) / moment
    return Utilisation(plain(pull), plain(bend), plain(pull + bend))


def cleat_load(pressure_pa: ArrayLike, width_m: ArrayLike, spacing_m: ArrayLike, share: ArrayLike) -> Floats:
    """Load per fastener of a cleat from one surface of a coping, its face or its top, F = p h s k [N].

    Args:
        pressure_pa: wind pressure away from the surface p [Pa].
        width_m: height of the face or width of the top h [m].
        spacing_m: fastener spacing along the cleat s [m].
        share: share of the surface's load that the cleat takes k [-], 0.5 to 1.

    >>> cleat_load(2000.0, 0.15, 0.3, 1.0)
    90.0

    Reference: Statics. Prying of the cleat about its lower edge is left out.
    """
    p = check_range("wind pressure away from the surface [Pa]", pressure_pa, *_LOAD)
    h = check_range("height of the face or width of the top [m]", width_m, 0.0, 2.0, "a coping")
    s = check_range("fastener spacing [m]", spacing_m, *_SPACING)
    k = check_range("share of the cleat [-]", share, 0.5, 1.0, "cleat at one edge to cleat alone")
    return plain(p * h * s * k)


def joint_use(pull_n: float, withdrawal_n: float, shear_n: float, lateral_n: float) -> float:
    """Part of a fastener's capacity that pull and shear use together, T/W + V/Z [-].

    Args:
        pull_n, withdrawal_n: pull T and capacity in withdrawal W, at one safety level [N].
        shear_n, lateral_n: shear V and capacity in shear Z, at one safety level [N].

    >>> round(joint_use(40.0, 100.0, 60.0, 200.0), 2)
    0.7

    Reference: Straight-line interaction, the cautious choice: in wood, ANSI/AWC NDS 12.4 allows more for a load at an
    angle, V cos α/Z + T sin α/W at most 1 (M).
    """
    _capacity(withdrawal_n, "withdrawal")
    _capacity(lateral_n, "shear")
    return pull_n / withdrawal_n + shear_n / lateral_n


def needed_beside(load_n: float, other_n: float, other_capacity_n: float | None) -> float:
    """Capacity a fastener needs in one direction [N], where :func:`joint_use` is to be at most 1.

    Args:
        load_n: load in this direction [N].
        other_n: load in the other direction [N].
        other_capacity_n: capacity in the other direction [N]; None, or one that the other load uses up by itself: the sum
            of both loads, which suffices where it is met in both directions.

    >>> needed_beside(40.0, 60.0, None), needed_beside(40.0, 60.0, 200.0)
    (100.0, 57.142857142857146)
    """
    if other_capacity_n is None or other_capacity_n <= other_n:
        return load_n + other_n
    return load_n / (1.0 - other_n / other_capacity_n)


def _capacity(value_n: float, name: str) -> None:
    check_range(f"capacity in {name} [N]", value_n, 1e-3, 1e6, "a tested or calculated capacity")
