"""The balances of all nodes and their slopes, and the solution of the blocks, in plain numbers (`march`)."""

from __future__ import annotations

from typing import Any, Final

from specgen.physics.constants import (
    GAS_CONSTANT_VAPOR,
    LATENT_HEAT_VAPORISATION_0C,
    SPECIFIC_HEAT_VAPOR,
    STEFAN_BOLTZMANN,
    ZERO_CELSIUS,
)
from specgen.physics.heat_moisture.compiled import compiled
from specgen.physics.heat_moisture.nodes import CW, RHO_CP, STEP, T0, stored, vapor_state
from specgen.physics.heat_moisture.porous import REFERENCE_C

REFERENCE: Final = REFERENCE_C + ZERO_CELSIUS
TAKING: Final = 1e-5
"""Conductance with which an open surface takes water while its pores suck [kg/(m²·s·Pa)]: 1 mm/h stands under 28 Pa."""
L0: Final = LATENT_HEAT_VAPORISATION_0C
CV: Final = SPECIFIC_HEAT_VAPOR
SIGMA: Final = STEFAN_BOLTZMANN


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
        q = dt * (
            face[2] * (face[0] - temps[i]) + face[4] + emits[side] * (face[5] - SIGMA * cube * temps[i])
        )
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
