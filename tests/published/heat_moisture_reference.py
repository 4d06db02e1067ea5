"""Coupled heat and moisture worked apart from `specgen`: by similarity and by lines, with scipy's integrators.

Nothing of ``specgen`` is imported: constants, saturation pressure, materials and schemes stand here a second time.
Suction s [Pa] is told by u = ln s; w water [kg/m³]; T [K]; lengths [m]; times [s].
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_bvp, solve_ivp
from scipy.special import erfc

Array = NDArray[np.float64]
Law = Callable[..., Array]

VAPOR_GAS = 8.314 / 0.018
WATER = 1000.0
EVAPORATION = 2.5e6
WATER_HEAT = 4187.0
ZERO = 273.15


def saturation(kelvin: Array) -> Array:
    """Saturation pressure over water [Pa], 610.5 exp(17.269 θ/(237.3 + θ))."""
    celsius = np.asarray(kelvin) - ZERO
    return np.asarray(610.5 * np.exp(17.269 * celsius / (237.3 + celsius)))


def suction(humidity: Array | float, kelvin: Array | float) -> Array:
    """Kelvin's law, s = −ρ R_v T ln φ [Pa]."""
    return np.asarray(-WATER * VAPOR_GAS * np.asarray(kelvin) * np.log(humidity))


def humidity(s: Array, kelvin: Array | float) -> Array:
    """Kelvin's law the other way [-]."""
    return np.asarray(np.exp(-np.asarray(s) / (WATER * VAPOR_GAS * np.asarray(kelvin))))


@dataclass(frozen=True)
class Matter:
    """Laws of one material: water(s) [kg/m³], liquid(s) K [s], vapor(s, T) δ [kg/(m·s·Pa)], conduction(w) λ [W/(m·K)].

    heat: of the dry volume [J/(m³·K)]. The slope of ``water`` over ln s is taken by a central difference.
    """

    heat: float
    water: Law
    liquid: Law
    vapor: Law
    conduction: Law

    def slope(self, u: Array) -> Array:
        """dw/du [kg/m³]."""
        step = 1e-5
        return np.asarray((self.water(np.exp(u + step)) - self.water(np.exp(u - step))) / (2.0 * step))


def _annex_water(s: Array) -> Array:
    return np.asarray(146.0 / (1.0 + (8e-8 * s) ** 1.6) ** 0.375)


def _annex_liquid(s: Array) -> Array:
    d = _annex_water(s) - 73.0
    powers = 0.0704 * d - 1.742e-4 * d**2 - 2.7953e-6 * d**3 - 1.1566e-7 * d**4 + 2.5969e-9 * d**5
    return np.asarray(np.exp(-39.2619 + powers))


def _annex_vapor(s: Array, kelvin: Array) -> Array:
    dry = 1.0 - _annex_water(s) / 146.0
    return np.asarray(26.1e-6 / 200.0 * dry / (VAPOR_GAS * kelvin) / (0.503 * dry**2 + 0.497))


ANNEX = Matter(1.824e6, _annex_water, _annex_liquid, _annex_vapor, lambda w: 1.5 + 0.0158 * w)
"""The solid of the annex of EN 15026."""


# ── the annex of EN 15026 by similarity ──────────────────────────────────────────────────────────────────────────────

_NEAR = 2e-4
_FAR = 0.016


def similar(matter: Matter = ANNEX) -> Callable[[Array | float, float], tuple[Array, Array]]:
    """Half space at 20 °C, 50 % RH whose face is brought to 30 °C, 95 % RH: T [K] and u of depth and time.

    With η = x/√t, and flows of water G/√t and heat Q/√t, the two balances become ½ η w' = G' and ½ η (cρ + c_w w) T' =
    Q': four ordinary equations with two conditions at either end (scipy's collocation, residual 1e-6), η = 2e-4 sinh z.
    """
    hot, cold = 30.0 + ZERO, 20.0 + ZERO
    wet, dry = np.log(suction(0.95, hot)), np.log(suction(0.50, cold))

    def slopes(z: Array, y: Array) -> Array:
        u, kelvin, water_flow, heat_flow = y
        s, eta, stretch = np.exp(u), _NEAR * np.sinh(z), _NEAR * np.cosh(z)
        flow = _conductances(matter, u, kelvin)
        det = flow.water_u * flow.heat_t - flow.water_t * flow.heat_u
        u_z = (flow.heat_t * water_flow - flow.water_t * heat_flow) / det * stretch
        t_z = (flow.water_u * heat_flow - flow.heat_u * water_flow) / det * stretch
        heat = matter.heat + WATER_HEAT * matter.water(s)
        return np.array([u_z, t_z, 0.5 * eta * matter.slope(u) * u_z, 0.5 * eta * heat * t_z])

    def ends(a: Array, b: Array) -> Array:
        return np.array([a[0] - wet, a[1] - hot, b[0] - dry, b[1] - cold])

    z = np.linspace(0.0, np.arcsinh(_FAR / _NEAR), 400)
    eta = _NEAR * np.sinh(z)
    guess = np.array(
        [
            dry + (wet - dry) * erfc(eta / (2.0 * np.sqrt(3e-10))),
            cold + (hot - cold) * erfc(eta / (2.0 * np.sqrt(1.2e-6))),
            6e-6 * np.exp(-((eta / 1e-4) ** 2)),
            1e4 * np.exp(-((eta / 2.2e-3) ** 2)),
        ]
    )
    found = solve_bvp(slopes, ends, z, guess, tol=1e-6, max_nodes=20_000)
    if found.status != 0:
        raise ArithmeticError(found.message)

    def at(depth: Array | float, time: float) -> tuple[Array, Array]:
        u, kelvin, _, _ = found.sol(np.arcsinh(np.asarray(depth) / np.sqrt(time) / _NEAR))
        return kelvin, u

    return at


@dataclass(frozen=True)
class _Flow:
    """Flow of water and heat for each unit of slope of u and of T, in the sense of x."""

    water_u: Array
    water_t: Array
    heat_u: Array
    heat_t: Array


def _conductances(matter: Matter, u: Array, kelvin: Array) -> _Flow:
    s = np.exp(u)
    delta, pressure = matter.vapor(s, kelvin), saturation(kelvin) * humidity(s, kelvin)
    over = s / (WATER * VAPOR_GAS * kelvin)
    celsius = kelvin - ZERO
    vapor_u = delta * pressure * over
    vapor_t = -delta * pressure * (17.269 * 237.3 / (237.3 + celsius) ** 2 + over / kelvin)
    return _Flow(
        matter.liquid(s) * s + vapor_u,
        vapor_t,
        EVAPORATION * vapor_u,
        EVAPORATION * vapor_t - matter.conduction(matter.water(s)),
    )


# ── any wall by lines ────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True)
class Air:
    """Air at one face, constant: T [K], φ [-], film of heat [W/(m²·K)] and of vapor [kg/(m²·s·Pa)]; None: held or shut.

    A film of ``inf`` holds the face at the air's own state; a film of 0 lets nothing through.
    """

    kelvin: float
    humidity: float
    heat_film: float
    vapor_film: float


def lines(
    layers: tuple[tuple[Matter, float, int], ...],
    start: tuple[float, float],
    first: Air,
    second: Air,
    times: Array,
    grading: float = 2.5,
) -> tuple[Array, Array, Array]:
    """A wall of layers (matter, thickness, cells) from a uniform start (T, φ): centers, T and u of every time.

    Finite volumes that crowd at both faces of each layer, flows with the mean of the conductances of neighbors over
    their distances in series, and scipy's backward differences (rtol 1e-7) on the banded system.
    """
    matters, dx = _cells(layers, grading)
    n = dx.size

    def laws(u: Array, kelvin: Array) -> tuple[Array, ...]:
        s = np.exp(u)
        out = np.empty((6, n))
        for matter, cut in matters:
            water = matter.water(s[cut])
            out[0, cut] = matter.liquid(s[cut])
            out[1, cut] = matter.vapor(s[cut], kelvin[cut])
            out[2, cut] = matter.conduction(water)
            out[3, cut] = matter.heat + WATER_HEAT * water
            out[4, cut] = matter.slope(u[cut])
        out[5] = saturation(kelvin) * humidity(s, kelvin)
        return (*out, s)

    def rate(_: float, y: Array) -> Array:
        u, kelvin = y[0::2], y[1::2]
        liquid, vapor, conduct, heat, slope, pressure, s = laws(u, kelvin)

        def between(k: Array, x: Array) -> Array:
            return np.asarray((x[:-1] - x[1:]) / (dx[:-1] / (2.0 * k[:-1]) + dx[1:] / (2.0 * k[1:])))

        def at_face(cell: int, air: Air) -> tuple[float, float]:
            warm = _series(air.heat_film, conduct[cell], dx[cell]) * (air.kelvin - kelvin[cell])
            air_pressure = float(air.humidity * saturation(np.array(air.kelvin)))
            wet = _series(air.vapor_film, vapor[cell], dx[cell]) * (air_pressure - pressure[cell])
            warm += EVAPORATION * wet
            if np.isinf(air.vapor_film):  # a face that is held also draws liquid
                wet += 2.0 * liquid[cell] / dx[cell] * (s[cell] - float(suction(air.humidity, air.kelvin)))
            return wet, warm

        moist = between(vapor, pressure)
        flow_w = np.concatenate(
            ([at_face(0, first)[0]], moist - between(liquid, s), [-at_face(-1, second)[0]])
        )
        flow_q = between(conduct, kelvin) + EVAPORATION * moist
        flow_q = np.concatenate(([at_face(0, first)[1]], flow_q, [-at_face(-1, second)[1]]))
        out = np.empty_like(y)
        out[0::2] = -np.diff(flow_w) / dx / slope
        out[1::2] = -np.diff(flow_q) / dx / heat
        return out

    y0 = np.empty(2 * n)
    y0[0::2], y0[1::2] = np.log(suction(start[1], start[0])), start[0]
    run = solve_ivp(
        rate,
        (0.0, float(times[-1])),
        y0,
        "LSODA",
        times,
        rtol=1e-7,
        atol=1e-7,
        lband=3,
        uband=3,
        first_step=1e-3,
    )
    if not run.success:
        raise ArithmeticError(run.message)
    return np.cumsum(dx) - dx / 2.0, run.y[1::2], run.y[0::2]


def _cells(
    layers: tuple[tuple[Matter, float, int], ...], grading: float = 2.5
) -> tuple[list[tuple[Matter, slice]], Array]:
    """The cells of each layer, and their sizes [m]; they crowd at both faces of a layer."""
    matters: list[tuple[Matter, slice]] = []
    widths: list[Array] = []
    for matter, thickness, cells in layers:
        edge = np.linspace(-1.0, 1.0, cells + 1)
        edge = np.tanh(grading * edge) / np.tanh(grading) if grading else edge
        at = sum(map(len, widths))
        widths.append(np.diff(edge) * thickness / 2.0)
        matters.append((matter, slice(at, at + cells)))
    return matters, np.concatenate(widths)


def _series(film: float, k: float, dx: float) -> float:
    if film == 0.0:
        return 0.0
    return float(1.0 / (dx / (2.0 * k) + (0.0 if np.isinf(film) else 1.0 / film)))


# ── a wall in weather by lines ───────────────────────────────────────────────────────────────────────────────────────

STEFAN_BOLTZMANN = 5.670374419e-8
SCALE = 1e5


def weather(
    layers: tuple[tuple[Matter, float, int], ...], start: tuple[float, float], faces: tuple[Array, Array]
) -> tuple[Array, Array, Array]:
    """A wall in hours of weather: centers of cells, T [K] and suction [Pa] at the end of each hour, (hours, cells).

    faces: outside and inside, (hours, 8): air [K], vapor [Pa], films of heat and vapor, sun absorbed [W/m²], long waves
    that arrive [W/m²], rain [kg/(m²·s)], all of which is taken up, and emittance. State is asinh(s/1e5); liquid flows by
    differences of Φ = ∫ K ds within a layer; each hour begins anew.
    """
    matters, dx = _cells(layers)
    half, n = dx / 2.0, dx.size
    potentials = [_potential(matter) for matter, _ in matters]
    inner = np.ones(n - 1, dtype=bool)
    inner[[cut.stop - 1 for _, cut in matters[:-1]]] = False

    def rate(_: float, y: Array, outside: Array, inside: Array) -> Array:
        s, kelvin = SCALE * np.sinh(y[0::2]), y[1::2]
        laws = np.empty((5, n))
        step = 1e-4
        rise, fall = SCALE * np.sinh(y[0::2] + step), SCALE * np.sinh(y[0::2] - step)
        for (matter, cut), potential in zip(matters, potentials, strict=True):
            water = matter.water(s[cut])
            slope = (matter.water(rise[cut]) - matter.water(fall[cut])) / (2.0 * step)
            laws[:, cut] = (
                matter.vapor(s[cut], kelvin[cut]), matter.conduction(water), matter.heat + WATER_HEAT * water,
                slope, potential(s[cut]),
            )  # fmt: skip
        vapor, conduct, heat, slope, phi = laws
        pressure = saturation(kelvin) * humidity(s, kelvin)

        def between(k: Array, x: Array) -> Array:
            return np.asarray((x[:-1] - x[1:]) / (half[:-1] / k[:-1] + half[1:] / k[1:]))

        liquid = np.where(inner, -np.diff(phi) / (half[:-1] + half[1:]), 0.0)
        for (left, cut), (right, _) in pairwise(matters):
            at = cut.stop - 1
            k = 1.0 / (half[at] / left.liquid(s[at]) + half[at + 1] / right.liquid(s[at + 1]))
            liquid[at] = k * (s[at] - s[at + 1])
        moist = between(vapor, pressure)
        ends = [
            _in_air(face, kelvin[cell], pressure[cell], conduct[cell] / half[cell], vapor[cell] / half[cell])
            for face, cell in ((outside, 0), (inside, -1))
        ]
        flow_w = np.concatenate(([ends[0][0]], moist - liquid, [-ends[1][0]]))
        flow_q = np.concatenate(([ends[0][1]], between(conduct, kelvin) + EVAPORATION * moist, [-ends[1][1]]))
        out = np.empty_like(y)
        out[0::2] = -np.diff(flow_w) / dx / slope
        out[1::2] = -np.diff(flow_q) / dx / heat
        return out

    y = np.empty(2 * n)
    y[0::2], y[1::2] = np.arcsinh(suction(start[1], start[0]) / SCALE), start[0]
    hours = []
    for outside, inside in zip(*faces, strict=True):
        run = solve_ivp(
            rate, (0.0, 3600.0), y, "LSODA", rtol=1e-5, atol=1e-6, lband=3, uband=3,
            args=(outside, inside), first_step=0.1,
        )  # fmt: skip
        if not run.success:
            raise ArithmeticError(run.message)
        y = run.y[:, -1]
        hours.append(y)
    found = np.array(hours)
    return np.cumsum(dx) - half, found[:, 1::2], SCALE * np.sinh(found[:, 0::2])


def _in_air(
    face: Array, kelvin: float, pressure: float, conduct: float, open_to: float
) -> tuple[float, float]:
    """Water and heat into the cell at a face; the face itself, half a cell away, stores nothing."""
    air, vapor, film, vapor_film, sun, waves, rain, emittance = face
    surface = kelvin
    for _ in range(6):  # Newton on conduction = convection + sun + long waves
        left = conduct * (surface - kelvin) - film * (air - surface) - sun
        left -= emittance * (waves - STEFAN_BOLTZMANN * surface**4)
        surface -= left / (conduct + film + 4.0 * emittance * STEFAN_BOLTZMANN * surface**3)
    moist = (vapor - pressure) / (1.0 / vapor_film + 1.0 / open_to)
    return float(moist + rain), float(conduct * (surface - kelvin) + EVAPORATION * moist)


def sizes(layers: tuple[tuple[Matter, float, int], ...]) -> Array:
    """Sizes of the cells of `weather` [m]."""
    return _cells(layers)[1]


def _potential(matter: Matter) -> Callable[[Array], Array]:
    """∫ K ds from no suction on, as a function of s."""
    s = SCALE * np.sinh(np.linspace(0.0, 10.5, 20_001))
    middle = matter.liquid(np.maximum(0.5 * (s[1:] + s[:-1]), 1e-3))
    total = np.concatenate(([0.0], np.cumsum(middle * np.diff(s))))
    return lambda at: np.asarray(np.interp(at, s, total))
