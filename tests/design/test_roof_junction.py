"""Heat flow at the roof junction: limiting cases, a second method, and what insulation must do."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from specgen.design import roof_junction, uncertainty
from specgen.design.junction_layers import Slab
from specgen.design.roof_junction import Case, bare, outcome, plain_factors, regions, transmittances
from specgen.design.run import calculate_all
from specgen.files.extras import missing
from specgen.physics.junction2d import Region
from specgen.practice.load import load_practice
from tests.design.projects import FULL, changed_project, full, number

CASE = Case(
    wall=(Slab("insulation", 0.10, 0.035),),
    framing=Slab("concrete", 0.20, 2.0),
    behind=(),
    top=(),
    deck=Slab("deck", 0.20, 2.0),
    roof=Slab("roof", 0.15, 0.035),
    height_m=0.8,
    flank_m=1.0,
    break_m=0.0,
    break_k=0.0,
    inside_c=20.0,
    outside_c=0.0,
    film_inside=0.13,
    film_ceiling=0.10,
    film_inside_low=0.25,
    film_outside=0.04,
)


def test_transmittances_by_hand() -> None:
    wall, roof = transmittances(CASE)
    assert wall == pytest.approx(1 / (0.13 + 0.10 / 0.035 + 0.20 / 2.0 + 0.04))
    assert roof == pytest.approx(1 / (0.10 + 0.20 / 2.0 + 0.15 / 0.035 + 0.04))


def test_insulation_and_breaks_warm_the_corner() -> None:
    """An uninsulated concrete fin cools the corner; insulation on its roof side, and a break under it, warm it."""
    open_fin = outcome(CASE)
    wrapped = outcome(replace(CASE, behind=(Slab("inner", 0.10, 0.035),), top=(Slab("top", 0.10, 0.035),)))
    cut = outcome(replace(CASE, break_m=0.10, break_k=0.06))
    assert open_fin.psi_inside > 0.0
    assert wrapped.psi_inside < 0.7 * open_fin.psi_inside
    assert cut.psi_inside < 0.7 * open_fin.psi_inside
    assert open_fin.f_rsi < min(wrapped.f_rsi, cut.f_rsi)
    assert open_fin.study.last_change < 0.01  # what ISO 10211 asks for (from memory)


def test_the_wall_that_is_cold_by_itself_is_not_blamed_on_the_corner() -> None:
    """An uninsulated wall is as cold away from the junction: 1 - 0.25/(0.25 + 0.20/2.0 + 0.04)."""
    cold = replace(CASE, wall=(), flank_m=2.0)
    wall, roof = plain_factors(cold)
    assert wall == pytest.approx(1 - 0.25 / 0.39)
    assert roof == pytest.approx(1 - 0.25 / (0.25 + 0.10 + 0.15 / 0.035 + 0.04))
    found = outcome(replace(cold, behind=(Slab("inner", 0.10, 0.035),), top=(Slab("top", 0.10, 0.035),)))
    assert found.f_rsi == pytest.approx(wall, abs=0.002)
    assert found.lowest_on == "wall" and found.lowest_off > 0.05
    fin = outcome(CASE)
    assert fin.f_rsi < plain_factors(CASE)[0] and fin.lowest_off == pytest.approx(0.0, abs=0.01)


def test_a_break_of_the_parapet_s_own_material_changes_nothing() -> None:
    same = outcome(replace(CASE, break_m=0.10, break_k=2.0))
    assert same.psi_inside == pytest.approx(outcome(CASE).psi_inside, rel=0.01)


def test_a_perfect_break_leaves_the_plain_edge() -> None:
    """With hardly any conduction upward the fin's height no longer matters."""
    low, high = (outcome(replace(CASE, break_m=0.1, break_k=1e-3, height_m=h)) for h in (0.4, 1.2))
    assert low.psi_inside == pytest.approx(high.psi_inside, abs=0.005)


def test_fin_against_the_fin_formula() -> None:
    """Second method: the handbook fin, one face cooled, with a cooled tip, draws (tanh mh + H)/(1 + H tanh mh).

    λ = 2, t = 0.2, film 1/0.04 = 25: m = √(25/(2 × 0.2)) = 7.9 per metre and H = 25/(m λ) = 1.58, above 1: a low fin,
    whose tip is near, draws more than a high one; beyond 0.6 m nothing changes, tanh 4.7 = 0.9998.
    """
    flows = [outcome(replace(CASE, height_m=h)).study.extrapolated for h in (0.1, 0.6, 1.2)]
    assert flows[0] > flows[1]
    assert flows[2] == pytest.approx(flows[1], rel=2e-3)


def test_psi_of_both_dimensions_differ_by_the_corner() -> None:
    """The outside dimensions add deck and roof to the wall, and the wall's thickness to the roof."""
    case = replace(CASE, behind=(Slab("inner", 0.10, 0.035),))
    wall, roof = transmittances(case)
    made = outcome(case)
    corner = (
        wall * (0.20 + 0.15) + roof * 0.30
    )  # the roof begins at the wall's inner face, under the insulation
    assert made.psi_inside - made.psi_outside == pytest.approx(corner)


def test_mold_is_judged_with_a_poorer_surface() -> None:
    """Behind furniture the surface gets less heat: Rsi 0.25 in place of 0.13 makes it colder."""
    assert outcome(CASE).f_rsi < outcome(replace(CASE, film_inside_low=0.13)).f_rsi - 0.02


def test_the_break_fills_the_framing_over_its_height() -> None:
    case = replace(CASE, break_m=0.10, break_k=0.06)
    assert regions(case)[-1] == Region(0.10, pytest.approx(0.30), 0.0, 0.10, 0.06)


def test_bare_keeps_the_wall_below() -> None:
    insulated = replace(
        CASE, behind=(Slab("b", 0.05, 0.035), Slab("gypsum", 0.016, 0.16)), break_m=0.1, break_k=0.1
    )
    assert bare(insulated) == replace(CASE, behind=(Slab("gypsum", 0.016, 0.16),), break_k=0.1)


def test_calculation(tmp_path: Path) -> None:
    calc = full(roof_junction, tmp_path)
    assert set(calc.results) == set(roof_junction.SETS)
    assert number(calc, "f_rsi_bare", "") < number(calc, "f_rsi", "") < number(calc, "f_rsi_break", "")
    assert number(calc, "psi_inside_bare", "W/(m·K)") > number(calc, "psi_inside", "W/(m·K)")
    assert calc.verdict("lowest_place") == "in the corner of wall and ceiling"
    assert number(calc, "f_rsi", "") < min(number(calc, f"f_rsi_{one}", "") for one in ("wall", "roof"))
    # f = (θ - 10 °F)/(68 - 10 °F)
    lowest = number(calc, "lowest_surface", "degF")
    assert number(calc, "f_rsi", "") == pytest.approx((lowest - 10) / 58, abs=1e-3)
    assert len([line for line in calc.steps if line.symbol == "L2D"]) == 3
    assert [len(row) for row in calc.tables[0].rows] == [4, 4, 4]


def test_given_break_counts_as_specified(tmp_path: Path) -> None:
    given = "    height: 4 ft\n    thermal_break: 4 in\n    thermal_break_conductivity: 0.08 W/(m·K)\n"
    calc = full(roof_junction, tmp_path, ("    height: 4 ft\n", given))
    assert number(calc, "f_rsi", "") == number(calc, "f_rsi_break", "")
    plain = full(roof_junction, tmp_path)
    assert number(calc, "f_rsi", "") == pytest.approx(number(plain, "f_rsi_break", ""))


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("  roof_insulation: extruded polystyrene\n", "", "building.roof_insulation"),
        ("  indoor_temp: 68 degF\n", "", "building.indoor_temp"),
        ("roof_deck: concrete", "roof_deck: steel", "not covered"),
        ("      - {role: framing, kind: concrete, thickness: 6 in}\n", "", "framing"),
    ],
)
def test_what_is_missing_is_named(tmp_path: Path, old: str, new: str, expected: str) -> None:
    calc = full(roof_junction, tmp_path, (old, new))
    assert [text.split(":")[0] for text in calc.missing] == [expected]


def test_without_scipy_the_study_says_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("specgen.files.extras.find_spec", lambda name: None)
    for module in (roof_junction, uncertainty):
        calc = full(module, tmp_path)
        assert calc.missing == (missing("studies"),)


def test_runs_only_when_asked(tmp_path: Path) -> None:
    project, practice = changed_project(tmp_path, file=FULL), load_practice()
    found = {calc.subject for calc in calculate_all(project, practice)}
    assert "coping wind" in found
    assert not found & {"roof junction", "uncertainty"}
    assert [calc.done for calc in calculate_all(project, practice, ["roof junction"])] == [True]


def test_psi_by_the_lines_of_the_sheet(tmp_path: Path) -> None:
    """ψ = L0 - Uw lw - Ur lr, from what the sheet prints, on inside and outside dimensions."""
    calc = full(roof_junction, tmp_path)
    on = {line.symbol: line.value.value for line in calc.steps if not isinstance(line.value, str)}
    for side, name in (("i", "psi_inside"), ("e", "psi_outside")):
        expected = on["L0"] - on["Uw"] * on[f"lw{side}"] - on["Ur"] * on[f"lr{side}"]
        found = calc.result(name)
        assert found is not None
        assert found.value == pytest.approx(expected, rel=1e-9)
