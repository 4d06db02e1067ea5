"""Rectangular scuppers: discharge, head, and the water that stands on the roof when a drain is blocked.

Below the top of the opening a scupper works as a weir, Q[gpm] = 2.9 b h^1.5 with b and h in inches (ASCE 7
commentary, rain loads). Above, the same discharge coefficient integrated over the height of the opening gives

    Q = C b (h^1.5 − (h − H)^1.5)

which meets the weir at h = H and tends to the orifice C_d b H √(2g(h − H/2)) far above it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from specgen.arrays import ArrayLike, NDArray, np
from specgen.physics.constants import GRAVITY, WATER_DENSITY_20C
from specgen.physics.errors import Floats, check_range, plain

WEIR_GPM_INCH: Final = 2.9
"""Weir coefficient [US gal/min per in.^2.5]. ASCE 7 commentary, rain loads (S; number from memory: M)."""

_INCH: Final = 0.0254
_GALLON_PER_MINUTE: Final = 231.0 * _INCH**3 / 60.0

WEIR_COEFFICIENT: Final = WEIR_GPM_INCH * _GALLON_PER_MINUTE / _INCH**2.5
"""The same coefficient [m^0.5/s], 1.779. Derived; discharge coefficient C/(⅔√(2g)) = 0.60."""

ORIFICE_RATIO: Final = 1.5
"""Head over opening height from which the opening runs full as an orifice; between 1 and this the flow
switches, so the head is uncertain. Handbook hydraulics of culverts and gates (M)."""

_SIZE: Final = (1e-3, 10.0, "a scupper")


@dataclass(frozen=True)
class ScupperFlow:
    """Discharge [m³/s] and regime: "dry", "weir", "transition" or "orifice"."""

    flow_m3_s: Floats
    regime: str | NDArray[np.str_]


@dataclass(frozen=True)
class PondedWater:
    """Water standing at the low point: depth [m] and load [Pa]."""

    depth_m: Floats
    load_pa: Floats


def discharge(head_m: ArrayLike, width_m: ArrayLike, height_m: ArrayLike) -> ScupperFlow:
    """Discharge of a rectangular scupper.

    Q = C b h^1.5 for h ≤ H, Q = C b (h^1.5 − (h − H)^1.5) above.

    Args:
        head_m: head above the invert h [m].
        width_m, height_m: clear width b and height H of the opening [m].

    6 in. wide, 4 in. high, 2 in. of head: 49 gal/min.

    >>> flow = discharge(2 * 0.0254, 6 * 0.0254, 4 * 0.0254)
    >>> round(flow.flow_m3_s * 15850.32, 1), flow.regime
    (49.2, 'weir')

    Reference: ASCE 7 commentary, rain loads (M). The form above the opening reproduces the closed scuppers of
        its table.
    """
    h = check_range("head [m]", head_m, 0.0, 10.0, "water on a roof")
    b = check_range("width of the scupper [m]", width_m, *_SIZE)
    high = check_range("height of the scupper [m]", height_m, *_SIZE)
    flow = WEIR_COEFFICIENT * b * (h**1.5 - np.maximum(h - high, 0.0) ** 1.5)
    regime = np.select(
        [h <= 0.0, h <= high, h < ORIFICE_RATIO * high], ["dry", "weir", "transition"], default="orifice"
    )
    regime = np.broadcast_to(regime, flow.shape)
    return ScupperFlow(plain(flow), str(regime) if regime.ndim == 0 else regime)


def head_for_flow(flow_m3_s: ArrayLike, width_m: ArrayLike, height_m: ArrayLike) -> Floats:
    """Head that a scupper needs to pass a flow: the inverse of `discharge`.

    h = (Q/(C b))^(2/3) while that stays below H; above, by bisection between H and H + (Q/(1.5 C b H))².

    Args:
        flow_m3_s: flow Q [m³/s].
        width_m, height_m: clear width b and height H of the opening [m].

    Returns:
        Head above the invert [m].

    >>> round(head_for_flow(50 / 15850.32, 6 * 0.0254, 4 * 0.0254) / 0.0254, 2)
    2.02
    """
    q = check_range("flow [m³/s]", flow_m3_s, 0.0, 100.0, "water off a roof")
    b = check_range("width of the scupper [m]", width_m, *_SIZE)
    high = check_range("height of the scupper [m]", height_m, *_SIZE)
    target = q / (WEIR_COEFFICIENT * b)
    weir = np.cbrt(target**2)
    low, top = np.broadcast_arrays(high, high + (target / (1.5 * high)) ** 2)
    # The integral from h − H to h of 1.5√z lies above 1.5 H √(h − H), so `top` passes at least the flow.
    for _ in range(100):
        middle = 0.5 * (low + top)
        short = middle**1.5 - np.maximum(middle - high, 0.0) ** 1.5 < target
        low, top = np.where(short, middle, low), np.where(short, top, middle)
    return plain(np.where(weir <= high, weir, 0.5 * (low + top)))


def rain_flow(rain_mm_h: ArrayLike, area_m2: ArrayLike) -> Floats:
    """Flow of rain from a roof area, Q = i A [m³/s].

    Args:
        rain_mm_h: rain intensity i [mm/h].
        area_m2: tributary area A [m²], with half of the walls that shed onto it.

    >>> round(rain_flow(100.0, 36.0) * 1000, 6)
    1.0

    Reference: ASCE 7 commentary, rain loads: Q = 0.278e-6 A i (read in a public copy of the 2005 commentary).
    """
    i = check_range("rain intensity [mm/h]", rain_mm_h, 0.0, 1000.0, "design rain")
    a = check_range("tributary area [m²]", area_m2, 0.0, 1e6, "a roof")
    return plain(i * a / 3.6e6)


def ponded_water(static_depth_m: ArrayLike, head_m: ArrayLike) -> PondedWater:
    """Water on an undeflected roof when the primary drain is blocked, d = d_s + d_h, load ρ g d.

    Args:
        static_depth_m: height of the overflow's invert above the low point d_s [m].
        head_m: head over that invert at the design flow d_h [m].

    Returns:
        Without the added depth of a deflecting roof: the structural engineer decides on ponding instability.

    2 in. to the overflow and 3 in. of head: 26 psf.

    >>> round(ponded_water(2 * 0.0254, 3 * 0.0254).load_pa / 47.88, 1)
    26.0

    Reference: ASCE 7, rain loads: R = 5.2 (d_s + d_h) in psf and inches (S; from memory: M).
    """
    static = check_range("static depth [m]", static_depth_m, 0.0, 10.0, "water on a roof")
    head = check_range("head [m]", head_m, 0.0, 10.0, "water on a roof")
    depth = static + head
    return PondedWater(plain(depth), plain(WATER_DENSITY_20C * GRAVITY * depth))
