"""The monthly balance of a wall with indoor air on one side, by a second method, and where it does not apply."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import monthly_balance
from tests.design.projects import full, number

INDOOR = ("    height: 4 ft\n", "    height: 4 ft\n    inner_air: indoor air\n")
# Concrete and an inner vapor-open face, a tight sheet outside: vapor from inside condenses on the back of the sheet.
ROOF_SIDE = (
    "      - {id: roof-side insulation, role: insulation, kind: extruded polystyrene, thickness: 2 in}\n"
    "      - {role: roof turn-up, kind: TPO, thickness: 60 mil, height: 12 in}\n"
)
OPEN_INSIDE = (ROOF_SIDE, "")


def test_a_parapet_is_pointed_to_the_hourly_study(tmp_path: Path) -> None:
    for change in ((), (("    height: 4 ft\n", "    height: 4 ft\n    inner_air: outdoor air\n"),)):
        calc = full(monthly_balance, tmp_path, *change)
        assert len(calc.missing) == 1
        assert "hourly study" in calc.missing[0]


def test_a_membrane_inside_keeps_the_wall_dry(tmp_path: Path) -> None:
    """A membrane of 0.0005 perm on the warm side, a hundredth of the sheet outside: no condensation."""
    tight = ("height: 12 in}", "height: 12 in, vapor_permeance: 0.0005 perm}")
    calc = full(monthly_balance, tmp_path, INDOOR, tight)
    assert set(calc.results) == set(monthly_balance.SETS)
    assert number(calc, "peak", "g/m2") == 0.0
    assert number(calc, "residual", "g/m2") == 0.0
    assert calc.verdict("planes") == "nowhere"


def test_an_open_wall_takes_water_in_winter(tmp_path: Path) -> None:
    calc = full(monthly_balance, tmp_path, INDOOR, OPEN_INSIDE)
    assert number(calc, "peak", "g/m2") > 1.0
    assert 0 < number(calc, "wet_months", "") <= 12
    table, _ = calc.tables
    assert len(table.rows) == 12
    ends = [sum(cell.value for cell in row[1:] if not isinstance(cell, str)) for row in table.rows]
    assert max(ends) == pytest.approx(number(calc, "peak", "kg/m2"), rel=1e-3)
    assert ends[-1] == pytest.approx(number(calc, "residual", "kg/m2"), abs=1e-9)


def test_profile_of_a_dry_wall_falls_by_its_resistances(tmp_path: Path) -> None:
    """Coldest month: the vapor pressure falls from inside to outside, nowhere at saturation, ends at both airs."""
    tight = ("height: 12 in}", "height: 12 in, vapor_permeance: 0.0005 perm}")
    (table,) = full(monthly_balance, tmp_path, INDOOR, tight).tables
    assert table.name == "profile" and "coldest month, Jan" in table.title
    temps, saturation, vapor = (
        [cell.value for cell in column if not isinstance(cell, str)] for column in zip(*table.rows, strict=True)
        if not isinstance(column[0], str)
    )  # fmt: skip
    assert temps == sorted(temps)
    assert vapor == sorted(vapor)
    assert all(p < limit for p, limit in zip(vapor, saturation, strict=True))
    # Nearly all of the drop is in the membrane, a hundred times tighter than the rest.
    assert vapor[-1] - vapor[-2] > 0.9 * (vapor[-1] - vapor[0])


def test_more_indoor_vapor_makes_more_water(tmp_path: Path) -> None:
    found = [
        number(full(monthly_balance, tmp_path, INDOOR, OPEN_INSIDE, ("50 %", f"{share} %")), "peak", "g/m2")
        for share in (30, 40, 50, 60)
    ]
    assert found == sorted(found)
    assert found[0] < found[-1]


def test_humidity_class_adds_its_excess(tmp_path: Path) -> None:
    """Class 5 adds 1360 Pa to outdoor air of 20 °F or less; class 1 adds 270 Pa: more water with the higher class."""
    peaks = [
        number(
            full(
                monthly_balance,
                tmp_path,
                INDOOR,
                OPEN_INSIDE,
                ("indoor_humidity: 50 %", f'indoor_class: "{name}"'),
            ),
            "peak",
            "g/m2",
        )
        for name in (1, 3, 5)
    ]
    assert peaks == sorted(peaks)
    assert peaks[0] < peaks[-1]


def test_metric_months_agree(tmp_path: Path) -> None:
    degf = "20, 24, 34, 46, 57, 66, 71, 69, 61, 50, 38, 26"
    degc = ", ".join(f"{(float(t) - 32) / 1.8:.9f}" for t in degf.split(","))
    given = full(monthly_balance, tmp_path, INDOOR, OPEN_INSIDE)
    metric = full(monthly_balance, tmp_path, INDOOR, OPEN_INSIDE, (f"{degf} degF", f"{degc} degC"))
    assert number(metric, "peak", "g/m2") == pytest.approx(number(given, "peak", "g/m2"), rel=1e-6)


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("  humidity_months: 75, 73, 70, 66, 66, 68, 70, 73, 75, 74, 76, 78 %\n", "", "site.humidity_months"),
        ("  indoor_humidity: 50 %\n", "", "building.indoor_humidity"),
    ],
)
def test_what_is_missing_or_wrong_is_named(tmp_path: Path, old: str, new: str, expected: str) -> None:
    calc = full(monthly_balance, tmp_path, INDOOR, (old, new))
    assert [expected in text for text in calc.missing] == [True]


def test_half_of_the_excess_at_ten_degrees(tmp_path: Path) -> None:
    """Class 5 adds 1360 Pa at 0 °C and nothing at 20 °C: 680 Pa at 10 °C (50 °F).

    Outdoors 95 % of 1227.4 Pa, indoors 1166.0 + 680 = 1846.0 Pa, of 2337 Pa at 20 °C: 78.99 %.
    """
    months = (
        ("20, 24, 34, 46, 57, 66, 71, 69, 61, 50, 38, 26 degF", ", ".join(["50"] * 12) + " degF"),
        ("75, 73, 70, 66, 66, 68, 70, 73, 75, 74, 76, 78 %", ", ".join(["95"] * 12) + " %"),
    )
    by_class = full(
        monthly_balance,
        tmp_path,
        INDOOR,
        OPEN_INSIDE,
        *months,
        ("indoor_humidity: 50 %", 'indoor_class: "5"'),
    )
    by_share = full(monthly_balance, tmp_path, INDOOR, OPEN_INSIDE, *months, ("50 %", "78.99 %"))
    assert number(by_class, "peak", "g/m2") > 1.0
    assert number(by_class, "peak", "g/m2") == pytest.approx(number(by_share, "peak", "g/m2"), rel=2e-3)
