"""A coupled problem that a public finite-element library solves in its own tests, on its own ten nodes and nine steps.

OOFEM, tests/tm/HeMoKunzel_1.in: 0.2 m of a porous solid from 20 °C, 90 % RH; one face brought to 25 °C, 60 % RH, the
other to 50 °C and shut for vapor; nine steps of ten hours. The file prints four numbers that its run must give. The
equations are written out here anew from the library's manual: linear triangles, properties at their middle, capacities
lumped, flows at the mean of both ends of a step. They give the printed numbers, so they are the same equations.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import fsolve

Array = NDArray[np.float64]

FULL, BEND, POWER = 109.5, 4.83, 0.183
DENSITY, HEAT, CONDUCTION, CONDUCTION_RISE = 2000.0, 880.0, 1.3, 8.0
RESISTANCE, ABSORPTION = 10.0, 0.001
WATER_HEAT, EVAPORATION = 4183.0, 2.5e6
STEP, STEPS = 36_000.0, 9

PRINTED: Mapping[tuple[int, str], float] = {
    (5, "temperature"): 3.10465057e2,
    (5, "humidity"): 8.21948984e-1,
    (9, "temperature"): 3.10807596e2,
    (9, "humidity"): 7.79642416e-1,
}
"""Temperature [K] of node 3, half way, and humidity of node 5, at the shut face, after steps 5 and 9."""

NODES = np.array([[0.05 * i, 0.05 * j] for j in (0, 1) for i in range(5)])
TRIANGLES = (
    np.array([[1, 7, 6], [1, 2, 7], [2, 3, 8], [2, 8, 7], [3, 9, 8], [3, 4, 9], [4, 10, 9], [4, 5, 10]]) - 1
)
HELD = {0: 298.15, 5: 298.15, 4: 323.15, 9: 323.15, 10: 0.6, 15: 0.6}
"""Unknowns that are held from the first step on: temperatures 0 to 9, humidities 10 to 19."""


def _properties(kelvin: float, humidity: float) -> tuple[float, float, float, float, float, float]:
    """Flows of heat over ∇T and ∇φ, of water over ∇φ and ∇T, and both capacities."""
    bent = 1.0 - np.log(humidity) / BEND
    water = FULL * bent ** (-1.0 / POWER)
    slope = FULL / (POWER * BEND * humidity) * bent ** (-(1.0 + POWER) / POWER)
    diffusivity = 3.8 * (ABSORPTION / FULL) ** 2 * 1000.0 ** (water / FULL - 1.0)
    delta = 2e-7 * kelvin**0.81 / 101325.0 / RESISTANCE
    celsius = kelvin - 273.15
    full = 611.0 * np.exp(17.08 * celsius / (234.18 + celsius))
    rise = full * 17.08 * 234.18 / (234.18 + celsius) ** 2
    conduction = CONDUCTION * (1.0 + CONDUCTION_RISE * water / DENSITY)
    return (
        conduction + EVAPORATION * delta * humidity * rise,
        EVAPORATION * delta * full,
        diffusivity * slope + delta * full,
        delta * humidity * rise,
        DENSITY * HEAT + WATER_HEAT * water,
        slope,
    )


def _forces(state: Array) -> tuple[Array, Array]:
    flow, capacity = np.zeros(20), np.zeros(20)
    for three in TRIANGLES:
        corners = np.column_stack((np.ones(3), NODES[three]))
        gradient, area = np.linalg.inv(corners)[1:], abs(np.linalg.det(corners)) / 2.0
        kelvin, humidity = state[three], state[10 + three]
        k = _properties(float(kelvin.mean()), float(humidity.mean()))
        of_t, of_h = gradient @ kelvin, gradient @ humidity
        flow[three] += area * gradient.T @ (k[0] * of_t + k[1] * of_h)
        flow[10 + three] += area * gradient.T @ (k[2] * of_h + k[3] * of_t)
        capacity[three] += area / 3.0 * k[4]
        capacity[10 + three] += area / 3.0 * k[5]
    return flow, capacity


def march() -> dict[tuple[int, str], float]:
    """The numbers of `PRINTED`, worked."""
    free = [i for i in range(20) if i not in HELD]
    weight = np.where(np.array(free) < 10, 1e-2, 1e4)
    state = np.concatenate((np.full(10, 293.15), np.full(10, 0.9)))
    found = {}
    for step in range(1, STEPS + 1):
        after = state.copy()
        after[list(HELD)] = list(HELD.values())

        def left(unknown: Array, before: Array = state, later: Array = after) -> Array:
            later[free] = unknown
            flow, capacity = _forces(0.5 * (before + later))
            return np.asarray((capacity * (later - before) / STEP + flow)[free] * weight)

        after[free] = fsolve(left, state[free], xtol=1e-13)
        state = after
        found[step, "temperature"], found[step, "humidity"] = float(state[2]), float(state[14])
    return {key: found[key] for key in PRINTED}
