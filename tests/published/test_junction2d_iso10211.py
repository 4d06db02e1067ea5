"""ISO 10211 Annex A, the two validation cases for two-dimensional steady conduction.

Case 1: temperatures at 28 points. Obtained twice: the standard's table from memory, and the analytic series,
which gives the same figures. Tolerance of the standard: 0.1 K.

Case 2: nine temperatures and 9.5 W/m. Materials, geometry and temperatures from memory; surface resistances,
air temperatures and the concrete's conductivity also read in the documentation of an open finite element
library (feelpp, heat toolbox, case ISO 10211:2007), and 9.5 W/m ± 0.1 W/m in another public write-up of the
case. Tolerance: 0.1 K and 0.1 W/m.
"""

import numpy as np
import pytest

from specgen.physics.junction2d import Boundary, Region, coupling, refine, solve_junction, temperature_at
from tests.published.register import How, published

CASE_1 = np.array(
    [
        [9.7, 13.4, 14.7, 15.1],
        [5.3, 8.6, 10.3, 10.8],
        [3.2, 5.6, 7.0, 7.5],
        [2.0, 3.6, 4.7, 5.0],
        [1.3, 2.3, 3.0, 3.2],
        [0.7, 1.4, 1.8, 1.9],
        [0.3, 0.6, 0.8, 0.9],
    ]
)


def series(x, y, terms=600):
    """Unit square, 20 °C on the top edge, 0 °C on the others (Carslaw & Jaeger, series solution)."""
    n = np.arange(1, terms, 2)
    shape = np.exp(n * np.pi * (y - 1)) * (1 - np.exp(-2 * n * np.pi * y)) / (1 - np.exp(-2 * n * np.pi))
    return 20 * np.sum(4 / (np.pi * n) * np.sin(n * np.pi * x) * shape)


POINTS = [(row, column) for row in range(7) for column in range(4)]


def case_1():
    """Half of the column: the symmetry axis at x = 0.5 is adiabatic."""
    air = [
        Boundary("top", 0, 1, 0.5, 1, 20.0, 0.0),
        Boundary("left", 0, 0, 0, 1, 0.0, 0.0),
        Boundary("bottom", 0, 0, 0.5, 0, 0.0, 0.0),
    ]
    return solve_junction([Region(0, 0.5, 0, 1, 1.0)], air, 1 / 160)


FIELD_1 = case_1()


@published(
    "roof junction",
    "table of case 1 against the series",
    "ISO 10211 annex, case 1",
    "table from memory; series of Carslaw and Jaeger",
    "0.05 K",
    How.MEMORY,
)
@pytest.mark.parametrize(("row", "column"), POINTS)
def test_case_1_table_and_series_agree(row, column):
    assert series((column + 1) / 8, 1 - (row + 1) / 8) == pytest.approx(CASE_1[row, column], abs=0.0501)


@published(
    "roof junction",
    "temperatures of case 1",
    "ISO 10211 annex, case 1",
    "table from memory; series of Carslaw and Jaeger",
    "0.1 K",
    How.MEMORY,
)
@pytest.mark.parametrize(("row", "column"), POINTS)
def test_case_1_within_a_tenth_of_a_kelvin(row, column):
    x, y = (column + 1) / 8, 1 - (row + 1) / 8
    found = temperature_at(FIELD_1, x, y)
    assert found == pytest.approx(CASE_1[row, column], abs=0.1)
    assert found == pytest.approx(series(x, y), abs=0.01)


MM = 1e-3
CASE_2 = {
    (0, 0): 7.1,
    (500, 0): 0.8,
    (0, 6): 7.9,
    (15, 6): 6.3,
    (500, 6): 0.8,
    (0, 11): 16.4,
    (15, 11): 16.3,
    (0, 47.5): 16.8,
    (500, 47.5): 18.3,
}


def case_2(step):
    """y runs from the cold face down: concrete, insulation with a wood block and a profile, aluminium."""
    painted = [
        (0, 500, 0, 6, 1.15),
        (0, 500, 6, 46, 0.029),
        (0, 15, 6, 11, 0.12),
        (0, 15, 11, 12.5, 230.0),
        (0, 1.5, 12.5, 46, 230.0),
        (0, 500, 46, 47.5, 230.0),
    ]
    regions = [Region(a * MM, b * MM, c * MM, d * MM, k) for a, b, c, d, k in painted]
    air = [
        Boundary("cold", 0, 0, 500 * MM, 0, 0.0, 0.06),
        Boundary("warm", 0, 47.5 * MM, 500 * MM, 47.5 * MM, 20.0, 0.11),
    ]
    return solve_junction(regions, air, step, least=4)


FIELD_2 = case_2(1 * MM)


@published(
    "roof junction",
    "temperatures of case 2",
    "ISO 10211 annex, case 2",
    "geometry and temperatures from memory",
    "0.1 K",
    How.MEMORY,
)
@pytest.mark.parametrize(("point", "expected"), CASE_2.items())
def test_case_2_temperatures(point, expected):
    assert temperature_at(FIELD_2, point[0] * MM, point[1] * MM) == pytest.approx(expected, abs=0.1)


@published(
    "roof junction",
    "heat flow of case 2, 9.5 W/m",
    "ISO 10211 annex, case 2",
    "flow, tolerance, conductivities and surface resistances read second hand in public write-ups of the case",
    "0.1 W/m",
    How.READ,
    "2007",
)
def test_case_2_heat_flow_and_balance():
    warm = next(s for s in FIELD_2.surfaces if s.name == "warm")
    assert warm.flow_w_m == pytest.approx(9.5, abs=0.1)
    assert abs(FIELD_2.balance) < 1e-6
    assert coupling(FIELD_2, ["warm"], ["cold"]).l2d == pytest.approx(9.5 / 20, abs=0.005)


@published(
    "roof junction",
    "refinement of the grid in case 2",
    "ISO 10211, numerical methods",
    "1 % at half the step, from memory",
    "1 %",
    How.MEMORY,
)
def test_case_2_halving_the_step_changes_the_flow_by_less_than_one_percent():
    report = refine(lambda h: case_2(h).surfaces[1].flow_w_m, 4 * MM)
    assert report.last_change < 0.01
    assert report.extrapolated == pytest.approx(9.5, abs=0.1)
