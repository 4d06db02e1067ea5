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
def gap_air(
    gap: Any, flow: Any, t1: Any, t2: Any, pa1: Any, pa2: Any, air_k: Any, air_pa: Any
) -> Any:  # fmt: skip
    """Temperature [K] and vapor pressure [Pa] of the air in a gap, and their slopes over what it exchanges."""
    per_pa = 1.0 / (GAS_CONSTANT_VAPOR * air_k)
    total = 2.0 * gap[1] + flow * RHO_CP
    whole = 2.0 * gap[0] + flow * per_pa
    kelvin = (gap[1] * (t1 + t2) + flow * RHO_CP * air_k) / total
    pa = (gap[0] * (pa1 + pa2) + flow * per_pa * air_pa) / whole
    return kelvin, pa, RHO_CP * (air_k - kelvin) / total, per_pa * (air_pa - pa) / whole


@compiled
def gap_exchange(
    gap: Any, flow: Any, t1: Any, t2: Any, pa1: Any, pa2: Any, air_k: Any, air_pa: Any, wind_pa: Any
) -> Any:  # fmt: skip
    """Air that passes a gap over the wall's area [m³/(m²·s)], by stack and wind as `gap_air.gap_flow`.

    The air warms and moistens in the gap, and so drives itself: two turns of Newton from ``flow`` take it there.

    Returns:
        The exchange, its slope over the temperature of either face, and over the vapor pressure at either.
    """
    driven = gap[5] > 0.0
    width = driven * gap[4] / gap[3]
    flow_t = flow_pa = 0.0 * flow
    for _ in range(2):
        kelvin, pa, k_flow, pa_flow = gap_air(gap, flow, t1, t2, pa1, pa2, air_k, air_pa)
        lightness = STANDARD_ATMOSPHERE - LIGHTER * pa
        rise = GRAVITY * gap[3] / R_AIR
        net = rise * ((STANDARD_ATMOSPHERE - LIGHTER * air_pa) / air_k - lightness / kelvin) + wind_pa
        drive = np.minimum(np.abs(net), gap[7])
        root = np.sqrt(gap[5] * gap[5] + 4.0 * gap[6] * drive) + (1 - driven)
        steep = width / root * rise * (np.abs(net) < gap[7]) * (2.0 * (net > 0.0) - 1.0)
        by_k = steep * lightness / (kelvin * kelvin)
        by_pa = steep * LIGHTER / kelvin
        # Above 1 where the stack drives alone; wind against the stack could take it to nothing.
        back = np.maximum(1.0 - by_k * k_flow - by_pa * pa_flow, 0.5)
        now = width * 2.0 * drive / (gap[5] + root) + gap[8]
        flow_t = by_k * gap[1] / (2.0 * gap[1] + flow * RHO_CP) / back
        flow_pa = by_pa * gap[0] / (2.0 * gap[0] + flow / (GAS_CONSTANT_VAPOR * air_k)) / back
        flow = np.maximum(flow + (now - flow) / back, 0.0)
    return flow, flow_t, flow_pa


@compiled
def across(
    dt: Any, gap: Any, exchange: Any, air_k: Any, air_pa: Any, t1: Any, pa1: Any, t2: Any, pa2: Any
) -> Any:  # fmt: skip
    """What either face of a gap gives to its air and to the other face; the air stores nothing.

    Returns:
        Of the first face and of the second: g and q; slopes of g over either temperature, over its own vapor pressure
        and over that of the other; slopes of q over its own temperature and that of the other, its own vapor pressure
        and that of the other.
    """
    flow, flow_t, flow_pa = exchange
    kelvin, pa, k_flow, pa_flow = gap_air(gap, flow, t1, t2, pa1, pa2, air_k, air_pa)
    k_t = gap[1] / (2.0 * gap[1] + flow * RHO_CP) + k_flow * flow_t
    k_pa = k_flow * flow_pa
    pa_pa = gap[0] / (2.0 * gap[0] + flow / (GAS_CONSTANT_VAPOR * air_k)) + pa_flow * flow_pa
    beta = dt * gap[0]
    h = dt * gap[1]
    hv = L0 + CV * (kelvin - T0)
    wave = dt * gap[2] * SIGMA
    cube1 = t1 * t1 * t1
    cube2 = t2 * t2 * t2
    r = wave * (cube1 * t1 - cube2 * t2)
    g1 = beta * (pa1 - pa)
    g2 = beta * (pa2 - pa)
    g_t = -beta * pa_flow * flow_t
    own = beta * (1.0 - pa_pa)
    cross = -beta * pa_pa
    with1 = g1 * CV - h
    with2 = g2 * CV - h
    warm = g_t * hv
    return (
        (
            g1,
            h * (t1 - kelvin) + r + g1 * hv,
            g_t,
            own,
            cross,
            h + 4.0 * wave * cube1 + with1 * k_t + warm,
            with1 * k_t + warm - 4.0 * wave * cube2,
            with1 * k_pa + own * hv,
            with1 * k_pa + cross * hv,
        ),
        (
            g2,
            h * (t2 - kelvin) - r + g2 * hv,
            g_t,
            own,
            cross,
            h + 4.0 * wave * cube2 + with2 * k_t + warm,
            with2 * k_t + warm - 4.0 * wave * cube1,
            with2 * k_pa + own * hv,
            with2 * k_pa + cross * hv,
        ),
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
