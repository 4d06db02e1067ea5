"""Earthquake and wind on a parapet against worked examples of public texts."""

from __future__ import annotations

import pytest

from specgen.physics import wind
from specgen.physics.parapet_loads import SeismicBounds, base_of, seismic_share
from specgen.physics.wind_parapet import ParapetCoefficients, parapet_pressures
from specgen.practice.load import load_practice
from specgen.units.quantity import to_unit
from tests.published.register import How, published

PRACTICE = load_practice()
FOOT, POUND_FORCE = 0.3048, 4.4482216152605
PSF = POUND_FORCE / FOOT**2


def value(key: str) -> float:
    return to_unit(PRACTICE.quantity(key), "")


@published(
    "parapet seismic",
    "unbraced masonry parapet of 2.67 ft and 84 psf, SDS 1.0: Fp = 1.2 Wp = 269 lb/ft, 101 psf, bounds 0.3 and 1.6",
    "a textbook on reinforced masonry structures, worked example of chapter 6",
    "page 386 of a public copy, read",
    "0.5 %",
    How.READ,
    "ASCE 7-05",
)
def test_force_on_a_masonry_parapet() -> None:
    bounds = SeismicBounds(value("seismic.least"), value("seismic.most"))
    assert (bounds.least, bounds.most) == (0.30, 1.6)
    amplification = (
        value("seismic.factor") * value("seismic.ap") * value("seismic.at_roof") / value("seismic.rp")
    )
    share = seismic_share(1.0, value("seismic.importance"), amplification, bounds)
    assert share == pytest.approx(1.2)
    base = base_of(share * 84.0 * PSF, 2.67 * FOOT)
    assert base.shear / (POUND_FORCE / FOOT) == pytest.approx(269.0, rel=0.005)
    assert share * 84.0 == pytest.approx(101.0, rel=0.005)


@published(
    "parapet wind",
    "solid parapet, flat roof up to 60 ft: case A 0.9 + 1.8 = 2.7, case B 0.9 + 1.1 = 2.0 times q",
    "a university lecture on nonbearing masonry walls",
    "parapet design force, public copy, read",
    "1e-9",
    How.READ,
    "ASCE 7-10",
)
def test_coefficients_of_both_load_cases() -> None:
    coefficients = ParapetCoefficients(0.9, -1.1, -1.8)
    found = parapet_pressures(1000.0, coefficients, 0.0, wind.Directionality(0.85, "q"), 0.0)
    assert (found.net_a, found.net_b) == (pytest.approx(2700.0), pytest.approx(2000.0))


@published(
    "parapet wind",
    "velocity pressure at the top of a parapet at 33 ft, exposure C, 120 mph: Kz 1.002, q = 31.4 psf",
    "a public article on wind load on parapets",
    "worked example, read",
    "0.3 %",
    How.READ,
    "ASCE 7-16",
)
def test_velocity_pressure_at_the_top_of_a_parapet() -> None:
    kz = wind.exposure_coefficient(33.0 * FOOT, 9.5, 900.0 * FOOT, 15.0 * FOOT, 2.01)
    assert kz == pytest.approx(1.002, abs=0.0005)
    q = wind.velocity_pressure(120.0 * 0.44704, kz, 1.0, 1.0, wind.Directionality(0.85, "q"))
    assert q / PSF == pytest.approx(31.4, rel=0.003)


@published(
    "parapet wind",
    "exterior walls with plaster or stucco finishes: l/360 under wind",
    "IBC, Table 1604.3",
    "a public copy of the section, read",
    "exact",
    How.READ,
    "2021",
)
def test_span_over_deflection() -> None:
    assert value("structure.deflection") == 360


@published(
    "parapet seismic",
    "light panel at 11.5 of 20 ft, 2.7 psf, SDS 1.027: 0.95 psf, greatest 4.44 psf, least 0.83 psf",
    "a permit calculation in a city's public records, component analysis of section 13.3",
    "equations 13.3-1 to 13.3-3 with their results, read",
    "1 %",
    How.READ,
    "ASCE 7-16",
)
def test_bounds_and_force_of_a_permit_calculation() -> None:
    bounds = SeismicBounds(value("seismic.least"), value("seismic.most"))
    place = 1.0 + (value("seismic.at_roof") - 1.0) * 11.458333 / 20.0
    amplification = value("seismic.factor") * 1.0 * place / 2.5
    for asked, force in ((amplification, 0.95), (9.0, 4.44), (0.0, 0.83)):
        assert seismic_share(1.027, 1.0, asked, bounds) * 2.7 == pytest.approx(force, rel=0.01)


@published(
    "parapet seismic",
    "later edition: Fp = 0.4 SDS Ip Wp (Hf/Rμ)(CAR/Rpo) within 0.3 and 1.6; Hf = 1 + 2.5 z/h, 3.5 at the roof; Rμ at "
    "least 1.3",
    "two public programs that print section 13.3 of the edition, independent of each other",
    "formulas, read",
    "1e-9",
    How.READ,
    "ASCE 7-22",
)
def test_force_of_the_later_edition() -> None:
    """The bounds and the height factor where the period is unknown; of both programs only one keeps Rμ at 1.3."""
    bounds = SeismicBounds(value("seismic.least"), value("seismic.most"))
    assert value("seismic.hf") == pytest.approx(1.0 + 2.5)
    assert value("seismic.rmu") == pytest.approx(1.3)
    for sds, importance, car, rpo in ((1.0, 1.0, 1.0, 1.5), (0.6, 1.5, 2.2, 1.5), (1.2, 1.0, 2.8, 1.5)):
        asked = 0.4 * 3.5 / 1.3 * car / rpo
        expected = max(min(asked * sds * importance, 1.6 * sds * importance), 0.3 * sds * importance)
        used = value("seismic.factor") * value("seismic.hf") / value("seismic.rmu") * car / rpo
        assert seismic_share(sds, importance, used, bounds) == pytest.approx(expected, rel=1e-9)


@published(
    "parapet wind",
    "a cantilever counts twice its length in the limit of deflection; 0.42 of the wind on components and cladding",
    "IBC, Table 1604.3, notes",
    "the note on cantilevers in a public program that quotes it, 0.42 in an engineers' mailing list on IBC 2012, read",
    "exact",
    How.READ,
    "2012",
)
def test_notes_on_deflection() -> None:
    assert value("structure.cantilever") == 2
    assert value("structure.deflection_wind") == pytest.approx(0.42)
