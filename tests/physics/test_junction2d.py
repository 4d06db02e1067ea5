"""Two-dimensional conduction: limiting cases, balance, second methods."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.physics.errors import NotFinite, OutOfRange, PhysicsError
from specgen.physics.junction2d import (
    Boundary,
    Region,
    coupling,
    grid_lines,
    psi_value,
    refine,
    solve_junction,
    temperature_at,
)


def wall(layers, inside=20.0, outside=-5.0, height=1.0):
    regions, x = [], 0.0
    for thickness, k in layers:
        regions.append(Region(x, x + thickness, 0.0, height, k))
        x += thickness
    air = [
        Boundary("in", 0, 0, 0, height, inside, 0.13),
        Boundary("out", x, 0, x, height, outside, 0.04),
    ]
    return regions, air


LAYERS = st.lists(st.tuples(st.floats(0.003, 0.3), st.floats(0.02, 230.0)), min_size=1, max_size=4)


@settings(max_examples=40, deadline=None)
@given(LAYERS, st.floats(-30, 40), st.floats(-30, 40))
def test_plane_layers_equal_resistances_in_series(layers, inside, outside):
    regions, air = wall(layers, inside, outside)
    field = solve_junction(regions, air, 0.25)
    resistance = 0.17 + sum(d / k for d, k in layers)
    expected = (inside - outside) / resistance
    assert field.surfaces[0].flow_w_m == pytest.approx(expected, rel=1e-6, abs=1e-9)
    assert field.surfaces[1].flow_w_m == pytest.approx(-expected, rel=1e-6, abs=1e-9)
    assert field.surfaces[0].lowest_c == pytest.approx(inside - 0.13 * expected, abs=1e-6)


def corner(step, least=2):
    """Outside corner of a plain wall 0.3 m thick, 1 m legs inside, void inside the corner."""
    regions = [Region(0, 0.3, 0, 1.3, 0.5), Region(0, 1.3, 0, 0.3, 0.5)]
    air = [
        Boundary("in x", 0.3, 0.3, 1.3, 0.3, 20.0, 0.13),
        Boundary("in y", 0.3, 0.3, 0.3, 1.3, 20.0, 0.13),
        Boundary("out x", 0, 0, 1.3, 0, 0.0, 0.04),
        Boundary("out y", 0, 0, 0, 1.3, 0.0, 0.04),
    ]
    return solve_junction(regions, air, step, least)


def test_corner_balances_is_symmetric_and_coldest_in_the_corner():
    field = corner(0.02)
    flows = {s.name: s.flow_w_m for s in field.surfaces}
    assert abs(field.balance) < 1e-6
    assert flows["in x"] == pytest.approx(flows["in y"], rel=1e-9)
    assert field.surfaces[0].lowest_at == pytest.approx((0.3, 0.3))
    result = coupling(field, ["in x", "in y"], ["out x", "out y"])
    plane = 1.0 / (0.17 + 0.3 / 0.5)
    plane_surface = 20.0 - 20.0 * 0.13 * plane
    assert result.lowest_interior_surface_c < plane_surface - 1.0
    assert result.f_rsi == pytest.approx(result.lowest_interior_surface_c / 20.0)
    # With inside lengths an outside corner adds heat flow, with outside lengths it saves.
    assert psi_value(result.l2d, [(plane, 2.0)]) > 0.0
    assert psi_value(result.l2d, [(plane, 2.6)]) < 0.0


def test_corner_without_surface_resistance_has_the_textbook_shape_factor():
    """Two faces at fixed temperatures: a square corner adds 0.54 of the conductivity (Incropera, M)."""
    regions = [Region(0, 0.1, 0, 0.5, 1.0), Region(0, 0.5, 0, 0.1, 1.0)]
    air = [
        Boundary("ix", 0.1, 0.1, 0.5, 0.1, 1.0, 0.0),
        Boundary("iy", 0.1, 0.1, 0.1, 0.5, 1.0, 0.0),
        Boundary("ox", 0, 0, 0.5, 0, 0.0, 0.0),
        Boundary("oy", 0, 0, 0, 0.5, 0.0, 0.0),
    ]
    report = refine(
        lambda h: coupling(solve_junction(regions, air, h), ["ix", "iy"], ["ox", "oy"]).l2d, 0.01, 2
    )
    shape = psi_value(report.extrapolated, [(10.0, 0.4), (10.0, 0.4)])
    # The exact factor of the square corner is 0.559; handbooks print 0.54.
    assert shape == pytest.approx(0.559, abs=0.002)


def test_finer_grids_change_little_and_shrink():
    report = refine(lambda h: corner(h).surfaces[0].flow_w_m, 0.1)
    assert report.last_change < 0.01
    assert report.order is not None and report.order > 1.0
    assert report.extrapolated == pytest.approx(corner(0.01).surfaces[0].flow_w_m, rel=1e-3)


def test_refine_says_when_values_do_not_converge():
    report = refine(lambda h: 1.0 if h > 0.3 else 2.0, 0.4)
    assert report.order is None and report.extrapolated == 2.0


def test_dense_second_solution_agrees():
    """Same cells, a dense matrix written face by face instead of the sparse assembly."""
    regions = [Region(0, 0.2, 0, 0.3, 0.04), Region(0.05, 0.1, 0.0, 0.2, 2.0)]
    air = [
        Boundary("in", 0, 0, 0, 0.3, 20.0, 0.13),
        Boundary("out", 0.2, 0, 0.2, 0.3, 0.0, 0.04),
    ]
    field = solve_junction(regions, air, 0.025)
    x, y, k = field.x_m, field.y_m, field.conductivity
    ny, nx = k.shape
    a, b = np.zeros((ny * nx, ny * nx)), np.zeros(ny * nx)
    for j in range(ny):
        for i in range(nx):
            dx, dy = x[i + 1] - x[i], y[j + 1] - y[j]
            for dj, di in ((0, 1), (0, -1), (1, 0), (-1, 0)):
                depth, width = (dx, dy) if di else (dy, dx)
                jj, ii = j + dj, i + di
                me, half = j * nx + i, depth / 2 / k[j, i] / width
                if 0 <= jj < ny and 0 <= ii < nx:
                    other = (x[ii + 1] - x[ii]) if di else (y[jj + 1] - y[jj])
                    g = 1 / (half + other / 2 / k[jj, ii] / width)
                    a[me, me] += g
                    a[me, jj * nx + ii] -= g
                elif di:
                    rs, t = (0.13, 20.0) if di < 0 else (0.04, 0.0)
                    g = 1 / (half + rs / width)
                    a[me, me] += g
                    b[me] += g * t
    assert np.allclose(np.linalg.solve(a, b).reshape(k.shape), field.temperature_c, atol=1e-9)


def test_voids_hold_nan_and_points_in_them_are_refused():
    field = corner(0.05)
    assert np.array_equal(np.isnan(field.temperature_c), field.conductivity == 0.0)
    with pytest.raises(PhysicsError, match="outside the solid"):
        temperature_at(field, 1.0, 1.0)


def test_grid_lines_follow_every_break():
    lines = grid_lines([0.0, 0.0015, 0.5], 0.1, least=3)
    assert {0.0, 0.0015, 0.5} <= set(lines.tolist()) and np.diff(lines).max() <= 0.1 + 1e-12


BODY = [Region(0, 0.2, 0, 1, 1.0)]
IN, OUT = Boundary("in", 0, 0, 0, 1, 20.0, 0.13), Boundary("out", 0.2, 0, 0.2, 1, 0.0, 0.04)


@pytest.mark.parametrize(
    ("regions", "air", "error", "says"),
    [
        (BODY, [], PhysicsError, "at least one"),
        ([Region(0, 0.2, 0, 1, 0.0)], [IN], OutOfRange, "conductivity"),
        ([Region(0.2, 0.2, 0, 1, 1.0)], [IN], OutOfRange, "width"),
        (BODY, [Boundary("in", 0, 0, 0, 1, float("nan"), 0.1)], NotFinite, "temperature of in"),
        (BODY, [Boundary("in", 0, 0, 0, 1, 0.0, -0.1)], OutOfRange, "resistance of in"),
        (BODY, [Boundary("in", 0, 0, 0.1, 1, 0.0, 0.1)], PhysicsError, "horizontal or vertical"),
        (BODY, [IN, IN], PhysicsError, "share a name"),
        (BODY, [IN, Boundary("b", 0, 0.5, 0, 1, 0.0, 0.1)], PhysicsError, "overlaps in"),
        (BODY, [IN, Boundary("b", 0.1, 0, 0.1, 1, 0.0, 0.1)], PhysicsError, "touches no free face"),
        ([*BODY, Region(0.3, 0.4, 0, 1, 1.0)], [IN, OUT], PhysicsError, "unknown"),
    ],
)
def test_bad_input_is_named(regions, air, error, says):
    with pytest.raises(error, match=says):
        solve_junction(regions, air, 0.1)


def test_too_fine_a_grid_is_refused():
    with pytest.raises(OutOfRange, match="number of cells"):
        solve_junction(BODY, [IN, OUT], 1e-4)


def test_temperature_factor_of_a_plane_wall():
    """f_Rsi = 1 − U·R_si, whatever the temperatures."""
    regions, air = wall([(0.2, 0.5)], 21.0, -7.0)
    result = coupling(solve_junction(regions, air, 0.1), ["in"], ["out"])
    u = 1 / (0.17 + 0.4)
    assert result.f_rsi == pytest.approx(1 - 0.13 * u) and result.l2d == pytest.approx(u)
    assert (result.interior_c, result.exterior_c) == (21.0, -7.0)


def test_coupling_needs_two_environments():
    field = solve_junction(BODY, [IN, OUT], 0.1)
    with pytest.raises(PhysicsError, match="name each segment once"):
        coupling(field, ["in"], [])
    with pytest.raises(OutOfRange, match="temperature difference"):
        coupling(
            solve_junction(BODY, [IN, Boundary("out", 0.2, 0, 0.2, 1, 20.0, 0.04)], 0.1), ["in"], ["out"]
        )
