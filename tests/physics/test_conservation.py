"""What goes in comes out or stays: heat, vapor, condensate, rain, and heat in two dimensions.

Heat and vapor through plane walls are held to 1e-9 in ``test_random_build_ups``; here is what has a memory or a second
dimension.
"""

from __future__ import annotations

from itertools import pairwise
from math import fsum

import numpy as np
import pytest

from specgen.physics.hygro_hourly import inward_drive, summary
from specgen.physics.junction2d import Boundary, JunctionField, Region, solve_junction
from specgen.physics.moist_air import saturation_pressure
from specgen.physics.monthly import MONTH_SECONDS, monthly_balance
from specgen.physics.reservoir import hourly_uptake, stored_water
from specgen.physics.steady import Layers, Side, steady_state

SEEDS = range(12)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_wet_wall_gives_off_what_it_gains_at_its_planes(seed: int) -> None:
    rng = np.random.default_rng(seed)
    layers = Layers(
        tuple("abcdef"),
        tuple(rng.uniform(0.05, 2.0, 6).tolist()),
        tuple((10 ** rng.uniform(8, 11, 6)).tolist()),
    )
    sides = [Side(t, 0.6 * float(saturation_pressure(t)), 0.1) for t in rng.uniform(-10.0, 45.0, 2).tolist()]
    wet = sorted(rng.choice([1, 2, 3, 4, 5], 2, replace=False).tolist())
    state = steady_state(layers, sides[0], sides[1], wet=wet)
    gained = fsum(plane.rate for plane in state.planes)
    size = abs(state.vapor_in) + abs(state.vapor_out)
    assert abs(state.vapor_in - state.vapor_out - gained) <= 1e-9 * size
    assert {plane.number for plane in state.planes} >= set(wet)


@pytest.mark.parametrize("seed", SEEDS)
def test_condensate_is_what_came_less_what_left(seed: int) -> None:
    """A year of random hours: condensed less evaporated is stored; the gap keeps nothing."""
    rng = np.random.default_rng(seed)
    hours = 8760
    plaster, membrane = rng.uniform(-5, 60, (hours, 1)), rng.uniform(-5, 40, (hours, 1))
    layer, barrier = 10 ** rng.uniform(8, 12, 4), float(10 ** rng.uniform(9, 11))
    start = float(rng.uniform(0, 0.2))
    drive = inward_drive(
        plaster, 0.9, membrane, 900.0, layer, rng.uniform(0, 1e-9, (hours, 1)), barrier, start
    )
    total = summary(drive)
    size = total.condensed + total.evaporated + start
    stored = drive.condensate[-1] - start
    assert (np.abs(total.condensed - total.evaporated - stored) <= 1e-9 * size).all()
    flows = np.abs(drive.through_layer) + np.abs(drive.ventilated) + np.abs(drive.through_barrier)
    kept = np.abs(drive.through_layer - drive.ventilated - drive.through_barrier)
    # A flow is a difference of pressures over a resistance, and carries their rounding.
    assert (kept <= 1e-9 * flows + 1e-12 * (1 / layer + 1e-9 + 1 / barrier)).all()


@pytest.mark.parametrize("seed", SEEDS)
def test_rain_is_absorbed_or_runs_off_and_what_is_absorbed_dries_or_stays(seed: int) -> None:
    rng = np.random.default_rng(seed)
    rain = np.where(rng.random((2000, 3)) < 0.2, rng.gamma(1.0, 2.0, (2000, 3)), 0.0)
    found = hourly_uptake(rain, 0.02, [0.015, 0.02, 0.03], 200.0, rng.gamma(1.0, 0.05, (2000, 3)), 0.5)
    assert found.absorbed + found.runoff == pytest.approx(rain, rel=1e-9, abs=1e-12)
    change = found.absorbed.sum(axis=0) - found.dried.sum(axis=0)
    assert found.stored[-1] - 0.5 == pytest.approx(change, abs=1e-9 * float(rain.sum(axis=0).max()))
    assert (found.stored <= np.asarray(stored_water([0.015, 0.02, 0.03], 200.0)) * (1 + 1e-12)).all()
    assert min(found.absorbed.min(), found.runoff.min(), found.dried.min(), found.stored.min()) >= 0.0


@pytest.mark.parametrize("vapor", [(1e9, 5e8, 4e10, 5e9), (5e8, 1e9, 3e10, 2e11), (1e9, 1e9, 1e9, 5e11)])
def test_a_month_adds_its_rate_times_its_length_and_no_plane_goes_below_dry(
    vapor: tuple[float, ...],
) -> None:
    layers = Layers(tuple("abcd"), (0.1, 2.5, 0.1, 0.05), vapor)
    swing = np.cos(2 * np.pi * np.arange(12) / 12)
    outside = [Side(float(8 - 14 * s), 0.8 * float(saturation_pressure(8 - 14 * s)), 0.04) for s in swing]
    balance = monthly_balance(layers, [Side(20.0, 1350.0, 0.13)] * 12, outside)
    assert balance.months
    dry = (0.0,) * len(balance.planes)
    befores = [dry, *(month.held for month in balance.months)]
    for before, month in zip(befores, balance.months, strict=False):
        seconds = MONTH_SECONDS[month.month - 1]
        for old, rate, new in zip(before, month.rate, month.held, strict=True):
            assert new == pytest.approx(max(0.0, old + rate * seconds), rel=1e-9, abs=1e-15)
    assert balance.peak == max(fsum(month.held) for month in balance.months)
    assert all(two.month == one.month % 12 + 1 for one, two in pairwise(balance.months))


def random_section(seed: int) -> JunctionField:
    """A wall on a floor with a random core, three airs."""
    rng = np.random.default_rng(seed)
    k = 10 ** rng.uniform(-1.6, 2.0, 4)
    wide, deep, high = rng.uniform(0.1, 0.4), rng.uniform(0.1, 0.3), rng.uniform(0.4, 0.9)
    regions = [
        Region(0, wide, 0, high, k[0]),
        Region(wide, wide + 0.6, 0, deep, k[1]),
        Region(0.3 * wide, 0.6 * wide, 0.1, high, k[2]),
        Region(0, wide + 0.6, 0.4 * deep, 0.7 * deep, k[3]),
    ]
    air = [
        Boundary("outside", 0, 0, 0, high, float(rng.uniform(-20, 5)), 0.04),
        Boundary("top", 0, high, wide, high, float(rng.uniform(-20, 60)), 0.0),
        Boundary("roof", wide, deep, wide + 0.6, deep, float(rng.uniform(0, 60)), 0.06),
        Boundary("inside", 0, 0, wide + 0.6, 0, 20.0, 0.17),
    ]
    return solve_junction(regions, air, 0.02)


@pytest.mark.parametrize("seed", SEEDS)
def test_heat_that_enters_a_section_leaves_it(seed: int) -> None:
    field = random_section(seed)
    flows = [surface.flow_w_m for surface in field.surfaces]
    assert abs(fsum(flows)) <= 1e-6 * fsum(abs(flow) for flow in flows)
    assert abs(field.balance) <= 1e-6
    airs = [surface.temperature_c for surface in field.surfaces]
    inside = field.temperature_c[field.conductivity > 0]
    assert min(airs) - 1e-6 <= inside.min() and inside.max() <= max(airs) + 1e-6
