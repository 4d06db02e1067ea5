"""A wall of plaster, board and wool through a day of sun, sky and drizzle: scheme against lines."""

from __future__ import annotations

from functools import cache

import numpy as np

from specgen.physics.heat_moisture.faces import Face
from specgen.physics.heat_moisture.grid import Layer, grid
from specgen.physics.heat_moisture.simulate import simulate
from tests.published import heat_moisture_reference as reference
from tests.published.heat_moisture_cases import Case, kunzel
from tests.published.heat_moisture_reference import STEFAN_BOLTZMANN, ZERO, Array, Matter
from tests.published.heat_moisture_walls import tabulated
from tests.published.register import How

HOURS = 24
PLASTER = Matter(1900.0 * 850.0, *kunzel(240.0, 35.0, 0.03, 18.0), lambda w: 0.8 + 2e-3 * w)
BOARD = Matter(550.0 * 1700.0, *kunzel(350.0, 75.0, 0.003, 80.0), lambda w: 0.12 + 4e-4 * w)
WOOL = Matter(40.0 * 850.0, *kunzel(40.0, 0.3, 1e-9, 1.3), lambda w: 0.035 + 0.0 * w)
LAYERS = ((PLASTER, 0.02, 50), (BOARD, 0.011, 20), (WOOL, 0.14, 8))
START_C, START_HUMIDITY = 10.0, 0.8


def faces() -> tuple[Array, Array]:
    """Columns of `reference.weather`: nights under the sky, 450 W/m² at noon, hours of drizzle; a heated room."""
    hour, one = np.arange(HOURS), np.ones(HOURS)
    air = 8.0 - 6.0 * np.cos(2.0 * np.pi * (hour - 3) / 24.0) + 3.0 * np.sin(2.0 * np.pi * hour / 97.0) + ZERO
    vapor = 0.8 * reference.saturation(8.0 * one + ZERO)
    sun = 450.0 * np.maximum(np.sin((hour % 24 - 6) * np.pi / 12.0), 0.0)
    sky = STEFAN_BOLTZMANN * (air - 15.0) ** 4
    rain = np.where((hour >= 4) & (hour < 9), 0.15 / 3600.0, 0.0)
    outside = (air, vapor, 15.0 * one, 1e-7 * one, sun, sky, rain, 0.9 * one)
    room = 20.5 * one + ZERO
    zero = 0.0 * one
    waves = STEFAN_BOLTZMANN * room**4
    inside = (room, 0.5 * reference.saturation(room), 3.0 * one, 2.5e-8 * one, zero, waves, zero, 0.9 * one)
    return np.column_stack(outside), np.column_stack(inside)


@cache
def by_lines() -> tuple[Array, Array, Array]:
    return reference.weather(LAYERS, (START_C + ZERO, START_HUMIDITY), faces())


def _face(columns: Array) -> Face:
    air, vapor, convection, film, sun, waves, rain, emittance = columns.T
    return Face(air - ZERO, vapor, convection, film, sun, waves, rain, float(emittance[0]))


@cache
def off(finer: float, steps: int) -> tuple[Array, Array, float]:
    """Scheme less lines: temperature [K], humidity [% RH] (hours, cells), water of plaster or board [% of its most]."""
    depth, kelvin, s = by_lines()
    names = ("plaster", "board", "wool")
    wall = grid(
        [
            Layer(name, tabulated(name, matter, 0.81), thickness)
            for name, (matter, thickness, _) in zip(names, LAYERS, strict=True)
        ],
        finer,
    )
    outside, inside = (_face(columns) for columns in faces())
    run = simulate(
        wall,
        outside,
        inside,
        start_c=START_C,
        start_humidity=START_HUMIDITY,
        finer_steps=steps,
        profile_every=1,
    )
    temps = np.array([np.interp(depth, wall.depth, row) for row in run.profile_c]) + ZERO
    humid = np.array([np.interp(depth, wall.depth, row) for row in run.profile_humidity])
    worst, at = 0.0, 0
    sizes = reference.sizes(LAYERS)
    for number, (matter, _, cells) in enumerate(LAYERS[:2]):
        cut = slice(at, at + cells)
        water = (matter.water(s[:, cut]) * sizes[cut]).sum(axis=1)
        worst = max(worst, float(np.abs(run.water[:, number] - water).max() / water.max()))
        at += cells
    return temps - kelvin, 100.0 * (humid - reference.humidity(s, kelvin)), 100.0 * worst


def _mean(deviation: Array) -> float:
    return float(np.sqrt((deviation**2).mean()))


_SOURCE = "scipy.integrate.solve_ivp"
_PLACE = "three made-up materials by lines, 78 cells, each hour begun anew"
TEMPERATURE = Case(
    "weather_temperature", "plaster, board and wool through 24 hours of sun, sky and drizzle, 16 steps an hour: "
    "temperature, at "
    "the worst place and hour", _SOURCE, _PLACE, How.PACKAGE, 0.4, "K", lambda: float(np.abs(off(4.0, 16)[0]).max()),
)  # fmt: skip
HUMIDITY = Case(
    "weather_humidity", "the same: relative humidity, root mean square", _SOURCE, _PLACE, How.PACKAGE, 0.4, "% RH",
    lambda: _mean(off(4.0, 16)[1]),
)  # fmt: skip
WATER = Case(
    "weather_water", "the same, by the steps and cells that walls are run with: water of plaster and board, of "
    "the most in it",
    _SOURCE, _PLACE, How.PACKAGE, 2.0, "%", lambda: off(1.0, 1)[2],
)  # fmt: skip
TEMPERATURE_BY_THE_HOUR = Case(
    "weather_temperature_by_the_hour", "the same, by the steps and cells that walls are run with: temperature, "
    "root mean square",
    _SOURCE, _PLACE, How.PACKAGE, 0.4, "K", lambda: _mean(off(1.0, 1)[0]),
)  # fmt: skip
HUMIDITY_BY_THE_HOUR = Case(
    "weather_humidity_by_the_hour", "the same, by the steps and cells that walls are run with: relative "
    "humidity, root mean square",
    _SOURCE, _PLACE, How.PACKAGE, 1.0, "% RH", lambda: _mean(off(1.0, 1)[1]),
)  # fmt: skip
