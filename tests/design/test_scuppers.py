"""Scuppers against the table of the ASCE 7 commentary and by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import scuppers
from tests.design.projects import full, number


def test_by_hand(tmp_path: Path) -> None:
    """4 in/h on 1200 ft²: 400 ft³/h = 49.87 gal/min. Head (49.87/(2.9 × 6))^(2/3) = 2.018 in, below 4 in: a weir.

    Inlet of the overflow 2 in: 4.018 in of water, 5.19 psf each (62.3 lb/ft³): 20.9 psf. Turn-up 12 in: 7.98 in left.
    """
    calc = full(scuppers, tmp_path)
    head = (400 / 60 * 7.480519 / (2.9 * 6)) ** (2 / 3)
    assert set(calc.results) == set(scuppers.SETS)
    assert number(calc, "primary_head", "in") == pytest.approx(head, rel=1e-5)
    assert calc.verdict("overflow_regime") == "weir"
    assert number(calc, "water_depth", "in") == pytest.approx(2 + head, rel=1e-5)
    assert number(calc, "water_load", "psf") == pytest.approx((2 + head) * 62.3 / 12, rel=1e-3)
    assert number(calc, "freeboard", "in") == pytest.approx(12 - 2 - head, rel=1e-5)
    assert calc.verdict("turn_up_holds") == "yes"


def test_a_low_turn_up_does_not_hold(tmp_path: Path) -> None:
    calc = full(scuppers, tmp_path, ("height: 12 in", "height: 5 in"))
    assert calc.verdict("turn_up_holds") == "no"
    assert number(calc, "freeboard", "in") < 2


def test_a_drowned_overflow_is_no_weir(tmp_path: Path) -> None:
    calc = full(
        scuppers,
        tmp_path,
        ("area_served: 1200 ft2}\n      - {name: S-2", "area_served: 200 ft2}\n      - {name: S-2"),
        ("inlet_height: 2 in, area_served: 1200 ft2", "inlet_height: 2 in, area_served: 9000 ft2"),
    )
    assert calc.verdict("overflow_regime") == "orifice"
    assert number(calc, "overflow_head", "in") > 1.5 * 4
    assert calc.verdict("primary_regime") == "weir"


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("  design_rainfall: 4 in/h\n", "", "site.design_rainfall"),
        (", height: 12 in}", "}", "roof turn-up.height"),
        (" inlet_height: 2 in,", "", "scuppers S-2.inlet_height"),
        ("position: 20 ft, width: 6 in, ", "position: 20 ft, ", "scuppers S-1.width"),
        ("use: overflow", "use: primary", "scuppers"),
    ],
)
def test_what_is_missing_is_named(tmp_path: Path, old: str, new: str, expected: str) -> None:
    calc = full(scuppers, tmp_path, (old, new))
    assert [text.split(":")[0] for text in calc.missing] == [expected]


def test_the_deepest_overflow_governs(tmp_path: Path) -> None:
    """A second overflow 3 in above the low point stands an inch deeper at the same head."""
    third = (
        "      - {name: S-2",
        "      - {name: S-3, use: overflow, width: 6 in, height: 4 in, inlet_height: 3 in, area_served: 1200 ft2}\n"
        "      - {name: S-2",
    )
    one, two = full(scuppers, tmp_path), full(scuppers, tmp_path, third)
    assert number(two, "water_depth", "in") == pytest.approx(number(one, "water_depth", "in") + 1)


@pytest.mark.parametrize(("gap", "holds"), [(6.02, "yes"), (6.01, "no")])
def test_freeboard_of_two_inches(tmp_path: Path, gap: float, holds: str) -> None:
    """4.0178 in of water and 2 in of freeboard: 6.0178 in of turn-up."""
    calc = full(scuppers, tmp_path, ("height: 12 in", f"height: {gap} in"))
    assert calc.verdict("turn_up_holds") == holds


def test_the_formulas_name_their_source(tmp_path: Path) -> None:
    calc = full(scuppers, tmp_path)
    assert sum("ASCE 7" in source for source in calc.sources) == 2
    # 5.2 psf an inch of water, the form of the standard.
    assert number(calc, "water_load", "psf") == pytest.approx(
        5.2 * number(calc, "water_depth", "in"), rel=2e-3
    )
