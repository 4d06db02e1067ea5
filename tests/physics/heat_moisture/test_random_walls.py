"""Walls and weeks made by chance: each is solved, closed and between its physical bounds; 2,000 with ``SPECGEN_LONG=1``.

Each wall has its own seed, so a failure names the wall that fails: layers of porous stuff with and without pores that
suck, membranes, gaps with and without air from outside, leaks; weeks from deep frost to a sun-beaten roof, with
cloudbursts, still air and nights under a clear sky.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from specgen.physics.gap_air import Loss
from specgen.physics.heat_moisture.faces import Array, Face
from specgen.physics.heat_moisture.grid import Gap, Layer, grid
from specgen.physics.heat_moisture.porous import PorousMaterial, film, tabulate
from specgen.physics.heat_moisture.simulate import CLOSED, Source, simulate
from specgen.physics.moist_air import saturation_pressure
from tests.conftest import LONG

COUNT = 2_000 if LONG else 20
FIRST_SEED = 20_261_130
HOURS = 168
SIGMA = 5.670374419e-8


@dataclass(frozen=True)
class Drawn:
    """A wall, its two faces, its leaks and its start."""

    parts: tuple[Layer | Gap, ...]
    outside: Face
    inside: Face
    sources: tuple[Source, ...]
    start_c: float
    start_humidity: float


def _log(rng: np.random.Generator, low: float, high: float) -> float:
    return float(np.exp(rng.uniform(np.log(low), np.log(high))))


def _layer(rng: np.random.Generator, number: int) -> Layer:
    full = _log(rng, 5.0, 700.0)
    dry = _log(rng, 1.5, 300.0)
    material = PorousMaterial(
        f"stuff {number}",
        density=_log(rng, 10.0, 2500.0),
        heat_capacity=rng.uniform(500.0, 2000.0),
        conductivity=_log(rng, 0.02, 3.0),
        resistance_dry=dry,
        resistance_wet=max(1.0, dry * rng.uniform(0.1, 1.0)),
        water_80=full * _log(rng, 1e-3, 0.3),
        free_saturation=full,
        absorption=0.0 if rng.random() < 0.3 else _log(rng, 1e-4, 1.0),
        conductivity_rise=_log(rng, 1e-4, 3e-3),
    )
    return Layer(f"layer {number}", tabulate(material), _log(rng, 0.002, 0.3))


def _membrane(rng: np.random.Generator, number: int) -> Layer:
    dry = _log(rng, 1e-15, 1e-8)
    wet = dry * _log(rng, 1.0, 30.0) if rng.random() < 0.3 else None
    return Layer(f"sheet {number}", film(f"sheet {number}", dry, _log(rng, 1e-3, 0.2), wet))


def _gap(rng: np.random.Generator, number: int) -> Gap:
    drawn = rng.random()
    losses = (Loss(1.5, rng.uniform(0.05, 1.0)), Loss(1.5, rng.uniform(0.05, 1.0))) if drawn < 0.4 else None
    exchange = _log(rng, 1e-5, 1e-2) if 0.4 <= drawn < 0.7 else 0.0
    return Gap(f"gap {number}", _log(rng, 0.003, 0.05), rng.uniform(0.3, 12.0), losses, exchange)


def _parts(rng: np.random.Generator) -> tuple[Layer | Gap, ...]:
    parts: list[Layer | Gap] = [_layer(rng, 0)]
    for number in range(1, int(rng.integers(1, 7))):
        between = rng.random()
        if between < 0.3:
            parts.append(_gap(rng, number))
        elif between < 0.6:
            parts.append(_membrane(rng, number))
        parts.append(_layer(rng, 10 + number))
    return tuple(parts)


def _walk(rng: np.random.Generator, low: float, high: float) -> Array:
    """A damped walk within bounds."""
    steps = rng.normal(0.0, 0.12, HOURS)
    at = np.empty(HOURS)
    now = rng.random()
    for hour in range(HOURS):
        now = min(max(now + steps[hour], 0.0), 1.0)
        at[hour] = now
    return np.asarray(low + (high - low) * at)


def _face(rng: np.random.Generator, out: bool) -> Face:
    hour = np.arange(HOURS) % 24
    low = rng.uniform(-35.0, 30.0) if out else rng.uniform(5.0, 24.0)
    air = _walk(rng, low, low + (18.0 if out else 4.0))
    humidity = _walk(rng, 0.05, 1.0) if out else _walk(rng, 0.1, 0.9)
    convection = _walk(rng, 4.0 if out else 2.0, 35.0 if out else 5.0)
    light = np.maximum(np.sin((hour - 6) * np.pi / 12.0), 0.0) if out else np.zeros(HOURS)
    sky = air - (_walk(rng, 0.0, 35.0) if out else 0.0)
    raining = rng.random(HOURS) < rng.choice([0.0, 0.05, 0.5]) if out else np.zeros(HOURS, dtype=bool)
    rain = np.where(raining & (air > 0.0), rng.exponential(3.0 / 3600.0, HOURS), 0.0)
    return Face(
        air,
        humidity * np.array([float(saturation_pressure(t)) for t in air]),
        convection,
        7e-9 * convection,
        light * rng.uniform(0.0, 900.0),
        SIGMA * (sky + 273.15) ** 4,
        np.minimum(rain, 0.01),
        rng.uniform(0.6, 0.95),
    )


def draw(seed: int) -> Drawn:
    """The wall and the week of a seed."""
    rng = np.random.default_rng(seed)
    parts = _parts(rng)
    outside = _face(rng, True)
    leaky = [part.name for part in parts[1:] if isinstance(part, Layer) and part.stores]
    sources = ()
    if leaky and rng.random() < 0.5:
        sources = (Source(str(rng.choice(leaky)), rng.uniform(0.0, 0.05) * outside.rain),)
    return Drawn(parts, outside, _face(rng, False), sources, rng.uniform(0.0, 30.0), rng.uniform(0.3, 0.98))


def hottest(wall: Drawn) -> float:
    """What no node can pass [°C]: air with all sun and long waves over its convection, and the heat of vapor."""
    out = wall.outside
    gain = out.sun + out.emittance * np.maximum(out.longwave - SIGMA * (out.air_c + 273.15) ** 4, 0.0)
    return float(max((out.air_c + gain / out.convection).max(), wall.inside.air_c.max(), wall.start_c)) + 15.0


def coldest(wall: Drawn) -> float:
    """What no node can fall below [°C]: air under the sky without convection's help, and a wet bulb of dry air."""
    out = wall.outside
    sky = ((out.longwave / SIGMA) ** 0.25 - 273.15).min()
    return float(min(sky, out.air_c.min(), wall.inside.air_c.min(), wall.start_c)) - 25.0


@pytest.mark.parametrize("seed", range(FIRST_SEED, FIRST_SEED + COUNT))
def test_solved_closed_and_within_bounds(seed: int) -> None:
    drawn = draw(seed)
    wall = grid(drawn.parts)
    run = simulate(
        wall,
        drawn.outside,
        drawn.inside,
        watch=tuple(range(wall.nodes)),
        sources=drawn.sources,
        start_c=drawn.start_c,
        start_humidity=drawn.start_humidity,
    )
    assert run.balance.mass_error <= CLOSED and run.balance.heat_error <= CLOSED
    for one in (run.temp_c, run.humidity, run.water, run.taken):
        assert np.isfinite(one).all()
    assert coldest(drawn) <= run.temp_c.min() and run.temp_c.max() <= hottest(drawn)
    assert run.humidity.min() > 0.0 and run.humidity.max() <= 1.0
    for number, part in enumerate(wall.parts):
        if isinstance(part, Layer) and part.stores:
            most = part.material.water.max() * part.thickness
            assert run.water[:, number].min() >= 0.0 and run.water[:, number].max() <= most * (1.0 + 1e-9), (
                part.name
            )
    offered = drawn.outside.rain.sum() * 3600.0
    assert run.taken[:, 0].sum() <= offered * (1.0 + 1e-9) + 1e-12
