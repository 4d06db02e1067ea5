"""Scuppers against the table of the ASCE 7 commentary and by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import scuppers
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from tests.design.projects import full, number

DEMO = Path(__file__).parents[2] / "tests" / "stated" / "hot-humid-lowrise" / "project.yaml"
# The rate of the hour for both, which the checks by hand below are written for.
RATE = ("  design_rainfall: 4 in/h\n", "  design_rainfall: 4 in/h\n  secondary_rainfall: 4 in/h\n")


def test_by_hand(tmp_path: Path) -> None:
    """4 in/h on 1200 ft²: 400 ft³/h = 49.87 gal/min. Head (49.87/(2.9 × 6))^(2/3) = 2.018 in, below 4 in: a weir.

    Inlet of the overflow 2 in: 4.018 in of water, 5.19 psf each (62.3 lb/ft³): 20.9 psf; 7.98 in left.
    """
    calc = full(scuppers, tmp_path, RATE)
    head = (400 / 60 * 7.480519 / (2.9 * 6)) ** (2 / 3)
    assert set(calc.results) == set(scuppers.SETS)
    assert number(calc, "primary_head", "in") == pytest.approx(head, rel=1e-5)
    assert number(calc, "overflow_fill", "%") == pytest.approx(100 * head / 4, rel=1e-5)
    assert number(calc, "water_depth", "in") == pytest.approx(2 + head, rel=1e-5)
    assert number(calc, "water_load", "psf") == pytest.approx((2 + head) * 62.3 / 12, rel=1e-3)
    assert number(calc, "freeboard", "in") == pytest.approx(12 - 2 - head, rel=1e-5)
    assert number(calc, "spare", "in") == pytest.approx(12 - 2 - head - 2, rel=1e-5)


def test_a_low_turn_up_does_not_hold(tmp_path: Path) -> None:
    calc = full(scuppers, tmp_path, RATE, ("height: 12 in", "height: 5 in"))
    assert number(calc, "spare", "in") < 0
    assert number(calc, "freeboard", "in") < 2


def test_a_drowned_overflow_is_no_weir(tmp_path: Path) -> None:
    calc = full(
        scuppers,
        tmp_path,
        ("area_served: 1200 ft2}\n      - {name: S-2", "area_served: 200 ft2}\n      - {name: S-2"),
        ("inlet_height: 2 in, area_served: 1200 ft2", "inlet_height: 2 in, area_served: 9000 ft2"),
    )
    assert number(calc, "overflow_fill", "%") > 150
    assert number(calc, "overflow_head", "in") > 1.5 * 4
    assert 0 < number(calc, "primary_fill", "%") < 100


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
    one, two = full(scuppers, tmp_path, RATE), full(scuppers, tmp_path, RATE, third)
    assert number(two, "water_depth", "in") == pytest.approx(number(one, "water_depth", "in") + 1)


@pytest.mark.parametrize(("gap", "holds"), [(6.02, True), (6.01, False)])
def test_freeboard_of_two_inches(tmp_path: Path, gap: float, holds: bool) -> None:
    """4.0178 in of water and 2 in of freeboard: 6.0178 in of base flashing."""
    calc = full(scuppers, tmp_path, RATE, ("height: 12 in", f"height: {gap} in"))
    assert (number(calc, "spare", "in") >= 0) is holds


def test_the_formulas_name_their_source(tmp_path: Path) -> None:
    calc = full(scuppers, tmp_path)
    assert sum("ASCE 7" in source for source in calc.sources) == 2
    assert sum("IBC 2021, 1611.1" in source for source in calc.sources) == 1
    # 5.2 psf an inch of water, the form of the standard.
    assert number(calc, "water_load", "psf") == pytest.approx(
        5.2 * number(calc, "water_depth", "in"), rel=2e-3
    )


def test_under_ibc_2021_twice_the_hourly_rate_stands_in(tmp_path: Path) -> None:
    """Twice 4 in/h: the flow doubles, the head grows by 2^(2/3) while it stays below the top of the opening."""
    stated = ("  design_rainfall: 4 in/h\n", "  design_rainfall: 4 in/h\n  secondary_rainfall: 8 in/h\n")
    one, two = full(scuppers, tmp_path, RATE), full(scuppers, tmp_path)
    assert number(two, "overflow_head", "in") == pytest.approx(
        number(one, "overflow_head", "in") * 2 ** (2 / 3)
    )
    assert number(two, "primary_head", "in") == number(one, "primary_head", "in")
    assert two.results == full(scuppers, tmp_path, stated).results


@pytest.mark.parametrize("code", ["IBC 2012", "IBC 2015", "IBC 2018"])
def test_no_other_edition_lets_the_hourly_rate_be_doubled(tmp_path: Path, code: str) -> None:
    calc = full(scuppers, tmp_path, ("code: IBC 2021", f"code: {code}"))
    assert [text.split(":")[0] for text in calc.missing] == ["site.secondary_rainfall"]


def test_asce_7_22_adds_the_ponding_head_to_the_load_and_not_to_the_depth_at_the_edge(tmp_path: Path) -> None:
    """R = 5.2 (ds + dh + dp): an inch of sag weighs 5.2 psf more."""
    newest = ("  code: IBC 2021\n", "  code: IBC 2024\n")
    without = full(scuppers, tmp_path, RATE, newest)
    assert [text.split(":")[0] for text in without.missing] == ["building.ponding_head"]
    sag = ("  roof_slope: 1/4 in/ft\n", "  roof_slope: 1/4 in/ft\n  ponding_head: 1 in\n")
    one, two = full(scuppers, tmp_path, RATE), full(scuppers, tmp_path, RATE, newest, sag)
    assert number(two, "water_load", "psf") - number(one, "water_load", "psf") == pytest.approx(5.2, rel=3e-3)
    assert number(two, "water_depth", "in") == number(one, "water_depth", "in")


@pytest.mark.parametrize(("rate", "depth", "load"), [("4.6 in/h", 2.97, 15.4), ("9.2 in/h", 3.55, 18.4)])
def test_the_doubled_rate_deepens_the_water_of_the_worked_example(
    tmp_path: Path, rate: str, depth: float, load: float
) -> None:
    text = DEMO.read_text(encoding="utf-8")
    assert "secondary_rainfall: 9.2 in/h" in text
    path = tmp_path / "project.yaml"
    path.write_text(
        text.replace("secondary_rainfall: 9.2 in/h", f"secondary_rainfall: {rate}"), encoding="utf-8"
    )
    project = load_project(path, load_practice())
    calc = scuppers.calculate(project, project.parapets[0], load_practice())
    assert number(calc, "water_depth", "in") == pytest.approx(depth, abs=0.005)
    assert number(calc, "water_load", "psf") == pytest.approx(load, abs=0.05)
