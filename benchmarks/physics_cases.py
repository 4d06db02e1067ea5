"""What the benchmarks of the calculations run: a year of hours for many parapets, and junctions of growing size.

The floor of the hourly study is one NumPy pass over an array as large as its result; that of the junction is scipy
solving the very matrix once, without building it and without heat flows and surface temperatures after it.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache, partial

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import spsolve

from specgen.physics.hygro_hourly import inward_drive, summary
from specgen.physics.junction2d import Boundary, JunctionField, Region, solve_junction
from specgen.physics.steady import Layers, Side, steady_state

HOURS, LAYERS = 8760, 4
CELLS = 200
Array = NDArray[np.float64]


@lru_cache(maxsize=2)
def _year(parapets: int) -> tuple[Array, Array, Array, Array]:
    rng = np.random.default_rng(0)
    hour = np.arange(HOURS)[:, None, None]
    season, day = np.cos(2 * np.pi * (hour / HOURS - 0.55)), np.cos(2 * np.pi * (hour / 24 - 0.6))
    own = rng.uniform(0.8, 1.2, (1, parapets, 1))
    plaster = 12 + own * (14 * season + 14 * np.maximum(day, -0.3))
    membrane = 14 + own * (11 * season + 6 * np.maximum(day, -0.3))
    return plaster, membrane, 900 + 500 * season[:, 0, 0], np.array([3e8, 1e9, 3e10, 3.5e11])


def drive_ours(parapets: int) -> float:
    """A year of inward drive for so many parapets with four drainage layers each, and its totals."""
    plaster, membrane, outdoor, layers = _year(parapets)
    return float(summary(inward_drive(plaster, 1.0, membrane, outdoor, layers, 1e-10, 2e9)).condensed.sum())


@lru_cache(maxsize=2)
def _three(parapets: int) -> tuple[Array, Array, Array]:
    shape = (HOURS, parapets, LAYERS)
    return np.full(shape, 1.5), np.full(shape, 2.5), np.empty(shape)


def drive_floor(parapets: int) -> None:
    """One NumPy pass over as many numbers: a product."""
    one, other, out = _three(parapets)
    np.multiply(one, other, out=out)


def junction_ours(cells: int) -> JunctionField:
    """A square section of cells × cells, four materials, three airs, heat flows and surface temperatures."""
    regions = [
        Region(0, 1, 0, 1, 0.16),
        Region(0, 0.3, 0, 1, 1.7),
        Region(0.3, 0.5, 0, 1, 0.034),
        Region(0, 1, 0, 0.2, 2.3),
    ]
    air = [
        Boundary("out", 0, 0, 0, 1, -10.0, 0.04),
        Boundary("top", 0, 1, 1, 1, -10.0, 0.04),
        Boundary("in", 1, 0, 1, 1, 20.0, 0.13),
    ]
    return solve_junction(regions, air, 1.0 / cells)


@lru_cache(maxsize=4)
def _matrix(cells: int) -> tuple[csc_matrix, Array]:
    """The conductances of the section's cells and what the airs put in."""
    field = junction_ours(cells)
    k = field.conductivity
    count = k.size
    number = np.arange(count).reshape(k.shape)
    links = []
    for one, two in ((np.s_[:, :-1], np.s_[:, 1:]), (np.s_[:-1, :], np.s_[1:, :])):
        links.append(
            (number[one].ravel(), number[two].ravel(), (2 * k[one] * k[two] / (k[one] + k[two])).ravel())
        )
    a, b, g = (np.concatenate(part) for part in zip(*links, strict=True))
    step = 1.0 / cells
    to_air, load = np.zeros(count), np.zeros(count)
    for edge, kept, temp_c, film in (
        (number[:, 0], k[:, 0], -10.0, 0.04),
        (number[-1], k[-1], -10.0, 0.04),
        (number[:, -1], k[:, -1], 20.0, 0.13),
    ):
        conductance = 1.0 / (1.0 / (2.0 * kept) + film / step)
        to_air[edge] += conductance
        load[edge] += conductance * temp_c
    diagonal = np.bincount(a, g, count) + np.bincount(b, g, count) + to_air
    rows, columns = np.concatenate((a, b, np.arange(count))), np.concatenate((b, a, np.arange(count)))
    matrix = csc_matrix((np.concatenate((-g, -g, diagonal)), (rows, columns)), shape=(count, count))
    found = spsolve(matrix, load).reshape(k.shape)
    assert np.abs(found - field.temperature_c).max() < 1e-6, "not the same matrix"
    return matrix, load


def junction_floor(cells: int) -> Array:
    """The same matrix solved once."""
    solution: Array = spsolve(*_matrix(cells))
    return solution


_SIDES = Side(55.0, 9000.0, 0.06), Side(25.0, 2400.0, 0.06)


def _layers(count: int) -> Layers:
    rng = np.random.default_rng(1)
    thermal, vapor = rng.uniform(0.01, 0.1, count), 10 ** rng.uniform(7, 9, count)
    return Layers(tuple(f"layer {i}" for i in range(count)), tuple(thermal.tolist()), tuple(vapor.tolist()))


def steady_ours(count: int) -> float:
    """Temperatures, vapor pressures and condensation of so many layers."""
    return steady_state(_layers(count), *_SIDES).condensing


Row = tuple[str, str, Callable[[], object], Callable[[], object], str, int]


def rows() -> list[Row]:
    """What is measured, against what, both as calls, the ratio aimed at, and the rounds."""
    return [
        (
            f"a year of hourly inward drive, 100 parapets × {LAYERS} layers",
            "one NumPy pass over as many numbers, into memory that is there",
            partial(drive_ours, 100),
            partial(drive_floor, 100),
            "at most 200",
            5,
        ),
        (
            "the same year, 100 parapets",
            "10 parapets: growth with size",
            partial(drive_ours, 100),
            partial(drive_ours, 10),
            "at most 12",
            5,
        ),
        (
            f"a junction of {CELLS} × {CELLS} cells, matrix, flows and surface temperatures",
            "scipy solving the same matrix once",
            partial(junction_ours, CELLS),
            partial(junction_floor, CELLS),
            "at most 2",
            5,
        ),
        (
            f"a junction of {CELLS} × {CELLS} cells",
            f"{CELLS // 2} × {CELLS // 2} cells: growth with size, four times the cells",
            partial(junction_ours, CELLS),
            partial(junction_ours, CELLS // 2),
            "at most 8",
            5,
        ),
        (
            "condensation in a wall of 2,000 slices",
            "200 slices: growth with size",
            partial(steady_ours, 2_000),
            partial(steady_ours, 200),
            "at most 20",
            7,
        ),
    ]
