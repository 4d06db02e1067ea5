"""Fasteners of cleat and lath, by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import cleat_fasteners, cleat_loads, coping_wind, lath_fasteners
from tests.design.projects import full, number

DENSITY = 137  # lb/ft³


def test_cleat_by_hand(tmp_path: Path) -> None:
    """p5a = 0.6 × 1.26 × 28.2 = 21.3 psf on 6 in of face; p3a = 0.6 × 3.2 × 28.2 = 54.1 psf on half the top.

    The layers are 1 + 1/2 + 0.04 + 1/2 + 6 + 2 + 0.06 in thick, the drips stand off 1 in each; a fastener each foot.
    """
    loads = full(cleat_loads, tmp_path)
    wind = full(coping_wind, tmp_path)
    outward, upward = (number(wind, f"{name}_allowable", "psf") for name in ("face_outward", "top_corner"))
    assert (outward, upward) == pytest.approx((21.3, 54.1), abs=0.15)
    assert set(loads.results) == set(cleat_loads.SETS)
    face, top = (number(loads, f"{name}_load", "lbf") for name in ("face", "top"))
    assert face == pytest.approx(outward * 0.5)
    layers = 1 + 0.5 + 1 / 25.4 + 0.5 + 6 + 2 + 0.06
    assert top == pytest.approx(upward * (layers + 2) / 12 / 2)
    # On the face the face pulls and the top shears; 200 lbf and 300 lbf are submitted, over 4.
    assert number(loads, "needed_pull_out", "lbf") == pytest.approx(4 * face / (1 - 4 * top / 300))
    assert number(loads, "needed_shear", "lbf") == pytest.approx(4 * top / (1 - 4 * face / 200))
    held = full(cleat_fasteners, tmp_path)
    assert set(held.results) == set(cleat_fasteners.SETS)
    assert number(held, "use", "%") == pytest.approx(100 * 4 * (face / 200 + top / 300))
    assert number(held, "use", "%") < 100


def test_on_the_top_the_uplift_pulls(tmp_path: Path) -> None:
    loads = full(cleat_loads, tmp_path)
    face, top = (number(loads, f"{name}_load", "lbf") for name in ("face", "top"))
    down = full(cleat_fasteners, tmp_path, ("fasteners_at: face", "fasteners_at: top"))
    assert number(down, "use", "%") == pytest.approx(100 * 4 * (top / 200 + face / 300))


def test_no_spacing_is_larger_than_practice_allows(tmp_path: Path) -> None:
    """Strong fasteners would do at several feet; the trade fastens a continuous cleat each foot."""
    strong = full(
        cleat_fasteners,
        tmp_path,
        ("pull_out: 200 lbf, shear: 300 lbf", "pull_out: 2000 lbf, shear: 2000 lbf"),
    )
    assert number(strong, "largest_spacing", "in") == pytest.approx(12)


def test_at_the_largest_spacing_the_cleat_just_holds(tmp_path: Path) -> None:
    weak = ("pull_out: 200 lbf, shear: 300 lbf", "pull_out: 60 lbf, shear: 90 lbf")
    spacing = number(full(cleat_fasteners, tmp_path, weak), "largest_spacing", "in")
    assert spacing < 12
    at = full(
        cleat_fasteners, tmp_path, weak, ("fastener_spacing: 12 in", f"fastener_spacing: {spacing:.10f} in")
    )
    assert number(at, "use", "%") == pytest.approx(100, abs=1e-5)
    over = full(
        cleat_fasteners, tmp_path, weak, ("fastener_spacing: 12 in", f"fastener_spacing: {spacing * 1.01} in")
    )
    assert number(over, "use", "%") > 100


@pytest.mark.parametrize(
    "left_out", [", pull_out: 200 lbf, shear: 300 lbf", ", fasteners_at: face", ", fastener_spacing: 12 in"]
)
def test_without_submitted_values_the_sections_know_what_to_ask_for(left_out: str, tmp_path: Path) -> None:
    """Fasteners that hold the sum of both loads in either direction hold both at once, wherever they stand."""
    loads = full(cleat_loads, tmp_path, (left_out, ""))
    face, top = (number(loads, f"{name}_load", "lbf") for name in ("face", "top"))
    assert face == pytest.approx(number(full(coping_wind, tmp_path), "face_outward_allowable", "psf") * 0.5)
    if "spacing" not in left_out:
        for name in ("needed_pull_out", "needed_shear"):
            assert number(loads, name, "lbf") == pytest.approx(4 * (face + top))
        assert full(cleat_fasteners, tmp_path, (left_out, "")).missing


def test_a_fastener_that_the_other_load_uses_up_rests_on_nothing(tmp_path: Path) -> None:
    loads = full(cleat_loads, tmp_path, ("shear: 300 lbf", "shear: 20 lbf"))
    face, top = (number(loads, f"{name}_load", "lbf") for name in ("face", "top"))
    assert number(loads, "needed_pull_out", "lbf") == pytest.approx(4 * (face + top))


def test_wind_that_is_unknown_is_passed_on(tmp_path: Path) -> None:
    for module in (cleat_loads, cleat_fasteners, lath_fasteners):
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
