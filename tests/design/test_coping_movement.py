"""Coping movement against handbook figures and hand calculations."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import coping_movement
from tests.design.projects import calculation, number


def test_aluminum_ten_feet_hundred_degrees(tmp_path: Path) -> None:
    """Handbook: 0.15 to 0.16 in for 10 ft of aluminum and 100 °F. Winter 90 °F makes the range 180 - 80 = 100 °F."""
    calc = calculation(
        coping_movement, tmp_path, ("temp_winter: 10 degF", "temp_winter: 90 degF"), ("60 degF", "80 degF")
    )
    assert number(calc, "range", "deltaF") == pytest.approx(100.0)
    assert 0.15 <= number(calc, "movement", "in") <= 0.16
    assert number(calc, "cover_lap", "in") == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("metal", "ratio"),
    # Handbook: galvanized steel about half of aluminum, titanium-zinc slightly less than aluminum.
    [("galvanized steel", 0.52), ("zinc", 0.95), ("copper", 0.73), ("stainless steel", 0.75)],
)
def test_metals_against_aluminum(tmp_path: Path, metal: str, ratio: float) -> None:
    aluminum = number(calculation(coping_movement, tmp_path), "movement", "in")
    other = number(
        calculation(coping_movement, tmp_path, ("metal: aluminum", f"metal: {metal}")), "movement", "in"
    )
    assert other / aluminum == pytest.approx(ratio, abs=0.01)


def test_gap_by_hand(tmp_path: Path) -> None:
    """23.1e-6/K is 12.83e-6/°F. Installed at 60 °F, hot 180 °F, cold 10 - 10 = 0 °F, piece 120 in.

    Expansion 12.83e-6 × 120 × 120 = 0.185 in; with 1/16 in margin 0.247 in, next 1/16 is 1/4 in.
    Contraction 12.83e-6 × 120 × 60 = 0.092 in; gap when cold 0.250 + 0.092 = 0.342 in.
    """
    calc = calculation(coping_movement, tmp_path)
    assert number(calc, "joint_gap", "in") == pytest.approx(0.25, abs=1e-12)
    assert number(calc, "movement", "in") == pytest.approx(12.83e-6 * 120 * 180, rel=1e-3)
    assert number(calc, "gap_cold", "in") == pytest.approx(0.342, abs=0.001)
    assert number(calc, "gap_hot", "in") == pytest.approx(0.065, abs=0.001)
    assert number(calc, "cover_lap", "in") == pytest.approx(0.092, abs=0.001)
    assert set(calc.results) == set(coping_movement.SETS)


@pytest.mark.parametrize("install", [10, 40, 70, 100, 140, 180])
@pytest.mark.parametrize("length", [4, 10, 12])
def test_gap_never_closes_beyond_the_margin_and_is_no_coarser_than_its_step(
    tmp_path: Path, install: int, length: int
) -> None:
    calc = calculation(
        coping_movement,
        tmp_path,
        ("60 degF", f"{install} degF"),
        ("piece_length: 10 ft", f"piece_length: {length} ft"),
    )
    left = number(calc, "gap_hot", "in")
    assert 1 / 16 - 1e-9 <= left < 2 / 16
    gap = number(calc, "joint_gap", "in") * 16
    assert gap == pytest.approx(round(gap), abs=1e-9)


def test_gap_on_a_step_is_not_raised_by_one(tmp_path: Path) -> None:
    """Installed at the hottest temperature nothing expands: the gap is the margin itself."""
    calc = calculation(coping_movement, tmp_path, ("60 degF", "180 degF"))
    assert number(calc, "joint_gap", "in") == pytest.approx(1 / 16)


def test_colder_installation_and_darker_metal_need_a_wider_gap(tmp_path: Path) -> None:
    gaps = [
        number(calculation(coping_movement, tmp_path, ("60 degF", f"{install} degF")), "joint_gap", "in")
        for install in (90, 60, 30)
    ]
    assert gaps == sorted(gaps)
    assert gaps[0] < gaps[-1]
    by_color = [
        number(calculation(coping_movement, tmp_path, ("color: dark", f"color: {color}")), "movement", "in")
        for color in ("light", "medium", "dark")
    ]
    assert by_color[0] < by_color[1] < by_color[2]


def test_absent_color_is_dark_and_said(tmp_path: Path) -> None:
    given = calculation(coping_movement, tmp_path)
    absent = calculation(coping_movement, tmp_path, (" color: dark,", ""))
    assert number(absent, "movement", "in") == number(given, "movement", "in")
    assert any("dark is assumed" in text for text in set(absent.leaves_out) - set(given.leaves_out))


def test_absent_piece_length_is_the_practice_length_and_said(tmp_path: Path) -> None:
    given = calculation(coping_movement, tmp_path)
    absent = calculation(coping_movement, tmp_path, (", piece_length: 10 ft", ""))
    assert number(absent, "movement", "in") == number(given, "movement", "in")
    assert any("practice length" in text for text in set(absent.leaves_out) - set(given.leaves_out))


def test_metric_project_sets_the_gap_in_millimeters(tmp_path: Path) -> None:
    """0.247 in is 6.28 mm; the next whole millimeter is 7."""
    calc = calculation(coping_movement, tmp_path, ("2026-03-02}", "2026-03-02, units: SI}"))
    assert number(calc, "joint_gap", "mm") == pytest.approx(7.0, abs=1e-9)


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("  temp_install: 60 degF\n", "", "site.temp_install"),
        ("  temp_winter: 10 degF\n", "", "site.temp_winter"),
        (" metal: aluminum,", "", "coping.metal"),
        (
            "kind: formed metal, metal: aluminum, color: dark, piece_length: 10 ft",
            "kind: stone",
            "not covered",
        ),
        ("60 degF", "-5 degF", "temperature at installation"),
        ("60 degF", "190 degF", "temperature at installation"),
    ],
)
def test_what_is_missing_or_not_covered_is_named(tmp_path: Path, old: str, new: str, expected: str) -> None:
    calc = calculation(coping_movement, tmp_path, (old, new))
    assert not calc.done
    assert [expected in text for text in calc.missing] == [True]


def test_without_a_coping_the_coping_itself_is_missing(tmp_path: Path) -> None:
    line = "    top:\n      - {role: coping, kind: formed metal, metal: aluminum, color: dark, piece_length: 10 ft}\n"
    calc = calculation(coping_movement, tmp_path, (line, ""))
    assert any(text.startswith("coping:") for text in calc.missing)
