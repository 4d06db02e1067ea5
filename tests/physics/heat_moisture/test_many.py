"""Walls side by side in NumPy turn out as each alone in the compiled loops, also where Numba is missing."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from specgen.physics.errors import PhysicsError
from specgen.physics.gap_air import Loss
from specgen.physics.heat_moisture import march as loops
from specgen.physics.heat_moisture.compiled import COMPILED, plain
from specgen.physics.heat_moisture.elimination import eliminate
from specgen.physics.heat_moisture.grid import Gap, Grid, Layer, grid
from specgen.physics.heat_moisture.porous import PorousMaterial, film, tabulate
from specgen.physics.heat_moisture.simulate import Run, Source, Unsolved, simulate
from tests.physics.heat_moisture.test_simulate import PLASTER, PLYWOOD, WOOL, face, parapet

DAYS = 24 * 8


def same(one: Run, other: Run) -> None:
    """Within 1e-4 K and 1e-6 of the water, and so to the same printed digits."""
    np.testing.assert_allclose(one.temp_c, other.temp_c, rtol=0.0, atol=1e-4)
    np.testing.assert_allclose(one.humidity, other.humidity, rtol=1e-6)
    np.testing.assert_allclose(one.water, other.water, rtol=1e-6, atol=1e-12)
    np.testing.assert_allclose(one.taken, other.taken, rtol=1e-6, atol=1e-9)
    np.testing.assert_allclose(one.profile_c, other.profile_c, rtol=0.0, atol=1e-4)
    np.testing.assert_allclose(one.end[1], other.end[1], rtol=1e-6, atol=1e-9)
    assert one.balance.steps == other.balance.steps
    for way, came in one.balance.came.items():
        assert came == pytest.approx(other.balance.came[way], rel=1e-6, abs=1e-7), way


def other_parapet() -> Grid:
    """As `parapet`, of other materials and permeances."""
    return grid(
        [
            Layer("plaster", PLYWOOD, 0.022),
            Layer("sheet", film("sheet", 3e-10, 0.02, 9e-10)),
            Gap("gap", 0.02, 2.0, (Loss(2.8, 0.1),) * 2, exchange=1e-4),
            Layer("barrier", film("barrier", 6e-12, 0.003)),
            Layer("sheathing", WOOL, 0.0127),
            Layer("cavity", WOOL, 0.14),
            Layer("roof sheathing", PLASTER, 0.0127),
            Layer("roof membrane", film("roof membrane", 1e-11, 0.01)),
        ]
    )


def test_walls_side_by_side_are_each_as_alone() -> None:
    from specgen.physics.heat_moisture.many import simulate_many

    leak = np.where(np.arange(DAYS) % 48 == 30, 3e-6, 0.0)
    walls = [parapet(), parapet(), other_parapet()]
    wet = face(DAYS, rain=2.0)
    later = replace(wet, rain=np.roll(wet.rain, 3))
    outsides = [wet, face(DAYS, temp=-3.0, rh=0.8), later]
    insides = [face(DAYS), face(DAYS, temp=20.0, rh=0.5), face(DAYS)]
    leaks = [[], [Source("barrier", leak)], [Source("sheathing", 3.0 * leak)]]
    watch = [0, walls[0].first[4], walls[0].nodes - 1]
    runs = simulate_many(walls, outsides, insides, watch=watch, sources=leaks, profile_every=24)
    for wall, outside, inside, sources, run in zip(walls, outsides, insides, leaks, runs, strict=True):
        same(run, simulate(wall, outside, inside, watch=watch, sources=sources, profile_every=24))
    assert runs[0].balance.steps != runs[1].balance.steps, "each wall keeps its own step"
    assert runs[2].taken[:, 1].sum() > 0.0


def test_a_wall_without_a_gap_is_the_same() -> None:
    from specgen.physics.heat_moisture.many import simulate_many

    wall = grid(
        [Layer("plaster", PLASTER, 0.02), Layer("wool", WOOL, 0.1), Layer("sheathing", PLYWOOD, 0.012)]
    )
    side = face(DAYS, rain=1.0)
    (run,) = simulate_many([wall], [side], [face(DAYS, temp=20.0)], watch=[5], start_humidity=0.5)
    same(run, simulate(wall, side, face(DAYS, temp=20.0), watch=[5], start_humidity=0.5))


def test_walls_of_two_structures_are_refused() -> None:
    from specgen.physics.heat_moisture.many import simulate_many

    walls = [grid([Layer("wool", WOOL, 0.1)]), grid([Layer("wool", WOOL, 0.05), Layer("more", WOOL, 0.05)])]
    with pytest.raises(PhysicsError, match="same parts"):
        simulate_many(walls, [face(DAYS)] * 2, [face(DAYS)] * 2)


def test_a_step_that_is_cut_is_cut_alike(monkeypatch: pytest.MonkeyPatch) -> None:
    """With few turns a step many are cut; walls that stand beside each other are not disturbed."""
    from specgen.physics.heat_moisture import many

    for function in ("turns", "march"):
        monkeypatch.setattr(loops, function, plain(getattr(loops, function)))
    monkeypatch.setattr(loops, "MOST_TURNS", 5)
    monkeypatch.setattr(many, "MOST_TURNS", 5)
    wall = grid([Layer("plaster", PLASTER, 0.01)])
    wet, dry = face(30, rain=2.0), face(30, temp=5.0)
    runs = many.simulate_many([wall, wall], [wet, dry], [dry, dry])
    for run, side in zip(runs, (wet, dry), strict=True):
        same(run, simulate(wall, side, dry))
    assert runs[0].balance.came["steps cut"] > 3.0
    monkeypatch.setattr(many, "MOST_TURNS", 1)
    with pytest.raises(Unsolved, match="plaster: the wall cannot be solved at hour 1 of 30"):
        many.simulate_many([wall, wall], [wet, dry], [dry, dry])


@pytest.mark.parametrize("nodes", [1, 2, 3, 8, 13])
def test_the_elimination_solves_the_system(nodes: int) -> None:
    rng = np.random.default_rng(nodes)
    blocks = rng.normal(size=(3, 2, 2, nodes, 4))
    blocks[1] += 6.0 * np.eye(2)[:, :, None, None]
    left = rng.normal(size=(2, nodes, 4))
    x = eliminate(*blocks, left)
    for wall in range(4):
        matrix = np.zeros((2 * nodes, 2 * nodes))
        for i in range(nodes):
            for j, block in ((i - 1, blocks[0]), (i, blocks[1]), (i + 1, blocks[2])):
                if 0 <= j < nodes:
                    matrix[2 * i : 2 * i + 2, 2 * j : 2 * j + 2] = block[:, :, i, wall]
        np.testing.assert_allclose(
            x[:, :, wall].T.ravel(), np.linalg.solve(matrix, left[:, :, wall].T.ravel())
        )


WITHOUT = """
import importlib.abc, json, sys
class Blocked(importlib.abc.MetaPathFinder):
    def find_spec(self, name, path, target=None):
        if name.partition(".")[0] == "numba":
            raise ModuleNotFoundError(name)
sys.meta_path.insert(0, Blocked())
import importlib.util as util
found = util.find_spec
util.find_spec = lambda name, package=None: None if name == "numba" else found(name, package)
from specgen.physics.heat_moisture import compiled, simulate
from tests.physics.heat_moisture.test_simulate import face, parapet
assert not compiled.COMPILED
wall, hours = parapet(), int(sys.argv[1])
run = simulate.simulate(wall, face(hours, rain=2.0), face(hours), watch=[0, wall.first[4]])
many = "specgen.physics.heat_moisture.many" in sys.modules
assert "numba" not in sys.modules
print(json.dumps([run.temp_c.tolist(), run.water.tolist(), many]))
"""


@pytest.mark.parametrize("hours", [20, 24 * 16])
def test_without_numba_the_same_digits_are_printed(hours: int) -> None:
    root = Path(__file__).parents[3]
    done = subprocess.run(
        [sys.executable, "-c", WITHOUT, str(hours)], cwd=root, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    temps, water, many = json.loads(done.stdout)
    assert many == (hours > 300), "a long run goes through the form for many walls"
    wall = parapet()
    run = simulate(wall, face(hours, rain=2.0), face(hours), watch=[0, wall.first[4]])
    np.testing.assert_allclose(run.temp_c, temps, rtol=0.0, atol=1e-4)
    np.testing.assert_allclose(run.water, water, rtol=1e-6, atol=1e-12)
    assert [f"{t:.2f}" for t in run.temp_c[-1]] == [f"{t:.2f}" for t in temps[-1]]
    assert [f"{w:.4f}" for w in run.water[-1]] == [f"{w:.4f}" for w in water[-1]]


ALIKE = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
import one
from specgen.physics.heat_moisture.compiled import COMPILED, _kept
print(one.summed(1000), COMPILED, sum(one.summed.stats.cache_hits.values()), _kept())
"""


@pytest.mark.skipif(not COMPILED, reason="nothing is compiled where the extra hourly is not installed")
def test_processes_that_begin_together_keep_one_compilation(tmp_path: Path) -> None:
    lines = (
        "from specgen.physics.heat_moisture.compiled import compiled",
        "@compiled",
        "def summed(n):",
        "    total = 0.0",
        "    for i in range(n):",
        "        total += i * 0.5",
        "    return total",
    )
    (tmp_path / "one.py").write_text("\n".join(lines) + "\n", encoding="utf-8")
    environment = {**os.environ, "XDG_CACHE_HOME": str(tmp_path / "cache"), "LOCALAPPDATA": ""}
    words = [sys.executable, "-c", ALIKE, str(tmp_path)]

    def begun() -> subprocess.Popen[str]:
        return subprocess.Popen(
            words, cwd=Path(__file__).parents[3], env=environment, stdout=subprocess.PIPE, text=True
        )

    together = [begun() for _ in range(4)]
    printed = [one.communicate()[0].split() for one in together] + [begun().communicate()[0].split()]
    assert {row[0] for row in printed} == {"249750.0"}
    assert printed[-1][2] == "1", "the next process takes what was kept"
    (kept,) = {row[3] for row in printed}
    assert Path(kept).is_relative_to(tmp_path / "cache")
    assert len(list(Path(kept).rglob("*.nbc"))) == 1


@pytest.mark.skipif(not COMPILED, reason="nothing is compiled where the extra hourly is not installed")
def test_every_wall_uses_the_same_compilation() -> None:
    """Numbers of other types would be compiled anew, and begin the wait once more."""
    integers = tabulate(PorousMaterial("whole numbers", 1800, 800, 1, 10, 8, 30, 200, 0, 0))
    plain_wall = grid([Layer("a", integers, 0.02)])
    simulate(plain_wall, replace(face(2), emittance=1), replace(face(2), emittance=0))
    simulate(parapet(), face(2, rain=1.0), face(2), watch=[0], sources=[Source("barrier", np.zeros(2))])
    assert len(loops.march.signatures) == 1
