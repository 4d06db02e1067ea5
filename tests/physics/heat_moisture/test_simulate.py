"""The scheme: it closes, it drains, it refuses what cannot be solved, and it is the same from either side."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from specgen.physics.errors import PhysicsError
from specgen.physics.gap_air import Loss, gap_flow
from specgen.physics.heat_moisture.faces import Face
from specgen.physics.heat_moisture.flows import gap_air, gap_exchange
from specgen.physics.heat_moisture.grid import Gap, Grid, Layer, cells, grid
from specgen.physics.heat_moisture.porous import PorousMaterial, film, tabulate
from specgen.physics.heat_moisture.simulate import Source, simulate
from specgen.physics.moist_air import saturation_pressure

PLASTER = tabulate(PorousMaterial("plaster", 1860, 840, 0.72, 33, 6, 35, 210, 0.042, 0.002))
PLYWOOD = tabulate(PorousMaterial("plywood", 500, 1600, 0.13, 200, 70, 75, 400, 0.004, 0.0002))
WOOL = tabulate(PorousMaterial("wool", 30, 840, 0.036, 1.2, 1.0, 0.2, 300))
HOURS = 24 * 20


def face(hours: int = HOURS, temp: float = 15.0, rh: float = 0.7, rain: float = 0.0) -> Face:
    t = np.arange(hours)
    air = temp - 5.0 * np.cos(2.0 * np.pi * (t % 24 - 2) / 24.0)
    vapor = np.minimum(rh * float(saturation_pressure(temp)), 0.98 * np.asarray(saturation_pressure(air)))
    one = np.ones(hours)
    sun = np.maximum(0.0, -np.cos(2.0 * np.pi * t / 24.0)) * 300.0
    long_waves = 5.67e-8 * (air + 262.0) ** 4
    showers = np.where((t // 6) % 11 == 3, rain / 3600.0, 0.0)
    return Face(air, vapor, 12.0 * one, 7e-8 * one, sun, long_waves, showers, 0.9)


def parapet() -> Grid:
    return grid(
        [
            Layer("plaster", PLASTER, 0.022),
            Layer("sheet", film("sheet", 3e-12, 0.01)),
            Gap("gap", 0.008, 1.0, (Loss(2.8, 0.3),) * 2),
            Layer("barrier", film("barrier", 6e-10, 0.003)),
            Layer("sheathing", PLYWOOD, 0.0127),
            Layer("cavity", WOOL, 0.14),
            Layer("roof sheathing", PLYWOOD, 0.0127),
            Layer("roof membrane", film("roof membrane", 1e-13, 0.01)),
        ]
    )


def test_what_comes_in_is_what_is_stored() -> None:
    wall = parapet()
    run = simulate(wall, face(rain=2.0), face(rain=0.0), watch=[0, wall.first[4]], profile_every=24)
    assert run.balance.mass_error < 1e-6 and run.balance.heat_error < 1e-6
    assert run.balance.came["water taken"] > 1.0
    assert run.taken[:, 0].sum() <= face(rain=2.0).rain.sum() * 3600.0
    assert run.profile_c.shape == (20, wall.nodes)
    assert np.isfinite(run.temp_c).all() and (run.humidity <= 1.0).all() and (run.humidity > 0.0).all()


def test_a_leak_wets_the_sheathing_and_what_it_does_not_take_runs_off() -> None:
    wall = parapet()
    leak = np.where(np.arange(HOURS) % 48 < 2, 1e-3, 0.0)
    dry = simulate(wall, face(), face())
    wet = simulate(wall, face(), face(), sources=[Source("sheathing", leak)])
    at = wall.named("sheathing")
    assert wet.water[-1, at] > dry.water[-1, at] + 0.05
    assert 0.0 < wet.taken[:, 1].sum() < leak.sum() * 3600.0
    assert dry.taken.shape == (HOURS, 1)


def test_a_leak_falls_on_a_dry_sheet_without_pores() -> None:
    wall = parapet()
    leak = np.where(np.arange(HOURS) % 48 == 30, 3e-6, 0.0)
    run = simulate(wall, face(rh=0.3), face(rh=0.3), sources=[Source("barrier", leak)], start_humidity=0.3)
    assert run.taken[:, 1].sum() > 0.0
    assert run.balance.came["steps cut"] < 0.05 * run.balance.steps


def test_a_wall_turned_round_gives_the_same() -> None:
    one, other = face(rain=0.0), replace(face(temp=20.0, rh=0.5), sun=np.zeros(HOURS))
    layers = [Layer("plaster", PLASTER, 0.02), Layer("wool", WOOL, 0.1), Layer("sheathing", PLYWOOD, 0.012)]
    there = simulate(grid(layers), one, other, profile_every=HOURS)
    back = simulate(grid(layers[::-1]), other, one, profile_every=HOURS)
    np.testing.assert_allclose(there.profile_c[0], back.profile_c[0][::-1], atol=2e-4)
    np.testing.assert_allclose(there.profile_humidity[0], back.profile_humidity[0][::-1], atol=1e-5)


def test_half_the_cells_and_half_the_steps_change_little() -> None:
    layers = [Layer("plaster", PLASTER, 0.022), Layer("wool", WOOL, 0.1), Layer("sheathing", PLYWOOD, 0.012)]
    sides = (face(rain=1.0), face(temp=20.0, rh=0.5))
    coarse, shorter = (simulate(grid(layers), *sides, finer_steps=parts) for parts in (1, 4))
    finer = simulate(grid(layers, finer=2.0), *sides)
    for part in (0, 2):
        np.testing.assert_allclose(coarse.water[-1, part], shorter.water[-1, part], rtol=1.2e-3)
        np.testing.assert_allclose(coarse.water[-1, part], finer.water[-1, part], rtol=0.01)


def test_the_end_of_one_run_is_the_start_of_the_next() -> None:
    wall, side = parapet(), face(rain=1.0)
    whole = simulate(wall, side, side)
    parts = [slice(0, 240), slice(240, HOURS)]
    state = None
    for part in parts:
        cut = Face(
            *(getattr(side, name)[part] for name in list(side.__dataclass_fields__)[:-1]), side.emittance
        )
        state = simulate(wall, cut, cut, start=state).end
    assert state is not None
    np.testing.assert_allclose(whole.end[0], state[0], atol=0.05)


def test_the_air_of_a_gap_is_that_of_the_formula() -> None:
    losses = (Loss(2.8, 0.3),) * 2
    (row,) = grid([Layer("a", WOOL, 0.05), Gap("gap", 0.01, 1.2, losses), Layer("b", WOOL, 0.05)]).gaps
    state = (313.15, 303.15, 1500.0, 1300.0, 293.15, 1000.0)
    flow = 0.0
    for _ in range(9):
        flow, by_t, by_pa = gap_exchange(row, flow, *state, 0.1)
    kelvin, pa, _, _ = gap_air(row, flow, *state)
    from specgen.physics.gap_air import stack_pressure

    stack = float(stack_pressure(1.2, kelvin - 273.15, 20.0, pa, 1000.0))
    wanted = gap_flow(stack + 0.1, 0.01, 1.2, losses)
    assert flow == pytest.approx(float(wanted.flow_m2_s) / 1.2, rel=1e-9)
    for at, slope, by in ((0, by_t, 0.01), (1, by_t, 0.01), (2, by_pa, 1.0), (3, by_pa, 1.0)):
        other = list(state)
        other[at] += by
        more = flow
        for _ in range(9):
            more = gap_exchange(row, more, *other, 0.1)[0]
        assert (more - flow) / by == pytest.approx(slope, rel=1e-3)


@pytest.mark.parametrize("thickness", [1e-4, 0.0009, 0.0127, 0.2, 1.0])
def test_cells_fill_a_layer(thickness: float) -> None:
    sizes = cells(thickness)
    assert sizes.sum() == pytest.approx(thickness)
    np.testing.assert_allclose(sizes, sizes[::-1])
    assert len(cells(thickness, 2.0)) >= len(sizes)


def test_rain_on_the_roof_side_wets_a_plaster_there() -> None:
    layers = [Layer("plywood", PLYWOOD, 0.0127), Layer("plaster", PLASTER, 0.02)]
    dry, wet = (simulate(grid(layers), face(), face(rain=rain)) for rain in (0.0, 2.0))
    assert wet.water[-1, 1] > dry.water[-1, 1] + 0.1
    assert wet.taken.shape[1] == 2 and wet.taken[:, 1].sum() > 1.0


def test_two_tight_sheets_keep_what_is_between() -> None:
    tight = film("tight", 0.0, 0.01)
    parts = [Layer("a", PLASTER, 0.02), Layer("one", tight), Gap("gap", 0.02, 1.0), Layer("two", tight)]
    run = simulate(grid([*parts, Layer("b", PLASTER, 0.02)]), face(), face())
    assert run.balance.mass_error < 1e-6


@pytest.mark.parametrize(
    "given",
    [
        {"watch": [9999]},
        {"watch": [-1]},
        {"sources": [Source("b", np.zeros(7))]},
        {"gap_wind": {"gap": np.zeros(7)}},
        {"gap_air": {"gap": (np.zeros(7), np.zeros(HOURS))}},
        {"gap_air": {"gap": (np.zeros(HOURS), np.full(HOURS, np.nan))}},
    ],
)
def test_odd_lengths_and_places_are_refused(given: dict[str, Any]) -> None:
    wall = grid([Layer("a", PLASTER, 0.02), Gap("gap", 0.01, 1.0), Layer("b", PLYWOOD, 0.0127)])
    with pytest.raises(PhysicsError):
        simulate(wall, face(), face(), **given)
    with pytest.raises(PhysicsError, match="hours"):
        simulate(wall, face(), face(24))


def test_what_does_not_fit_is_named() -> None:
    gap = Gap("gap", 0.01, 1.0)
    layer = Layer("a", WOOL, 0.05)
    for parts, what in (
        ([], "needs a layer"),
        ([gap, layer], "either side"),
        ([layer, gap, replace(gap, name="b"), Layer("c", WOOL, 0.05)], "either side"),
        ([layer, layer], "name of its own"),
    ):
        with pytest.raises(PhysicsError, match=what):
            grid(parts)
    wall = grid([layer])
    with pytest.raises(PhysicsError, match="no layer b"):
        simulate(wall, face(), face(), sources=[Source("b", np.zeros(HOURS))])
    with pytest.raises(PhysicsError, match="twice"):
        simulate(wall, face(), face(), sources=[Source("a", np.zeros(HOURS))])
    with pytest.raises(PhysicsError, match="vapor pressure"):
        simulate(wall, replace(face(), vapor_pa=np.full(HOURS, np.nan)), face())
