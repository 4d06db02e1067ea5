"""Liquid water in the drainage gap behind plaster: how it drains, wicks and bridges.

A gap of about 1 mm or less can run full: plane Poiseuille flow under its own weight. A wider gap full of
falling water would be turbulent, so there the water runs down as a film on one or both faces (Nusselt).
Beyond the laminar film nothing here is stated: the regime is then "unknown".
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from specgen.arrays import ArrayLike, NDArray, np
from specgen.physics.constants import (
    GRAVITY,
    WATER_DENSITY_20C,
    WATER_SURFACE_TENSION_20C,
    WATER_VISCOSITY_20C,
)
from specgen.physics.errors import Floats, check_range, plain

SLOT_REYNOLDS_LIMIT: Final = 1000.0
"""Reynolds number (mean velocity × gap width / kinematic viscosity) to which slot flow is surely laminar [-].
White, Viscous Fluid Flow, plane Poiseuille flow (M)."""

FILM_REYNOLDS_LIMIT: Final = 1500.0
"""Film Reynolds number 4q/ν to which a falling film stays laminar, rippled [-].
Bird, Stewart, Lightfoot, Transport Phenomena, falling film (M)."""

BOND_LIMIT: Final = 0.25
"""Bond number ρ g b²/γ beyond which the plain rise formula is an upper bound [-]: a gap of half the capillary
length. Chosen here (P): the formula needs a meniscus that its own weight does not flatten."""

_POSITIVE: Final = 1e-9


@dataclass(frozen=True)
class SlotFlow:
    """A slot running full: flow per metre [m²/s], mean velocity [m/s], Reynolds number [-], laminar."""

    flow_m2_s: Floats
    velocity_m_s: Floats
    reynolds: Floats
    laminar: bool | NDArray[np.bool_]


@dataclass(frozen=True)
class Film:
    """A falling film on one face: thickness [m], film Reynolds number 4q/ν [-], laminar or not."""

    thickness_m: Floats
    reynolds: Floats
    laminar: bool | NDArray[np.bool_]


@dataclass(frozen=True)
class CapillaryRise:
    """Rise between parallel plates [m] with the capillary length √(γ/ρg) [m] and Bond number ρgb²/γ [-].

    upper_bound is true where the gap is no longer small against the capillary length.
    """

    height_m: Floats
    capillary_length_m: float
    bond: Floats
    upper_bound: bool | NDArray[np.bool_]


@dataclass(frozen=True)
class Drainage:
    """How a gap drains a given flow: regime "slot", "film" or "unknown", capacity [m²/s], use of it [-].

    film_m is the thickness of the film on each wet face, 0 where the slot runs full [m]. Where the regime is
    unknown, capacity_m2_s is the last flow that can be stated and use exceeds 1.
    """

    regime: str | NDArray[np.str_]
    capacity_m2_s: Floats
    use: Floats
    film_m: Floats


def slot_drainage(
    gap_m: ArrayLike, density: float = WATER_DENSITY_20C, viscosity: float = WATER_VISCOSITY_20C
) -> SlotFlow:
    """Flow down a vertical slot that runs full, per metre of slot.

    q = ρ g b³/(12 μ), v = q/b, Re = ρ v b/μ (plane Poiseuille flow driven by weight).

    Args:
        gap_m: slot width b [m].
        density, viscosity: of the liquid [kg/m³], [Pa·s]; water at 20 °C unless given.

    Returns:
        `laminar` is false where Re exceeds `SLOT_REYNOLDS_LIMIT`: the flow is then only an upper bound.

    >>> flow = slot_drainage(1e-3)
    >>> round(flow.flow_m2_s * 1000, 3), round(flow.reynolds), flow.laminar
    (0.814, 812, True)

    Reference: White, Viscous Fluid Flow; Bird, Stewart, Lightfoot, Transport Phenomena (M).
    """
    b = check_range("gap [m]", gap_m, _POSITIVE, 1.0, "a gap, not a room")
    rho, mu = _liquid(density, viscosity)
    flow = rho * GRAVITY * b**3 / (12.0 * mu)
    reynolds = rho * flow / mu
    return SlotFlow(plain(flow), plain(flow / b), plain(reynolds), _flag(reynolds <= SLOT_REYNOLDS_LIMIT))


def falling_film(
    flow_m2_s: ArrayLike, density: float = WATER_DENSITY_20C, viscosity: float = WATER_VISCOSITY_20C
) -> Film:
    """Thickness of a laminar film running down one vertical face.

    q = ρ g δ³/(3 μ), so δ = (3 μ q/(ρ g))^(1/3); Re = 4 ρ q/μ (Nusselt film).

    Args:
        flow_m2_s: flow per metre of face q [m²/s], 0 or more.

    Returns:
        `laminar` is false where Re exceeds `FILM_REYNOLDS_LIMIT`: the thickness is then a lower bound.

    >>> film = falling_film(1e-5)
    >>> round(film.thickness_m * 1000, 3), round(film.reynolds, 1)
    (0.145, 39.9)

    Reference: Bird, Stewart, Lightfoot, Transport Phenomena, falling film (M).
    """
    q = check_range("flow per metre [m²/s]", flow_m2_s, 0.0, math.inf, "definition")
    rho, mu = _liquid(density, viscosity)
    reynolds = 4.0 * rho * q / mu
    thickness = np.cbrt(3.0 * mu * q / (rho * GRAVITY))
    return Film(plain(thickness), plain(reynolds), _flag(reynolds <= FILM_REYNOLDS_LIMIT))


def drainage(
    flow_m2_s: ArrayLike,
    gap_m: ArrayLike,
    wet_faces: int,
    clogged_fraction: ArrayLike = 0.0,
    density: float = WATER_DENSITY_20C,
    viscosity: float = WATER_VISCOSITY_20C,
) -> Drainage:
    """Regime and capacity of a gap that has to drain a flow.

    The flow gathers on the unclogged share of the length, q' = q/(1 − c). A gap laminar when full drains as a
    slot; a wider one as films on its wet faces while each film is laminar. All else is unknown. Capacities
    are per metre of wall, so they carry the factor 1 − c.

    Args:
        flow_m2_s: water to drain per metre of wall [m²/s], 0 or more.
        gap_m: clear gap b [m].
        wet_faces: faces that carry water, 1 or 2 [-].
        clogged_fraction: share of the length blocked by mortar [-], 0 to below 1.

    >>> drainage(1e-5, [0.0008, 0.010], wet_faces=2).regime.tolist()
    ['slot', 'film']
    >>> drainage(2e-3, 0.010, wet_faces=2).regime
    'unknown'

    Reference: As `slot_drainage` and `falling_film`. The choice between them is our reading of both limits
        (P).
    """
    check_range("wet faces [-]", wet_faces, 1, 2, "a gap has two faces")
    q = check_range("flow per metre [m²/s]", flow_m2_s, 0.0, math.inf, "definition")
    b = check_range("gap [m]", gap_m, _POSITIVE, 1.0, "a gap, not a room")
    clogged = check_range(
        "clogged fraction [-]", clogged_fraction, 0.0, 1.0 - 1e-6, "a blocked gap drains nothing"
    )
    rho, mu = _liquid(density, viscosity)
    slot = slot_drainage(b, density, viscosity)
    film = falling_film(q / (1.0 - clogged) / wet_faces, density, viscosity)
    # The last laminar film is 0.45 of the last laminar slot whatever the liquid, so two never meet in a wider gap.
    film_limit = wet_faces * FILM_REYNOLDS_LIMIT * mu / (4.0 * rho)
    full = np.asarray(slot.laminar)
    capacity = (1.0 - clogged) * np.where(full, slot.flow_m2_s, film_limit)
    use = q / capacity
    regime = np.where(use > 1.0, "unknown", np.where(full, "slot", "film"))
    thickness = np.where(full, 0.0, film.thickness_m)
    regime, thickness = np.broadcast_arrays(regime, thickness)
    return Drainage(
        str(regime) if regime.ndim == 0 else regime, plain(capacity), plain(use), plain(thickness)
    )


def capillary_rise(
    gap_m: ArrayLike,
    contact_angle_deg: ArrayLike,
    surface_tension: float = WATER_SURFACE_TENSION_20C,
    density: float = WATER_DENSITY_20C,
) -> CapillaryRise:
    """Rise of water between two parallel plates.

    h = 2 γ cosθ/(ρ g b), with the capillary length √(γ/(ρ g)), 2.73 mm for water.

    Args:
        gap_m: distance of the plates b [m].
        contact_angle_deg: contact angle θ [°], 0 (wets fully) to 90 (does not rise).

    Returns:
        `upper_bound` is true where ρ g b²/γ exceeds `BOND_LIMIT`: the true rise is smaller.

    >>> rise = capillary_rise(0.5e-3, 0.0)
    >>> round(rise.height_m * 1000, 1), round(rise.capillary_length_m * 1000, 2), rise.upper_bound
    (29.7, 2.73, False)

    Reference: de Gennes, Brochard-Wyart, Quéré, Capillarity and Wetting Phenomena, Jurin's law between plates
        (M).
    """
    b = check_range("gap [m]", gap_m, _POSITIVE, 1.0, "a gap, not a room")
    theta = check_range("contact angle [°]", contact_angle_deg, 0.0, 90.0, "wetting liquids")
    check_range("surface tension [N/m]", surface_tension, _POSITIVE, 1.0, "liquids at room temperature")
    check_range("density [kg/m³]", density, 1.0, 2e4, "liquids")
    square = surface_tension / (density * GRAVITY)
    bond = b**2 / square
    height = np.maximum(2.0 * square * np.cos(np.radians(theta)) / b, 0.0)
    return CapillaryRise(plain(height), float(np.sqrt(square)), plain(bond), _flag(bond > BOND_LIMIT))


def smallest_gap(
    flow_m2_s: ArrayLike,
    wick_height_m: ArrayLike,
    contact_angle_deg: ArrayLike,
    wet_faces: int,
    surface_tension: float = WATER_SURFACE_TENSION_20C,
) -> Floats:
    """Smallest gap [m] that neither wicks above a height nor is bridged by the films that drain in it.

    b ≥ 2 γ cosθ/(ρ g H) and b ≥ n δ(q/n), water at 20 °C.

    Args:
        flow_m2_s: water to drain per metre [m²/s].
        wick_height_m: highest rise H allowed [m].
        contact_angle_deg: contact angle θ [°].
        wet_faces: faces that carry water, 1 or 2 [-].

    Raises:
        OutOfRange: the film would not be laminar: no smallest gap can be stated.

    >>> round(smallest_gap(1e-5, 0.005, 0.0, wet_faces=2) * 1000, 2)
    2.97
    """
    check_range("wet faces [-]", wet_faces, 1, 2, "a gap has two faces")
    height = check_range("wick height [m]", wick_height_m, 1e-4, 100.0, "a height on a wall")
    film = falling_film(np.asarray(flow_m2_s, dtype=np.float64) / wet_faces)
    check_range("film Reynolds number [-]", film.reynolds, 0.0, FILM_REYNOLDS_LIMIT, "laminar falling film")
    # The rise formula is symmetric in gap and height, so it serves for its own inverse.
    capillary = np.asarray(capillary_rise(1.0, contact_angle_deg, surface_tension).height_m) / height
    return plain(np.maximum(capillary, wet_faces * np.asarray(film.thickness_m)))


def _liquid(density: float, viscosity: float) -> tuple[float, float]:
    check_range("density [kg/m³]", density, 1.0, 2e4, "liquids")
    check_range("viscosity [Pa·s]", viscosity, 1e-6, 10.0, "liquids")
    return density, viscosity


def _flag(value: bool | NDArray[np.bool_] | np.bool_) -> bool | NDArray[np.bool_]:
    array = np.asarray(value)
    return bool(array) if array.ndim == 0 else array
