"""Water and air in the drainage gap against reference libraries and public formulas."""

from __future__ import annotations

import numpy as np
import psychrolib
import pytest
from CoolProp.CoolProp import PropsSI
from fluids import Bond, K_from_f, Reynolds, dP_from_K, exit_normal
from scipy.integrate import quad, solve_bvp
from scipy.optimize import brentq, fsolve

from specgen.physics import gap, gap_air, gap_balance, moist_air
from specgen.physics.constants import GRAVITY, STANDARD_ATMOSPHERE
from tests.published.register import How, published

KELVIN = 273.15


def water(temp_c: float) -> tuple[float, float]:
    """Density and viscosity of water at one atmosphere."""
    state = ("T", temp_c + KELVIN, "P", 101325, "Water")
    return PropsSI("D", *state), PropsSI("V", *state)


@published(
    "gap drainage",
    "flow of water through a full slot",
    "fluids, K_from_f and dP_from_K",
    "Darcy friction between plates, f = 96/Re on twice the gap",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize("gap_m", [2e-4, 5e-4, 9e-4])
@pytest.mark.parametrize("temp_c", [5.0, 20.0])
def test_slot_uses_up_its_own_head(gap_m: float, temp_c: float) -> None:
    """A metre of slot loses by friction the pressure that a metre of water gains."""
    rho, mu = water(temp_c)
    v = gap.slot_drainage(gap_m, rho, mu).velocity_m_s
    f = 96.0 / Reynolds(V=v, D=2 * gap_m, rho=rho, mu=mu)
    assert dP_from_K(K=K_from_f(fd=f, L=1.0, D=2 * gap_m), rho=rho, V=v) == pytest.approx(
        rho * GRAVITY, rel=1e-9
    )


@published(
    "gap drainage",
    "flow of water through a full slot, from its velocity profile",
    "scipy.integrate.solve_bvp",
    "μ u'' = -ρ g between two walls, water of CoolProp",
    "1e-5",
    How.PACKAGE,
)
@pytest.mark.parametrize("gap_m", [3e-4, 8e-4])
def test_slot_profile(gap_m: float) -> None:
    rho, mu = water(12.0)
    profile = solve_bvp(
        lambda y, u: np.vstack((u[1], np.full_like(y, -rho * GRAVITY / mu))),
        lambda a, b: np.array([a[0], b[0]]),
        np.linspace(0, gap_m, 11),
        np.zeros((2, 11)),
    )
    flow, _ = quad(lambda y: profile.sol(y)[0], 0, gap_m)
    assert gap.slot_drainage(gap_m, rho, mu).flow_m2_s == pytest.approx(flow, rel=1e-5)


@published(
    "gap drainage", "Reynolds number of the full slot", "fluids, Reynolds", "on the gap", "1e-9", How.PACKAGE
)
@pytest.mark.parametrize("gap_m", [3e-4, 1e-3])
def test_slot_reynolds(gap_m: float) -> None:
    rho, mu = water(20.0)
    found = gap.slot_drainage(gap_m, rho, mu)
    assert found.reynolds == pytest.approx(Reynolds(V=found.velocity_m_s, D=gap_m, rho=rho, mu=mu), rel=1e-9)


@published(
    "gap drainage",
    "Bond number of a gap",
    "fluids, Bond",
    "water of CoolProp against a void",
    "1e-6",
    How.PACKAGE,
)
@pytest.mark.parametrize("gap_m", [5e-4, 2e-3, 1e-2])
def test_bond_number(gap_m: float) -> None:
    rho, _ = water(20.0)
    gamma = PropsSI("I", "T", 293.15, "Q", 0, "Water")
    reference = Bond(rhol=rho, rhog=0.0, sigma=gamma, L=gap_m)
    assert gap.capillary_rise(gap_m, 0.0, gamma, rho).bond == pytest.approx(reference, rel=1e-6)


@published(
    "gap drainage",
    "smallest gap that wicks no higher than accepted",
    "scipy.optimize.brentq",
    "the rise of 2 γ cosθ/(ρ g b) with CoolProp water solved for the gap",
    "0.2 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("height", [0.01, 0.05])
def test_smallest_gap(height: float) -> None:
    rho, _ = water(20.0)
    gamma = PropsSI("I", "T", 293.15, "Q", 0, "Water")
    reference = brentq(lambda b: 2 * gamma / (rho * GRAVITY * b) - height, 1e-5, 0.1, xtol=1e-12)
    assert gap.smallest_gap(1e-7, height, 0.0, 1) == pytest.approx(reference, rel=2e-3)


@published(
    "gap ventilation",
    "velocity that balances pressure, friction and outlets",
    "scipy.optimize.brentq with fluids",
    "root of dP_from_K over velocity",
    "1e-7",
    How.PACKAGE,
)
@pytest.mark.parametrize("pressure", [0.02, 0.2, 0.8])
def test_gap_velocity_as_a_root(pressure: float) -> None:
    b, height = 0.006, 1.1

    def surplus(v: float) -> float:
        f = 96.0 / Reynolds(V=v, D=2 * b, rho=1.2041, mu=1.82e-5)
        k = K_from_f(fd=f, L=height, D=2 * b) + exit_normal() + 2.5 / 0.4**2
        return float(dP_from_K(K=k, rho=1.2041, V=v)) - pressure

    losses = [gap_air.Loss(exit_normal(), 1.0), gap_air.Loss(2.5, 0.4)]
    found = gap_air.gap_flow(pressure, b, height, losses)
    assert found.velocity_m_s == pytest.approx(brentq(surplus, 1e-6, 5.0, xtol=1e-12), rel=1e-7)


@published(
    "gap ventilation",
    "stack pressure, C a h (1/To - 1/Ti) with C = 0.0342",
    "encyclopedia article on the stack effect",
    "SI form of its equation, read in an open copy",
    "0.5 %",
    How.READ,
)
@pytest.mark.parametrize(
    ("height", "gap_c", "outdoor_c"), [(1.0, 40.0, 20.0), (3.5, 55.0, 30.0), (2.0, 5.0, -15.0)]
)
def test_stack_formula_of_the_article(height: float, gap_c: float, outdoor_c: float) -> None:
    expected = 0.0342 * STANDARD_ATMOSPHERE * height * (1 / (outdoor_c + KELVIN) - 1 / (gap_c + KELVIN))
    assert gap_air.stack_pressure(height, gap_c, outdoor_c) == pytest.approx(expected, rel=0.005)


@published(
    "gap ventilation",
    "stack pressure of dry air",
    "psychrolib, GetDryAirDensity",
    "weight of two columns",
    "0.1 %",
    How.PACKAGE,
)
@pytest.mark.parametrize(("gap_c", "outdoor_c"), [(45.0, 25.0), (15.0, 0.0)])
def test_stack_against_psychrolib(gap_c: float, outdoor_c: float) -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)
    rho = [psychrolib.GetDryAirDensity(t, 101325.0) for t in (outdoor_c, gap_c)]
    assert gap_air.stack_pressure(2.0, gap_c, outdoor_c) == pytest.approx(
        GRAVITY * 2 * (rho[0] - rho[1]), rel=1e-3
    )


@published(
    "gap ventilation",
    "wind pressure between two outlets",
    "fluids, dP_from_K, with the density of air of CoolProp",
    "velocity head times the difference of coefficients",
    "0.1 %",
    How.PACKAGE,
)
@pytest.mark.parametrize(("speed", "difference"), [(2.0, 0.1), (5.0, 0.4)])
def test_wind_pressure(speed: float, difference: float) -> None:
    rho = PropsSI("D", "T", 293.15, "P", 101325, "Air")
    assert gap_air.wind_pressure(speed, difference) == pytest.approx(
        dP_from_K(K=difference, rho=rho, V=speed), rel=1e-3
    )


@published(
    "gap ventilation",
    "wet gap: velocity and vapor with stack and wind, heat and pressure balanced together",
    "scipy.optimize.fsolve with fluids and psychrolib",
    "moist-air enthalpy in and out, moist density of the columns, orifices of K = 1/Cd²",
    "2 %",
    How.PACKAGE,
)
@pytest.mark.parametrize(
    ("face", "air", "dew", "wind"),
    [(60.0, 35.0, 24.0, 0.0), (60.0, 35.0, 24.0, 0.6), (50.0, 20.0, 10.0, -0.1)],
)
def test_wet_gap_as_two_equations(face: float, air: float, dew: float, wind: float) -> None:
    """The outgoing air is saturated at the temperature of the gap; its enthalpy less the incoming one's is the heat."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    b, height, share, r = 0.011, 1.1, 0.3, 0.09
    ratio = psychrolib.GetHumRatioFromTDewPoint(dew, 101325.0)

    def surplus(unknown: list[float]) -> list[float]:
        temp, v = float(unknown[0]), abs(float(unknown[1]))
        soaked = psychrolib.GetSatHumRatio(temp, 101325.0)
        columns = [psychrolib.GetMoistAirDensity(t, w, 101325.0) for t, w in ((air, ratio), (temp, soaked))]
        f = 96.0 / Reynolds(V=v, D=2 * b, rho=1.2041, mu=1.82e-5)
        k = K_from_f(fd=f, L=height, D=2 * b) + 2 / 0.6**2 / share**2
        pressure = (
            GRAVITY * height * (columns[0] - columns[1]) + wind - float(dP_from_K(K=k, rho=1.2041, V=v))
        )
        dry_air = v * b / height / psychrolib.GetMoistAirVolume(temp, soaked, 101325.0)
        gained = psychrolib.GetMoistAirEnthalpy(temp, soaked) - psychrolib.GetMoistAirEnthalpy(air, ratio)
        return [pressure, (face - temp) / r - dry_air * gained]

    temp, v = fsolve(surplus, [0.5 * (face + air), 0.1])
    found = gap_balance.wet_gap(
        face,
        air,
        moist_air.saturation_pressure(dew),
        wind,
        b,
        height,
        [gap_air.Loss(1 / 0.6**2, share)] * 2,
        r,
    )
    assert found.temp_c == pytest.approx(temp, abs=0.6)
    assert found.flow.velocity_m_s == pytest.approx(v, rel=0.02)
