"""Wind against figures of ASCE 7. Read in the project's basis of figures unless marked memory."""

from __future__ import annotations

import pytest

from specgen.physics import wind
from specgen.physics.wind import Directionality
from specgen.practice.entries import cell
from specgen.practice.load import load_practice
from tests.published.register import How, published

FT = 0.3048
MPH = 0.44704
PSF = 47.880258980336

EXPOSURES = load_practice().table("exposure")
COEFFICIENTS = load_practice().table("pressure_coefficients")

# ASCE 7-16 table 26.10-1, read in the project's basis; the table cuts digits off: 0.01.
KZ_16 = [
    ("B", 15.0, 0.57),
    ("B", 30.0, 0.70),
    ("B", 60.0, 0.85),
    ("B", 100.0, 0.99),
    ("C", 15.0, 0.85),
    ("C", 30.0, 0.98),
    ("C", 60.0, 1.13),
    ("C", 100.0, 1.26),
    ("D", 15.0, 1.03),
    ("D", 30.0, 1.16),
    ("D", 60.0, 1.31),
    ("D", 100.0, 1.43),
]

# ASCE 7-22 table 26.10-1: height [ft], exposures B, C, D. Read in a public copy of the page.
KZ_22 = [
    (15.0, 0.57, 0.85, 1.03),
    (20.0, 0.62, 0.90, 1.08),
    (25.0, 0.66, 0.94, 1.12),
    (30.0, 0.70, 0.98, 1.16),
    (40.0, 0.74, 1.04, 1.22),
    (50.0, 0.79, 1.09, 1.27),
    (60.0, 0.83, 1.13, 1.31),
    (70.0, 0.86, 1.17, 1.34),
    (80.0, 0.90, 1.21, 1.38),
    (90.0, 0.92, 1.24, 1.40),
    (100.0, 0.95, 1.26, 1.43),
    (120.0, 1.00, 1.31, 1.48),
    (140.0, 1.04, 1.34, 1.52),
    (160.0, 1.08, 1.39, 1.55),
    (180.0, 1.11, 1.41, 1.58),
    (200.0, 1.14, 1.44, 1.61),
    (250.0, 1.21, 1.51, 1.68),
    (300.0, 1.27, 1.57, 1.73),
    (350.0, 1.33, 1.62, 1.78),
    (400.0, 1.38, 1.66, 1.82),
    (450.0, 1.42, 1.70, 1.86),
    (500.0, 1.46, 1.74, 1.89),
]

KZ_30_B = 0.70
# IRC table R301.2.1(2) of 2021 (ASCE 7-16) and 2024 (ASCE 7-22): mean roof height [ft], exposures B, C, D; over KZ_30_B.
ADJUSTED = {
    "ASCE 7-16": [
        (15.0, 0.82, 1.21, 1.47),
        (20.0, 0.89, 1.29, 1.55),
        (25.0, 0.94, 1.35, 1.61),
        (30.0, 1.00, 1.40, 1.66),
        (35.0, 1.05, 1.45, 1.70),
        (40.0, 1.09, 1.49, 1.74),
        (45.0, 1.12, 1.53, 1.78),
        (50.0, 1.16, 1.56, 1.81),
        (55.0, 1.19, 1.59, 1.84),
        (60.0, 1.22, 1.62, 1.87),
    ],
    "ASCE 7-22": [
        (15.0, 0.82, 1.21, 1.47),
        (20.0, 0.89, 1.29, 1.55),
        (25.0, 0.94, 1.35, 1.61),
        (30.0, 1.00, 1.40, 1.66),
        (40.0, 1.06, 1.49, 1.74),
        (60.0, 1.19, 1.62, 1.87),
    ],
}

# IRC 2021 table R301.2.1(1): suction [psf] of allowable stress at 115 mph, 30 ft, exposure B, by area [ft2].
# The walls there have no reduction for a flat roof.
SUCTION_115 = [
    ("roof edge", 1.0, {10: 30.0, 20: 28.1, 50: 25.5, 100: 23.6}),
    ("roof corner", 1.0, {10: 40.9, 20: 37.0, 50: 31.7, 100: 27.8}),
    ("wall field outward", 0.9, {10: 15.5, 20: 14.8, 50: 14.0, 100: 13.3, 500: 11.9}),
    ("wall edge outward", 0.9, {10: 19.1, 20: 17.8, 50: 16.1, 100: 14.8, 500: 11.9}),
]

# IBC 2015 table 1609.6.2: net coefficient of enclosed buildings over 60 ft at the smallest and the largest area.
NET_OVER_60 = [
    ("roof edge", 2.11, 1.51),
    ("roof corner", 2.87, 2.11),
    ("wall field outward", 0.92, 0.75),
    ("wall edge outward", 1.68, 1.00),
    ("wall inward", 0.92, 0.66),
]


def kz(standard: str, exposure: str, height_ft: float) -> float:
    (row,) = EXPOSURES.where(standard=standard, exposure=exposure)
    alpha, gradient, least, factor = (cell(row, name).value for name in ("alpha", "zg", "z_min", "factor"))
    return float(wind.exposure_coefficient(height_ft * FT, alpha, gradient, least, factor))


@published(
    "coping wind",
    "Kz to 100 ft by exposure",
    "ASCE 7, table 26.10-1",
    "from memory",
    "0.01",
    How.MEMORY,
    "2016",
)
@pytest.mark.parametrize(("exposure", "height_ft", "expected"), KZ_16)
def test_kz_of_7_16(exposure: str, height_ft: float, expected: float) -> None:
    assert kz("ASCE 7-16", exposure, height_ft) == pytest.approx(expected, abs=0.01)


@published(
    "coping wind",
    "Kz of the later edition to 500 ft by exposure",
    "ASCE 7, table 26.10-1",
    "read in a public copy of the page",
    "0.015",
    How.READ,
    "2022",
)
@pytest.mark.parametrize(("height_ft", "b", "c", "d"), KZ_22)
def test_kz_of_7_22(height_ft: float, b: float, c: float, d: float) -> None:
    found = [kz("ASCE 7-22", exposure, height_ft) for exposure in "BCD"]
    assert found == pytest.approx([b, c, d], abs=0.015)


@published(
    "coping wind",
    "pressure by height and exposure over that of 30 ft in exposure B, to 60 ft",
    "IRC, table R301.2.1(2)",
    "read in public copies of state and federal adoptions of 2021 and 2024",
    "0.016",
    How.READ,
    "2021 and 2024",
)
@pytest.mark.parametrize("standard", ADJUSTED)
def test_height_and_exposure_of_the_residential_code(standard: str) -> None:
    for height_ft, *expected in ADJUSTED[standard]:
        found = [kz(standard, exposure, height_ft) / KZ_30_B for exposure in "BCD"]
        assert found == pytest.approx(expected, abs=0.016), height_ft


@published(
    "coping wind",
    "suction on roof edges and walls of low buildings",
    "IRC, table R301.2.1(1)",
    "pressures at 115 mph, read in a public copy of a state code",
    "1 %",
    How.READ,
    "2021",
)
@pytest.mark.parametrize(("surface", "reduction", "printed"), SUCTION_115)
def test_suction_of_the_residential_code(surface: str, reduction: float, printed: dict[int, float]) -> None:
    (row,) = COEFFICIENTS.where(height_class="up to 60 ft", surface=surface)
    areas = (cell(row, "area_small").value, cell(row, "area_large").value)
    ends = (cell(row, "gcp_small").value / reduction, cell(row, "gcp_large").value / reduction)
    velocity_pressure = 0.6 * 0.00256 * 0.70 * 0.85 * 115.0**2
    for area, expected in printed.items():
        outside = float(wind.coefficient_at_area(area * FT**2, areas, ends))
        assert velocity_pressure * (0.18 - outside) == pytest.approx(expected, rel=0.01), area


@published(
    "coping wind",
    "net coefficients of roof edges and walls over 60 ft",
    "IBC, table 1609.6.2",
    "enclosed buildings, read in a public copy of a state code",
    "0.01",
    How.READ,
    "2015",
)
@pytest.mark.parametrize(("surface", "small", "large"), NET_OVER_60)
def test_net_coefficients_of_tall_buildings(surface: str, small: float, large: float) -> None:
    (row,) = COEFFICIENTS.where(height_class="over 60 ft", surface=surface)
    ends = (abs(cell(row, name).value) for name in ("gcp_small", "gcp_large"))
    assert [0.85 * (end + 0.18) for end in ends] == pytest.approx([small, large], abs=0.01)


@published(
    "coping wind",
    "Kz is 1 at 33 ft in exposure C",
    "ASCE 7, definition of the basic wind speed",
    "from memory",
    "0.01",
    How.MEMORY,
)
def test_exposure_c_at_ten_metres_is_one_in_both_editions() -> None:
    """Definition: the basic wind speed is the speed at 33 ft in exposure C."""
    assert kz("ASCE 7-16", "C", 33.0) == pytest.approx(1.0, abs=0.01)
    assert kz("ASCE 7-22", "C", 33.0) == pytest.approx(1.0, abs=0.01)


def test_the_two_editions_differ_in_exposure_b() -> None:
    assert kz("ASCE 7-16", "B", 100.0) - kz("ASCE 7-22", "B", 100.0) > 0.03


# ASCE 7-16 table 26.9-1, elevation [ft] and Ke; memory; two decimals.
@published(
    "coping wind",
    "ground elevation factor",
    "ASCE 7, table 26.9-1",
    "from memory",
    "0.01",
    How.MEMORY,
    "2016",
)
@pytest.mark.parametrize(
    ("feet", "ke"),
    [
        (0.0, 1.00),
        (1000.0, 0.96),
        (2000.0, 0.93),
        (3000.0, 0.90),
        (4000.0, 0.87),
        (5000.0, 0.83),
        (6000.0, 0.80),
    ],
)
def test_ground_elevation_factor(feet: float, ke: float) -> None:
    assert wind.ground_elevation_factor(feet * FT) == pytest.approx(ke, abs=0.01)


@published(
    "coping wind",
    "velocity pressure in inch-pound units",
    "ASCE 7, eq. 26.10-1",
    "worked here",
    "0.1 psf",
    How.CLOSED_FORM,
)
def test_velocity_pressure_worked_in_inch_pound_units() -> None:
    """Second method: 120 mph, exposure C, 33 ft, Kd 0.85, sea level. 0.00256 x 1.002 x 0.85 x 120² = 31.4 psf."""
    q = wind.velocity_pressure(120.0 * MPH, kz("ASCE 7-16", "C", 33.0), 1.0, 1.0, Directionality(0.85, "q"))
    assert q / PSF == pytest.approx(31.4, abs=0.1)


@published(
    "coping wind",
    "density behind the factor 0.613",
    "ideal gas law",
    "worked here",
    "0.1 %",
    How.CLOSED_FORM,
)
def test_air_density_behind_the_pressure_factor() -> None:
    """0.613 is half the density of air at 15 °C and one atmosphere (ideal gas): 0.1 %."""
    from specgen.physics import constants as c

    density = c.STANDARD_ATMOSPHERE / (c.GAS_CONSTANT_DRY_AIR * 288.15)
    assert pytest.approx(density / 2.0, rel=1e-3) == wind.AIR_PRESSURE_FACTOR
