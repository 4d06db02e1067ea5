"""Drainage gap against textbooks and reference libraries."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from fluids import K_from_f, dP_from_K, exit_normal

from specgen.physics.gap import capillary_rise, falling_film, slot_drainage
from specgen.physics.gap_air import Loss, gap_flow, stack_pressure
from tests.published.register import How, published

KELVIN = 273.15


@published(
    "gap drainage",
    "film thickness with density and viscosity of water",
    "CoolProp, PropsSI",
    "IAPWS water; the velocity profile integrated",
    "1e-6",
    How.PACKAGE,
)
@pytest.mark.parametrize("temp_c", [2.0, 10.0, 20.0, 35.0])
def test_film_is_the_integrated_half_parabola(temp_c):
    """Closed form, integrated by numbers, with density and viscosity of water from CoolProp (IAPWS)."""
    rho = PropsSI("D", "T", temp_c + KELVIN, "P", 101325, "Water")
    mu = PropsSI("V", "T", temp_c + KELVIN, "P", 101325, "Water")
    delta = falling_film(2e-5, rho, mu).thickness_m
    y = np.linspace(0, delta, 4001)
    assert np.trapezoid(rho * 9.80665 / mu * (delta * y - y**2 / 2), y) == pytest.approx(2e-5, rel=1e-6)


@published(
    "gap drainage",
    "capillary length of water",
    "de Gennes, Brochard-Wyart and Quéré, Capillarity and Wetting Phenomena",
    "from memory",
    "0.05 mm",
    How.MEMORY,
)
def test_capillary_length_of_water():
    """2.7 mm: de Gennes, Brochard-Wyart & Quéré, Capillarity and Wetting Phenomena (from memory: M)."""
    assert capillary_rise(1e-3, 0.0).capillary_length_m == pytest.approx(2.7e-3, abs=0.05e-3)


@published(
    "gap drainage",
    "capillary rise with surface tension and density of water",
    "CoolProp, PropsSI",
    "IAPWS water; weight against tension",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize("temp_c", [5.0, 20.0, 40.0])
def test_capillary_rise_balances_weight_and_tension(temp_c):
    """Second method: weight of the lifted water equals the pull of both contact lines; γ, ρ from CoolProp."""
    rho = PropsSI("D", "T", temp_c + KELVIN, "Q", 0, "Water")
    gamma = PropsSI("I", "T", temp_c + KELVIN, "Q", 0, "Water")
    gap, angle = 0.4e-3, 25.0
    height = capillary_rise(gap, angle, gamma, rho).height_m
    assert rho * 9.80665 * height * gap == pytest.approx(2 * gamma * np.cos(np.radians(angle)), rel=1e-9)


@published(
    "gap ventilation",
    "pressure used by laminar friction and outlets",
    "fluids, K_from_f, exit_normal, dP_from_K",
    "Darcy friction on the hydraulic diameter",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize("gap", [0.003, 0.006, 0.010])
@pytest.mark.parametrize("pressure", [0.05, 0.3])
def test_air_flow_uses_up_its_pressure_by_the_reference_library(gap, pressure):
    """`fluids`: f = 96/Re on the hydraulic diameter 2b, exit loss of `exit_normal`, Δp = K ρ v²/2."""
    flow = gap_flow(pressure, gap, 1.2, [Loss(0.5, 1.0), Loss(exit_normal(), 0.5)])
    v = flow.velocity_m_s
    k = K_from_f(fd=96 / flow.reynolds, L=1.2, D=2 * gap) + 0.5 + exit_normal() / 0.25
    assert dP_from_K(K=k, rho=1.2041, V=v) == pytest.approx(pressure, rel=1e-9)


@published(
    "gap ventilation",
    "one law for water and air between plates",
    "Poiseuille flow between plates",
    "worked here",
    "1e-9",
    How.CLOSED_FORM,
)
def test_slot_water_and_gap_air_share_one_law():
    """The gap of air driven by its own weight moves as the slot of a liquid of the same properties would."""
    rho, mu, b = 1.2041, 1.82e-5, 5e-4
    assert gap_flow(rho * 9.80665 * 2.0, b, 2.0, []).velocity_m_s == pytest.approx(
        rho * 9.80665 * b**2 / (12 * mu), rel=1e-9
    )
    assert slot_drainage(b, 998.2, 1.0016e-3).velocity_m_s == pytest.approx(
        998.2 * 9.80665 * b**2 / (12 * 1.0016e-3), rel=1e-9
    )


@published(
    "gap ventilation",
    "stack pressure",
    "CoolProp, PropsSI",
    "density of air inside and outside",
    "0.5 %",
    How.PACKAGE,
)
@pytest.mark.parametrize(("gap_c", "outdoor_c"), [(35.0, 20.0), (60.0, 30.0), (5.0, -15.0)])
def test_stack_pressure_from_reference_densities(gap_c, outdoor_c):
    """Air densities from CoolProp."""
    rho = [PropsSI("D", "T", t + KELVIN, "P", 101325, "Air") for t in (outdoor_c, gap_c)]
    assert stack_pressure(3.0, gap_c, outdoor_c) == pytest.approx(
        9.80665 * 3.0 * (rho[0] - rho[1]), rel=0.005
    )
