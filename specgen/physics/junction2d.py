"""Two-dimensional steady heat conduction through a junction, by finite volumes.

The section is painted from rectangles on a rectangular grid that follows every material edge. Each cell
balances the heat flows over its four faces (the numerical method of ISO 10211, with temperature unknowns at
cell centres):

    Σ_faces G·(T_neighbour − T_cell) = 0,   1/G = d_cell/(2·λ_cell·l) + d_neighbour/(2·λ_neighbour·l)

so the conductance between two cells is the harmonic mean, exact for layers in series. A face on a boundary
segment has 1/G = d_cell/(2·λ_cell·l) + R_s/l toward the air; every other free face is adiabatic. Cells that
no rectangle covers are void.

Reference: ISO 10211:2017, Thermal bridges in building construction. Symbols L2D, ψ and f_Rsi follow it.
    Status of the statements about its annexes: M (from memory).
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import log2

from specgen.arrays import np
from specgen.physics.errors import OutOfRange, PhysicsError, check_finite, check_range
from specgen.physics.junction_grid import (
    SNAP,
    Array,
    Boundary,
    Faces,
    Region,
    check_input,
    free_faces,
    gradients,
    grid_lines,
    paint,
    solve_cells,
    to_air_of,
)

__all__ = [
    "Boundary",
    "Coupling",
    "JunctionField",
    "Refinement",
    "Region",
    "Surface",
    "coupling",
    "grid_lines",
    "psi_value",
    "refine",
    "solve_junction",
    "temperature_at",
]

MOST_CELLS = 400_000
"""Most cells of one grid: beyond, the direct solution needs more memory than a laptop has to spare."""


@dataclass(frozen=True)
class Surface:
    """What one boundary segment received.

    flow_w_m is the heat flow from the air into the body [W/m], length_m the length found on the body [m],
    lowest_c and highest_c its extreme surface temperatures [°C], lowest_at where the lowest lies (x, y) [m].
    """

    name: str
    temperature_c: float
    flow_w_m: float
    length_m: float
    lowest_c: float
    highest_c: float
    lowest_at: tuple[float, float]


@dataclass(frozen=True)
class JunctionField:
    """Temperatures of a junction.

    x_m, y_m are grid lines; conductivity (0 in a void), temperature_c and the gradients have shape
    (len(y_m) − 1, len(x_m) − 1) at cell centres. Void cells hold NaN temperature on purpose. balance is the
    sum of all surface flows over the sum of their absolute values [-].
    """

    x_m: Array
    y_m: Array
    conductivity: Array
    temperature_c: Array
    gradient_x: Array
    gradient_y: Array
    surfaces: tuple[Surface, ...]
    balance: float


@dataclass(frozen=True)
class Coupling:
    """Thermal coupling of two environments: L2D [W/(m·K)], temperatures [°C], f_Rsi [-].

    lowest_on names the interior segment on which the lowest surface temperature lies, lowest_at its place (x, y) [m].
    """

    l2d: float
    interior_c: float
    exterior_c: float
    lowest_interior_surface_c: float
    f_rsi: float
    lowest_on: str
    lowest_at: tuple[float, float]


@dataclass(frozen=True)
class Refinement:
    """Values at halved steps, the observed order of convergence and the value extrapolated to step zero.

    order is None, and extrapolated the last value, where the changes do not shrink in one direction.
    last_change is the relative change of the last halving.
    """

    steps: tuple[float, ...]
    values: tuple[float, ...]
    order: float | None
    extrapolated: float
    last_change: float


def solve_junction(
    regions: Sequence[Region], boundaries: Sequence[Boundary], step_m: float, least: int = 2
) -> JunctionField:
    """Solve the temperatures and surface heat flows of a junction.

    Args:
        regions: painted in order: a later rectangle covers an earlier one.
        boundaries: segments that face air. Free faces on none of them are adiabatic.
        step_m: largest grid step [m].
        least: least number of cells between two neighbouring material edges [-].

    Raises:
        OutOfRange, NotFinite: a size, conductivity, resistance or temperature that cannot be, or more than
            `MOST_CELLS` cells.
        PhysicsError: a segment that touches no free face, two segments on one face, a part of the body that
            touches none.

    A plane wall 0.2 m thick, λ = 1, 20 °C inside and 0 °C outside, R = 0.13 + 0.2 + 0.04:

    >>> wall = [Region(0.0, 0.2, 0.0, 1.0, 1.0)]
    >>> air = [Boundary("in", 0, 0, 0, 1, 20.0, 0.13), Boundary("out", 0.2, 0, 0.2, 1, 0.0, 0.04)]
    >>> field = solve_junction(wall, air, 0.05)
    >>> round(field.surfaces[0].flow_w_m, 6), round(20 / 0.37, 6)
    (54.054054, 54.054054)
    """
    check_input(regions, boundaries)
    # Segment ends are grid lines too: otherwise a face could lie half on a segment.
    across = [v for b in boundaries for v in (b.x0, b.x1)]
    up = [v for b in boundaries for v in (b.y0, b.y1)]
    x = grid_lines(_within([v for r in regions for v in (r.x0, r.x1)], across), step_m, least)
    y = grid_lines(_within([v for r in regions for v in (r.y0, r.y1)], up), step_m, least)
    cells = (len(x) - 1) * (len(y) - 1)
    check_range("number of cells [-]", cells, 1, MOST_CELLS, "grid too fine: raise step_m")
    k = paint(regions, x, y)
    faces = free_faces(k, x, y, boundaries)
    temperature = solve_cells(k, x, y, faces, boundaries)
    return _field(k, x, y, temperature, faces, boundaries)


def temperature_at(field: JunctionField, x_m: float, y_m: float) -> float:
    """Temperature [°C] at a point of the body, its surface and its corners included.

    Every cell that touches the point is extended linearly to it. Their mean, weighted with conductivity
    because the better conductor has the flatter field, is returned.

    Raises:
        PhysicsError: the point touches no solid cell.
    """
    return _extended(field, field.x_m.tolist(), field.y_m.tolist(), x_m, y_m)


def _extended(field: JunctionField, x: Sequence[float], y: Sequence[float], x_m: float, y_m: float) -> float:
    """As :func:`temperature_at`, with the grid lines as plain numbers: one field is asked at thousands of points."""
    summed = weights = 0.0
    for j in _touching(y, y_m):
        for i in _touching(x, x_m):
            weight = float(field.conductivity[j, i])
            if weight > 0.0:
                across = x_m - 0.5 * (x[i] + x[i + 1])
                up = y_m - 0.5 * (y[j] + y[j + 1])
                value = (
                    field.temperature_c[j, i] + across * field.gradient_x[j, i] + up * field.gradient_y[j, i]
                )
                summed += weight * float(value)
                weights += weight
    if not weights:
        raise PhysicsError(f"point ({x_m:g}, {y_m:g}) m lies outside the solid part of the section")
    return summed / weights


def coupling(field: JunctionField, interior: Sequence[str], exterior: Sequence[str]) -> Coupling:
    """Thermal coupling coefficient and temperature factor between two environments.

    L2D = Φ_interior/(θ_i − θ_e), f_Rsi = (θ_si,min − θ_e)/(θ_i − θ_e) (ISO 10211, ISO 13788; M).

    Args:
        interior, exterior: names of the boundary segments of each environment. Together they must name every
            segment: with a third environment no single L2D exists.
    """
    by_name = {surface.name: surface for surface in field.surfaces}
    if set(interior) | set(exterior) != set(by_name) or set(interior) & set(exterior):
        raise PhysicsError(f"name each segment once, interior or exterior: {', '.join(sorted(by_name))}")
    inside = [by_name[name] for name in interior]
    outside = [by_name[name] for name in exterior]
    for group, what in ((inside, "interior"), (outside, "exterior")):
        if len({surface.temperature_c for surface in group}) != 1:
            raise PhysicsError(f"{what} segments need one common air temperature")
    ti, te = inside[0].temperature_c, outside[0].temperature_c
    if ti == te:
        raise OutOfRange("temperature difference [K]", 0.0, 1e-9, math.inf, "L2D needs a difference")
    flow = math.fsum(surface.flow_w_m for surface in inside)
    coldest = min(inside, key=lambda surface: surface.lowest_c)
    lowest = coldest.lowest_c
    factor = (lowest - te) / (ti - te)
    return Coupling(flow / (ti - te), ti, te, lowest, factor, coldest.name, coldest.lowest_at)


def psi_value(l2d: float, one_dimensional: Sequence[tuple[float, float]]) -> float:
    """Linear thermal transmittance ψ = L2D − Σ U_j·l_j [W/(m·K)].

    Args:
        l2d: thermal coupling coefficient [W/(m·K)].
        one_dimensional: thermal transmittance [W/(m²·K)] and length [m] of each flanking element.

    >>> round(psi_value(0.9, [(0.25, 2.0), (0.15, 1.0)]), 3)
    0.25
    """
    check_finite("L2D [W/(m·K)]", l2d)
    for u, length in one_dimensional:
        check_range("thermal transmittance [W/(m²·K)]", u, 0.0, math.inf, "definition")
        check_range("length of flanking element [m]", length, 0.0, math.inf, "definition")
    return l2d - math.fsum(u * length for u, length in one_dimensional)


def refine(value_at: Callable[[float], float], step_m: float, halvings: int = 2) -> Refinement:
    """Run a calculation at halved steps and extrapolate (Richardson).

    With f₁, f₂, f₃ at h, h/2, h/4: p = log2((f₁ − f₂)/(f₂ − f₃)), f₀ = f₃ + (f₃ − f₂)/(2^p − 1).
    ISO 10211 asks that doubling the subdivisions change the total heat flow by at most 1 % (M): compare
    `last_change`.

    >>> r = refine(lambda h: 3.0 + h**2, 0.4)
    >>> round(r.order, 6), round(r.extrapolated, 9)
    (2.0, 3.0)
    """
    check_range("number of halvings [-]", halvings, 2, 10, "Richardson extrapolation needs three values")
    steps = tuple(step_m / 2**i for i in range(halvings + 1))
    values = tuple(float(value_at(step)) for step in steps)
    first, second, third = values[-3:]
    change, last = first - second, second - third
    scale = max(abs(third), np.finfo(float).tiny)
    if last * change > 0.0 and abs(change) > abs(last):
        order = log2(change / last)
        return Refinement(steps, values, order, third - last / (2.0**order - 1.0), abs(last) / scale)
    return Refinement(steps, values, None, third, abs(last) / scale)


def _field(
    k: Array,
    x: Array,
    y: Array,
    temperature: Array,
    faces: Faces,
    boundaries: Sequence[Boundary],
) -> JunctionField:
    to_air, air = to_air_of(faces, boundaries)
    owner = temperature[faces.row, faces.column]
    flow = to_air * (air - owner)
    skin = owner + flow / faces.half
    gradient_x, gradient_y = gradients(k, x, y, temperature, faces, skin)
    bare = JunctionField(x, y, k, temperature, gradient_x, gradient_y, (), 0.0)
    surfaces = tuple(
        _surface(bare, faces, flow, skin, number, boundary) for number, boundary in enumerate(boundaries)
    )
    total = float(np.abs(flow).sum())
    balance = float(flow.sum()) / total if total > 0.0 else 0.0
    return JunctionField(x, y, k, temperature, gradient_x, gradient_y, surfaces, balance)


def _surface(
    field: JunctionField,
    faces: Faces,
    flow: Array,
    skin: Array,
    number: int,
    boundary: Boundary,
) -> Surface:
    x, y = field.x_m.tolist(), field.y_m.tolist()
    on = np.nonzero(faces.boundary == number)[0]
    points = [(float(faces.x[f]), float(faces.y[f]), float(skin[f])) for f in on]
    # The coldest point of a corner lies on its edge, which no face centre reaches.
    for f in on:
        reach = 0.5 * faces.length[f]
        for sign in (-reach, reach):
            px = float(faces.x[f] + (0.0 if faces.vertical[f] else sign))
            py = float(faces.y[f] + (sign if faces.vertical[f] else 0.0))
            points.append((px, py, _extended(field, x, y, px, py)))
    lowest = min(points, key=lambda point: point[2])
    return Surface(
        boundary.name,
        boundary.temperature_c,
        float(flow[on].sum()),
        float(faces.length[on].sum()),
        lowest[2],
        max(point[2] for point in points),
        lowest[:2],
    )


def _touching(lines: Sequence[float], place: float) -> range:
    """Indices of the intervals between ascending lines that contain or touch `place`."""
    last = len(lines) - 1
    return range(max(bisect_left(lines, place - SNAP) - 1, 0), min(bisect_right(lines, place + SNAP), last))


def _within(edges: list[float], extra: list[float]) -> list[float]:
    """The edges, and those of the extra lines that lie between the outermost edges."""
    low, high = min(edges), max(edges)
    return edges + [value for value in extra if low <= value <= high]
