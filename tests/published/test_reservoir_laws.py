"""The plaster reservoir against differential equations solved by scipy, and units by pint."""

from __future__ import annotations

import numpy as np
import pint
import pytest
from scipy.integrate import solve_ivp

from specgen.physics.reservoir import hourly_uptake, time_to_saturation, uptake
from tests.published.register import How, published

A, THICKNESS, FREE = 0.02, 0.022, 200.0


@published(
    "plaster reservoir",
    "square-root-of-time law of a sharp front",
    "scipy.integrate.solve_ivp",
    "dm/dt = A²/(2 m), the resistance of the wet part",
    "1e-5",
    How.PACKAGE,
)
@pytest.mark.parametrize("hours", [0.5, 2.0, 9.0])
def test_sharp_front(hours: float) -> None:
    start = A * np.sqrt(1.0)  # after one second: the rate is infinite at time zero
    run = solve_ivp(lambda _, m: A**2 / (2 * m), (1.0, hours * 3600), [start], rtol=1e-9, atol=1e-12)
    assert uptake(A, hours * 3600) == pytest.approx(run.y[0, -1], rel=1e-5)


@published(
    "plaster reservoir",
    "square-root-of-time law of a semi-infinite body",
    "scipy.integrate.solve_ivp",
    "linear diffusion on 400 cells; A = 2 w √(D/π)",
    "1 %",
    How.PACKAGE,
)
def test_semi_infinite_body() -> None:
    diffusivity, content, cells, depth = 1e-8, 200.0, 400, 0.06
    step = depth / cells

    def rate(_: float, w: np.ndarray) -> np.ndarray:
        edge = np.concatenate(([2 * content - w[0]], w, [w[-1]]))
        return diffusivity * np.diff(edge, 2) / step**2

    seconds = 6 * 3600.0
    run = solve_ivp(
        rate, (0.0, seconds), np.zeros(cells), method="LSODA", lband=1, uband=1, rtol=1e-6, atol=1e-6
    )
    absorption = 2 * content * np.sqrt(diffusivity / np.pi)
    assert uptake(absorption, seconds) == pytest.approx(run.y[:, -1].sum() * step, rel=0.01)


@published(
    "plaster reservoir",
    "time until the front reaches the back",
    "scipy.integrate.solve_ivp",
    "event m = d w of the sharp front",
    "1e-4",
    How.PACKAGE,
)
def test_time_to_saturation() -> None:
    def full(_: float, m: np.ndarray) -> float:
        return float(m[0] - THICKNESS * FREE)

    full.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(lambda _, m: A**2 / (2 * m), (1.0, 1e6), [A], events=full, rtol=1e-9, atol=1e-12)
    assert time_to_saturation(A, THICKNESS, FREE) == pytest.approx(run.t_events[0][0], rel=1e-4)


@published(
    "plaster reservoir",
    "hourly uptake under changing rain, with runoff",
    "scipy.integrate.solve_ivp",
    "dm/dt = min(rain, A²/(2 m)), hour by hour",
    "1e-4",
    How.PACKAGE,
)
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_hourly_uptake(seed: float) -> None:
    rain = np.random.default_rng(seed).gamma(0.8, 1.2, 24)
    found = hourly_uptake(rain, A, 0.1, FREE)
    content = 0.0
    for hour in range(24):
        run = solve_ivp(
            lambda _, m, r=rain[hour] / 3600: np.minimum(r, A**2 / (2 * np.maximum(m, 1e-12))),
            (0.0, 3600.0),
            [content],
            rtol=1e-9,
            atol=1e-10,
            max_step=30.0,
        )
        content = run.y[0, -1]
        assert found.stored[hour] == pytest.approx(content, rel=1e-4)


@published(
    "plaster reservoir",
    "uptake in an hour from a coefficient per root hour",
    "pint",
    "kg/(m²·√h) to kg/(m²·√s)",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize("per_root_hour", [0.5, 2.0, 3.0])
def test_units_of_the_coefficient(per_root_hour: float) -> None:
    unit = pint.UnitRegistry()
    per_root_second = (per_root_hour * unit("kg/m**2/hour**0.5")).to("kg/m**2/s**0.5").magnitude
    assert uptake(per_root_second, 3600.0) == pytest.approx(per_root_hour, rel=1e-9)
