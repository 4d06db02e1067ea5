"""Inward vapor drive against the closed form g = Δp/ΣZ, worked by hand."""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

import pytest

from specgen.design import inward_drive, vapor_drive
from tests.design.projects import calculation, number

PERM = 57.2135e-12  # kg/(Pa·s·m²), NIST SP 811
MESH = ("kind: dimpled sheet", "kind: mesh")
MEANT = "meant: {vapor_permeance: sought}"  # more than a sheet is expected to have
NO_LIMIT = ("    condensate_limit: 5 g/m2\n", "")
INCH = 0.0254


def magnus(temp_c: float) -> float:
    """Saturation pressure [Pa] over water as ISO 13788 states it (E.7): 610.5 e^(17.269 t/(237.3 + t))."""
    return 610.5 * math.exp(17.269 * temp_c / (237.3 + temp_c))


def by_hand() -> tuple[float, float, float, float]:
    """Face and membrane temperature [°C], condensate [g/m²] with dimpled sheet and with an open layer.

    To = 95 °F = 35 °C; E = 750 W/m²; α = 0.6; ho = 3.0 Btu/(h·ft²·°F) = 17.035 W/(m²·K).
    """
    film = 17.03479
    te = 35.0 + 0.6 * 750.0 / film  # 61.42 °C
    r = [
        1.0 / film,
        7 / 8 * INCH / 0.72,  # plaster
        7 / 16 * INCH / 0.07,  # dimpled sheet
        0.001 / 0.3,  # barrier
        5 / 8 * INCH / 0.16,  # sheathing
        6 * INCH / 0.8,  # framing
        5 / 8 * INCH / 0.16,  # roof-side sheathing
        0.060 * INCH / 0.2,  # membrane
        1.0 / film,
    ]
    flux = (te - 35.0) / sum(r)
    face = te - flux * r[0]
    back = face - flux * r[1]
    barrier = back - flux * r[2]
    membrane = 35.0 + flux * (r[7] + r[8])
    # Vapor resistances behind the drainage layer, in 1/perm: 12, 30, 175 ng/(Pa·s·m) over 6 in, 30.
    z = (1 / 12 + 1 / 30 + 6 * INCH / 175e-12 * PERM + 1 / 30) / PERM
    z_sheet, z_membrane = 1 / (0.05 * PERM), 1 / (0.05 * PERM)
    out = (magnus(membrane) - magnus(35.0)) / z_membrane
    sheet = (magnus(back) - magnus(membrane)) / (z_sheet + z) - out
    opened = (magnus(barrier) - magnus(membrane)) / z - out
    return face, membrane, sheet * 14400e3, opened * 14400e3


def test_closed_form_with_dimpled_sheet_and_open(tmp_path: Path) -> None:
    """Vapor condenses at one plane only, the membrane's back, so the flow is Δp/ΣZ to it less what leaves."""
    calc = calculation(vapor_drive, tmp_path)
    face, membrane, sheet, opened = by_hand()
    assert number(calc, "face_temperature", "degC") == pytest.approx(face, abs=0.01)
    assert number(calc, "membrane_temperature", "degC") == pytest.approx(membrane, abs=0.01)
    assert calc.verdict("condensation_plane") == "back of roof turn-up"
    assert number(calc, "condensate_afternoon", "g/m2") == pytest.approx(sheet, rel=1e-3)
    assert number(calc, "open_condensate_afternoon", "g/m2") == pytest.approx(opened, rel=1e-3)
    assert number(calc, "reduction", "%") == pytest.approx(100 * (1 - sheet / opened), abs=0.01)
    # 4 h at the rate
    rate = number(calc, "condensate_rate", "g/(m2·h)")
    assert number(calc, "condensate_afternoon", "g/m2") == pytest.approx(4 * rate)
    assert set(calc.results) == set(vapor_drive.SETS)


def test_sol_air_of_ashrae(tmp_path: Path) -> None:
    """α/ho = 0.30 h·ft²·°F/Btu is a dark face; this one has 0.6/3.0 = 0.20: 95 + 0.20 × 237.7 = 142.5 °F."""
    calc = calculation(vapor_drive, tmp_path)
    step = next(line for line in calc.steps if line.symbol == "Te")
    assert not isinstance(step.value, str)
    assert step.value.number == pytest.approx(95 + 0.20 * 750 / 3.15459, abs=0.05)


def test_open_mesh_lets_through_what_the_sheet_stops(tmp_path: Path) -> None:
    sheet = calculation(vapor_drive, tmp_path)
    mesh = calculation(vapor_drive, tmp_path, MESH)
    assert number(mesh, "condensate_afternoon", "g/m2") > 20 * number(sheet, "condensate_afternoon", "g/m2")
    assert (sheet.verdict("limit_met"), mesh.verdict("limit_met")) == ("yes", "no")


def test_mesh_is_nearly_an_open_layer(tmp_path: Path) -> None:
    """100 perm against some 7 perm behind it: the gap's far face is wet and drains, the wall sees the same flow."""
    mesh = calculation(vapor_drive, tmp_path, MESH)
    assert number(mesh, "reduction", "%") == pytest.approx(0.0, abs=1.0)


def test_verdict_without_a_limit(tmp_path: Path) -> None:
    calc = calculation(vapor_drive, tmp_path, NO_LIMIT)
    assert calc.verdict("needs_vapor_tight") == "no limit stated"
    assert calc.verdict("greatest_permeance") == "no limit stated"
    assert calc.verdict("limit_met") == "no limit stated"


def test_greatest_permeance_by_hand(tmp_path: Path) -> None:
    """5 g/m² in 4 h: gc = ml/τ; with one plane of condensation 1/W = Δp/(gc + ge) - Z of the rest of the wall."""
    calc = calculation(vapor_drive, tmp_path)
    _, _, sheet, _ = by_hand()
    z = (1 / 12 + 1 / 30 + 6 * INCH / 175e-12 * PERM + 1 / 30) / PERM
    # From the sheet's own condensate: Δp - ge is the same, so (sheet + out)(Z_sheet + z) = Δp.
    flows = {line.symbol: line.value.value for line in calc.steps if line.symbol in ("gi", "ge")}
    drop = flows["gi"] * (1 / (0.05 * PERM) + z)
    expected = 1 / (drop / (5e-3 / 14400 + flows["ge"]) - z) / PERM
    assert sheet < 5
    assert number(calc, "greatest_permeance", "perm") == pytest.approx(expected, rel=2e-3)
    assert calc.verdict("needs_vapor_tight") == "less tight will do"


@pytest.mark.parametrize(("factor", "met"), [(0.99, "yes"), (1.01, "no")])
def test_a_layer_of_the_greatest_permeance_just_keeps_the_limit(
    factor: float, met: str, tmp_path: Path
) -> None:
    greatest = number(calculation(vapor_drive, tmp_path), "greatest_permeance", "perm")
    change = ("depth: 7/16 in", f"depth: 7/16 in, vapor_permeance: {greatest * factor:.6f} perm, {MEANT}")
    assert calculation(vapor_drive, tmp_path, change).verdict("limit_met") == met


def test_a_strict_limit_needs_a_class_1_layer(tmp_path: Path) -> None:
    calc = calculation(vapor_drive, tmp_path, ("5 g/m2", "0.5 g/m2"))
    assert number(calc, "greatest_permeance", "perm") < 0.1
    assert calc.verdict("needs_vapor_tight") == "yes"


def test_a_generous_limit_needs_no_vapor_tight_layer(tmp_path: Path) -> None:
    calc = calculation(vapor_drive, tmp_path, MESH, ("5 g/m2", "500 g/m2"))
    assert calc.verdict("needs_vapor_tight") == "no"
    assert str(calc.verdict("greatest_permeance")).startswith("any")
    assert calc.verdict("limit_met") == "yes"


def test_condensate_falls_with_the_permeance_of_the_drainage_layer(tmp_path: Path) -> None:
    found = [
        number(
            calculation(
                vapor_drive,
                tmp_path,
                ("depth: 7/16 in", f"depth: 7/16 in, vapor_permeance: {perm} perm, {MEANT}"),
            ),
            "condensate_afternoon",
            "g/m2",
        )
        for perm in (1, 0.5, 0.1, 0.05, 0.02)
    ]
    assert found == sorted(found, reverse=True)
    assert found[-1] < 0.1 * found[0]


def test_given_permeance_goes_before_the_table(tmp_path: Path) -> None:
    table = calculation(vapor_drive, tmp_path)
    same = calculation(
        vapor_drive, tmp_path, ("depth: 7/16 in", "depth: 7/16 in, vapor_permeance: 0.05 perm")
    )
    assert number(same, "condensate_afternoon", "g/m2") == pytest.approx(
        number(table, "condensate_afternoon", "g/m2")
    )
    line = next(line for line in same.inputs if line.symbol == "W2")
    assert "project.yaml:21:" in line.source


def test_hotter_air_drives_more_vapor(tmp_path: Path) -> None:
    found = [
        number(
            calculation(vapor_drive, tmp_path, ("95 degF", f"{air} degF")),
            "open_condensate_afternoon",
            "g/m2",
        )
        for air in (60, 80, 95, 110)
    ]
    assert found == sorted(found)
    assert found[0] < found[-1]


def test_lath_and_screed_do_not_count(tmp_path: Path) -> None:
    with_them = calculation(vapor_drive, tmp_path)
    without = calculation(
        vapor_drive,
        tmp_path,
        ("      - {role: lath, kind: self-furred expanded metal lath}\n", ""),
        ("      - {role: weep screed, kind: vented weep screed}\n", ""),
    )
    assert number(with_them, "condensate_afternoon", "g/m2") == number(
        without, "condensate_afternoon", "g/m2"
    )


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("  temp_summer: 95 degF\n", "", "site.temp_summer"),
        (", vapor_permeance: 12 perm", "", "barrier.vapor_permeance"),
        (
            "{role: framing, kind: cold-formed steel studs, thickness: 6 in}",
            "{role: insulation, kind: mineral wool}",
            "insulation.thickness",
        ),
        ("      - {role: roof turn-up, kind: TPO, thickness: 60 mil}\n", "", "build_up"),
        ("      - {role: plaster, kind: portland cement plaster, thickness: 7/8 in}\n", "", "build_up"),
    ],
)
def test_each_missing_datum_is_named(tmp_path: Path, old: str, new: str, expected: str) -> None:
    calc = calculation(vapor_drive, tmp_path, (old, new))
    assert [text.split(":")[0] for text in calc.missing] == [expected]
    assert not calc.results


def test_all_missing_data_in_one_run(tmp_path: Path) -> None:
    calc = calculation(
        vapor_drive, tmp_path, ("  temp_summer: 95 degF\n", ""), (", vapor_permeance: 12 perm", "")
    )
    assert len(calc.missing) == 2


def test_a_vapor_tight_barrier_makes_the_wall_dry_behind_it(tmp_path: Path) -> None:
    """Limiting case: 0.001 perm in front of the wall leaves less than 1 % of the vapor."""
    calc = calculation(vapor_drive, tmp_path, ("12 perm", "0.001 perm"))
    assert number(calc, "open_condensate_afternoon", "g/m2") < 0.01 * by_hand()[3]


def test_profile_table_carries_one_flow_where_nothing_condenses(tmp_path: Path) -> None:
    """g = W Δp is the same through every layer to the membrane, whose back is the one plane of condensation."""
    calc = calculation(vapor_drive, tmp_path)
    (table,) = calc.tables
    flow = next(line.value.value for line in calc.steps if line.symbol == "gi")
    rows = [[cell.value if not isinstance(cell, str) else cell for cell in row] for row in table.rows]
    by_layer = [
        line.value.value
        for line in sorted((*calc.inputs, *calc.steps), key=lambda line: line.symbol)
        if line.symbol.startswith("W") and line.symbol[1:].isdigit() and line.symbol != "W1"
    ]
    for permeance, (before, behind) in zip(by_layer, pairwise(rows[:-1]), strict=False):
        assert permeance * (before[3] - behind[3]) == pytest.approx(flow, rel=1e-3), behind[0]
    assert rows[-2][3] == pytest.approx(rows[-2][2])  # saturated
    assert all(row[3] <= row[2] * (1 + 1e-9) for row in rows)


PLACE = (
    ("site:\n", "site:\n  latitude: 36.1 deg\n"),
    ("    height: 4 ft\n", "    height: 4 ft\n    orientation: west\n"),
)
TINY = ("condensate_limit: 5 g/m2", "condensate_limit: 0.35 g/m2")


def test_hourly_day_is_not_calculated_without_its_data(tmp_path: Path) -> None:
    calc = calculation(vapor_drive, tmp_path)
    assert str(calc.verdict("condensate_hourly")).startswith("not calculated: site.latitude")
    assert number(calc, "condensate_governing", "g/m2") == number(calc, "condensate_afternoon", "g/m2")


def test_the_greater_of_afternoon_and_hourly_day_is_held_against_the_limit(tmp_path: Path) -> None:
    """Both as their own calculations have them; the words say which, and begin with it."""
    for change in ((), (MESH,)):
        calc = calculation(vapor_drive, tmp_path, *PLACE, *change)
        day = number(calculation(inward_drive, tmp_path, *PLACE, *change), "condensate_day", "g/m2")
        afternoon = number(calc, "condensate_afternoon", "g/m2")
        assert number(calc, "condensate_hourly", "g/m2") == pytest.approx(day, rel=1e-9)
        assert number(calc, "condensate_governing", "g/m2") == pytest.approx(max(day, afternoon), rel=1e-9)
        word = "the hourly design day" if day > afternoon else "the steady afternoon"
        assert str(calc.verdict("governs")).startswith(word)


def test_a_permeance_keeps_the_limit_in_the_hourly_day_too(tmp_path: Path) -> None:
    """Put in what was found: the day's condensate is at most the limit, and 1 % more permeance breaks one of the two."""
    calc = calculation(vapor_drive, tmp_path, *PLACE, TINY)
    greatest = number(calc, "greatest_permeance", "perm")
    for factor, met in ((0.995, "yes"), (1.01, "no")):
        layer = ("depth: 7/16 in", f"depth: 7/16 in, vapor_permeance: {greatest * factor:.6g} perm, {MEANT}")
        tried = calculation(vapor_drive, tmp_path, *PLACE, TINY, layer)
        assert tried.verdict("limit_met") == met
    assert greatest <= number(calculation(vapor_drive, tmp_path, TINY), "greatest_permeance", "perm")


def test_a_seal_that_runs_through_under_the_wall_is_no_layer_of_it(tmp_path: Path) -> None:
    """It is a strip at the base: of what passes through the wall above it changes nothing."""
    line = "      - {role: sheathing, kind: glass-mat gypsum, thickness: 5/8 in}\n"
    seal = (
        "      - {role: base seal, kind: self-adhered sheet, thickness: 40 mil, vapor_permeance: 0.05 perm}\n"
    )
    with_seal, without = (
        calculation(vapor_drive, tmp_path, (line, seal + line)),
        calculation(vapor_drive, tmp_path),
    )
    assert not with_seal.missing
    assert number(with_seal, "condensate_rate", "g/(m2·h)") == pytest.approx(
        number(without, "condensate_rate", "g/(m2·h)")
    )


def test_a_limit_without_a_source_opens_nothing(tmp_path: Path) -> None:
    unsourced = ("    condensate_limit_source: letter of the enclosure engineer\n", "")
    calc = calculation(vapor_drive, tmp_path, unsourced)
    assert calc.verdict("greatest_permeance") == "no limit stated"
    assert any("condensate_limit_source" in text for text in calc.leaves_out)
    assert number(calculation(vapor_drive, tmp_path), "greatest_permeance", "perm") > 0.1
