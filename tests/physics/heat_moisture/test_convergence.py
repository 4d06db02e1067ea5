"""Cells and steps of half the size: what they leave uncertain covers what far finer ones show."""

from __future__ import annotations

import numpy as np
import pytest

from specgen.physics.errors import PhysicsError
from specgen.physics.heat_moisture.convergence import Compared, converged, resampled
from specgen.physics.heat_moisture.grid import Layer, grid
from specgen.physics.heat_moisture.porous import film
from specgen.physics.heat_moisture.simulate import simulate
from tests.physics.heat_moisture.test_simulate import HOURS, PLASTER, PLYWOOD, WOOL, face, parapet

PARTS = [
    Layer("plaster", PLASTER, 0.022),
    Layer("barrier", film("barrier", 6e-10, 0.003)),
    Layer("sheathing", PLYWOOD, 0.012),
    Layer("wool", WOOL, 0.1),
]
SIDES = face(rain=1.0), face(temp=20.0, rh=0.5)


def test_the_uncertainty_covers_what_far_finer_cells_and_steps_show() -> None:
    check = converged(PARTS, *SIDES, watch=["sheathing"])
    assert check.hours == HOURS
    assert check.nodes[1] > 1.5 * check.nodes[0] and check.turns[1] > check.turns[0]
    wall = grid(PARTS, 8.0)
    at = wall.named("sheathing")
    fine = simulate(wall, *SIDES, watch=[wall.first[at]], finer_steps=8)
    truth = {
        "most water in plaster": fine.water[:, wall.named("plaster")].max(),
        "last water in sheathing": fine.water[-1, at],
        "mean humidity at sheathing": fine.humidity[:, 0].mean(),
        "highest temperature at sheathing": fine.temp_c[:, 0].max(),
    }
    for name, value in truth.items():
        one = check.of(name)
        assert 0.0 < one.uncertainty < 0.05 * abs(value), name
        assert abs(one.value - value) <= 1.1 * one.uncertainty, name


def test_finer_cells_and_steps_leave_less() -> None:
    coarse, fine = (
        converged(PARTS, *SIDES, finer=float(parts), finer_steps=parts).of("last water in sheathing")
        for parts in (1, 3)
    )
    assert fine.uncertainty < 0.5 * coarse.uncertainty


def test_a_span_begins_where_a_run_ended() -> None:
    wall = parapet()
    run = simulate(wall, face(rain=1.0), face())
    check = converged(wall.parts, face(48), face(48), start=run.end, watch=["sheathing"])
    went_on = simulate(wall, face(48), face(48), start=run.end, watch=[wall.first[wall.named("sheathing")]])
    assert check.of("last water in sheathing").value == went_on.water[-1, wall.named("sheathing")]
    assert check.of("highest humidity at sheathing").value == went_on.humidity.max()
    assert check.of("last water in sheathing").uncertainty < 0.01 * went_on.water[-1, wall.named("sheathing")]


def test_a_state_is_taken_over_part_by_part() -> None:
    wall, other = parapet(), grid(parapet().parts, 2.0)
    rng = np.random.default_rng(0)
    state = rng.uniform(280.0, 290.0, wall.nodes), rng.uniform(1.0, 5.0, wall.nodes)
    for one, same in zip(state, resampled(state, wall, wall), strict=True):
        np.testing.assert_array_equal(one, same)
    for one, new in zip(state, resampled(state, wall, other), strict=True):
        np.testing.assert_array_equal(one[list(wall.first)], new[list(other.first)])
        assert new.min() >= one.min() and new.max() <= one.max()
    with pytest.raises(PhysicsError, match="same parts"):
        resampled(state, wall, grid(PARTS))


def test_richardson() -> None:
    second = Compared("a", "-", 1.0 + 0.04, 1.0 + 0.01, 2.0)  # errors of h² with h = 0.2 and 0.1
    assert second.limit == pytest.approx(1.0)
    assert second.uncertainty == pytest.approx(0.04)
    assert Compared("a", "-", 1.2, 1.1, 1.0).limit == pytest.approx(1.0)


def test_what_is_not_there_is_named() -> None:
    with pytest.raises(PhysicsError, match="no layer brick"):
        converged(PARTS, face(2), face(2), watch=["brick"])
    with pytest.raises(PhysicsError, match="no result mean"):
        converged(PARTS, face(2), face(2)).of("mean")
