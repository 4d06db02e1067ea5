"""What the hourly scheme of heat and moisture is held against, each with how far off it may be and how far off it is.

Tests assert each, and ``docs/heat-and-moisture-checks.md`` prints them all from here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import numpy as np

from specgen.physics.heat_moisture.grid import Layer, grid
from specgen.physics.heat_moisture.porous import suction
from specgen.physics.heat_moisture.simulate import simulate
from tests.published import heat_moisture_closed as closed
from tests.published import heat_moisture_elements as elements
from tests.published import heat_moisture_reference as reference
from tests.published.heat_moisture_reference import ANNEX, Air, Array, Matter
from tests.published.heat_moisture_walls import HELD, of_water, still, tabulated
from tests.published.register import How


@dataclass(frozen=True)
class Case:
    """One comparison: measure() is how far off the scheme is, in ``unit``; more than ``limit`` is a fault."""

    name: str
    what: str
    source: str
    place: str
    how: How
    limit: float
    unit: str
    measure: Callable[[], float]

    @property
    def tolerance(self) -> str:
        return f"{self.limit:g} {self.unit}"


# ── the annex of EN 15026 ────────────────────────────────────────────────────────────────────────────────────────────

DAYS = (7, 30, 365)
NEAR = np.array([0.01, 0.02, 0.03, 0.04, 0.05, 0.06, 0.08, 0.10])
FAR = np.array([0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0])


@cache
def similar() -> Callable[[Array | float, float], tuple[Array, Array]]:
    return reference.similar()


@cache
def annex(days: int) -> tuple[Array, Array]:
    """Temperature [°C] at `FAR` and water [kg/m³] at `NEAR` after so many days by the scheme, of 40 m of solid."""
    solid = tabulated("solid", ANNEX, -1.0)
    parts = [Layer("face", solid, 0.2), *(Layer(f"deep {number}", solid, 5.0) for number in range(8))]
    wall = grid(parts, finer=2.0)
    hours = 24 * days
    run = simulate(
        wall, still(hours, 30.0, 0.95), still(hours, 20.0, 0.5, 0.0, 0.0), start_c=20.0, start_humidity=0.5
    )
    temps, potentials = run.end
    water = of_water(ANNEX, potentials)
    return np.interp(FAR, wall.depth, temps) - reference.ZERO, np.interp(NEAR, wall.depth, water)


def _annex_temperature() -> float:
    return max(
        float(np.abs(annex(days)[0] - similar()(FAR, 86400.0 * days)[0] + reference.ZERO).max())
        for days in DAYS
    )


def _annex_water() -> float:
    off = 0.0
    for days in DAYS:
        water = ANNEX.water(np.exp(similar()(NEAR, 86400.0 * days)[1]))
        off = max(off, float(np.abs(annex(days)[1] / water - 1.0).max()))
    return 100.0 * off


def _annex_scaling() -> float:
    """Water after 4 t at twice the depth is that after t: both by the scheme."""
    solid = tabulated("solid", ANNEX, -1.0)
    wall = grid(
        [Layer("face", solid, 0.3), Layer("deep 1", solid, 5.0), Layer("deep 2", solid, 5.0)], finer=3.0
    )
    ends = []
    for hours in (240, 960):
        run = simulate(
            wall,
            still(hours, 30.0, 0.95),
            still(hours, 20.0, 0.5, 0.0, 0.0),
            start_c=20.0,
            start_humidity=0.5,
        )
        ends.append(of_water(ANNEX, run.end[1]))
    at = np.linspace(0.004, 0.06, 15)
    once, twice = np.interp(at, wall.depth, ends[0]), np.interp(2.0 * at, wall.depth, ends[1])
    return 100.0 * float(np.abs(twice / once - 1.0).max())


_SIMILAR = (
    "problem of the annex of EN 15026:2007, conditions and retention read in the manual of Feel++, a public "
    "finite-element library; reduced to x/√t"
)
_BVP = "scipy.integrate.solve_bvp"

ANNEX_TEMPERATURE = Case(
    "annex_temperature", "half space from 20 °C, 50 % to 30 °C, 95 % RH: temperature at 0.5 to 5 m after 7, 30, 365 days",
    _BVP, _SIMILAR, How.PACKAGE, 0.05, "K", _annex_temperature,
)  # fmt: skip
ANNEX_WATER = Case(
    "annex_water", "the same: water at 0.01 to 0.10 m after 7, 30, 365 days (the annex allows 2.5 %)",
    _BVP, _SIMILAR, How.PACKAGE, 1.0, "%", _annex_water,
)  # fmt: skip
ANNEX_SCALING = Case(
    "annex_scaling", "the same: profiles of 10 and 40 days fall on one curve over x/√t", "similarity of the half space",
    "w(2x, 4t) = w(x, t)", How.CLOSED_FORM, 1.0, "%", _annex_scaling,
)  # fmt: skip

# ── the analytical case of the coupled benchmarks ────────────────────────────────────────────────────────────────────

LAYER = 0.2
DIFFUSIVITY = 6e-10


def _isotherm(s: Array) -> Array:
    over = s / (reference.WATER * reference.VAPOR_GAS * 293.15)
    return np.asarray(116.0 / (1.0 + over / 0.118) ** 0.869)


def _isotherm_liquid(s: Array) -> Array:
    over = 1.0 / (reference.WATER * reference.VAPOR_GAS * 293.15 * 0.118)
    return np.asarray(DIFFUSIVITY * 116.0 * 0.869 * over / (1.0 + s * over) ** 1.869)


DRYING = Matter(
    525.0 * 800.0,
    _isotherm,
    _isotherm_liquid,
    lambda s, kelvin: np.full(np.shape(s), 1e-15),
    lambda w: 0.15 + 0.0 * w,
)
"""Layer of the second benchmark: w = 116/(1 − ln φ/0.118)^0.869, D 6e-10 m²/s, δ 1e-15 s, λ 0.15, 525 kg/m³."""


@cache
def drying(hours: int) -> tuple[Array, Array]:
    """Depth and water of the layer after so many hours, from 95 % RH between 45 % and 65 % RH, faces held at 20 °C."""
    wall = grid([Layer("layer", tabulated("layer", DRYING), LAYER)], finer=3.0)
    run = simulate(
        wall,
        still(hours, 20.0, 0.45),
        still(hours, 20.0, 0.65),
        start_c=20.0,
        start_humidity=0.95,
    )
    return wall.depth, of_water(DRYING, run.end[1])


def _drying() -> float:
    start, left, right = (float(_isotherm(reference.suction(phi, 293.15))) for phi in (0.95, 0.45, 0.65))
    off = 0.0
    for hours in (100, 300, 1000):
        depth, water = drying(hours)
        exact = closed.drying_layer(depth, 3600.0 * hours, LAYER, DIFFUSIVITY, start, left, right)
        off = max(off, float(np.abs(water - exact).max()))
    return off


DRYING_LAYER = Case(
    "drying_layer", "second coupled benchmark: water in a layer that dries at 20 °C after 100, 300, 1000 hours",
    "Fourier series of the layer", "data of the benchmark read in the manual of Feel++, series worked here",
    How.CLOSED_FORM, 0.3, "kg/m³ of 84", _drying,
)  # fmt: skip


# ── a coupled problem that a public library prints ───────────────────────────────────────────────────────────────────


def _elements_water(s: Array) -> Array:
    over = s / (reference.WATER * reference.VAPOR_GAS * 293.15)
    return np.asarray(elements.FULL * (1.0 + over / elements.BEND) ** (-1.0 / elements.POWER))


def _elements_liquid(s: Array) -> Array:
    step = 1e-4
    slope = (_elements_water(s * (1.0 - step)) - _elements_water(s * (1.0 + step))) / (2.0 * step * s)
    diffusivity = (
        3.8
        * (elements.ABSORPTION / elements.FULL) ** 2
        * 1000.0 ** (_elements_water(s) / elements.FULL - 1.0)
    )
    return np.asarray(diffusivity * slope)


ELEMENTS = Matter(
    elements.DENSITY * elements.HEAT,
    _elements_water,
    _elements_liquid,
    lambda s, kelvin: 2e-7 * np.asarray(kelvin) ** 0.81 / 101325.0 / elements.RESISTANCE,
    lambda w: elements.CONDUCTION * (1.0 + elements.CONDUCTION_RISE * w / elements.DENSITY),
)


def _printed() -> float:
    """The library's own nodes and steps, worked here, against the four numbers that its test prints."""
    found = elements.march()
    return 100.0 * max(abs(found[key] / value - 1.0) for key, value in elements.PRINTED.items())


@cache
def _elements_by_lines() -> tuple[Array, Array, Array]:
    held = Air(298.15, 0.6, np.inf, np.inf)
    shut = Air(323.15, 0.5, np.inf, 0.0)
    return reference.lines(((ELEMENTS, 0.2, 120),), (293.15, 0.9), held, shut, np.array([18e4, 32.4e4]))


def _elements() -> float:
    """Water through the depth after 50 and 90 hours, scheme against lines."""
    depth, _, u = _elements_by_lines()
    wall = grid([Layer("layer", tabulated("layer", ELEMENTS, 0.81), 0.2)], finer=3.0)
    off = 0.0
    for at, hours in enumerate((50, 90)):
        run = simulate(
            wall,
            still(hours, 25.0, 0.6),
            still(hours, 50.0, 0.5, HELD, 0.0),
            start_c=20.0,
            start_humidity=0.9,
        )
        water = np.interp(depth, wall.depth, of_water(ELEMENTS, run.end[1]))
        off = max(off, float(np.abs(water / ELEMENTS.water(np.exp(u[:, at])) - 1.0).max()))
    return 100.0 * off


_OOFEM = "OOFEM, regression test of the coupled model of heat and moisture"
ELEMENTS_PRINTED = Case(
    "elements_printed", "coupled layer with D from A: the reference equations on the library's nodes give what it prints",
    _OOFEM, "tests/tm/HeMoKunzel_1.in, read: four numbers at steps 5 and 9", How.READ, 1e-5, "%", _printed,
)  # fmt: skip
ELEMENTS_WATER = Case(
    "elements_water", "the same layer, nodes without end: water after 50 and 90 hours against the scheme",
    "scipy.integrate.solve_ivp", "the same equations by lines, 120 cells; material of the library's test",
    How.PACKAGE, 1.0, "%", _elements,
)  # fmt: skip

# ── two materials, warm and damp inside, cold outside ────────────────────────────────────────────────────────────────


def kunzel(
    full: float, at_80: float, absorption: float, resistance: float
) -> tuple[Callable[..., Array], ...]:
    b = 0.8 * (full - at_80) / (0.8 * full - at_80)

    def water(s: Array) -> Array:
        phi = np.exp(-s / (reference.WATER * reference.VAPOR_GAS * 293.15))
        return np.asarray(full * (b - 1.0) * phi / (b - phi))

    def liquid(s: Array) -> Array:
        step = 1e-4
        slope = (water(s * (1.0 - step)) - water(s * (1.0 + step))) / (2.0 * step * s)
        return np.asarray(3.8 * (absorption / full) ** 2 * 1000.0 ** (water(s) / full - 1.0) * slope)

    def vapor(s: Array, kelvin: Array) -> Array:
        return np.asarray(2e-7 * np.asarray(kelvin) ** 0.81 / 101325.0 / resistance)

    return water, liquid, vapor


MASONRY = Matter(1600.0 * 850.0, *kunzel(230.0, 9.0, 0.11, 9.5), lambda w: 0.68 + 0.0028 * w)
LINING = Matter(270.0 * 1100.0, *kunzel(780.0, 6.0, 0.6, 5.0), lambda w: 0.06 + 0.0006 * w)
"""Made-up absorbent masonry and an absorbent lining inside of it, in the size of the fifth benchmark."""


@cache
def lined() -> tuple[Array, ...]:
    """Depth, temperature and water of the scheme, then of the lines, after 60 days from 25 °C, 60 % RH."""
    days = 60
    masonry = Layer("masonry", tabulated("masonry", MASONRY, 0.81), 0.365)
    lining = Layer("lining", tabulated("lining", LINING, 0.81), 0.04)
    wall = grid([masonry, lining], finer=3.0)
    hours = 24 * days
    run = simulate(
        wall,
        still(hours, 0.0, 0.8, 25.0, 1.8e-7),
        still(hours, 20.0, 0.6, 8.0, 6e-8),
        start_c=25.0,
        start_humidity=0.6,
    )
    depth, kelvin, u = reference.lines(
        ((MASONRY, 0.365, 120), (LINING, 0.04, 80)),
        (298.15, 0.6),
        Air(273.15, 0.8, 25.0, 1.8e-7),
        Air(293.15, 0.6, 8.0, 6e-8),
        np.array([86400.0 * days]),
    )
    temps = np.interp(depth, wall.depth, run.end[0])
    s = np.exp(np.interp(depth, wall.depth, np.log(np.maximum(suction(run.end[1]), 1e-3))))
    split = depth < 0.365
    water = np.where(split, MASONRY.water(s), LINING.water(s))
    exact = np.where(split, MASONRY.water(np.exp(u[:, 0])), LINING.water(np.exp(u[:, 0])))
    return depth, temps, water, kelvin[:, 0], exact


def _lined_temperature() -> float:
    _, temps, _, kelvin, _ = lined()
    return float(np.abs(temps - kelvin).max())


def _lined_water() -> float:
    depth, _, water, _, exact = lined()
    off = 0.0
    for part in (depth < 0.365, depth >= 0.365):
        off = max(off, float(np.abs(water - exact)[part].max() / exact[part].max()))
    return 100.0 * off


_LINED = "two made-up materials in the sizes of the fifth coupled benchmark, by lines, 200 cells"
LINED_TEMPERATURE = Case(
    "lined_temperature", "masonry with an absorbent lining inside, 60 days of cold and damp: temperature",
    "scipy.integrate.solve_ivp", _LINED, How.PACKAGE, 0.05, "K", _lined_temperature,
)  # fmt: skip
LINED_WATER = Case(
    "lined_water", "the same: water, of the most in its layer", "scipy.integrate.solve_ivp", _LINED, How.PACKAGE,
    1.0, "%", _lined_water,
)  # fmt: skip
