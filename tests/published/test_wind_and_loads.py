"""Wind, water and fasteners against published tables, `fluids`, scipy's solvers and pint."""

from __future__ import annotations

import numpy as np
import pint
import pytest
from fluids import ATMOSPHERE_1976
from fluids.open_flow import (
    Q_weir_rectangular_full_Kindsvater_Carter,
    Q_weir_rectangular_full_Rehbock,
    Q_weir_rectangular_Kindsvater_Carter,
)
from ht.insulation import rho_material
from scipy.integrate import dblquad, quad, solve_bvp
from scipy.interpolate import interp1d
from scipy.optimize import brentq

from specgen.physics import fasteners, scupper, wind
from specgen.physics.constants import GRAVITY
from specgen.practice.load import load_practice
from specgen.units.quantity import to_unit
from tests.published.register import How, published

FT, INCH = 0.3048, 0.0254
UNIT = pint.UnitRegistry()
PSF = UNIT("pound_force/foot**2")

# ASCE 7 table 26.10-1, exposures B, C, D at 15, 20, 25 and 30 ft: a public program's copy of the table, read. The program
# names the edition of 2022; the figures are those that the constants of 2016 give.
COPIED = {
    "B": (7.0, 1200.0, (0.57, 0.62, 0.66, 0.70)),
    "C": (9.5, 900.0, (0.85, 0.90, 0.94, 0.98)),
    "D": (11.5, 700.0, (1.03, 1.08, 1.12, 1.16)),
}


@published(
    "coping wind",
    "Kz at 15 to 30 ft",
    "ASCE 7, table 26.10-1",
    "a public program's copy of the table, read",
    "0.01",
    How.READ,
    "2016",
)
@pytest.mark.parametrize("exposure", COPIED)
@pytest.mark.parametrize(("place", "feet"), list(enumerate((15.0, 20.0, 25.0, 30.0))))
def test_kz_of_the_copied_table(exposure: str, place: int, feet: float) -> None:
    alpha, gradient, values = COPIED[exposure]
    found = wind.exposure_coefficient(feet * FT, alpha, gradient * FT, 15.0 * FT, 2.01)
    assert found == pytest.approx(values[place], abs=0.01)


@published(
    "coping wind",
    "Kz = 2.41 (z/zg)^(2/α), level below 15 ft",
    "ASCE 7, table 26.10-1, note 1",
    "a public structural library that cites it, read",
    "1e-9",
    How.READ,
    "2022",
)
@pytest.mark.parametrize(
    ("feet", "alpha", "gradient"), [(10.0, 9.8, 2460.0), (40.0, 7.5, 3280.0), (90.0, 11.5, 1935.0)]
)
def test_kz_formula_of_7_22(feet: float, alpha: float, gradient: float) -> None:
    expected = 2.41 * (min(max(15.0, feet), gradient) / gradient) ** (2.0 / alpha)
    found = wind.exposure_coefficient(feet * FT, alpha, gradient * FT, 15.0 * FT, 2.41)
    assert found == pytest.approx(expected, rel=1e-9)


@published(
    "coping wind",
    "Ke = e^(-0.0000362 z), z in feet",
    "ASCE 7, table 26.9-1, note 2",
    "a public structural library that cites it, read",
    "0.2 %",
    How.READ,
    "2022",
)
@pytest.mark.parametrize("feet", [0.0, 1500.0, 5280.0])
def test_ground_elevation_formula_of_7_22(feet: float) -> None:
    assert wind.ground_elevation_factor(feet * FT) == pytest.approx(np.exp(-0.0000362 * feet), rel=2e-3)


@published(
    "coping wind",
    "ground elevation factor as the thinning of the air",
    "fluids, ATMOSPHERE_1976",
    "US Standard Atmosphere 1976, density over that at sea level",
    "4 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("metres", [300.0, 1000.0, 1600.0])
def test_elevation_against_the_standard_atmosphere(metres: float) -> None:
    reference = ATMOSPHERE_1976(metres).rho / ATMOSPHERE_1976(0.0).rho
    assert wind.ground_elevation_factor(metres) == pytest.approx(reference, rel=0.04)


@published(
    "coping wind",
    "factor 0.613 of the velocity pressure",
    "fluids, ATMOSPHERE_1976",
    "half the density of air at sea level",
    "0.1 %",
    How.PACKAGE,
)
def test_pressure_factor_against_the_standard_atmosphere() -> None:
    assert pytest.approx(ATMOSPHERE_1976(0.0).rho / 2, rel=1e-3) == wind.AIR_PRESSURE_FACTOR


@published(
    "coping wind",
    "q = 0.00256 Kz Kzt Kd V² in psf and mph",
    "ASCE 7, eq. 26.10-1",
    "a public program that cites it, read; units by pint",
    "0.3 %",
    How.READ,
    "2016",
)
@pytest.mark.parametrize(("mph", "kz", "kd"), [(115.0, 0.98, 0.85), (150.0, 1.13, 0.85), (90.0, 0.7, 0.9)])
def test_velocity_pressure_of_the_inch_pound_form(mph: float, kz: float, kd: float) -> None:
    speed = (mph * UNIT("mile/hour")).to("m/s").magnitude
    found = wind.velocity_pressure(speed, kz, 1.0, 1.0, wind.Directionality(kd, "q"))
    assert (found * UNIT.pascal).to(PSF.units).magnitude == pytest.approx(
        0.00256 * kz * kd * mph**2, rel=3e-3
    )


@published(
    "coping wind",
    "external coefficient between two table areas",
    "scipy.interpolate.interp1d",
    "straight over the logarithm of the area, level beyond",
    "1e-12",
    How.PACKAGE,
)
@pytest.mark.parametrize("area", [3.0, 10.0, 47.0, 200.0, 900.0])
def test_coefficient_at_area(area: float) -> None:
    areas, values = [10.0, 100.0, 500.0], [-3.2, -2.1, -1.4]
    line = interp1d(np.log10(areas), values, bounds_error=False, fill_value=(values[0], values[-1]))
    assert wind.coefficient_at_area(area, areas, values) == pytest.approx(
        float(line(np.log10(area))), rel=1e-12
    )


@published(
    "scuppers",
    "bound by the full-width weir of Kindsvater and Carter",
    "fluids, Q_weir_rectangular_full_Kindsvater_Carter",
    "Kindsvater and Carter 1957",
    "0 to 10 % less",
    How.PACKAGE,
)
@pytest.mark.parametrize("head", [1, 2, 3, 4])
def test_full_width_weir_of_kindsvater_and_carter_passes_more(head: float) -> None:
    reference = Q_weir_rectangular_full_Kindsvater_Carter(h1=head * INCH, h2=1.0, b=6 * INCH)
    assert 0.90 * reference < scupper.discharge(head * INCH, 6 * INCH, 0.5).flow_m3_s < reference


@published(
    "scuppers",
    "bound by another full-width weir",
    "fluids, Q_weir_rectangular_full_Rehbock",
    "Rehbock 1929",
    "0 to 12 % less",
    How.PACKAGE,
)
@pytest.mark.parametrize("head", [1, 2, 3, 4])
def test_weir_of_rehbock_passes_more(head: float) -> None:
    reference = Q_weir_rectangular_full_Rehbock(h1=head * INCH, h2=1.0, b=6 * INCH)
    assert 0.88 * reference < scupper.discharge(head * INCH, 6 * INCH, 0.5).flow_m3_s < reference


@published(
    "scuppers",
    "head that a flow needs",
    "fluids, Q_weir_rectangular_Kindsvater_Carter, by scipy.optimize.brentq",
    "its discharge solved for the head",
    "1 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("gpm", [18.0, 50.0, 120.0])
def test_head_for_flow_against_the_weir(gpm: float) -> None:
    flow = (gpm * UNIT("gallon/minute")).to("m**3/s").magnitude

    def surplus(head: float) -> float:
        return float(Q_weir_rectangular_Kindsvater_Carter(h1=head, h2=1.0, b=6 * INCH)) - flow

    assert scupper.head_for_flow(flow, 6 * INCH, 0.5) == pytest.approx(brentq(surplus, 1e-3, 0.4), rel=0.01)


@published(
    "scuppers",
    "discharge of a drowned opening",
    "scipy.integrate.quad",
    "0.60 √(2 g z) over the height of the opening",
    "0.5 %",
    How.PACKAGE,
)
@pytest.mark.parametrize("head", [5, 7, 12])
def test_drowned_opening(head: float) -> None:
    high, wide = 4 * INCH, 6 * INCH
    strips, _ = quad(lambda z: 0.602 * np.sqrt(2 * GRAVITY * z) * wide, (head * INCH) - high, head * INCH)
    assert scupper.discharge(head * INCH, wide, high).flow_m3_s == pytest.approx(strips, rel=5e-3)


@published(
    "scuppers",
    "Q = 2.9 b h^1.5 in gallons a minute and inches",
    "pint",
    "US gallons, inches",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize(("width", "head"), [(6.0, 2.0), (12.0, 3.0)])
def test_weir_in_inch_pound_units(width: float, head: float) -> None:
    flow = scupper.discharge(head * INCH, width * INCH, 0.5).flow_m3_s * UNIT("m**3/s")
    assert flow.to("gallon/minute").magnitude == pytest.approx(2.9 * width * head**1.5, rel=1e-9)


@published(
    "lath fasteners",
    "density of cement plaster, here with its lath",
    "ht, rho_material",
    "cement plaster, sand aggregate; ASHRAE Handbook of Fundamentals",
    "0 to 20 % more",
    How.PACKAGE,
)
def test_weight_of_plaster() -> None:
    """The lath and the keys behind it come on top of the library's plaster."""
    entry = to_unit(load_practice().quantity("plaster.density"), "kg/m3")
    reference = rho_material("Cement plaster, sand aggregate")
    assert reference <= entry <= 1.20 * reference


@published(
    "lath fasteners",
    "plastic moment of a round fastener",
    "scipy.integrate.dblquad",
    "f_y ∫|y| dA of a circle",
    "1e-6",
    How.PACKAGE,
)
def test_plastic_moment() -> None:
    r = 2.0
    modulus, _ = dblquad(
        lambda y, x: abs(y), -r, r, lambda x: -np.sqrt(r * r - x * x), lambda x: np.sqrt(r * r - x * x)
    )
    assert fasteners.plastic_moment(2e-3 * r, 600e6) == pytest.approx(600e6 * modulus * 1e-9, rel=1e-6)


@published(
    "lath fasteners",
    "moment of a fastener across the gap, head free and head held",
    "scipy.integrate.solve_bvp",
    "beam equation w''' = V/(E I)",
    "1e-6",
    How.PACKAGE,
)
@pytest.mark.parametrize(("share", "held"), [(1.0, False), (0.5, True)])
def test_moment_as_a_beam(share: float, held: bool) -> None:
    """Deflection, slope, moment over stiffness; the wall end is fixed, the head carries the weight V."""
    lever, stiffness = 0.02, 5.0
    demand = fasteners.lath_demand(480.0, 0.0, 0.4, 0.15, lever, share)
    load = float(np.asarray(demand.shear_n))
    beam = solve_bvp(
        lambda x, w: np.vstack((w[1], w[2], np.full_like(x, load / stiffness))),
        lambda a, b: np.array([a[0], a[1], b[1] if held else b[2]]),
        np.linspace(0, lever, 9),
        np.zeros((3, 9)),
    )
    assert demand.moment_nm == pytest.approx(abs(stiffness * beam.y[2, 0]), rel=1e-6)


@published(
    "lath fasteners",
    "weight and suction on one fastener in pounds",
    "pint",
    "psf times tributary area",
    "1e-9",
    How.PACKAGE,
)
def test_demand_in_pounds() -> None:
    area = 16 * UNIT.inch * 6 * UNIT.inch
    dead, suction = 10 * PSF, 42 * PSF
    found = fasteners.lath_demand(
        dead.to("Pa").magnitude, suction.to("Pa").magnitude, 16 * INCH, 6 * INCH, 0.02, 1.0
    )
    for ours, theirs in ((found.shear_n, dead), (found.withdrawal_n, suction)):
        assert (ours * UNIT.newton).to("lbf").magnitude == pytest.approx(
            (theirs * area).to("lbf").magnitude, rel=1e-9
        )


@published(
    "cleat loads",
    "load of one fastener in pounds",
    "pint",
    "psf times leg times spacing",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize(("psf", "leg", "spacing"), [(42.0, 6.0, 12.0), (75.0, 10.0, 8.0)])
def test_cleat_load_in_pounds(psf: float, leg: float, spacing: float) -> None:
    expected = (psf * PSF * leg * UNIT.inch * spacing * UNIT.inch).to("lbf").magnitude
    found = (
        fasteners.cleat_load((psf * PSF).to("Pa").magnitude, leg * INCH, spacing * INCH, 1.0) * UNIT.newton
    )
    assert found.to("lbf").magnitude == pytest.approx(expected, rel=1e-9)


@published(
    "cleat fasteners",
    "greatest load at an angle that a fastener holds in pull and shear",
    "scipy.optimize.brentq",
    "root of pull/W + shear/Z = 1 along the direction of the load",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize(
    ("angle", "pulled", "sheared"), [(0.0, 400.0, 450.0), (0.5, 400.0, 450.0), (1.2, 300.0, 900.0)]
)
def test_joint_use_along_a_direction(angle: float, pulled: float, sheared: float) -> None:
    greatest = brentq(lambda r: r * np.sin(angle) / pulled + r * np.cos(angle) / sheared - 1.0, 0.0, 1e4)
    assert fasteners.joint_use(
        greatest * np.sin(angle), pulled, greatest * np.cos(angle), sheared
    ) == pytest.approx(1.0, rel=1e-9)
    # Hankinson's formula for a load at an angle, which ANSI/AWC NDS uses (from memory), allows no less.
    hankinson = pulled * sheared / (sheared * np.sin(angle) ** 2 + pulled * np.cos(angle) ** 2)
    assert greatest <= hankinson * (1 + 1e-12)


@published(
    "cleat loads",
    "share of the leg that a cleat at its edge takes",
    "scipy.integrate.solve_bvp",
    "leg as a beam on two edges under even pressure: M'' = -p, reaction M'(0)",
    "1e-6",
    How.PACKAGE,
)
def test_share_of_a_simply_held_leg() -> None:
    pressure, leg, spacing = 2000.0, 0.15, 0.3
    beam = solve_bvp(
        lambda x, m: np.vstack((m[1], np.full_like(x, -pressure))),
        lambda a, b: np.array([a[0], b[0]]),
        np.linspace(0, leg, 9),
        np.zeros((2, 9)),
    )
    assert fasteners.cleat_load(pressure, leg, spacing, 0.5) == pytest.approx(
        beam.y[1, 0] * spacing, rel=1e-6
    )
