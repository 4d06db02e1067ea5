"""Grid, conductances and linear system of the two-dimensional conduction in `junction2d`.

Reference: ISO 10211:2017, numerical method by finite differences (M); Patankar, Numerical Heat Transfer and
    Fluid Flow, 1980, harmonic mean conductance at a material interface (M).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import TypeAlias

from specgen.arrays import NDArray, np
from specgen.physics.errors import OutOfRange, PhysicsError, check_finite, check_range

Array: TypeAlias = "NDArray[np.float64]"

SNAP = 1e-9
"""Coordinates nearer than this [m] are the same line."""


@dataclass(frozen=True)
class Region:
    """A rectangle of one material: corners [m] and thermal conductivity [W/(m·K)]."""

    x0: float
    x1: float
    y0: float
    y1: float
    conductivity: float


@dataclass(frozen=True)
class Boundary:
    """A horizontal or vertical surface segment [m] facing air: temperature [°C], surface resistance [m²·K/W].

    A surface resistance of 0 fixes the surface temperature.
    """

    name: str
    x0: float
    y0: float
    x1: float
    y1: float
    temperature_c: float
    surface_resistance: float


@dataclass(frozen=True)
class Faces:
    """Free faces of the body: owning cell, conductance from its centre, length, centre, segment (−1 none)."""

    row: NDArray[np.intp]
    column: NDArray[np.intp]
    half: Array
    length: Array
    x: Array
    y: Array
    vertical: NDArray[np.bool_]
    boundary: NDArray[np.intp]


def grid_lines(breaks: Sequence[float], step_m: float, least: int = 2) -> Array:
    """Grid lines through every break, equal steps of at most `step_m` between, at least `least` cells each.

    >>> grid_lines([0.0, 0.1, 0.4], 0.1, least=2).round(3).tolist()
    [0.0, 0.05, 0.1, 0.2, 0.3, 0.4]
    """
    check_range("grid step [m]", step_m, 1e-6, math.inf, "positive length")
    ordered = sorted(float(check_finite("grid line [m]", line)) for line in breaks)
    lines = [ordered[0]]
    for end in ordered[1:]:
        width = end - lines[-1]
        if width > SNAP:
            count = max(least, ceil(width / step_m - 1e-9))
            lines.extend(np.linspace(lines[-1], end, count + 1)[1:].tolist())
    if len(lines) < 2:
        raise OutOfRange("extent of the section [m]", 0.0, SNAP, math.inf, "two different grid lines needed")
    return np.asarray(lines)


def check_input(regions: Sequence[Region], boundaries: Sequence[Boundary]) -> None:
    if not regions or not boundaries:
        raise PhysicsError("a junction needs at least one region and one boundary segment")
    for r in regions:
        check_range("conductivity [W/(m·K)]", r.conductivity, 1e-4, 1e4, "solids; a void is left unpainted")
        check_range("region width [m]", r.x1 - r.x0, SNAP, math.inf, "x1 beyond x0")
        check_range("region height [m]", r.y1 - r.y0, SNAP, math.inf, "y1 beyond y0")
    for b in boundaries:
        check_finite(f"temperature of {b.name} [°C]", b.temperature_c)
        resistance = f"surface resistance of {b.name} [m²·K/W]"
        check_range(resistance, b.surface_resistance, 0.0, math.inf, "definition")
        if (abs(b.x1 - b.x0) < SNAP) == (abs(b.y1 - b.y0) < SNAP):
            raise PhysicsError(f"segment {b.name} must be horizontal or vertical and longer than zero")
    if len({b.name for b in boundaries}) != len(boundaries):
        raise PhysicsError("two boundary segments share a name")


def paint(regions: Sequence[Region], x: Array, y: Array) -> Array:
    xc, yc = 0.5 * (x[:-1] + x[1:]), 0.5 * (y[:-1] + y[1:])
    k = np.zeros((len(yc), len(xc)))
    for r in regions:
        k[np.ix_((yc > r.y0) & (yc < r.y1), (xc > r.x0) & (xc < r.x1))] = r.conductivity
    return k


def _halves(k: Array, x: Array, y: Array) -> tuple[Array, Array]:
    """Conductance from each cell centre to its vertical and to its horizontal faces [W/(m·K)]."""
    dx, dy = np.diff(x)[None, :], np.diff(y)[:, None]
    return 2.0 * k * dy / dx, 2.0 * k * dx / dy


def free_faces(k: Array, x: Array, y: Array, boundaries: Sequence[Boundary]) -> Faces:
    solid = np.pad(k > 0.0, 1)
    body = solid[1:-1, 1:-1]
    half_x, half_y = _halves(k, x, y)
    xc, yc, dx, dy = 0.5 * (x[:-1] + x[1:]), 0.5 * (y[:-1] + y[1:]), np.diff(x), np.diff(y)
    parts = []
    for shift, line in ((-1, x[:-1]), (1, x[1:])):
        j, i = np.nonzero(body & ~solid[1:-1, 1 + shift : solid.shape[1] - 1 + shift])
        parts.append((j, i, half_x[j, i], dy[j], line[i], yc[j], np.ones(len(j), dtype=bool)))
    for shift, line in ((-1, y[:-1]), (1, y[1:])):
        j, i = np.nonzero(body & ~solid[1 + shift : solid.shape[0] - 1 + shift, 1:-1])
        parts.append((j, i, half_y[j, i], dx[i], xc[i], line[j], np.zeros(len(j), dtype=bool)))
    row, column, half, length, fx, fy, vertical = (np.concatenate(part) for part in zip(*parts, strict=True))
    owner = np.full(len(row), -1, dtype=np.intp)
    for number, b in enumerate(boundaries):
        upright = abs(b.x1 - b.x0) < SNAP
        low, high = sorted((b.y0, b.y1) if upright else (b.x0, b.x1))
        along, line_at, place = (fy, b.x0, fx) if upright else (fx, b.y0, fy)
        on = (vertical == upright) & (np.abs(place - line_at) < SNAP) & (along > low) & (along < high)
        if not on.any():
            raise PhysicsError(f"segment {b.name} touches no free face of the body")
        if (owner[on] >= 0).any():
            raise PhysicsError(f"segment {b.name} overlaps {boundaries[int(owner[on].max())].name}")
        owner[on] = number
    return Faces(row, column, half, length, fx, fy, vertical, owner)


def _series(a: Array, b: Array) -> Array:
    """Two conductances in series; zero where either is zero."""
    total = a + b
    return np.divide(a * b, total, out=np.zeros_like(total), where=(a > 0.0) & (b > 0.0))


def to_air_of(faces: Faces, boundaries: Sequence[Boundary]) -> tuple[Array, Array]:
    """Conductance from cell centre to air, zero where adiabatic, and air temperature of each free face."""
    rs = np.array([b.surface_resistance for b in boundaries])[faces.boundary]
    air = np.array([b.temperature_c for b in boundaries])[faces.boundary]
    return np.where(faces.boundary >= 0, 1.0 / (1.0 / faces.half + rs / faces.length), 0.0), air


def solve_cells(k: Array, x: Array, y: Array, faces: Faces, boundaries: Sequence[Boundary]) -> Array:
    """Temperatures of the solid cells [°C], NaN in voids."""
    try:
        from scipy.sparse import coo_matrix
        from scipy.sparse.csgraph import connected_components
        from scipy.sparse.linalg import spsolve
    except ModuleNotFoundError as error:
        raise PhysicsError("the two-dimensional solution needs the package scipy: install it") from error
    solid = k > 0.0
    number = np.cumsum(solid.ravel()).reshape(solid.shape) - 1
    count = int(solid.sum())
    half_x, half_y = _halves(k, x, y)
    links = []
    for half, one, two in (
        (half_x, np.s_[:, :-1], np.s_[:, 1:]),
        (half_y, np.s_[:-1, :], np.s_[1:, :]),
    ):
        g = _series(half[one], half[two])
        on = g > 0.0
        links.append((number[one][on], number[two][on], g[on]))
    a, b, g = (np.concatenate(part) for part in zip(*links, strict=True))
    to_air, air = to_air_of(faces, boundaries)
    cell = number[faces.row, faces.column]
    parts = connected_components(coo_matrix((g, (a, b)), shape=(count, count)), directed=False)[1]
    if set(parts) != set(parts[cell[to_air > 0.0]]):
        raise PhysicsError("a part of the body touches no segment: its temperature is unknown")
    diagonal = np.bincount(a, g, count) + np.bincount(b, g, count) + np.bincount(cell, to_air, count)
    rows = np.concatenate((np.arange(count), a, b))
    columns = np.concatenate((np.arange(count), b, a))
    values = np.concatenate((diagonal, -g, -g))
    matrix = coo_matrix((values, (rows, columns)), shape=(count, count)).tocsc()
    result = np.full(k.shape, np.nan)
    result[solid] = spsolve(matrix, np.bincount(cell, to_air * air, count))
    return result


def gradients(
    k: Array,
    x: Array,
    y: Array,
    temperature: Array,
    faces: Faces,
    skin: Array,
) -> tuple[Array, Array]:
    """Temperature gradients [K/m] within each cell, from the temperatures of its faces."""
    half_x, half_y = _halves(k, x, y)
    known = np.where(k > 0.0, temperature, 0.0)
    face_x = np.zeros((k.shape[0], k.shape[1] + 1))
    face_y = np.zeros((k.shape[0] + 1, k.shape[1]))
    weight_x, weight_y = half_x[:, :-1] + half_x[:, 1:], half_y[:-1] + half_y[1:]
    np.divide(
        half_x[:, :-1] * known[:, :-1] + half_x[:, 1:] * known[:, 1:],
        weight_x,
        out=face_x[:, 1:-1],
        where=weight_x > 0.0,
    )
    np.divide(
        half_y[:-1] * known[:-1] + half_y[1:] * known[1:], weight_y, out=face_y[1:-1], where=weight_y > 0.0
    )
    after_x = (faces.x > 0.5 * (x[faces.column] + x[faces.column + 1])).astype(np.intp)
    after_y = (faces.y > 0.5 * (y[faces.row] + y[faces.row + 1])).astype(np.intp)
    v = faces.vertical
    face_x[faces.row[v], faces.column[v] + after_x[v]] = skin[v]
    face_y[faces.row[~v] + after_y[~v], faces.column[~v]] = skin[~v]
    blank = np.where(k > 0.0, 0.0, np.nan)
    across = np.diff(face_x, axis=1) / np.diff(x)[None, :]
    up = np.diff(face_y, axis=0) / np.diff(y)[:, None]
    return across + blank, up + blank
