"""What flows between two nodes, and into a face, in the numbers of one node or in arrays of them.

Every function takes floats, compiled in the loops of `march`, or arrays of one shape, in those of `many`. A state is
a triple: vapor pressure [Pa] and its slopes over temperature and potential. Flows come with their slopes.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from specgen.physics.constants import (
    AIR_DENSITY_20C,
    GAS_CONSTANT_DRY_AIR,
    GAS_CONSTANT_VAPOR,
    GRAVITY,
    LATENT_HEAT_VAPORISATION_0C,
    MOLAR_MASS_RATIO,
    SPECIFIC_HEAT_DRY_AIR,
    SPECIFIC_HEAT_VAPOR,
    SPECIFIC_HEAT_WATER,
    STANDARD_ATMOSPHERE,
    STEFAN_BOLTZMANN,
    ZERO_CELSIUS,
)
from specgen.physics.heat_moisture.compiled import compiled
from specgen.physics.heat_moisture.porous import HIGHEST, LOWEST, POINTS, REFERENCE_C, WATER
from specgen.physics.moist_air import OVER_ICE, OVER_WATER, PRESSURE_AT_ZERO

STEPS: Final = (POINTS - 1) / (HIGHEST - LOWEST)
"""Points of the tables over a potential of 1."""
KELVIN: Final = WATER * GAS_CONSTANT_VAPOR  # of the Kelvin equation [Pa/K]
FILM_SPAN: Final = 0.9
"""Potential at which a film of water begins to form on a surface [-]: 99.9 % RH."""
TAKING: Final = 1e-5
"""Conductance with which an open surface takes water while its pores suck [kg/(m²·s·Pa)]: 1 mm/h stands under 28 Pa."""
REFERENCE: Final = REFERENCE_C + ZERO_CELSIUS
L0: Final = LATENT_HEAT_VAPORISATION_0C
CV: Final = SPECIFIC_HEAT_VAPOR
CW: Final = SPECIFIC_HEAT_WATER
T0: Final = ZERO_CELSIUS
SIGMA: Final = STEFAN_BOLTZMANN
R_AIR: Final = GAS_CONSTANT_DRY_AIR
LIGHTER: Final = 1.0 - MOLAR_MASS_RATIO
RHO_CP: Final = AIR_DENSITY_20C * SPECIFIC_HEAT_DRY_AIR
WATER_A, WATER_B = OVER_WATER
ICE_A, ICE_B = OVER_ICE


@compiled
def pore_vapor(kelvin: Any, suction: Any, steep: Any) -> Any:
    """Vapor pressure over pores [Pa] and its slopes over T and y; ``steep`` is the slope of suction over y."""
    t = kelvin - T0
    warm = t >= 0.0
    cold = t < 0.0
    a = warm * WATER_A + cold * ICE_A
    b = warm * WATER_B + cold * ICE_B + t
    pulls = (suction > 0.0) / (KELVIN * kelvin)
    pulled = pulls * suction
    pa = PRESSURE_AT_ZERO * np.exp(a * t / b - pulled)
    return pa, pa * (a * (b - t) / (b * b) + pulled / kelvin), -pa * pulls * steep


@compiled
def film_water(potential: Any, holds: Any) -> Any:
    """Water of a film on a surface [kg/m²] and its slope over y."""
    forming = (potential > 0.0) * (potential < FILM_SPAN)
    water = holds * ((potential <= 0.0) + forming * (1.0 - potential / FILM_SPAN))
    return water, -holds * forming / FILM_SPAN


@compiled
def pores(low: Any, high: Any, share: Any, exponent: Any, kelvin: Any) -> Any:
    """Of a material at a node: liquid potential, vapor permeability with its slope over T, conductivity; slopes over y.

    low, high: columns of its table at the points before and behind the node's potential, of which it is ``share`` on.
    """
    bend = exponent / REFERENCE
    warmth = 1.0 + bend * (kelvin - REFERENCE)
    liquid_y = high[1] - low[1]
    open_y = high[2] - low[2]
    lead_y = high[3] - low[3]
    at_20 = low[2] + share * open_y
    return (
        low[1] + share * liquid_y,
        STEPS * liquid_y,
        at_20 * warmth,
        at_20 * bend,
        STEPS * open_y * warmth,
        low[3] + share * lead_y,
        STEPS * lead_y,
    )


@compiled
def through(over: Any, t1: Any, vapor1: Any, pores1: Any, t2: Any, vapor2: Any, pores2: Any) -> Any:
    """Water and heat from one node to the next through material; ``over`` is time over distance [s/m].

    Returns:
        g [kg/m²] and its slopes over T and y of either node, q [J/m²] and its slopes.
    """
    liquid1, liquid1_y, open1, open1_t, open1_y, lead1, lead1_y = pores1
    liquid2, liquid2_y, open2, open2_t, open2_y, lead2, lead2_y = pores2
    half = 0.5 * over
    mean = half * (open1 + open2)
    fall = vapor1[0] - vapor2[0]
    thrust = half * fall
    gv = mean * fall
    gv_t1 = mean * vapor1[1] + thrust * open1_t
    gv_y1 = mean * vapor1[2] + thrust * open1_y
    gv_t2 = -mean * vapor2[1] + thrust * open2_t
    gv_y2 = -mean * vapor2[2] + thrust * open2_y
    gl = over * (liquid1 - liquid2)
    gl_y1 = over * liquid1_y
    gl_y2 = -over * liquid2_y
    lead = half * (lead1 + lead2)
    drop = t1 - t2
    middle = 0.5 * (t1 + t2) - T0
    hv = L0 + CV * middle
    hl = CW * middle
    turn = 0.5 * (gv * CV + gl * CW)
    drawn = half * drop
    return (
        gv + gl,
        gv_t1,
        gv_y1 + gl_y1,
        gv_t2,
        gv_y2 + gl_y2,
        lead * drop + gv * hv + gl * hl,
        lead + gv_t1 * hv + turn,
        drawn * lead1_y + gv_y1 * hv + gl_y1 * hl,
        -lead + gv_t2 * hv + turn,
        drawn * lead2_y + gv_y2 * hv + gl_y2 * hl,
    )


@compiled
def across(
    dt: Any, gap: Any, flow: Any, gap_k: Any, air_k: Any, air_pa: Any, t1: Any, vapor1: Any, t2: Any, vapor2: Any
) -> Any:  # fmt: skip
    """What either face of a gap gives to its air and to the other face; the air stores nothing.

    Returns:
        g and q of the first face, of the second; slopes of g over its own vapor pressure and that of the other; of the
        heat that air carries over either temperature; of the long waves over each; enthalpy of the vapor [J/kg].
    """
    beta = gap[0]
    h = gap[1]
    carried = flow / (GAS_CONSTANT_VAPOR * air_k)
    warm = flow * RHO_CP
    hv = L0 + CV * (gap_k - T0)
    whole = 2.0 * beta + carried
    pg = (beta * (vapor1[0] + vapor2[0]) + carried * air_pa) / whole
    total = 2.0 * h + warm
    tg = (h * (t1 + t2) + warm * air_k) / total
    wave = dt * gap[2] * SIGMA
    cube1 = t1 * t1 * t1
    cube2 = t2 * t2 * t2
    r = wave * (cube1 * t1 - cube2 * t2)
    g1 = dt * beta * (vapor1[0] - pg)
    g2 = dt * beta * (vapor2[0] - pg)
    return (
        g1,
        dt * h * (t1 - tg) + r + g1 * hv,
        g2,
        dt * h * (t2 - tg) - r + g2 * hv,
        dt * beta * (1.0 - beta / whole),
        -dt * beta * beta / whole,
        dt * h * (1.0 - h / total),
        -dt * h * h / total,
        4.0 * wave * cube1,
        4.0 * wave * cube2,
        hv,
    )


@compiled
def into_face(dt: Any, face: Any, emittance: Any, kelvin: Any, vapor: Any) -> Any:
    """Vapor and heat that a face of the wall takes up, each with its slopes over T and y."""
    beta = dt * face[3]
    hv = L0 + CV * (0.5 * (face[0] + kelvin) - T0)
    cube = kelvin * kelvin * kelvin
    g = beta * (face[1] - vapor[0])
    g_t = -beta * vapor[1]
    g_y = -beta * vapor[2]
    dry = face[2] * (face[0] - kelvin) + face[4] + emittance * (face[5] - SIGMA * cube * kelvin)
    slope = face[2] + 4.0 * emittance * SIGMA * cube
    return g, g_t, g_y, dt * dry + g * hv, g_t * hv + 0.5 * g * CV - dt * slope, g_y * hv


@compiled
def accepted(suction: Any, steep: Any, most: Any) -> Any:
    """Water that an open face takes of what is offered, or lets run off [kg/(m²·s)], and its slope over y."""
    some = TAKING * suction <= most
    return some * TAKING * suction + (1 - some) * most, some * TAKING * steep


@compiled
def gap_air(
    gap: Any, t1: Any, t2: Any, pa1: Any, pa2: Any, flow: Any, air_k: Any, air_pa: Any
) -> Any:  # fmt: skip
    """Temperature [K] and vapor pressure [Pa] of the air in a gap that exchanges ``flow`` [m³/(m²·s)]."""
    carried = flow / (GAS_CONSTANT_VAPOR * air_k)
    kelvin = (gap[1] * (t1 + t2) + flow * RHO_CP * air_k) / (2.0 * gap[1] + flow * RHO_CP)
    pa = (gap[0] * (pa1 + pa2) + carried * air_pa) / (2.0 * gap[0] + carried)
    return kelvin, pa


@compiled
def gap_exchange(gap: Any, gap_k: Any, gap_pa: Any, air_k: Any, air_pa: Any, wind_pa: Any) -> Any:
    """Air that passes a gap over the wall's area [m³/(m²·s)], by stack and wind as `gap_air.gap_flow`."""
    driven = gap[5] > 0.0
    outside = (STANDARD_ATMOSPHERE - LIGHTER * air_pa) / air_k
    within = (STANDARD_ATMOSPHERE - LIGHTER * gap_pa) / gap_k
    drive = np.minimum(np.abs(GRAVITY * gap[3] / R_AIR * (outside - within) + wind_pa), gap[7])
    slowed = gap[5] + np.sqrt(gap[5] * gap[5] + 4.0 * gap[6] * drive) + (1 - driven)
    return driven * 2.0 * drive / slowed * gap[4] / gap[3] + gap[8]
