"""The slopes of the balances are those that small changes show: the Jacobian is exact."""

from __future__ import annotations

import numpy as np
import pytest

from specgen.physics.heat_moisture.balances import assemble
from specgen.physics.heat_moisture.march import FIRST_STAGE, HOUR
from specgen.physics.heat_moisture.porous import potentials, suction
from specgen.physics.heat_moisture.simulate import Ready, Source, prepare
from tests.physics.heat_moisture.test_simulate import face, parapet


def left_and_blocks(ready: Ready, temps: np.ndarray, ys: np.ndarray) -> tuple[np.ndarray, list[np.ndarray]]:
    wall, n = ready.wall, ready.wall.nodes
    blocks = [np.zeros((n, 4)) for _ in range(3)]
    left = np.zeros((n, 2))
    flows = np.zeros(wall.gaps.shape[0])
    for _ in range(8):  # the air of the gap settles
        assemble(
            temps, ys, FIRST_STAGE * HOUR, np.zeros((n, 2)), ready.tables, suction(potentials()), ready.heats,
            ready.exponents, wall.links, wall.spans, wall.films, ready.takes, wall.gaps, flows,
            False, ready.outer[0], ready.inner[0], ready.emits, ready.airs[0], ready.offered[0], np.zeros(n, np.int64),
            np.zeros(n), np.zeros((n, 3)), np.zeros((n, 2)), np.zeros((n, 3)), *blocks, left, np.zeros(11),
        )  # fmt: skip
    return left, blocks


@pytest.mark.parametrize("seed", range(6))
def test_slopes_are_exact(seed: int) -> None:
    rng = np.random.default_rng(seed)
    wall = parapet()
    leak = Source("barrier", np.full(24, 1e-6))
    ready = prepare(wall, face(24, rain=2.0), face(24), sources=[leak])
    temps, n = rng.uniform(265.0, 320.0, wall.nodes), wall.nodes
    # In the middle between points of the tables, where slopes do not jump, and away from the bend at saturation.
    ys = np.round(rng.uniform(0.2, 7.0, n) * 200.0) / 200.0 + 0.0025
    left, (lower, diagonal, upper) = left_and_blocks(ready, temps, ys)
    for unknown, by in ((0, 1e-3), (1, 1e-6)):
        for i in range(n):
            more = [temps.copy(), ys.copy()], [temps.copy(), ys.copy()]
            more[0][unknown][i] += by
            more[1][unknown][i] -= by
            change = (left_and_blocks(ready, *more[0])[0] - left_and_blocks(ready, *more[1])[0]) / (2.0 * by)
            for at, block in ((i - 1, upper), (i, diagonal), (i + 1, lower)):
                if 0 <= at < n:
                    for balance in (0, 1):
                        slope = block[at, 2 * balance + unknown]
                        near = 2e-5 * np.abs(block[:, 2 * balance + unknown]).max()
                        assert change[at, balance] == pytest.approx(slope, rel=2e-4, abs=near), (i, at)
            change[max(i - 1, 0) : i + 2] = 0.0
            assert not change.any(), "a node sees its neighbors alone"
    assert left.shape == (n, 2)
