"""Limits of the hourly scheme of heat and moisture that have an answer of their own: one thing at a time."""

from __future__ import annotations

from functools import cache

import numpy as np
import psychrolib
from scipy.integrate import solve_bvp
from scipy.special import erfc

from specgen.physics.heat_moisture.faces import Face
from specgen.physics.heat_moisture.grid import Layer, grid
from specgen.physics.heat_moisture.porous import PorousMaterial, tabulate
from specgen.physics.heat_moisture.simulate import simulate
from tests.published import heat_moisture_closed as closed
from tests.published import heat_moisture_reference as reference
from tests.published.heat_moisture_cases import DIFFUSIVITY, DRYING, LAYER, Case
from tests.published.heat_moisture_reference import Array
from tests.published.heat_moisture_walls import HELD, still, swinging, tabulated
from tests.published.register import How

TIGHT = 1e6
"""Vapor resistance factor that lets next to nothing through [-]."""
INERT = tabulate(PorousMaterial("plaster that holds no water", 1900.0, 850.0, 0.8, TIGHT, TIGHT, 1e-4, 1e-2))


def _conduction() -> float:
    wall = grid([Layer(f"plaster {number}", INERT, 1.0) for number in range(3)], finer=3.0)
    off = 0.0
    for hours in (24, 96):
        run = simulate(
            wall,
            still(hours, 40.0, 0.5, HELD, 0.0),
            still(hours, 10.0, 0.5, HELD, 0.0),
            start_c=10.0,
            finer_steps=6,
        )
        reach = 2.0 * np.sqrt(0.8 / (1900.0 * 850.0) * 3600.0 * hours)
        exact = 10.0 + 30.0 * erfc(wall.depth / reach)
        off = max(off, float(np.abs(run.end[0] - reference.ZERO - exact).max()))
    return off


def _drying_mean() -> float:
    """Share of the water that may leave which has not, every 25 hours to 1500: scheme less series."""
    wall = grid([Layer("layer", tabulated("layer", DRYING), LAYER)], finer=3.0)
    hours = 1500
    face = still(hours, 20.0, 0.5, 25.0, 1e-3)
    run = simulate(wall, face, face, start_c=20.0, start_humidity=0.95)
    start, end = (float(DRYING.water(reference.suction(phi, 293.15))) for phi in (0.95, 0.5))
    at = np.arange(24, hours, 25)
    exact = closed.drying_mean(3600.0 * (at + 1.0), LAYER, DIFFUSIVITY, start, end)
    return 100.0 * float(np.abs(run.water[at, 0] / LAYER - exact).max()) / (start - end)


ABSORPTION = 0.03


@cache
def sorptivity() -> float:
    """What a half space of D = 3.8 (A/w_f)² 1000^(w/w_f − 1) takes up over A √t, by similarity; near 1."""

    def slopes(eta: Array, y: Array) -> Array:
        diffusivity = 3.8 * 1000.0 ** (y[0] - 1.0)
        return np.array([-y[1] / diffusivity, -0.5 * eta * y[1] / diffusivity])

    def ends(a: Array, b: Array) -> Array:
        return np.array([a[0] - 1.0, b[0] - START_SHARE])

    eta = np.linspace(0.0, 2.5, 4000)
    guess = np.array([np.clip(1.0 - eta / 1.2, START_SHARE, 1.0), np.clip(0.5 * (1.0 - eta / 1.2), 0.0, 1.0)])
    found = solve_bvp(slopes, ends, eta, guess, tol=1e-5, max_nodes=200_000)
    if found.status != 0:
        raise ArithmeticError(found.message)
    return float(2.0 * found.sol(0.0)[1])


PLASTER = PorousMaterial("absorbent plaster", 1800.0, 850.0, 0.9, TIGHT, TIGHT, 5.0, 200.0, ABSORPTION)
START_SHARE = 1.25e-3
"""Water at the start over free saturation, that of 5 kg/m³ at 80 % RH brought down to 0.25 kg/m³."""


def _uptake() -> float:
    hours = 9
    b = 0.8 * (200.0 - 5.0) / (0.8 * 200.0 - 5.0)
    start = START_SHARE * b / (b - 1.0 + START_SHARE)
    wall = grid([Layer("plaster", tabulate(PLASTER), 0.3)], finer=4.0)
    shut = still(hours, 20.0, 0.5, HELD, 0.0)
    rained = Face(
        shut.air_c,
        shut.vapor_pa,
        shut.convection,
        shut.vapor_film,
        shut.sun,
        shut.longwave,
        shut.rain + 0.01,
        0.0,
    )
    run = simulate(wall, rained, shut, start_c=20.0, start_humidity=start, finer_steps=30)
    taken = np.cumsum(run.taken[:, 0])
    exact = sorptivity() * ABSORPTION * np.sqrt(3600.0 * np.arange(1, hours + 1))
    return 100.0 * float(np.abs(taken / exact - 1.0).max())


def _wet_bulb() -> float:
    """Face of wet plaster in moving air, shaded: its steady temperature less the wet bulb of that air."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    off = 0.0
    for air_c, humidity in ((35.0, 0.2), (25.0, 0.5), (10.0, 0.8)):
        bulb = psychrolib.GetTWetBulbFromRelHum(air_c, humidity, 101325.0)
        ratio = psychrolib.GetHumRatioFromRelHum(air_c, humidity, 101325.0)
        full = psychrolib.GetSatHumRatio(bulb, 101325.0)
        vapor, at_full = humidity * psychrolib.GetSatVapPres(air_c), psychrolib.GetSatVapPres(bulb)
        convection = 20.0
        film = convection / (1006.0 + 1860.0 * ratio) * (full - ratio) / (at_full - vapor)
        porous = PorousMaterial("wet plaster", 1800.0, 850.0, 0.9, 15.0, 15.0, 20.0, 300.0, 0.3)
        wall = grid([Layer("plaster", tabulate(porous), 0.05)])
        hours = 2
        run = simulate(
            wall,
            still(hours, air_c, humidity, convection, film),
            still(hours, air_c, humidity, 0.0, 0.0),
            watch=(0,),
            start_c=bulb,
            start_humidity=1.0,
        )
        off = max(off, abs(float(run.temp_c[-1, 0]) - bulb))
    return off


def _swing(period: float, steps: int) -> tuple[complex, complex]:
    """Inside face of 0.15 m of plaster over a swing of 10 K outside: by the scheme and by ISO 13786."""
    films, thickness = (0.04, 0.13), 0.15
    wall = grid([Layer("plaster", INERT, thickness)], finer=2.0)
    turns = 14 if period < 100.0 else 4
    hours = int(turns * period)
    outside = swinging(hours, 20.0, 10.0, period, 1.0 / films[0])
    inside = still(hours, 20.0, 0.0, 1.0 / films[1], 0.0)
    run = simulate(wall, outside, inside, watch=(wall.nodes - 1,), start_c=20.0, finer_steps=steps)
    last = run.temp_c[-int(period) :, 0] - 20.0
    time = np.arange(hours - int(period), hours) + 1.0
    found = 2.0 * np.mean(last * np.exp(-2j * np.pi * time / period)) / 10.0
    matrix = closed.admittance(thickness, 0.8, 1900.0 * 850.0, films, 3600.0 * period)
    return complex(found), complex(-1.0 / matrix[0, 1] * films[1])


def _off(period: float, steps: int) -> float:
    """Difference of the complex swings over their size [%]."""
    found, exact = _swing(period, steps)
    return 100.0 * abs(found / exact - 1.0)


CONDUCTION = Case(
    "conduction", "a dry half space whose face is brought from 10 to 40 °C: after 24 and 96 hours", "scipy.special.erfc",
    "T = T0 + ΔT erfc(x/(2 √(at)))", How.PACKAGE, 0.1, "K of 30", _conduction,
)  # fmt: skip
DRYING_MEAN = Case(
    "drying_mean", "mean water of a layer that dries from both faces, to 1500 hours, of what may leave",
    "Fourier series of the layer", "Σ 8/((2n + 1)² π²) exp(−(2n + 1)² π² D t/L²)", How.CLOSED_FORM, 0.5,
    "%", _drying_mean,
)  # fmt: skip
UPTAKE = Case(
    "uptake", "rain on a dry absorbent layer, hour by hour to nine: A √t, with the A that its D(w) has",
    "scipy.integrate.solve_bvp", "∂w/∂t = ∂(D ∂w)/∂x over x/√t, D = 3.8 (A/w_f)² 1000^(w/w_f − 1)",
    How.PACKAGE, 2.0, "%", _uptake,
)  # fmt: skip
WET_BULB = Case(
    "wet_bulb", "shaded wet face in air of 35 °C 20 %, 25 °C 50 %, 10 °C 80 % RH with heat and vapor films of "
    "one Lewis number",
    "psychrolib", "GetTWetBulbFromRelHum", How.PACKAGE, 0.1, "K", _wet_bulb,
)  # fmt: skip
_ISO_13786 = "periodic transfer matrix of ISO 13786, from its equations"
_ONE_LAYER = "Z of a homogeneous layer between two films"
ADMITTANCE = Case(
    "admittance", "swing of the inside face of 0.15 m of dry plaster over that of the air outside, 24 and 120 "
    "hours, complex; "
    "60 steps an hour", _ISO_13786, _ONE_LAYER, How.CLOSED_FORM, 0.5, "%",
    lambda: max(_off(24.0, 60), _off(120.0, 60)),
)  # fmt: skip
ADMITTANCE_BY_THE_HOUR = Case(
    "admittance_by_the_hour", "the same, 24 hours, by the steps that walls are run with", _ISO_13786, _ONE_LAYER,
    How.CLOSED_FORM, 1.0, "%", lambda: _off(24.0, 1),
)  # fmt: skip
