"""Wind on the coping against hand calculations from the standard's own tables and equations.

Kz by hand from ASCE 7-16 Table 26.10-1 (from memory): exposure C at 30 ft 0.98, exposure B at 30 ft 0.70. The
coefficients are the practice table's (from memory of ASCE 7 Figures 30.3-1, 30.3-2A, 30.4-1).
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from specgen.design import coping_wind
from tests.design.projects import calculation, number

# ASCE 7-16 Eq. 26.10-1 by hand: 0.00256 × 0.98 × 1.0 × 0.85 × 1.0 × 115² = 28.20 psf at 30 ft, exposure C.
Q_HAND = 0.00256 * 0.98 * 0.85 * 115**2
# The table cuts Kz to two decimals and 0.00256 stands for 0.002559: half of 0.01 in 0.98, and 0.05 %.
HAND = 0.006


def test_pressures_by_hand_at_30_feet(tmp_path: Path) -> None:
    """26 ft roof and 4 ft parapet: the top stands at 30 ft, straight in the table."""
    calc = calculation(coping_wind, tmp_path)
    assert pytest.approx(28.2, abs=0.01) == Q_HAND
    for name, expected in {
        "velocity_pressure": Q_HAND,
        "face_outward_strength": 1.26 * Q_HAND,  # 35.5 psf: wall zone 5, 1.4 less 10 %
        "face_field_strength": 0.99 * Q_HAND,
        "face_inward_strength": 0.90 * Q_HAND,
        "top_uplift_strength": 2.3 * Q_HAND,
        "top_corner_strength": 3.2 * Q_HAND,
        "face_outward_allowable": 0.6 * 1.26 * Q_HAND,
        "top_uplift_allowable": 0.6 * 2.3 * Q_HAND,
        "top_corner_allowable": 0.6 * 3.2 * Q_HAND,
        "resistance_face": 2.0 * 0.6 * 1.26 * Q_HAND,
        "resistance_top": 2.0 * 0.6 * 3.2 * Q_HAND,
        "parapet_case_a": (0.9 + 2.3) * Q_HAND,
        "parapet_case_a_corner": (0.9 + 3.2) * Q_HAND,
        "parapet_case_b": (0.9 + 1.26) * Q_HAND,
    }.items():
        assert number(calc, name, "psf") == pytest.approx(expected, rel=HAND), name
    assert set(calc.results) == set(coping_wind.SETS)


@pytest.mark.parametrize(
    ("exposure", "roof", "kz"),
    [("B", 11, 0.57), ("B", 26, 0.70), ("B", 56, 0.85), ("C", 56, 1.13), ("D", 26, 1.16), ("D", 56, 1.31)],
)
def test_exposure_and_height_follow_the_table(tmp_path: Path, exposure: str, roof: int, kz: float) -> None:
    """ASCE 7-16 Table 26.10-1, as the trade basis quotes it; the table cuts to two decimals: ±0.01."""
    calc = calculation(
        coping_wind,
        tmp_path,
        ("exposure: C", f"exposure: {exposure}"),
        ("height: 26 ft", f"height: {roof} ft"),
    )
    found = number(calc, "velocity_pressure", "psf") / (0.00256 * 0.85 * 115**2)
    assert found == pytest.approx(kz, abs=0.011)


def test_edition_moves_kd_and_changes_kz(tmp_path: Path) -> None:
    """7-22: Kd leaves q and enters p; Kz takes that edition's constants. Kd counts once in either."""
    old = calculation(coping_wind, tmp_path)
    new = calculation(coping_wind, tmp_path, ("IBC 2021", "IBC 2024"))
    # By hand, 7-22, C at 30 ft: 2.41 (30/2460)^(2/9.8) = 0.981; q = 0.00256 × 0.981 × 115² = 33.2 psf
    q22 = 0.00256 * 2.41 * (30 / 2460) ** (2 / 9.8) * 115**2
    assert number(new, "velocity_pressure", "psf") == pytest.approx(q22, rel=1e-3)
    assert number(new, "top_uplift_strength", "psf") == pytest.approx(0.85 * q22 * 2.3, rel=1e-3)
    ratio = number(new, "velocity_pressure", "psf") / number(old, "velocity_pressure", "psf")
    assert ratio == pytest.approx(1 / 0.85, rel=0.01)
    assert "7-22 Eq." in new.results["velocity_pressure"].formula
    assert "Kd" not in new.results["velocity_pressure"].formula


def test_named_standard_goes_before_the_code(tmp_path: Path) -> None:
    named = calculation(
        coping_wind, tmp_path, ("code: IBC 2021", "code: IBC 2012\n  wind_standard: ASCE 7-22")
    )
    by_code = calculation(coping_wind, tmp_path, ("IBC 2021", "IBC 2024"))
    assert number(named, "velocity_pressure", "psf") == number(by_code, "velocity_pressure", "psf")


def test_exposure_b_at_100_feet_separates_the_editions(tmp_path: Path) -> None:
    """Trade basis: B at 100 ft is 0.99 in 7-16 and about 0.95 in 7-22."""
    changes = (("exposure: C", "exposure: B"), ("height: 26 ft", "height: 96 ft"))
    old = calculation(coping_wind, tmp_path, *changes)
    new = calculation(coping_wind, tmp_path, *changes, ("IBC 2021", "IBC 2024"))
    assert number(old, "velocity_pressure", "psf") / (0.00256 * 0.85 * 115**2) == pytest.approx(
        0.99, abs=0.01
    )
    assert number(new, "velocity_pressure", "psf") / (0.00256 * 115**2) == pytest.approx(0.95, abs=0.01)


@pytest.mark.parametrize(("roof", "edge_gcp"), [(60, 1.26), (61, 1.8)])
def test_height_class_changes_at_60_feet_of_mean_roof_height(
    tmp_path: Path, roof: int, edge_gcp: float
) -> None:
    """The parapet adds 4 ft, and does not count for the class."""
    calc = calculation(coping_wind, tmp_path, ("height: 26 ft", f"height: {roof} ft"))
    q = number(calc, "velocity_pressure", "psf")
    assert number(calc, "face_outward_strength", "psf") == pytest.approx(edge_gcp * q)


def test_minimum_pressure_of_16_psf(tmp_path: Path) -> None:
    """60 mph: q = 0.00256 × 0.98 × 0.85 × 60² = 7.7 psf, every pressure but the top's below 16 psf."""
    calc = calculation(coping_wind, tmp_path, ("115 mph", "60 mph"))
    assert number(calc, "face_outward_strength", "psf") == pytest.approx(16.0)
    assert number(calc, "face_outward_allowable", "psf") == pytest.approx(9.6)
    assert number(calc, "resistance_face", "psf") == pytest.approx(19.2)
    assert number(calc, "top_uplift_strength", "psf") == pytest.approx(2.3 * 7.68, rel=HAND)


def test_elevation_and_topography_multiply(tmp_path: Path) -> None:
    """ASCE 7-16 Table 26.9-1 at 6000 ft: Ke = 0.80."""
    flat = calculation(coping_wind, tmp_path)
    high = calculation(
        coping_wind,
        tmp_path,
        ("elevation: 0 ft", "elevation: 6000 ft"),
        ("topographic_factor: 1.0", "topographic_factor: 1.5"),
    )
    ratio = number(high, "velocity_pressure", "psf") / number(flat, "velocity_pressure", "psf")
    assert ratio == pytest.approx(1.5 * 0.80, abs=0.01)


def test_what_is_assumed_is_said(tmp_path: Path) -> None:
    full = calculation(coping_wind, tmp_path)
    bare = calculation(
        coping_wind,
        tmp_path,
        ("  elevation: 0 ft\n", ""),
        ("  topographic_factor: 1.0\n", ""),
        (", roof_slope: 1/4 in/ft", ""),
    )
    added = set(bare.leaves_out) - set(full.leaves_out)
    assert len(added) == 3
    for word in ("Kzt = 1.0", "Ke = 1.0", "roof slope"):
        assert any(word in text for text in added), word
    assert number(bare, "velocity_pressure", "psf") == pytest.approx(number(full, "velocity_pressure", "psf"))


@pytest.mark.parametrize(
    ("old", "key"),
    [
        ("  wind_speed: 115 mph\n", "site.wind_speed"),
        ("  exposure: C\n", "site.exposure"),
        ("height: 26 ft, ", "building.height"),
        ("  code: IBC 2021\n", "site.wind_standard"),
    ],
)
def test_each_missing_datum_is_named(tmp_path: Path, old: str, key: str) -> None:
    calc = calculation(coping_wind, tmp_path, (old, ""))
    assert [text.split(":")[0] for text in calc.missing] == [key]
    assert not calc.results
    assert calc.result("resistance_face") is None


def test_all_missing_data_in_one_run(tmp_path: Path) -> None:
    calc = calculation(
        coping_wind,
        tmp_path,
        ("  code: IBC 2021\n", ""),
        ("  wind_speed: 115 mph\n", ""),
        ("  exposure: C\n", ""),
    )
    assert len(calc.missing) == 3


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("IBC 2021", "IBC 2015", "ASCE 7-10"),
        ("  code: IBC 2021", "  country: CA", "site.country is CA"),
        ("1/4 in/ft", "2 in/ft", "the coefficients end at 7°"),
        ("115 mph", "400 mph", "basic wind speed [m/s]"),
        ("topographic_factor: 1.0", "topographic_factor: 0.8", "topographic factor Kzt"),
    ],
)
def test_what_is_not_covered_has_no_result(tmp_path: Path, old: str, new: str, expected: str) -> None:
    calc = calculation(coping_wind, tmp_path, (old, new))
    assert not calc.done
    assert expected in calc.missing[0]


def test_pressure_rises_with_speed_squared_and_with_height(tmp_path: Path) -> None:
    slow = number(calculation(coping_wind, tmp_path), "resistance_top", "psf")
    fast = number(calculation(coping_wind, tmp_path, ("115 mph", "150 mph")), "resistance_top", "psf")
    assert fast / slow == pytest.approx((150 / 115) ** 2)
    last = 0.0
    for height in (10, 15, 20, 40, 60):
        calc = calculation(coping_wind, tmp_path, ("height: 26 ft", f"height: {height} ft"))
        found = number(calc, "resistance_top", "psf")
        assert found >= last
        last = found


def test_a_higher_parapet_raises_the_pressure_by_the_power_law(tmp_path: Path) -> None:
    """Kz (z/zg)^(2/9.5): from 30 ft to 36 ft the factor is (36/30)^(2/9.5) = 1.0391."""
    low = calculation(coping_wind, tmp_path)
    tall = calculation(coping_wind, tmp_path, ("height: 4 ft", "height: 10 ft"))
    ratio = number(tall, "velocity_pressure", "psf") / number(low, "velocity_pressure", "psf")
    assert ratio == pytest.approx(math.exp(math.log(1.2) * 2 / 9.5))


@pytest.mark.parametrize(
    ("code", "category", "words"),
    [
        ("IBC 2024", "III", "of risk category III"),
        ("IBC 2024", "", "whose risk category is not stated"),
        ("IBC 2024", "II", ""),
        ("IBC 2021", "IV", ""),
    ],
)
def test_tornado_loads_are_told_where_the_standard_asks_for_them(
    tmp_path: Path, code: str, category: str, words: str
) -> None:
    """Risk categories III and IV by ASCE 7-22 chapter 32, as a public design guide of two federal agencies says."""
    stated = f"building: {{risk_category: {category}, " if category else "building: {"
    calc = calculation(coping_wind, tmp_path, ("IBC 2021", code), ("building: {", stated))
    found = [text for text in calc.leaves_out if text.startswith("Tornado")]
    assert bool(found) is bool(words)
    assert not found or words in found[0]


@pytest.mark.parametrize(
    ("standard", "equation", "other"),
    [("ASCE 7-16", "Eq. 30.8-1", "7-22"), ("ASCE 7-22", "Eq. 30.6-1", "7-16")],
)
def test_the_sheet_cites_the_equations_of_its_own_edition(
    tmp_path: Path, standard: str, equation: str, other: str
) -> None:
    """Parapets are 30.8 of 7-16 and 30.6 of 7-22; 30.9 is that of ASCE 7-10."""
    calc = calculation(
        coping_wind, tmp_path, ("code: IBC 2021", f"code: IBC 2021\n  wind_standard: {standard}")
    )
    formulas = [line.formula for line in (*calc.steps, *calc.results.values())]
    cited = [one for one in formulas if "Eq. 30." in one]
    assert len(cited) == 8 and all(f"{standard} {equation}" in one for one in cited)
    assert not any(other in one for one in formulas)
