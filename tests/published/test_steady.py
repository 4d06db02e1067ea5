"""Steady flow against closed forms and against a reference optimiser."""

from __future__ import annotations

import math

import numpy as np
import psychrolib
import pytest
from scipy.optimize import brentq, lsq_linear

from specgen.physics.steady import Layers, Side, steady_state, subdivide
from tests.published.register import How, published

psychrolib.SetUnitSystem(psychrolib.SI)


def rules_of_energy(upper: np.ndarray, z: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Vapor pressures of least energy Σ Δp²/ΔZ under their bounds, and what each plane then gains.

    The steady state of diffusion with condensation is an obstacle problem; scipy solves it as bounded least
    squares and knows nothing of hulls or tangents.
    """
    step = np.diff(z)
    weight = 1.0 / np.sqrt(step / step.min())
    matrix = weight[:, None] * (np.eye(len(z))[1:] - np.eye(len(z))[:-1])
    target = -matrix[:, [0, -1]] @ upper[[0, -1]]
    inner = lsq_linear(matrix[:, 1:-1], target, bounds=(-np.inf, upper[1:-1]), method="bvls", tol=1e-14)
    pressures = np.concatenate(([upper[0]], inner.x, [upper[-1]]))
    flows = -np.diff(pressures) / step
    return pressures, flows[:-1] - flows[1:]


# thermal resistance, vapor resistance of each layer; first side; second side (°C, Pa)
CASES = [
    ("winter wall", [(0.1, 1e9), (3.0, 1e9), (0.1, 2e10), (0.05, 5e9)], (20.0, 1200.0), (-10.0, 200.0)),
    ("two planes", [(1.0, 1e8), (0.01, 2e10), (1.0, 1e8), (0.01, 5e11)], (22.0, 1500.0), (-20.0, 60.0)),
    (
        "sun on wet plaster",
        [(0.03, 4e8), (0.02, 1e8), (0.1, 2e10), (2.0, 1e9), (0.1, 3e11)],
        (55.0, 9000.0),
        (28.0, 2400.0),
    ),
    ("dry", [(0.1, 1e9), (3.0, 1e9), (0.1, 1e9)], (20.0, 900.0), (10.0, 700.0)),
    ("reversed drive", [(0.1, 5e11), (3.0, 1e9), (0.1, 1e9)], (22.0, 1300.0), (35.0, 4000.0)),
]


@published(
    "vapor drive",
    "vapor pressures and condensation as an obstacle problem",
    "scipy.optimize.lsq_linear",
    "bounded least squares, knows no tangents",
    "1e-6",
    How.PACKAGE,
)
@pytest.mark.parametrize(("name", "pairs", "one", "two"), CASES)
@pytest.mark.parametrize("fraction", [1.0, 0.1])
def test_condensation_against_bounded_least_squares(
    name: str,
    pairs: list[tuple[float, float]],
    one: tuple[float, float],
    two: tuple[float, float],
    fraction: float,
) -> None:
    """Second method, reference library scipy.optimize.lsq_linear; 1e-6 of the flow."""
    layers = Layers(tuple("abcdefg"[: len(pairs)]), tuple(r for r, _ in pairs), tuple(z for _, z in pairs))
    layers = subdivide(layers, fraction)
    state = steady_state(layers, Side(*one, 0.13), Side(*two, 0.04))
    upper = np.array(state.saturation_pa)
    upper[0], upper[-1] = min(upper[0], one[1]), min(upper[-1], two[1])
    pressures, gains = rules_of_energy(upper, np.concatenate(([0.0], np.cumsum(layers.vapor))))
    assert state.vapor_pa == pytest.approx(pressures, rel=1e-6), name
    mine = np.zeros(len(upper))
    for plane in state.planes:
        mine[plane.number] = plane.rate
    scale = abs(state.vapor_in) + abs(state.vapor_out)
    assert mine[1:-1] == pytest.approx(gains, abs=1e-6 * scale), name


def test_each_case_is_what_it_says() -> None:
    counts = {}
    for name, pairs, one, two in CASES:
        layers = Layers(
            tuple("abcdefg"[: len(pairs)]), tuple(r for r, _ in pairs), tuple(z for _, z in pairs)
        )
        counts[name] = len(steady_state(layers, Side(*one, 0.13), Side(*two, 0.04)).planes)
    assert counts["dry"] == 0
    assert counts["two planes"] == 2
    assert min(counts["winter wall"], counts["sun on wet plaster"], counts["reversed drive"]) == 1


@published(
    "vapor drive",
    "flows into and out of a thick condensing layer",
    "psychrolib, GetSatVapPres, and scipy.optimize.brentq",
    "tangent to the saturation curve",
    "1 %",
    How.PACKAGE,
)
def test_thick_layer_against_the_tangent_to_the_saturation_curve() -> None:
    """Closed form: in one uniform layer the vapor line from each side leaves along the tangent that touches the
    saturation curve; the touching temperature solves one equation. Saturation here from psychrolib (ASHRAE), so
    the whole chain has a second source; 200 slices; 1 %."""
    warm, p_warm, cold, p_cold = 20.0, 2250.0, 5.0, 850.0

    def slope(t: float) -> float:
        return float(psychrolib.GetSatVapPres(t + 5e-4) - psychrolib.GetSatVapPres(t - 5e-4)) / 1e-3

    def touch(t_air: float, p_air: float) -> float:
        def off(t: float) -> float:
            return p_air - float(psychrolib.GetSatVapPres(t)) - slope(t) * (t_air - t)

        return float(brentq(off, *sorted((t_air, 0.5 * (warm + cold)))))

    z = 1e10
    wall = subdivide(Layers(("wool",), (4.0,), (z,)), 1 / 200)
    state = steady_state(wall, Side(warm, p_warm, 1e-9), Side(cold, p_cold, 1e-9))
    gradient = (warm - cold) / z
    assert state.vapor_in == pytest.approx(slope(touch(warm, p_warm)) * gradient, rel=0.01)
    assert state.vapor_out == pytest.approx(slope(touch(cold, p_cold)) * gradient, rel=0.01)
    assert state.condensing == pytest.approx(state.vapor_in - state.vapor_out, rel=1e-9)


@published(
    "vapor drive",
    "heat through a composite slab",
    "Carslaw and Jaeger, Conduction of Heat in Solids",
    "from memory, by hand",
    "1e-12",
    How.MEMORY,
)
def test_composite_slab() -> None:
    """Carslaw and Jaeger, Conduction of Heat in Solids, steady flow through a composite wall: the flux is the
    temperature difference over the sum of thickness over conductivity. Formula from memory; by hand."""
    thickness, conductivity = (0.022, 0.1, 0.19), (0.8, 0.035, 1.1)
    r = tuple(d / k for d, k in zip(thickness, conductivity, strict=True))
    state = steady_state(
        Layers(("a", "b", "c"), r, (1e9, 1e9, 1e9)), Side(40.0, 500.0, 0.0), Side(10.0, 500.0, 0.0)
    )
    assert state.heat_flux == pytest.approx(30.0 / math.fsum(r), rel=1e-12)
    assert state.temp_c[1] == pytest.approx(40.0 - 30.0 * r[0] / math.fsum(r), rel=1e-12)
