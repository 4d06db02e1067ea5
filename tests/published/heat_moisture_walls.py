"""Walls of the reference cases as `specgen` takes them: tables of a material's laws, faces that hold still."""

from __future__ import annotations

import numpy as np

from specgen.physics.heat_moisture.faces import Face
from specgen.physics.heat_moisture.porous import REFERENCE_C, Tabulated, potentials, suction
from specgen.physics.moist_air import saturation_pressure
from tests.published.heat_moisture_reference import Array, Matter

HELD = 1e5
HELD_VAPOR = 1e-3
"""Films that hold a face at the state of the air [W/(m²·K)], [kg/(m²·s·Pa)]."""


def tabulated(name: str, matter: Matter, vapor_exponent: float = 0.0) -> Tabulated:
    """The laws of a material over the potentials of the tables; the liquid potential is the sum of K over suction."""
    y = potentials()
    s = np.maximum(suction(y), 1e-3)
    kelvin = np.full(y.shape, REFERENCE_C + 273.15)
    water = matter.water(s)
    fine = np.sinh(np.linspace(np.arcsinh(1e-8), np.arcsinh(s[-1] / 1e5), 40_001)) * 1e5
    mids, steps = 0.5 * (fine[1:] + fine[:-1]), np.diff(fine)
    gone = np.concatenate(([0.0], np.cumsum(matter.liquid(mids) * steps)))
    liquid = gone[-1] - np.interp(s, fine, gone)
    return Tabulated(
        name, matter.heat, water, liquid, matter.vapor(s, kelvin), matter.conduction(water), vapor_exponent
    )


def still(
    hours: int, air_c: float, humidity: float, convection: float = HELD, vapor_film: float = HELD_VAPOR
) -> Face:
    """A face in air that does not change, without sun, long waves or rain."""
    flat = np.full(hours, 1.0)
    vapor = humidity * float(saturation_pressure(air_c))
    return Face(
        air_c * flat,
        vapor * flat,
        convection * flat,
        vapor_film * flat,
        0.0 * flat,
        0.0 * flat,
        0.0 * flat,
        0.0,
    )


def swinging(hours: int, mean_c: float, swing_k: float, period_h: float, convection: float) -> Face:
    """A face in dry air whose temperature swings as a cosine: steps of an hour whose first harmonic is that cosine."""
    middle = np.arange(hours) + 0.5
    air = mean_c + swing_k * np.cos(2.0 * np.pi * middle / period_h) / np.sinc(1.0 / period_h)
    zero = np.zeros(hours)
    return Face(air, zero, zero + convection, zero, zero, zero, zero, 0.0)


def of_water(matter: Matter, potential: Array) -> Array:
    """Water at the potentials of a run [kg/m³]."""
    return np.asarray(matter.water(np.maximum(suction(potential), 1e-3)))
