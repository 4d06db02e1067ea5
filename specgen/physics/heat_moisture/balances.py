"""The balances of all nodes and their slopes, and the solution of the blocks, in plain numbers (`march`)."""

from __future__ import annotations

from typing import Any

from specgen.physics.heat_moisture.compiled import compiled
from specgen.physics.heat_moisture.flows import (
    CW,
    STEPS,
    T0,
    accepted,
    across,
    gap_exchange,
    into_face,
    pores,
    through,
)
from specgen.physics.heat_moisture.nodes import stored, vapor_state


@compiled
def assemble(
    temps: Any, potentials: Any, dt: float, before: Any, tables: Any, suctions: Any, heats: Any, exponents: Any,
    links: Any, spans: Any, films: Any, takes: Any, gaps: Any, flows: Any, held: bool, outer: Any,
    inner: Any, emits: Any, airs: Any, offer: Any, at: Any, share: Any, vapor: Any, water: Any, heat: Any,
    lower: Any, diagonal: Any, upper: Any, left: Any, passed: Any,
) -> None:  # fmt: skip
    """What remains of both balances at each node and its slopes over both unknowns of it and its neighbors.

    ``left`` (n, 2); the blocks (n, 4) hold dR1/dT, dR1/dy, dR2/dT, dR2/dy. ``passed`` takes the flows of `TALLY`.
    """
    vapor_state(temps, potentials, suctions, at, share, vapor)
    stored(temps, potentials, at, share, tables, heats, links, spans, films, water, heat)
    for i in range(temps.size):
        left[i, 0] = water[i, 0] - before[i, 0]
        left[i, 1] = heat[i, 0] - before[i, 1]
        diagonal[i, 0] = 0.0
        diagonal[i, 1] = water[i, 1]
        diagonal[i, 2] = heat[i, 1]
        diagonal[i, 3] = heat[i, 2]
    for j in range(passed.size):
        passed[j] = 0.0
    materials(temps, dt, tables, exponents, links, spans, at, share, vapor, lower, diagonal, upper, left)
    open_gaps(temps, dt, links, gaps, flows, held, airs, vapor, lower, diagonal, upper, left, passed)
    faces(temps, dt, outer, inner, emits, vapor, diagonal, left, passed)
    waters(temps, dt, suctions, takes, outer[0], offer, at, share, diagonal, left, passed)


@compiled
def materials(
    temps: Any, dt: float, tables: Any, exponents: Any, links: Any, spans: Any, at: Any, share: Any, vapor: Any,
    lower: Any, diagonal: Any, upper: Any, left: Any,
) -> None:  # fmt: skip
    """What flows through pieces of material and membranes."""
    known = -1
    for i in range(links.size):
        m = links[i]
        if m < 0:
            known = -1
            continue
        j = i + 1
        if m != known:
            ends = pores(tables[m, at[i]], tables[m, at[i] + 1], share[i], exponents[m], temps[i])
        known = m
        begins = ends
        ends = pores(tables[m, at[j]], tables[m, at[j] + 1], share[j], exponents[m], temps[j])
        g, g_t1, g_y1, g_t2, g_y2, q, q_t1, q_y1, q_t2, q_y2 = through(
            dt / spans[i],
            temps[i],
            (vapor[i, 0], vapor[i, 1], vapor[i, 2]),
            begins,
            temps[j],
            (vapor[j, 0], vapor[j, 1], vapor[j, 2]),
            ends,
        )
        left[i, 0] += g
        left[j, 0] -= g
        left[i, 1] += q
        left[j, 1] -= q
        diagonal[i, 0] += g_t1
        diagonal[i, 1] += g_y1
        diagonal[i, 2] += q_t1
        diagonal[i, 3] += q_y1
        upper[i, 0] = g_t2
        upper[i, 1] = g_y2
        upper[i, 2] = q_t2
        upper[i, 3] = q_y2
        diagonal[j, 0] -= g_t2
        diagonal[j, 1] -= g_y2
        diagonal[j, 2] -= q_t2
        diagonal[j, 3] -= q_y2
        lower[j, 0] = -g_t1
        lower[j, 1] = -g_y1
        lower[j, 2] = -q_t1
        lower[j, 3] = -q_y1


@compiled
def gap_face(i: int, j: int, face: Any, vapor: Any, diagonal: Any, beside: Any, left: Any) -> None:
    """What the face of a gap at node i gives (`flows.across`), with its slopes; node j is the face across."""
    g, q, g_t, own, cross, q_t, q_cross_t, q_own, q_cross = face
    left[i, 0] += g
    left[i, 1] += q
    diagonal[i, 0] += g_t + own * vapor[i, 1]
    diagonal[i, 1] += own * vapor[i, 2]
    diagonal[i, 2] += q_t + q_own * vapor[i, 1]
    diagonal[i, 3] += q_own * vapor[i, 2]
    beside[i, 0] = g_t + cross * vapor[j, 1]
    beside[i, 1] = cross * vapor[j, 2]
    beside[i, 2] = q_cross_t + q_cross * vapor[j, 1]
    beside[i, 3] = q_cross * vapor[j, 2]


@compiled
def open_gaps(
    temps: Any, dt: float, links: Any, gaps: Any, flows: Any, held: bool, airs: Any, vapor: Any, lower: Any,
    diagonal: Any, upper: Any, left: Any, passed: Any,
) -> None:  # fmt: skip
    """What the faces of each gap exchange with its air and with each other; ``held`` keeps the air to ``flows``."""
    for i in range(links.size):
        if links[i] >= 0:
            continue
        x = -1 - links[i]
        j = i + 1
        gap = gaps[x]
        air_k = airs[3 * x]
        air_pa = airs[3 * x + 1]
        exchange = gap_exchange(
            gap, flows[x], temps[i], temps[j], vapor[i, 0], vapor[j, 0], air_k, air_pa, airs[3 * x + 2]
        )
        if held:
            exchange = (flows[x], 0.0, 0.0)
        flows[x] = exchange[0]
        one, two = across(dt, gap, exchange, air_k, air_pa, temps[i], vapor[i, 0], temps[j], vapor[j, 0])
        gap_face(i, j, one, vapor, diagonal, upper, left)
        gap_face(j, i, two, vapor, diagonal, lower, left)
        passed[2] -= one[0] + two[0]
        passed[5] += abs(one[0]) + abs(two[0])
        passed[8] -= one[1] + two[1]
        passed[10] += abs(one[1]) + abs(two[1])


@compiled
def faces(
    temps: Any, dt: float, outer: Any, inner: Any, emits: Any, vapor: Any, diagonal: Any, left: Any, passed: Any
) -> None:  # fmt: skip
    """What the two faces of the wall take up of air, light and long waves."""
    for side in range(2):
        i = 0 if side == 0 else temps.size - 1
        g, g_t, g_y, q, q_t, q_y = into_face(
            dt,
            outer if side == 0 else inner,
            emits[side],
            temps[i],
            (vapor[i, 0], vapor[i, 1], vapor[i, 2]),
        )
        left[i, 0] -= g
        left[i, 1] -= q
        diagonal[i, 0] -= g_t
        diagonal[i, 1] -= g_y
        diagonal[i, 2] -= q_t
        diagonal[i, 3] -= q_y
        passed[side] += g
        passed[5] += abs(g)
        passed[6 + side] += q
        passed[10] += abs(q)


@compiled
def waters(
    temps: Any, dt: float, suctions: Any, takes: Any, air_k: float, offer: Any, at: Any, share: Any,
    diagonal: Any, left: Any, passed: Any,
) -> None:  # fmt: skip
    """Rain and leaks that faces take. Water under pressure finds a way out at every node. Rain is as warm as the air."""
    for i in range(temps.size):
        k = at[i]
        rise = suctions[k + 1] - suctions[k]
        most = offer[takes[i]] if takes[i] >= 0 else 0.0
        g, slope = accepted(suctions[k] + share[i] * rise, STEPS * rise, most)
        rain = i == 0 and g > 0.0
        h = CW * ((air_k if rain else temps[i]) - T0)
        g *= dt
        slope *= dt
        left[i, 0] -= g
        left[i, 1] -= g * h
        diagonal[i, 1] -= slope
        diagonal[i, 3] -= slope * h
        if not rain:
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
    e = f = g = h = x = y = 0.0  # the node before in terms of this one
    for i in range(n):
        a = diagonal[i, 0] - lower[i, 0] * e - lower[i, 1] * g
        b = diagonal[i, 1] - lower[i, 0] * f - lower[i, 1] * h
        c = diagonal[i, 2] - lower[i, 2] * e - lower[i, 3] * g
        d = diagonal[i, 3] - lower[i, 2] * f - lower[i, 3] * h
        r = left[i, 0] - lower[i, 0] * x - lower[i, 1] * y
        q = left[i, 1] - lower[i, 2] * x - lower[i, 3] * y
        whole = a * d - b * c
        if whole == 0.0 or whole != whole:
            return False
        whole = 1.0 / whole
        x = whole * (d * r - b * q)
        y = whole * (a * q - c * r)
        e = whole * (d * upper[i, 0] - b * upper[i, 2])
        f = whole * (d * upper[i, 1] - b * upper[i, 3])
        g = whole * (a * upper[i, 2] - c * upper[i, 0])
        h = whole * (a * upper[i, 3] - c * upper[i, 1])
        left[i, 0] = x
        left[i, 1] = y
        upper[i, 0] = e
        upper[i, 1] = f
        upper[i, 2] = g
        upper[i, 3] = h
    for i in range(n - 2, -1, -1):
        r = left[i, 0] - upper[i, 0] * x - upper[i, 1] * y
        y = left[i, 1] - upper[i, 2] * x - upper[i, 3] * y
        x = r
        left[i, 0] = x
        left[i, 1] = y
    return True
