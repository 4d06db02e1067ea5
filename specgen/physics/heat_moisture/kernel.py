"""The loops of the scheme, over nodes and hours, in plain numbers: compiled where Numba is installed.

Unknowns of node i: temperature [K] and potential y (`porous`). Links join neighbors: a piece of material, a membrane
(unit thickness, no storage), or a gap of air without storage. Backward in time, so what leaves one node enters the
next, and Newton with the exact slopes of all tables.

Arrays, n nodes, m materials, p points of their tables, o nodes that take water from outside, g gaps:

- ``tables`` (m, p, 4): water, liquid potential, vapor permeability, conductivity; ``suctions`` (p,)
- ``heats`` (m,), ``exponents`` (m,): heat capacity of the volume, exponent of the vapor permeability
- ``links`` (n-1,): material of a link, or -1-k for gap k; ``spans`` (n-1,): its thickness [m]
- ``films`` (n,): water that a surface holds before it runs [kg/m²]
- ``takes`` (n,): column of the water offered to a node, -1 for none
- ``gaps`` (g, 9): film β, film h, mutual emittance, height, depth, friction term, loss term, most pressure, fixed
  exchange [m³/(m²·s)]; friction 0 where the exchange is fixed
- ``outside``, ``inside`` (hours, 6): air [K], vapor [Pa], convection, β, sun, long waves; ``emits`` (2,)
- ``airs`` (hours, 3g): air [K] and vapor [Pa] that enters each gap, and wind pressure along it
- ``offered`` (hours, o): water offered [kg/(m²·s)]
"""

from __future__ import annotations

import math
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

STEP: Final = (HIGHEST - LOWEST) / (POINTS - 1)
KELVIN: Final = WATER * GAS_CONSTANT_VAPOR  # of the Kelvin equation [Pa/K]
REFERENCE: Final = REFERENCE_C + ZERO_CELSIUS
TAKING: Final = 1e-5
"""Conductance with which an open surface takes water while its pores suck [kg/(m²·s·Pa)]: 1 mm/h stands under 28 Pa."""
FILM_SPAN: Final = 0.9
"""Potential at which a film of water begins to form on a surface [-]: 99.9 % RH."""
MOST_TURNS: Final = 14
MOST_KELVIN: Final = 15.0
MOST_POTENTIAL: Final = 1.0
"""Of one turn of Newton: rounds, and the largest changes that it makes."""
MASS_CLOSED: Final = 2e-10
HEAT_CLOSED: Final = 2e-2
"""Of a node in a step: what may remain of the balances [kg/m²], [J/m²]."""
SHORTEST: Final = 0.5
"""Step below which a wall counts as one that cannot be solved [s]."""
HOUR: Final = 3600.0
L0: Final = LATENT_HEAT_VAPORISATION_0C
CV: Final = SPECIFIC_HEAT_VAPOR
CW: Final = SPECIFIC_HEAT_WATER
T0: Final = ZERO_CELSIUS
R_AIR: Final = GAS_CONSTANT_DRY_AIR
LIGHTER: Final = 1.0 - MOLAR_MASS_RATIO
RHO_CP: Final = AIR_DENSITY_20C * SPECIFIC_HEAT_DRY_AIR
SIGMA: Final = STEFAN_BOLTZMANN
WATER_A, WATER_B = OVER_WATER
ICE_A, ICE_B = OVER_ICE

TALLY: Final = (
    "vapor from outside", "vapor from inside", "vapor from gaps", "water taken", "water offered", "vapor passed",
    "heat from outside", "heat from inside", "heat of gaps", "heat of water", "heat passed", "steps", "turns",
    "water stored", "heat stored",
)  # fmt: skip
"""What `march` sums up: kg/m² and J/m², counts, and what is in the wall at the end less at the start."""


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
    """Water [kg/m²] and heat [J/m²] of each node, with their slopes: ``water`` (n, 2) over y, ``heat`` (n, 3) over T, y."""
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
def gap_air(gap: Any, left_k: float, right_k: float, left_pa: float, right_pa: float, flow: float, air_k: float, air_pa: float) -> Any:
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
def assemble(
    temps: Any, potentials: Any, dt: float, before: Any, tables: Any, suctions: Any, heats: Any, exponents: Any,
    links: Any, spans: Any, films: Any, takes: Any, drains: Any, gaps: Any, flows: Any, outer: Any, inner: Any,
    emits: Any, airs: Any, offer: Any, at: Any, share: Any, vapor: Any, water: Any, heat: Any,
    lower: Any, diagonal: Any, upper: Any, left: Any, passed: Any,
) -> None:  # fmt: skip
    """What remains of both balances at each node and its slopes over both unknowns of it and its neighbors.

    ``left`` (n, 2); the blocks (n, 4) hold dR1/dT, dR1/dy, dR2/dT, dR2/dy. ``passed`` takes the flows of `TALLY`.
    """
    n = temps.size
    vapor_state(temps, potentials, suctions, at, share, vapor)
    stored(temps, potentials, at, share, tables, heats, links, spans, films, water, heat)
    for i in range(n):
        left[i, 0] = water[i, 0] - before[i, 0]
        left[i, 1] = heat[i, 0] - before[i, 1]
        diagonal[i, 0] = 0.0
        diagonal[i, 1] = water[i, 1]
        diagonal[i, 2] = heat[i, 1]
        diagonal[i, 3] = heat[i, 2]
    for j in range(passed.size):
        passed[j] = 0.0
    for i in range(n - 1):
        j = i + 1
        m = links[i]
        t1 = temps[i]
        t2 = temps[j]
        p1 = vapor[i, 0]
        p2 = vapor[j, 0]
        if m >= 0:
            k1 = at[i]
            k2 = at[j]
            a = tables[m, k1]
            b = tables[m, k1 + 1]
            c = tables[m, k2]
            d = tables[m, k2 + 1]
            f1 = share[i]
            f2 = share[j]
            over = dt / spans[i]
            bend = exponents[m] / REFERENCE
            bend1 = 1.0 + bend * (t1 - REFERENCE)
            bend2 = 1.0 + bend * (t2 - REFERENCE)
            open1 = a[2] + f1 * (b[2] - a[2])
            open2 = c[2] + f2 * (d[2] - c[2])
            mean = 0.5 * (open1 * bend1 + open2 * bend2)
            fall = p1 - p2
            gv = over * mean * fall
            gv_t1 = over * (mean * vapor[i, 1] + 0.5 * open1 * bend * fall)
            gv_y1 = over * (mean * vapor[i, 2] + 0.5 * bend1 * (b[2] - a[2]) / STEP * fall)
            gv_t2 = over * (-mean * vapor[j, 1] + 0.5 * open2 * bend * fall)
            gv_y2 = over * (-mean * vapor[j, 2] + 0.5 * bend2 * (d[2] - c[2]) / STEP * fall)
            gl = over * (a[1] + f1 * (b[1] - a[1]) - c[1] - f2 * (d[1] - c[1]))
            gl_y1 = over * (b[1] - a[1]) / STEP
            gl_y2 = -over * (d[1] - c[1]) / STEP
            lead = 0.5 * over * (a[3] + f1 * (b[3] - a[3]) + c[3] + f2 * (d[3] - c[3]))
            drop = t1 - t2
            middle = 0.5 * (t1 + t2) - T0
            hv = L0 + CV * middle
            hl = CW * middle
            q = lead * drop + gv * hv + gl * hl
            turn = 0.5 * (gv * CV + gl * CW)
            q_t1 = lead + gv_t1 * hv + turn
            q_t2 = -lead + gv_t2 * hv + turn
            q_y1 = 0.5 * over * (b[3] - a[3]) / STEP * drop + gv_y1 * hv + gl_y1 * hl
            q_y2 = 0.5 * over * (d[3] - c[3]) / STEP * drop + gv_y2 * hv + gl_y2 * hl
            g = gv + gl
            left[i, 0] += g
            left[j, 0] -= g
            left[i, 1] += q
            left[j, 1] -= q
            diagonal[i, 0] += gv_t1
            diagonal[i, 1] += gv_y1 + gl_y1
            diagonal[i, 2] += q_t1
            diagonal[i, 3] += q_y1
            upper[i, 0] = gv_t2
            upper[i, 1] = gv_y2 + gl_y2
            upper[i, 2] = q_t2
            upper[i, 3] = q_y2
            diagonal[j, 0] -= gv_t2
            diagonal[j, 1] -= gv_y2 + gl_y2
            diagonal[j, 2] -= q_t2
            diagonal[j, 3] -= q_y2
            lower[j, 0] = -gv_t1
            lower[j, 1] = -gv_y1 - gl_y1
            lower[j, 2] = -q_t1
            lower[j, 3] = -q_y1
        else:
            x = -1 - m
            beta = gaps[x, 0]
            h = gaps[x, 1]
            flow = flows[x, 0]
            gk = flows[x, 1]
            air_k = airs[3 * x]
            air_pa = airs[3 * x + 1]
            carried = flow / (GAS_CONSTANT_VAPOR * air_k)
            warm = flow * RHO_CP
            hv = L0 + CV * (gk - T0)
            whole = 2.0 * beta + carried
            pg = (beta * (p1 + p2) + carried * air_pa) / whole
            g1 = dt * beta * (p1 - pg)
            g2 = dt * beta * (p2 - pg)
            own = dt * beta * (1.0 - beta / whole)
            cross = -dt * beta * beta / whole
            total = 2.0 * h + warm
            tg = (h * (t1 + t2) + warm * air_k) / total
            wave = gaps[x, 2] * SIGMA
            r = dt * wave * (t1 * t1 * t1 * t1 - t2 * t2 * t2 * t2)
            r1 = 4.0 * dt * wave * t1 * t1 * t1
            r2 = 4.0 * dt * wave * t2 * t2 * t2
            q1 = dt * h * (t1 - tg) + r + g1 * hv
            q2 = dt * h * (t2 - tg) - r + g2 * hv
            own_t = dt * h * (1.0 - h / total)
            cross_t = -dt * h * h / total
            left[i, 0] += g1
            left[j, 0] += g2
            left[i, 1] += q1
            left[j, 1] += q2
            diagonal[i, 0] += own * vapor[i, 1]
            diagonal[i, 1] += own * vapor[i, 2]
            diagonal[i, 2] += own_t + r1 + own * vapor[i, 1] * hv
            diagonal[i, 3] += own * vapor[i, 2] * hv
            upper[i, 0] = cross * vapor[j, 1]
            upper[i, 1] = cross * vapor[j, 2]
            upper[i, 2] = cross_t - r2 + cross * vapor[j, 1] * hv
            upper[i, 3] = cross * vapor[j, 2] * hv
            diagonal[j, 0] += own * vapor[j, 1]
            diagonal[j, 1] += own * vapor[j, 2]
            diagonal[j, 2] += own_t + r2 + own * vapor[j, 1] * hv
            diagonal[j, 3] += own * vapor[j, 2] * hv
            lower[j, 0] = cross * vapor[i, 1]
            lower[j, 1] = cross * vapor[i, 2]
            lower[j, 2] = cross_t - r1 + cross * vapor[i, 1] * hv
            lower[j, 3] = cross * vapor[i, 2] * hv
            passed[2] -= g1 + g2
            passed[5] += abs(g1) + abs(g2)
            passed[8] -= q1 + q2
            passed[10] += abs(q1) + abs(q2)
    for side in range(2):
        i = 0 if side == 0 else n - 1
        face = outer if side == 0 else inner
        gv = dt * face[3] * (face[1] - vapor[i, 0])
        hv = L0 + CV * (0.5 * (face[0] + temps[i]) - T0)
        cube = temps[i] * temps[i] * temps[i]
        q = dt * (face[2] * (face[0] - temps[i]) + face[4] + emits[side] * (face[5] - SIGMA * cube * temps[i]))
        q += gv * hv
        left[i, 0] -= gv
        left[i, 1] -= q
        gv_t = -dt * face[3] * vapor[i, 1]
        gv_y = -dt * face[3] * vapor[i, 2]
        diagonal[i, 0] -= gv_t
        diagonal[i, 1] -= gv_y
        diagonal[i, 2] += dt * (face[2] + 4.0 * emits[side] * SIGMA * cube) - gv_t * hv - 0.5 * gv * CV
        diagonal[i, 3] -= gv_y * hv
        passed[side] += gv
        passed[5] += abs(gv)
        passed[6 + side] += q
        passed[10] += abs(q)
    for i in range(n):
        if takes[i] >= 0 or drains[i]:
            k = at[i]
            steep = (suctions[k + 1] - suctions[k]) / STEP
            s = suctions[k] + share[i] * (suctions[k + 1] - suctions[k])
            most = offer[takes[i]] if takes[i] >= 0 else 0.0
            g = TAKING * s
            slope = TAKING * steep
            if g > most:
                g = most
                slope = 0.0
            warm = outer[0] if i == 0 and g > 0.0 else temps[i]
            h = CW * (warm - T0)
            g *= dt
            slope *= dt
            left[i, 0] -= g
            left[i, 1] -= g * h
            diagonal[i, 1] -= slope
            diagonal[i, 3] -= slope * h
            if not (i == 0 and g > 0.0):
                diagonal[i, 2] -= g * CW
            passed[3] += g
            passed[4] += dt * most
            passed[9] += g * h
            passed[5] += abs(g)
            passed[10] += abs(g * h)


@compiled
def solve(lower: Any, diagonal: Any, upper: Any, left: Any) -> bool:
    """The change of the unknowns, in place of ``left``: 2 × 2 blocks from the first node to the last and back.

    False where a block cannot be divided by.
    """
    n = left.shape[0]
    for i in range(n):
        a = diagonal[i, 0]
        b = diagonal[i, 1]
        c = diagonal[i, 2]
        d = diagonal[i, 3]
        r = left[i, 0]
        q = left[i, 1]
        if i > 0:
            e = lower[i, 0]
            f = lower[i, 1]
            g = lower[i, 2]
            h = lower[i, 3]
            u = upper[i - 1]
            a -= e * u[0] + f * u[2]
            b -= e * u[1] + f * u[3]
            c -= g * u[0] + h * u[2]
            d -= g * u[1] + h * u[3]
            r -= e * left[i - 1, 0] + f * left[i - 1, 1]
            q -= g * left[i - 1, 0] + h * left[i - 1, 1]
        whole = a * d - b * c
        if whole == 0.0 or whole != whole:
            return False
        whole = 1.0 / whole
        left[i, 0] = whole * (d * r - b * q)
        left[i, 1] = whole * (a * q - c * r)
        if i < n - 1:
            e = upper[i, 0]
            f = upper[i, 1]
            g = upper[i, 2]
            h = upper[i, 3]
            upper[i, 0] = whole * (d * e - b * g)
            upper[i, 1] = whole * (d * f - b * h)
            upper[i, 2] = whole * (a * g - c * e)
            upper[i, 3] = whole * (a * h - c * f)
    for i in range(n - 2, -1, -1):
        left[i, 0] -= upper[i, 0] * left[i + 1, 0] + upper[i, 1] * left[i + 1, 1]
        left[i, 1] -= upper[i, 2] * left[i + 1, 0] + upper[i, 3] * left[i + 1, 1]
    return True


@compiled
def march(
    temps: Any, potentials: Any, tables: Any, suctions: Any, heats: Any, exponents: Any, links: Any, spans: Any,
    films: Any, takes: Any, drains: Any, gaps: Any, outside: Any, inside: Any, emits: Any, airs: Any, offered: Any,
    steps: Any, watched: Any, layers: Any, seen_t: Any, seen_y: Any, layer_water: Any, kept: Any, profile_t: Any,
    profile_y: Any, taken: Any, tally: Any,
) -> Any:  # fmt: skip
    """All hours; ``temps`` and ``potentials`` are taken on to the last.

    Args beyond those of the module: steps (hours,), the parts an hour begins with; watched (k,), nodes whose state ends
    in seen_t, seen_y (hours, k); layers (n-1,), number of the layer of a link, its water into layer_water (hours,
    layers); kept (hours,), row of profile_t, profile_y (rows, n), or -1; taken (hours, o), water accepted in the hour.

    Returns:
        (-1, -1) or the hour and the node at which no step could be solved.
    """
    n = temps.size
    hours = outside.shape[0]
    at = np.zeros(n, np.int64)
    share = np.zeros(n)
    vapor = np.zeros((n, 3))
    water = np.zeros((n, 2))
    heat = np.zeros((n, 3))
    before = np.zeros((n, 2))
    lower = np.zeros((n, 4))
    diagonal = np.zeros((n, 4))
    upper = np.zeros((n, 4))
    left = np.zeros((n, 2))
    passed = np.zeros(11)
    flows = np.zeros((max(gaps.shape[0], 1), 2))
    start_t = temps.copy()
    start_y = potentials.copy()
    vapor_state(temps, potentials, suctions, at, share, vapor)
    stored(temps, potentials, at, share, tables, heats, links, spans, films, water, heat)
    first_water = 0.0
    first_heat = 0.0
    for i in range(n):
        first_water += water[i, 0]
        first_heat += heat[i, 0]
    for hour in range(hours):
        dt = HOUR / steps[hour]
        done = 0.0
        while done < HOUR - 1e-6:
            dt = min(dt, HOUR - done)
            for i in range(n):
                start_t[i] = temps[i]
                start_y[i] = potentials[i]
                before[i, 0] = water[i, 0]
                before[i, 1] = heat[i, 0]
            for i in range(n - 1):
                if links[i] < 0:
                    x = -1 - links[i]
                    air_k = airs[hour, 3 * x]
                    air_pa = airs[hour, 3 * x + 1]
                    gk, gpa = gap_air(
                        gaps[x], temps[i], temps[i + 1], vapor[i, 0], vapor[i + 1, 0], flows[x, 0], air_k, air_pa
                    )
                    flow = gap_exchange(gaps[x], gk, gpa, air_k, air_pa, airs[hour, 3 * x + 2])
                    # Half of the flow before: stack and temperature would chase each other over long steps.
                    flows[x, 0] = 0.5 * (flow + flows[x, 0])
                    flows[x, 1] = gk
            solved = False
            worst = 0
            for turn in range(MOST_TURNS):
                assemble(
                    temps, potentials, dt, before, tables, suctions, heats, exponents, links, spans, films, takes,
                    drains, gaps, flows, outside[hour], inside[hour], emits, airs[hour], offered[hour], at, share,
                    vapor, water, heat, lower, diagonal, upper, left, passed,
                )  # fmt: skip
                most = 0.0
                for i in range(n):
                    off = max(abs(left[i, 0]) / MASS_CLOSED, abs(left[i, 1]) / HEAT_CLOSED)
                    if not off <= most:
                        most = off
                        worst = i
                if most <= 1.0:
                    solved = True
                    break
                tally[12] += 1.0
                if not solve(lower, diagonal, upper, left):
                    break
                for i in range(n):
                    move = left[i, 0]
                    shift = left[i, 1]
                    if turn > 7:
                        move *= 0.5
                        shift *= 0.5
                    temps[i] -= max(min(move, MOST_KELVIN), -MOST_KELVIN)
                    y = potentials[i] - max(min(shift, MOST_POTENTIAL), -MOST_POTENTIAL)
                    potentials[i] = max(min(y, HIGHEST), LOWEST)
            if not solved:
                for i in range(n):
                    temps[i] = start_t[i]
                    potentials[i] = start_y[i]
                vapor_state(temps, potentials, suctions, at, share, vapor)
                stored(temps, potentials, at, share, tables, heats, links, spans, films, water, heat)
                dt *= 0.25
                if dt < SHORTEST:
                    return hour, worst
                continue
            done += dt
            for j in range(11):
                tally[j] += passed[j]
            for i in range(n):
                if takes[i] >= 0:
                    k = at[i]
                    s = suctions[k] + share[i] * (suctions[k + 1] - suctions[k])
                    taken[hour, takes[i]] += dt * min(TAKING * s, offered[hour, takes[i]])
            tally[11] += 1.0
            dt = min(2.0 * dt, HOUR / steps[hour])
        for j in range(watched.size):
            seen_t[hour, j] = temps[watched[j]]
            seen_y[hour, j] = potentials[watched[j]]
        for i in range(n - 1):
            m = links[i]
            if m >= 0:
                half = 0.5 * spans[i]
                for j in range(i, i + 2):
                    low = tables[m, at[j], 0]
                    layer_water[hour, layers[i]] += half * (low + share[j] * (tables[m, at[j] + 1, 0] - low))
        if kept[hour] >= 0:
            for i in range(n):
                profile_t[kept[hour], i] = temps[i]
                profile_y[kept[hour], i] = potentials[i]
    for i in range(n):
        tally[13] += water[i, 0]
        tally[14] += heat[i, 0]
    tally[13] -= first_water
    tally[14] -= first_heat
    return -1, -1
