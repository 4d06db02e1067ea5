"""Steady, monthly, hourly and two-dimensional calculations against solvers of scipy, `ht`, psychrolib and pint."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pint
import psychrolib
import pytest
from ht.conduction import R_value_to_k, k_to_thermal_resistivity
from scipy.integrate import solve_bvp
from scipy.linalg import solve_banded
from scipy.optimize import brentq, lsq_linear
from scipy.sparse import diags, eye, kron
from scipy.sparse.linalg import spsolve
from scipy.stats import qmc

from specgen.design import coping_movement, uncertainty, vapor_drive
from specgen.physics import sol_air, steady
from specgen.physics.hygro_hourly import inward_drive
from specgen.physics.junction2d import Boundary, Region, coupling, solve_junction, temperature_at
from specgen.physics.moist_air import saturation_pressure
from specgen.physics.monthly import monthly_balance
from specgen.physics.steady import Layers, Side, steady_state
from specgen.practice.load import load_practice
from specgen.units.quantity import parse
from tests.design.moisture import step
from tests.design.projects import FULL, calculation, changed_project, number
from tests.published.register import How, published

UNIT = pint.UnitRegistry()
UNIT.define("inch_of_mercury = 3386.389 * pascal = inHg")


@pytest.fixture(autouse=True)
def _si() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


def random_wall(seed: int, count: int) -> Layers:
    rng = np.random.default_rng(seed)
    thermal, vapor = rng.uniform(0.02, 2.0, count), 10 ** rng.uniform(8, 11, count)
    return Layers(tuple(f"layer {i}" for i in range(count)), tuple(thermal.tolist()), tuple(vapor.tolist()))


# --- steady -------------------------------------------------------------------------------------------------


@published(
    "vapor drive",
    "temperatures of random walls",
    "scipy.linalg.solve_banded",
    "one balance a plane, a tridiagonal system",
    "1e-9 K",
    How.PACKAGE,
)
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_temperatures_as_a_linear_system(seed: int) -> None:
    wall = random_wall(seed, 7)
    state = steady_state(wall, Side(48.0, 1500.0, 0.06), Side(21.0, 1300.0, 0.11))
    g = 1 / np.array([0.06, *wall.thermal, 0.11])
    bands = np.zeros((3, 8))
    bands[1] = g[:-1] + g[1:]
    bands[0, 1:] = bands[2, :-1] = -g[1:-1]
    load = np.zeros(8)
    load[0], load[-1] = g[0] * 48.0, g[-1] * 21.0
    assert state.temp_c == pytest.approx(solve_banded((1, 1), bands, load), abs=1e-9)


@published(
    "vapor drive",
    "vapor pressures of random dry walls",
    "scipy.linalg.solve_banded",
    "one balance a plane, a tridiagonal system",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize("seed", [4, 5])
def test_vapor_pressures_as_a_linear_system(seed: int) -> None:
    wall = random_wall(seed, 6)
    state = steady_state(wall, Side(30.0, 900.0, 0.06), Side(25.0, 500.0, 0.11))
    g = 1e9 / np.array(wall.vapor)
    bands = np.zeros((3, 5))
    bands[1] = g[:-1] + g[1:]
    bands[0, 1:] = bands[2, :-1] = -g[1:-1]
    load = np.zeros(5)
    load[0], load[-1] = g[0] * 900.0, g[-1] * 500.0
    assert state.vapor_pa[1:-1] == pytest.approx(solve_banded((1, 1), bands, load), rel=1e-9)


@published(
    "vapor drive",
    "thermal resistance of a layer",
    "ht, k_to_thermal_resistivity and R_value_to_k",
    "thickness over conductivity",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize("conductivity", [0.03, 0.16, 1.7])
def test_thermal_resistance(conductivity: float) -> None:
    assert steady.thermal_resistance(0.04, conductivity) == pytest.approx(
        0.04 * k_to_thermal_resistivity(conductivity), rel=1e-9
    )
    # An inch of it has an R-value of which ht makes the conductivity again.
    r_value = steady.thermal_resistance(0.0254, conductivity) / 0.1761101838
    assert R_value_to_k(r_value, SI=False) == pytest.approx(conductivity, rel=1e-6)


@published(
    "vapor drive",
    "vapor resistance of a permeance in perms",
    "pint",
    "grain per hour, square foot and inch of mercury",
    "1e-5",
    How.PACKAGE,
)
@pytest.mark.parametrize("perms", [0.05, 1.0, 12.0])
def test_perm(perms: float) -> None:
    """The perm as a file writes it; mercury at 0 °C here, at 32 °F there."""
    permeance = (perms * UNIT("grain/hour/foot**2/inHg")).to("kg/s/m**2/Pa").magnitude
    ours = steady.resistance_from_permeance(parse(f"{perms} perm").value)
    assert ours == pytest.approx(1.0 / permeance, rel=1e-5)


@published(
    "inward drive",
    "surface coefficient of 3.0 Btu/(h·ft²·°F) in summer",
    "ASHRAE Handbook of Fundamentals, sol-air temperature",
    "read second hand in an open encyclopedia; units by pint",
    "1e-6",
    How.READ,
)
def test_surface_coefficient_as_quoted() -> None:
    expected = (3.0 * UNIT("Btu_it/hour/foot**2/delta_degF")).to("W/m**2/delta_degC").magnitude
    assert load_practice().quantity("vapor.film_coefficient").value == pytest.approx(expected, rel=1e-6)


@published(
    "vapor drive",
    "vapor pressures at plaster and membrane in the calculation",
    "psychrolib, GetSatVapPres",
    "ASHRAE equations at its temperatures",
    "0.6 %",
    How.PACKAGE,
)
def test_pressures_of_the_calculation(tmp_path: Path) -> None:
    calc = calculation(vapor_drive, tmp_path)
    for temperature, pressure in (("Tp", "pp"), ("Tm", "pm")):
        temp_c = (
            step(calc, "Tp", "degC") if temperature == "Tp" else number(calc, "membrane_temperature", "degC")
        )
        assert step(calc, pressure, "Pa") == pytest.approx(psychrolib.GetSatVapPres(temp_c), rel=0.006)


@published(
    "inward drive",
    "temperature of a sunlit face that sends nothing inward",
    "scipy.optimize.brentq",
    "root of sun against convection",
    "1e-8 K",
    How.PACKAGE,
)
def test_sol_air_as_a_heat_balance() -> None:
    root = brentq(lambda t: 0.7 * 650.0 - 17.0 * (t - 32.0), 0.0, 120.0, xtol=1e-11)
    assert sol_air.sol_air(32.0, 0.7, 650.0, 17.0) == pytest.approx(root, abs=1e-8)


# --- monthly ------------------------------------------------------------------------------------------------

DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
OUTDOOR = [(-6, 0.85), (-4, 0.82), (1, 0.78), (8, 0.72), (14, 0.7), (18, 0.7)]
OUTDOOR += [(20, 0.72), (19, 0.75), (14, 0.78), (8, 0.8), (2, 0.84), (-4, 0.86)]
WALLS = {
    "one plane": [(0.08, 1e9), (3.0, 5e8), (0.1, 4e10), (0.05, 5e9)],
    "two planes": [(0.1, 5e8), (1.5, 1e9), (0.01, 3e10), (1.0, 2e8), (0.05, 2e11)],
    "dry": [(0.1, 5e11), (3.0, 5e8), (0.1, 1e9)],
}


def obstacle_month(z: np.ndarray, upper: np.ndarray, held: set[int]) -> np.ndarray:
    """Gain of each plane in one month: least energy below saturation, held planes at saturation (lsq_linear)."""
    fixed = sorted({0, len(z) - 1} | held)
    step_z = np.diff(z)
    matrix = (np.eye(len(z))[1:] - np.eye(len(z))[:-1]) / np.sqrt(step_z / step_z.min())[:, None]
    free = [k for k in range(len(z)) if k not in fixed]
    pressures = upper.copy()
    if free:
        found = lsq_linear(
            matrix[:, free],
            -matrix[:, fixed] @ upper[fixed],
            bounds=(-np.inf, upper[free]),
            method="bvls",
            tol=1e-14,
        )
        pressures[free] = found.x
    flow = -np.diff(pressures) / step_z
    gain = np.zeros(len(z))
    gain[1:-1] = flow[:-1] - flow[1:]
    return gain


def second_year(pairs, inside, outside, saturation) -> tuple[float, float]:
    """Peak and residual of the balance of ISO 13788, written again."""
    r = np.concatenate(([0.0], np.cumsum([a for a, _ in pairs])))
    z = np.concatenate(([0.0], np.cumsum([b for _, b in pairs])))
    uppers = []
    for one, two in zip(inside, outside, strict=True):
        share = (one.film + r) / (one.film + r[-1] + two.film)
        upper = np.array([saturation(t) for t in one.temp_c + (two.temp_c - one.temp_c) * share])
        upper[0], upper[-1] = min(upper[0], one.vapor_pa), min(upper[-1], two.vapor_pa)
        uppers.append(upper)
    scale = 1e-6 * max(float(upper.max()) for upper in uppers) / z[-1]  # below it is rounding
    wet = [bool((obstacle_month(z, upper, set()) > scale).any()) for upper in uppers]
    if not any(wet):
        return 0.0, 0.0
    start = next((m for m in range(12) if wet[m] and not wet[m - 1]), 0)
    water, peak = np.zeros(len(z)), 0.0
    for month in [(start + k) % 12 for k in range(12)]:
        gain = obstacle_month(z, uppers[month], set(np.flatnonzero(water > 0.0).tolist()))
        gain[np.abs(gain) < scale] = 0.0
        water = np.maximum(water + gain * DAYS[month] * 86_400, 0.0)
        peak = max(peak, float(water.sum()))
    return peak, float(water.sum())


def year_of(saturation) -> tuple[list[Side], list[Side]]:
    inside = [Side(20.0, 0.55 * float(saturation(20.0)), 0.13)] * 12
    return inside, [Side(float(t), rh * float(saturation(float(t))), 0.04) for t, rh in OUTDOOR]


@published(
    "monthly balance",
    "peak and residual of a year",
    "scipy.optimize.lsq_linear",
    "method of ISO 13788 clause 6 written again on bounded least squares",
    "1e-5",
    How.PACKAGE,
)
@pytest.mark.parametrize("name", list(WALLS))
def test_year_against_a_second_balance(name: str) -> None:
    pairs = WALLS[name]
    layers = Layers(tuple("abcde"[: len(pairs)]), tuple(a for a, _ in pairs), tuple(b for _, b in pairs))
    inside, outside = year_of(saturation_pressure)
    found = monthly_balance(layers, inside, outside)
    peak, residual = second_year(pairs, inside, outside, saturation_pressure)
    assert (found.peak, found.residual) == pytest.approx((peak, residual), rel=1e-5, abs=1e-7)
    assert (found.peak > 0.0) is (name != "dry")


@published(
    "monthly balance",
    "peak of a year with another saturation curve",
    "psychrolib, GetSatVapPres, and scipy.optimize.lsq_linear",
    "second balance on the ASHRAE equations",
    "3 %",
    How.PACKAGE,
)
def test_year_with_saturation_of_psychrolib() -> None:
    pairs = WALLS["one plane"]
    layers = Layers(tuple("abcd"), tuple(a for a, _ in pairs), tuple(b for _, b in pairs))
    found = monthly_balance(layers, *year_of(saturation_pressure))
    peak, _ = second_year(pairs, *year_of(psychrolib.GetSatVapPres), psychrolib.GetSatVapPres)
    assert found.peak == pytest.approx(peak, rel=0.03)


# --- hourly -------------------------------------------------------------------------------------------------


@published(
    "inward drive",
    "vapor pressure of the gap and the condensate, hour by hour",
    "psychrolib, GetSatVapPres, and scipy.optimize.brentq",
    "gap balance as a root; saturation by the ASHRAE equations",
    "1 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("layer", [5e8, 3e10])
def test_hours_with_saturation_of_psychrolib(layer: float) -> None:
    hours = np.arange(24)
    plaster, membrane = 28 + 24 * np.sin(np.pi * hours / 24) ** 2, 24 + 3 * np.sin(np.pi * hours / 24)
    found = inward_drive(plaster, 1.0, membrane, 1500.0, layer, 2e-10, 2e9)
    water, greatest = 0.0, 0.0
    for p, m in zip(plaster, membrane, strict=True):
        source, back = psychrolib.GetSatVapPres(p), psychrolib.GetSatVapPres(m)

        def surplus(x: float, source: float = source, back: float = back) -> float:
            return (source - x) / layer + 2e-10 * (1500.0 - x) - (x - back) / 2e9

        pressure = brentq(surplus, 1.0, 3e4, xtol=1e-9)
        water = max(0.0, water + (pressure - back) / 2e9 * 3600)
        greatest = max(greatest, water)
    assert found.condensate.max() == pytest.approx(greatest, rel=0.01, abs=1e-6)


@published(
    "inward drive",
    "gap between plaster, outdoor air and membrane as a network",
    "scipy.sparse.linalg.spsolve",
    "all hours in one sparse system",
    "1e-9",
    How.PACKAGE,
)
def test_gap_pressures_as_one_sparse_system() -> None:
    rng = np.random.default_rng(8)
    plaster, membrane, k = rng.uniform(30, 60, 50), rng.uniform(10, 28, 50), rng.uniform(0, 1e-9, 50)
    found = inward_drive(plaster, 0.95, membrane, 1100.0, 4e9, k, 3e9, 10.0)  # always wet
    source, back = 0.95 * np.asarray(saturation_pressure(plaster)), np.asarray(saturation_pressure(membrane))
    scale = 1e9
    matrix = diags(scale * (1 / 4e9 + k + 1 / 3e9), format="csc")
    reference = spsolve(matrix, scale * (source / 4e9 + k * 1100.0 + back / 3e9))
    assert found.gap_pa == pytest.approx(reference, rel=1e-9)


# --- two dimensions -----------------------------------------------------------------------------------------


@published(
    "roof junction",
    "28 temperatures of the square of ISO 10211 case 1",
    "scipy.sparse.linalg.spsolve",
    "five-point formula on nodes, where ours balances cells",
    "0.02 K",
    How.PACKAGE,
)
def test_square_by_the_five_point_formula() -> None:
    n = 160
    line = diags([1.0, -2.0, 1.0], [-1, 0, 1], shape=(n - 1, n - 1))
    unit = eye(n - 1)
    load = np.zeros((n - 1, n - 1))
    load[-1] = -20.0  # top row
    nodes = spsolve((kron(unit, line) + kron(line, unit)).tocsc(), load.ravel()).reshape(n - 1, n - 1)
    air = [
        Boundary("top", 0, 1, 0.5, 1, 20.0, 0.0),
        Boundary("left", 0, 0, 0, 1, 0.0, 0.0),
        Boundary("bottom", 0, 0, 0.5, 0, 0.0, 0.0),
    ]
    field = solve_junction([Region(0, 0.5, 0, 1, 1.0)], air, 1 / 120)
    for row in range(1, 8):
        for column in range(1, 5):
            reference = nodes[n - 1 - row * n // 8, column * n // 8 - 1]
            assert temperature_at(field, column / 8, 1 - row / 8) == pytest.approx(reference, abs=0.02)


@published(
    "roof junction",
    "fin through the insulation: heat flow",
    "scipy.integrate.solve_bvp",
    "fin equation k t T'' = h (T - Ta)",
    "2 %",
    How.PACKAGE,
)
def test_fin() -> None:
    """A thin plate, warm at its root, cooled on both faces; the section is conducted in two dimensions here."""
    k, thick, length, film = 50.0, 0.004, 0.2, 0.1
    field = solve_junction(
        [Region(0, length, 0, thick, k)],
        [
            Boundary("root", 0, 0, 0, thick, 20.0, 0.0),
            Boundary("below", 0, 0, length, 0, 0.0, film),
            Boundary("above", 0, thick, length, thick, 0.0, film),
        ],
        0.001,
    )
    fin = solve_bvp(
        lambda x, t: np.vstack((t[1], 2 / film * t[0] / (k * thick))),
        lambda a, b: np.array([a[0] - 20.0, b[1]]),
        np.linspace(0, length, 50),
        np.zeros((2, 50)),
    )
    assert field.surfaces[0].flow_w_m == pytest.approx(-k * thick * fin.y[1, 0], rel=0.02)


@published(
    "roof junction",
    "coupling of a plane layered wall",
    "ht, k_to_thermal_resistivity",
    "sum of resistances",
    "1e-9",
    How.PACKAGE,
)
def test_plane_wall() -> None:
    slabs = [(0.02, 0.72), (0.1, 0.034), (0.15, 1.9)]
    regions, x = [], 0.0
    for thick, k in slabs:
        regions.append(Region(x, x + thick, 0, 0.5, k))
        x += thick
    air = [Boundary("in", 0, 0, 0, 0.5, 20.0, 0.13), Boundary("out", x, 0, x, 0.5, -5.0, 0.04)]
    total = 0.13 + 0.04 + sum(thick * k_to_thermal_resistivity(k) for thick, k in slabs)
    found = coupling(solve_junction(regions, air, 0.02), ["in"], ["out"])
    assert found.l2d == pytest.approx(0.5 / total, rel=1e-9)


# --- uncertainty --------------------------------------------------------------------------------------------


@published(
    "uncertainty",
    "5th and 95th hundredth of the coping movement",
    "scipy.stats.qmc, Sobol sequence",
    "α L ΔT over the same ranges, 8,192 points",
    "3 %",
    How.PACKAGE,
)
def test_spread_against_sobol_points(tmp_path: Path) -> None:
    project, practice = changed_project(tmp_path, file=FULL), load_practice()
    (parapet,) = project.parapets
    (one,) = (head for head in uncertainty.HEADLINES if head.subject == "coping movement")
    doubts = uncertainty.doubts(one, project, parapet, practice)
    points = qmc.Sobol(len(doubts), seed=1).random(8192)
    low = np.array([doubt.low for doubt in doubts])
    values = low + points * (np.array([doubt.high for doubt in doubts]) - low)
    base = number(coping_movement.calculate(project, parapet, practice), "movement", "m")
    # The movement is a product of its inputs and a sum over temperatures, so linear in each: its corners give all.
    centre = low + 0.5 * (np.array([doubt.high for doubt in doubts]) - low)
    changes = np.zeros(8192)
    for k, doubt in enumerate(doubts):
        ends = [
            number(coping_movement.calculate(tried, tried.parapets[0], table), "movement", "m")
            for tried, table in (
                uncertainty._varied(project, practice, doubt, value) for value in (doubt.low, doubt.high)
            )
        ]
        slope = (ends[1] - ends[0]) / (doubt.high - doubt.low)
        at_base = (base - ends[0]) / slope + doubt.low if slope else centre[k]
        changes += slope * (values[:, k] - at_base)
    reference = np.quantile(base + changes, (uncertainty.LOW_SHARE, uncertainty.HIGH_SHARE))
    assert uncertainty.spread(one, project, parapet, practice, 256) == pytest.approx(
        tuple(reference), rel=0.03
    )
