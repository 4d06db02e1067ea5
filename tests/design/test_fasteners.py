"""Fasteners of cleat and lath, by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import cleat_fasteners, coping_wind, lath_fasteners
from tests.design.projects import full, number

DENSITY = 137  # lb/ft³


def test_cleat_by_hand(tmp_path: Path) -> None:
    """p5a = 0.6 × 1.26 × 28.2 = 21.3 psf on 6 in of face, fastened each foot: 10.7 lbf, four times 42.7 lbf."""
    calc = full(cleat_fasteners, tmp_path)
    pressure = number(full(coping_wind, tmp_path), "face_outward_allowable", "psf")
    assert pressure == pytest.approx(21.3, abs=0.15)
    assert set(calc.results) == set(cleat_fasteners.SETS)
    assert number(calc, "load", "lbf") == pytest.approx(pressure * 0.5)
    assert number(calc, "needed_pull_out", "lbf") == pytest.approx(pressure * 0.5 * 4)
    # 200 lbf over 4 hold 50 lbf: 50/(21.3 × 0.5) = 4.7 ft
    assert number(calc, "largest_spacing", "ft") == pytest.approx(50 / (pressure * 0.5))
    assert calc.verdict("holds") == "yes"


def test_at_the_largest_spacing_the_cleat_just_holds(tmp_path: Path) -> None:
    spacing = number(full(cleat_fasteners, tmp_path), "largest_spacing", "in")
    at = full(cleat_fasteners, tmp_path, ("fastener_spacing: 12 in", f"fastener_spacing: {spacing:.10f} in"))
    assert number(at, "use", "%") == pytest.approx(100, abs=1e-5)
    over = full(
        cleat_fasteners, tmp_path, ("fastener_spacing: 12 in", f"fastener_spacing: {spacing * 1.01} in")
    )
    assert over.verdict("holds") == "no"


def test_without_a_pull_out_the_need_is_on_the_sheet(tmp_path: Path) -> None:
    calc = full(cleat_fasteners, tmp_path, (", pull_out: 200 lbf", ""))
    assert [text.split(":")[0] for text in calc.missing] == ["cleat.pull_out"]
    assert [line.symbol for line in calc.steps] == ["p", "Pn"]


def test_wind_that_is_unknown_is_passed_on(tmp_path: Path) -> None:
    for module in (cleat_fasteners, lath_fasteners):
        calc = full(module, tmp_path, ("  exposure: C\n", ""))
        assert any("site.exposure" in text and "(coping wind)" in text for text in calc.missing)


def test_lath_by_hand(tmp_path: Path) -> None:
    """1 in of plaster: 137/12 = 11.4 psf. 16 by 6 in: 2/3 ft². Lever 1/2 + 1/2 in: plywood holds the fastener.

    Bending: d = 0.15 in, 90 ksi: Mp = 90000 × 0.15³/6 = 50.6 lbf·in, over 1.67 = 30.3; M = V × 1 in.
    """
    calc = full(lath_fasteners, tmp_path)
    assert set(calc.results) == set(lath_fasteners.SETS)
    pressure = number(full(coping_wind, tmp_path), "face_outward_allowable", "psf")
    shear = DENSITY / 12 * 2 / 3
    assert number(calc, "dead_load", "psf") == pytest.approx(DENSITY / 12)
    assert number(calc, "lever", "in") == pytest.approx(1.0)
    assert number(calc, "shear", "lbf") == pytest.approx(shear)
    assert number(calc, "withdrawal", "lbf") == pytest.approx(pressure * 2 / 3)
    assert number(calc, "use_withdrawal", "%") == pytest.approx(100 * pressure * 2 / 3 * 4 / 400)
    bending = shear * 1.0 / (90000 * 0.15**3 / 6 / 1.67)
    assert number(calc, "use_bending", "%") == pytest.approx(100 * bending)
    both = number(calc, "use_withdrawal", "%") + number(calc, "use_bending", "%")
    assert number(calc, "use", "%") == pytest.approx(both)


def test_gypsum_sheathing_lengthens_the_lever(tmp_path: Path) -> None:
    calc = full(
        lath_fasteners,
        tmp_path,
        ("kind: plywood, thickness: 1/2 in", "kind: glass-mat gypsum, thickness: 5/8 in"),
    )
    assert number(calc, "lever", "in") == pytest.approx(1.0 + 0.625)


@pytest.mark.parametrize(
    ("old", "expected"),
    [
        (", fastener_yield: 90000 psi", "lath.fastener_yield"),
        (", fastener_pull_out: 400 lbf", "lath.fastener_pull_out"),
        (", depth: 1/2 in", "drainage layer.depth"),
    ],
)
def test_what_is_missing_is_named(tmp_path: Path, old: str, expected: str) -> None:
    calc = full(lath_fasteners, tmp_path, (old, ""))
    assert [text.split(":")[0] for text in calc.missing] == [expected]


@pytest.mark.parametrize(("inch", "metric"), [("16 in", "406.4 mm"), ("24 in", "609.6 mm")])
def test_metric_and_inch_pound_input_agree(tmp_path: Path, inch: str, metric: str) -> None:
    found = [
        number(
            full(lath_fasteners, tmp_path, ("support_spacing: 16 in", f"support_spacing: {size}")), "use", "%"
        )
        for size in (inch, metric)
    ]
    assert found[0] == pytest.approx(found[1])
