"""Limits of the hourly scheme that its own house knows the answer to: symmetry, nothing added, finer, ISO 13788."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from specgen.physics.heat_moisture.faces import Array, Face
from specgen.physics.heat_moisture.grid import Gap, Grid, Layer, grid
from specgen.physics.heat_moisture.porous import PorousMaterial, Tabulated, film, potentials, tabulate
from specgen.physics.heat_moisture.simulate import Run, simulate
from specgen.physics.moist_air import saturation_pressure
from specgen.physics.monthly import MONTH_SECONDS, monthly_balance
from specgen.physics.steady import Layers, Side, steady_state

PLASTER = tabulate(PorousMaterial("plaster", 1900.0, 850.0, 0.8, 20.0, 15.0, 35.0, 240.0, 0.03, 2e-3))
BOARD = tabulate(PorousMaterial("board", 550.0, 1700.0, 0.12, 150.0, 40.0, 75.0, 350.0, 0.003, 4e-4))
WOOL = tabulate(PorousMaterial("wool", 40.0, 850.0, 0.035, 1.3, 1.3, 0.3, 40.0))
HOURS = 24 * 14


def face(hours: int, low: float, high: float, humidity: float, sun: float = 0.0, rain: float = 0.0) -> Face:
    """Days that swing, noon sun, and rain in three hours of each third day."""
    hour = np.arange(hours)
    air = 0.5 * (low + high) - 0.5 * (high - low) * np.cos(2.0 * np.pi * (hour - 3) / 24.0)
    vapor = humidity * float(saturation_pressure(0.5 * (low + high)))
    light = sun * np.maximum(np.sin((hour % 24 - 6) * np.pi / 12.0), 0.0)
    wet = rain * ((hour % 72 >= 2) & (hour % 72 < 5))
    flat = np.ones(hours)
    return Face(air, vapor * flat, 15.0 * flat, 1e-7 * flat, light, 300.0 * flat, wet, 0.9)


OUTSIDE = face(HOURS, 8.0, 22.0, 0.75, 500.0, 2.0 / 3600.0)
INSIDE = face(HOURS, 20.0, 21.0, 0.5)
WALL = (Layer("plaster", PLASTER, 0.02), Layer("board", BOARD, 0.011), Layer("wool", WOOL, 0.14))


def ends(run: Run) -> tuple[Array, Array]:
    """Temperature and humidity of the first and last node of each part through the hours."""
    return run.temp_c, run.humidity


def watched(wall: Grid) -> tuple[int, ...]:
    return tuple(node for pair in zip(wall.first, wall.last, strict=True) for node in pair)


def solved(parts: tuple[Layer | Gap, ...], finer: float = 1.0, steps: int = 1) -> Run:
    wall = grid(parts, finer)
    return simulate(wall, OUTSIDE, INSIDE, watch=watched(wall), finer_steps=steps)


@pytest.mark.parametrize("place", [0, 1, 2, 3])
def test_a_dry_layer_of_no_thickness_changes_nothing(place: int) -> None:
    dust = tabulate(PorousMaterial("dust", 500.0, 900.0, 1.0, 1.0, 1.0, 1.0, 100.0, 0.5))
    more = (*WALL[:place], Layer("dust", dust, 1e-5), *WALL[place:])
    plain, dusted = solved(WALL), solved(more)
    kept = [number for number, part in enumerate(more) if part.name != "dust"]
    columns = [2 * number + end for number in kept for end in (0, 1)]
    assert np.abs(dusted.temp_c[:, columns] - plain.temp_c).max() < 0.05
    assert np.abs(dusted.water[:, kept] - plain.water).max() < 0.01 * plain.water.max()


def test_a_sheet_that_resists_nothing_changes_nothing() -> None:
    open_sheet = Layer("sheet", film("sheet", 1e-4, 1e-6))
    # Liquid does not pass a sheet: behind the board, where nothing is wet.
    plain, sheeted = solved(WALL), solved((*WALL[:2], open_sheet, WALL[2]))
    columns = [0, 1, 2, 3, 6, 7]
    assert np.abs(sheeted.temp_c[:, columns] - plain.temp_c).max() < 0.02
    assert np.abs(sheeted.humidity[:, columns] - plain.humidity).max() < 0.01


def test_a_wall_turned_round_is_the_same_wall() -> None:
    gap = Gap("gap", 0.02, 2.5)
    parts = (WALL[0], gap, *WALL[1:])
    dry = replace(OUTSIDE, rain=np.zeros(HOURS))
    one, other = grid(parts), grid(parts[::-1])
    ahead = simulate(one, dry, INSIDE, watch=tuple(range(one.nodes)))
    back = simulate(other, INSIDE, dry, watch=tuple(range(other.nodes)))
    assert np.abs(ahead.temp_c - back.temp_c[:, ::-1]).max() < 1e-4
    assert np.abs(ahead.humidity - back.humidity[:, ::-1]).max() < 1e-5
    assert np.abs(ahead.water - back.water[:, ::-1]).max() < 1e-5


def test_twice_the_steps_and_twice_the_cells_change_little() -> None:
    """What the scheme may be off at the cells and steps it is run with: 1 K and 4 % of the most water of a layer."""
    coarse, steps, cells = solved(WALL), solved(WALL, steps=2), solved(WALL, finer=2.0)
    for finer in (steps, cells):
        assert np.abs(finer.temp_c - coarse.temp_c).max() < 1.0
        assert (np.abs(finer.water - coarse.water).max(axis=0) < 0.04 * coarse.water.max(axis=0)).all()


def test_finer_steps_and_cells_come_nearer() -> None:
    fine = solved(WALL, finer=4.0, steps=16)
    off = [
        np.abs(solved(WALL, finer, steps).water - fine.water).max()
        for finer, steps in ((1.0, 1), (2.0, 4), (3.0, 8))
    ]
    assert off[0] > off[1] > off[2]


# ── ISO 13788: storage and liquid off ────────────────────────────────────────────────────────────────────────────────


def bare(name: str, conductivity: float, vapor: float) -> Tabulated:
    """Stuff that conducts and lets vapor through alike at every humidity, and holds next to nothing."""
    y = potentials()
    level = np.ones(y.shape)
    water = 1e-3 * (y[-1] - y)
    return Tabulated(name, 1e4, water, 0.0 * level, vapor * level, conductivity * level, 0.0)


STEADY = (
    Layer("lining", bare("lining", 0.2, 2e-12), 0.0125),
    Layer("wool", bare("wool", 0.04, 1.5e-10), 0.1),
)
COVER = Layer("cover", bare("cover", 0.12, 1e-13), 0.012)


def constant(hours: int, air_c: float, vapor_pa: float, convection: float) -> Face:
    flat = np.ones(hours)
    return Face(
        air_c * flat, vapor_pa * flat, convection * flat, 1e-5 * flat, 0.0 * flat, 0.0 * flat, 0.0 * flat, 0.0
    )


def as_layers(parts: tuple[Layer, ...]) -> Layers:
    return Layers(
        tuple(part.name for part in parts),
        tuple(part.thickness / float(part.material.conductivity[0]) for part in parts),
        tuple(part.thickness / float(part.material.vapor[0]) for part in parts),
    )


def sides(warm: tuple[float, float], cold: tuple[float, float]) -> tuple[Side, Side]:
    return Side(*warm, 1.0 / 7.7), Side(*cold, 1.0 / 25.0)


def test_steady_temperatures_and_vapor_are_those_of_iso_13788() -> None:
    warm, cold = (20.0, 900.0), (5.0, 700.0)
    wall = grid((*STEADY, COVER))
    run = simulate(
        wall, constant(200, *warm, 7.7), constant(200, *cold, 25.0), watch=(0, *wall.last), start_c=15.0
    )
    state = steady_state(as_layers((*STEADY, COVER)), *sides(warm, cold))
    assert not state.planes
    assert run.temp_c[-1] == pytest.approx(
        state.temp_c, abs=0.02
    )  # the heat that vapor carries is not in the standard
    vapor = run.humidity[-1] * np.array([float(saturation_pressure(t)) for t in run.temp_c[-1]])
    assert vapor == pytest.approx(state.vapor_pa, rel=0.005)


def test_the_rate_of_condensation_is_that_of_iso_13788() -> None:
    warm, cold = (20.0, 1200.0), (-5.0, 320.0)
    wall = grid((*STEADY, COVER))
    run = simulate(
        wall, constant(400, *warm, 7.7), constant(400, *cold, 25.0), watch=(wall.last[1],), start_c=8.0
    )
    later = simulate(wall, constant(100, *warm, 7.7), constant(100, *cold, 25.0), start=run.end)
    state = steady_state(as_layers((*STEADY, COVER)), *sides(warm, cold))
    assert [plane.number for plane in state.planes] == [2] and run.humidity[-1, 0] > 0.999
    ran_off = -later.balance.came["water taken"] / (100 * 3600.0)
    assert ran_off == pytest.approx(state.condensing, rel=0.03)


def test_the_months_of_winter_hold_the_water_of_iso_13788() -> None:
    """A fleece at the cold plane holds what condenses; each month is run by the hour, to the month of the peak.

    In summer the standard lets water move between planes at once, and the two part.
    """
    y = potentials()
    level = np.ones(y.shape)
    soaked = 1.0 / (1.0 + np.exp(np.clip((y - 0.8) / 0.15, -50.0, 50.0)))
    water = 1e-3 * (y[-1] - y) + 150.0 * soaked
    fleece = Tabulated("fleece", 1e4, water, 1e-6 * soaked, 2e-10 * level, 2.0 * level, 0.0)
    parts = (*STEADY, Layer("fleece", fleece, 0.02), COVER)
    wall = grid(parts)
    means = [8.0 - 14.0 * np.cos(2.0 * np.pi * month / 12.0) for month in range(12)]
    outside = [(t, 0.85 * float(saturation_pressure(t))) for t in means]
    inside = (20.0, 1150.0)
    months = monthly_balance(
        as_layers(parts), [Side(*inside, 1.0 / 7.7)] * 12, [Side(*one, 1.0 / 25.0) for one in outside]
    )
    assert months.residual < 0.1 * months.peak
    held = {month.month: sum(month.held) for month in months.months}
    order = [month.month for month in months.months]
    order = order[: 1 + max(range(12), key=lambda at: held[order[at]])]
    assert len(order) > 5
    state, base, off = None, 0.0, 0.0
    for month in ((order[0] - 2) % 12 + 1, *order):  # the month before brings the wall near its state
        hours = int(MONTH_SECONDS[month - 1] / 3600.0)
        cold = constant(hours, *outside[month - 1], 25.0)
        run = simulate(
            wall, constant(hours, *inside, 7.7), cold, start_c=10.0, start_humidity=0.6, start=state
        )
        water = float(run.water[-1, 2])
        if state is None:
            base = water
        else:
            off = max(off, abs(water - base - held[month]))
        state = run.end
    assert off < 0.005 * months.peak
