"""Single nodes and gaps of the scheme in plain numbers: vapor pressure, what is stored, the air of a gap (`march`)."""

from __future__ import annotations

import math
from typing import Any, Final

from specgen.physics.constants import (
    AIR_DENSITY_20C,
    GAS_CONSTANT_DRY_AIR,
    GAS_CONSTANT_VAPOR,
    GRAVITY,
    MOLAR_MASS_RATIO,
    SPECIFIC_HEAT_DRY_AIR,
    SPECIFIC_HEAT_WATER,
    STANDARD_ATMOSPHERE,
    ZERO_CELSIUS,
)
from specgen.physics.heat_moisture.compiled import compiled
from specgen.physics.heat_moisture.porous import HIGHEST, LOWEST, POINTS, SCALE, WATER
from specgen.physics.moist_air import OVER_ICE, OVER_WATER, PRESSURE_AT_ZERO

STEP: Final = (HIGHEST - LOWEST) / (POINTS - 1)
KELVIN: Final = WATER * GAS_CONSTANT_VAPOR  # of the Kelvin equation [Pa/K]
FILM_SPAN: Final = 0.9
"""Potential at which a film of water begins to form on a surface [-]: 99.9 % RH."""
MOST_KELVIN: Final = 15.0
MOST_POTENTIAL: Final = 2.0
"""Largest changes of temperature [K] and potential [-] in one turn of Newton."""
BEHIND: Final = 1e-9
"""How far behind a bend a node stops [-]."""
CW: Final = SPECIFIC_HEAT_WATER
T0: Final = ZERO_CELSIUS
R_AIR: Final = GAS_CONSTANT_DRY_AIR
LIGHTER: Final = 1.0 - MOLAR_MASS_RATIO
RHO_CP: Final = AIR_DENSITY_20C * SPECIFIC_HEAT_DRY_AIR
WATER_A, WATER_B = OVER_WATER
ICE_A, ICE_B = OVER_ICE


@compiled
def vapor_state(temps: Any, potentials: Any, suctions: Any, at: Any, share: Any, vapor: Any) -> None:
    """Place in the tables, and vapor pressure of each node with its slopes over T and y, into ``vapor`` (n, 3)."""
    for i in range(temps.size):
        place = (potentials[i] - LOWEST) / STEP
        k = min(max(int(place), 0), POINTS - 2)
        f = place - k
        at[i] = k
        share[i] = f
        steep = (suctions[k + 1] - suctions[k]) / STEP
        s = suctions[k] + f * (suctions[k + 1] - suctions[k])
        kelvin = temps[i]
        t = kelvin - T0
        if t >= 0.0:
            full = PRESSURE_AT_ZERO * math.exp(WATER_A * t / (WATER_B + t))
            slope = full * WATER_A * WATER_B / ((WATER_B + t) * (WATER_B + t))
        else:
            full = PRESSURE_AT_ZERO * math.exp(ICE_A * t / (ICE_B + t))
            slope = full * ICE_A * ICE_B / ((ICE_B + t) * (ICE_B + t))
        if s > 0.0:
            rh = math.exp(-s / (KELVIN * kelvin))
            vapor[i, 0] = full * rh
            vapor[i, 1] = rh * (slope + full * s / (KELVIN * kelvin * kelvin))
            vapor[i, 2] = -full * rh * steep / (KELVIN * kelvin)
        else:
            vapor[i, 0] = full
            vapor[i, 1] = slope
            vapor[i, 2] = 0.0


@compiled
def stored(
    temps: Any, potentials: Any, at: Any, share: Any, tables: Any, heats: Any, links: Any, spans: Any,
    films: Any, water: Any, heat: Any,
) -> None:  # fmt: skip
    """Water [kg/m²] of nodes and its slope over y into ``water`` (n, 2); heat [J/m²] likewise into ``heat`` (n, 3)."""
    n = temps.size
    for i in range(n):
        y = potentials[i]
        w = 0.0
        slope = 0.0
        dry = 0.0
        k = at[i]
        f = share[i]
        for side in range(max(i - 1, 0), min(i + 1, n - 1)):
            m = links[side]
            if m >= 0:
                half = 0.5 * spans[side]
                low = tables[m, k, 0]
                rise = tables[m, k + 1, 0] - low
                w += half * (low + f * rise)
                slope += half * rise / STEP
                dry += half * heats[m]
        if films[i] > 0.0 and y < FILM_SPAN:
            if y > 0.0:
                w += films[i] * (1.0 - y / FILM_SPAN)
                slope -= films[i] / FILM_SPAN
            else:
                w += films[i]
        t = temps[i] - T0
        water[i, 0] = w
        water[i, 1] = slope
        heat[i, 0] = (dry + CW * w) * t
        heat[i, 1] = dry + CW * w
        heat[i, 2] = CW * slope * t


@compiled
def gap_air(
    gap: Any,
    left_k: float,
    right_k: float,
    left_pa: float,
    right_pa: float,
    flow: float,
    air_k: float,
    air_pa: float,
) -> Any:
    """Temperature [K] and vapor pressure [Pa] of the air in a gap that exchanges ``flow`` [m³/(m²·s)]."""
    carried = flow / (GAS_CONSTANT_VAPOR * air_k)
    kelvin = (gap[1] * (left_k + right_k) + flow * RHO_CP * air_k) / (2.0 * gap[1] + flow * RHO_CP)
    pa = (gap[0] * (left_pa + right_pa) + carried * air_pa) / (2.0 * gap[0] + carried)
    return kelvin, pa


@compiled
def gap_exchange(gap: Any, gap_k: float, gap_pa: float, air_k: float, air_pa: float, wind_pa: float) -> float:
    """Air that passes a gap over the wall's area [m³/(m²·s)], by stack and wind as `gap_air.gap_flow`."""
    if gap[5] == 0.0:
        return float(gap[8])
    outside = (STANDARD_ATMOSPHERE - LIGHTER * air_pa) / air_k
    within = (STANDARD_ATMOSPHERE - LIGHTER * gap_pa) / gap_k
    drive = abs(GRAVITY * gap[3] / R_AIR * (outside - within) + wind_pa)
    drive = min(drive, gap[7])
    speed = 2.0 * drive / (gap[5] + math.sqrt(gap[5] * gap[5] + 4.0 * gap[6] * drive))
    return float(speed * gap[4] / gap[3] + gap[8])


@compiled
def _stopped(old: float, new: float, bend: float) -> float:
    """A new potential, or just behind a bend that lies between."""
    if old > bend + BEHIND and new < bend:
        return bend - BEHIND
    if old < bend - BEHIND and new > bend:
        return bend + BEHIND
    return new


@compiled
def moved(
    temps: Any, potentials: Any, changes: Any, films: Any, takes: Any, offer: Any, wet: float, share: float
) -> None:  # fmt: skip
    """The unknowns less a share of their changes, no farther than the next bend of what a node stores or takes.

    A film begins at `FILM_SPAN` and is full at no suction; an open face takes all that is offered down to a suction of
    offer / ``wet``. A node that would pass such a bend stops just behind it, where the slopes of the next turn hold:
    across a bend they would throw it back.
    """
    for i in range(temps.size):
        temps[i] -= max(min(share * changes[i, 0], MOST_KELVIN), -MOST_KELVIN)
        old = potentials[i]
        new = old - max(min(share * changes[i, 1], MOST_POTENTIAL), -MOST_POTENTIAL)
        if films[i] > 0.0:
            new = _stopped(old, new, FILM_SPAN)
            new = _stopped(old, new, 0.0)
        if takes[i] >= 0 and offer[takes[i]] > 0.0:
            new = _stopped(old, new, offer[takes[i]] / (wet * SCALE))
        potentials[i] = max(min(new, HIGHEST), LOWEST)
