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

An hour without rain is one step of two stages, of second order and damping (L-stable): the first ends `FIRST_STAGE` of
the step on, what flows at its end passes for the rest of the step (`ON`), and the second closes the step from there. Both
are backward steps with another state before them, so that flows in both sum to what is stored. Rain is taken in
backward steps of one stage: at saturation a state carried on from the first would overshoot.

Reference: Alexander, Diagonally implicit Runge-Kutta methods for stiff ODEs (1977), two stages (M).
"""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np

from specgen.physics.heat_moisture.balances import assemble, solve
from specgen.physics.heat_moisture.compiled import compiled
from specgen.physics.heat_moisture.flows import TAKING
from specgen.physics.heat_moisture.nodes import moved, stored, vapor_state

MOST_TURNS: Final = 30
"""Turns of Newton in a step before it is cut."""
FREE: Final = 6
"""Turns in which the air of a gap follows its faces; then it is held: where stack and wind cancel, its slope jumps."""
MASS_CLOSED: Final = 1e-10
HEAT_CLOSED: Final = 0.01
"""Of a node in a step: what may remain of the balances [kg/m²], [J/m²]."""
SHORTEST: Final = 0.5
"""Step below which a wall counts as one that cannot be solved [s]."""
HOUR: Final = 3600.0
FIRST_STAGE: Final = 1.0 - math.sqrt(0.5)
"""Share of a step that its first stage, and then its second, goes backward in time."""
ON: Final = 1.0 / FIRST_STAGE - 1.0
"""Flows of the first stage that pass in the rest of the step, over those in the stage itself."""
GUESS: Final = 0.5
"""Share of the last change that is a better guess of the next than none."""
TALLY: Final = (
    "vapor from outside", "vapor from inside", "vapor from gaps", "water taken", "water offered", "vapor passed",
    "heat from outside", "heat from inside", "heat of gaps", "heat of water", "heat passed", "steps", "turns",
    "water stored", "heat stored", "steps cut",
)  # fmt: skip
"""What `march` sums up: kg/m² and J/m², counts, and what is in the wall at the end less at the start."""


@compiled
def turns(
    temps: Any, potentials: Any, dt: float, before: Any, tables: Any, suctions: Any, heats: Any, exponents: Any,
    links: Any, spans: Any, films: Any, takes: Any, gaps: Any, flows: Any, outer: Any, inner: Any,
    emits: Any, airs: Any, offer: Any, at: Any, share: Any, vapor: Any, water: Any, heat: Any,
    lower: Any, diagonal: Any, upper: Any, left: Any, passed: Any, tally: Any,
) -> int:  # fmt: skip
    """Newton to the end of a step: -1 where both balances of every node are closed, or the worst node."""
    worst = 0
    off_before = 0.0
    for turn in range(MOST_TURNS):
        assemble(
            temps, potentials, dt, before, tables, suctions, heats, exponents, links, spans, films, takes,
            gaps, flows, turn > FREE, outer, inner, emits, airs, offer, at, share, vapor, water, heat, lower, diagonal,
            upper, left, passed,
        )  # fmt: skip
        most = 0.0
        for i in range(temps.size):
            off = max(abs(left[i, 0]) / MASS_CLOSED, abs(left[i, 1]) / HEAT_CLOSED)
            if not off <= most:
                most = off
                worst = i
        if most <= 1.0:
            return -1
        tally[12] += 1.0
        part = 0.5 if turn > 7 and most > off_before else 1.0
        off_before = most
        if not solve(lower, diagonal, upper, left):
            break
        moved(temps, potentials, left, films, takes, offer, part)
    return worst


@compiled
def march(
    temps: Any, potentials: Any, tables: Any, suctions: Any, heats: Any, exponents: Any, links: Any, spans: Any,
    films: Any, takes: Any, gaps: Any, outside: Any, inside: Any, emits: Any, airs: Any, offered: Any,
    steps: Any, staged: Any, watched: Any, layers: Any, seen_t: Any, seen_y: Any, layer_water: Any, kept: Any,
    profile_t: Any, profile_y: Any, taken: Any, tally: Any,
) -> Any:  # fmt: skip
    """All hours; ``temps`` and ``potentials`` are taken on to the last.

    Args beyond those of the module: steps (hours,), the parts an hour begins with; staged (hours,), whether each has two
    stages; watched (k,), nodes whose state ends in seen_t, seen_y (hours, k); layers (n-1,), number of the layer of a
    link, its water into layer_water (hours, layers); kept (hours,), row of profile_t, profile_y (rows, n), or -1; taken
    (hours, o), water accepted in the hour.

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
    carried = np.zeros((n, 2))
    lower = np.zeros((n, 4))
    diagonal = np.zeros((n, 4))
    upper = np.zeros((n, 4))
    left = np.zeros((n, 2))
    passed = np.zeros(11)
    came = np.zeros(11)
    took = np.zeros(offered.shape[1])
    flows = np.zeros(gaps.shape[0])
    start_t = temps.copy()
    start_y = potentials.copy()
    vapor_state(temps, potentials, suctions, at, share, vapor)
    stored(temps, potentials, at, share, tables, heats, links, spans, films, water, heat)
    first_water = 0.0
    first_heat = 0.0
    for i in range(n):
        first_water += water[i, 0]
        first_heat += heat[i, 0]
    last = 0.0
    for hour in range(hours):
        whole = HOUR / steps[hour]
        dt = whole
        done = 0.0
        while done < HOUR - 1e-6:
            dt = min(dt, HOUR - done)
            stages = 2 if staged[hour] and dt == whole else 1
            ahead = FIRST_STAGE if stages == 2 else 1.0
            for i in range(n):
                back_t = start_t[i]
                back_y = start_y[i]
                start_t[i] = temps[i]
                start_y[i] = potentials[i]
                before[i, 0] = water[i, 0] - carried[i, 0]
                before[i, 1] = heat[i, 0] - carried[i, 1]
                if dt == last:
                    temps[i] += GUESS * ahead * (temps[i] - back_t)
                    potentials[i] += GUESS * ahead * (potentials[i] - back_y)
            last = dt
            came[:] = 0.0
            took[:] = 0.0
            for stage in range(stages):
                if stage == 1:
                    for i in range(n):
                        before[i, 0] += ON * (water[i, 0] - before[i, 0] - left[i, 0])
                        before[i, 1] += ON * (heat[i, 0] - before[i, 1] - left[i, 1])
                        temps[i] += GUESS * (temps[i] - start_t[i])
                        potentials[i] += GUESS * (potentials[i] - start_y[i])
                worst = turns(
                    temps, potentials, ahead * dt, before, tables, suctions, heats, exponents, links, spans, films,
                    takes, gaps, flows, outside[hour], inside[hour], emits, airs[hour], offered[hour], at,
                    share, vapor, water, heat, lower, diagonal, upper, left, passed, tally,
                )  # fmt: skip
                if worst >= 0:
                    break
                lasts = ON if stage + 1 < stages else 1.0
                for j in range(11):
                    came[j] += lasts * passed[j]
                for i in range(n):
                    if takes[i] >= 0:
                        k = at[i]
                        s = suctions[k] + share[i] * (suctions[k + 1] - suctions[k])
                        took[takes[i]] += lasts * ahead * dt * min(TAKING * s, offered[hour, takes[i]])
            if worst >= 0:
                for i in range(n):
                    temps[i] = start_t[i]
                    potentials[i] = start_y[i]
                vapor_state(temps, potentials, suctions, at, share, vapor)
                stored(temps, potentials, at, share, tables, heats, links, spans, films, water, heat)
                tally[15] += 1.0
                dt *= 0.25
                last = 0.0
                if dt < SHORTEST:
                    return hour, worst
                continue
            done += dt
            for i in range(n):  # what a step leaves goes to the next, or it would add up
                carried[i, 0] = left[i, 0]
                carried[i, 1] = left[i, 1]
            for j in range(11):
                tally[j] += came[j]
            for j in range(took.size):
                taken[hour, j] += took[j]
            tally[11] += 1.0
            dt = min(2.0 * dt, whole)
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
