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

from typing import Any, Final

import numpy as np

from specgen.physics.heat_moisture.balances import assemble, solve
from specgen.physics.heat_moisture.compiled import compiled
from specgen.physics.heat_moisture.flows import TAKING, gap_air, gap_exchange
from specgen.physics.heat_moisture.nodes import moved, stored, vapor_state

MOST_TURNS: Final = 30
"""Turns of Newton in a step before it is cut."""
MASS_CLOSED: Final = 1e-10
HEAT_CLOSED: Final = 0.01
"""Of a node in a step: what may remain of the balances [kg/m²], [J/m²]."""
SHORTEST: Final = 0.5
"""Step below which a wall counts as one that cannot be solved [s]."""
HOUR: Final = 3600.0
TALLY: Final = (
    "vapor from outside", "vapor from inside", "vapor from gaps", "water taken", "water offered", "vapor passed",
    "heat from outside", "heat from inside", "heat of gaps", "heat of water", "heat passed", "steps", "turns",
    "water stored", "heat stored", "steps cut",
)  # fmt: skip
"""What `march` sums up: kg/m² and J/m², counts, and what is in the wall at the end less at the start."""


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
    carried = np.zeros((n, 2))
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
    last = 0.0
    for hour in range(hours):
        dt = HOUR / steps[hour]
        done = 0.0
        while done < HOUR - 1e-6:
            dt = min(dt, HOUR - done)
            for i in range(n):
                back_t = start_t[i]
                back_y = start_y[i]
                start_t[i] = temps[i]
                start_y[i] = potentials[i]
                before[i, 0] = water[i, 0] - carried[i, 0]
                before[i, 1] = heat[i, 0] - carried[i, 1]
                if dt == last:  # half of the last change is a better guess than none
                    temps[i] += 0.5 * (temps[i] - back_t)
                    potentials[i] += 0.5 * (potentials[i] - back_y)
            last = dt
            for i in range(n - 1):
                if links[i] < 0:
                    x = -1 - links[i]
                    air_k = airs[hour, 3 * x]
                    air_pa = airs[hour, 3 * x + 1]
                    gk, gpa = gap_air(
                        gaps[x],
                        temps[i],
                        temps[i + 1],
                        vapor[i, 0],
                        vapor[i + 1, 0],
                        flows[x, 0],
                        air_k,
                        air_pa,
                    )
                    flow = gap_exchange(gaps[x], gk, gpa, air_k, air_pa, airs[hour, 3 * x + 2])
                    # Half of the flow before: stack and temperature would chase each other over long steps.
                    flows[x, 0] = 0.5 * (flow + flows[x, 0])
                    flows[x, 1] = gk
            solved = False
            worst = 0
            off_before = 0.0
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
                part = 0.5 if turn > 7 and most > off_before else 1.0
                off_before = most
                if not solve(lower, diagonal, upper, left):
                    break
                moved(temps, potentials, left, films, takes, offered[hour], part)
            if not solved:
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
