"""Ventilation of the gap: by the pressure balance, a closed gap, and the vapor carried off."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import gap_ventilation
from specgen.intake.project import load_project
from specgen.physics.moist_air import saturation_pressure
from specgen.practice.load import load_practice
from specgen.units.quantity import Quantity, parse
from specgen.wall.edit import with_practice
from tests.design.moisture import OPEN_TOP, WEST, YEAR, step, with_year
from tests.design.projects import calculation, number


def test_velocity_closes_the_pressure_balance(tmp_path: Path) -> None:
    """Put the velocities back into the two losses: they sum to stack and wind pressure."""
    calc = calculation(gap_ventilation, tmp_path, WEST, OPEN_TOP)
    assert set(calc.results) == set(gap_ventilation.SETS)
    b, height = 7 / 16 * 0.0254, 4 * 0.3048
    zeta = 2 / 0.6**2 / 0.3**2

    def used(name: str) -> float:
        v = number(calc, name, "m/s")
        return float(12 * 1.82e-5 * height * v / b**2 + 0.5 * 1.2041 * v * abs(v) * zeta)

    assert used("velocity") == pytest.approx(step(calc, "Δps", "Pa"), rel=1e-6)
    air, gap = 35.0 + 273.15, step(calc, "Tg", "degC") + 273.15
    dew = float(saturation_pressure(35.0 - 20 / 1.8))
    full = float(saturation_pressure(gap - 273.15))
    out, inside = ((101325 - 0.378055 * p) / 287.04 / t for p, t in ((dew, air), (full, gap)))
    assert step(calc, "Δps", "Pa") == pytest.approx(9.80665 * height * (out - inside), rel=1e-4)
    v = number(calc, "velocity", "m/s")
    assert number(calc, "air_changes", "") == pytest.approx(3600 * v / height, rel=1e-9)
    head = 0.5 * 1.2041 * (5 * 0.44704) ** 2
    assert step(calc, "Δp1", "Pa") == pytest.approx(0.2 * head, rel=1e-6)
    assert step(calc, "Δp2", "Pa") == pytest.approx(-0.1 * head, rel=1e-6)
    # A wind that helps cools the gap: its stack is less, the sum is more.
    stack = step(calc, "Δps", "Pa")
    assert stack < used("velocity_with") < stack + 0.2 * head
    assert stack - 0.1 * head < used("velocity_against") < stack


def test_vapor_removed_is_the_density_difference_times_the_air(tmp_path: Path) -> None:
    """Second way: the air of the afternoon times the difference of vapor density at the gap temperature."""
    calc = calculation(gap_ventilation, tmp_path, WEST, OPEN_TOP)
    v, b, height = number(calc, "velocity", "m/s"), 7 / 16 * 0.0254, 4 * 0.3048
    warm = step(calc, "Tg", "degC")
    difference = float(saturation_pressure(warm)) - float(saturation_pressure(35.0 - 20 / 1.8))
    density = difference / (461.52 * (warm + 273.15))
    removed = number(calc, "removed", "g/m2")
    assert removed == pytest.approx(v * b * 14400 * density / height * 1e3, rel=1e-4)
    # The sun cannot evaporate more than its heat: 2.4 MJ a kilogram, from face to gap through film and plaster.
    heat = (step(calc, "Te", "degC") - warm) / step(calc, "R", "m2·K/W") * 14400
    assert removed * 1e-3 * 2.4e6 < heat


def test_wind_range_brackets_and_a_strong_wind_may_stop_the_air(tmp_path: Path) -> None:
    calc = calculation(gap_ventilation, tmp_path, WEST, OPEN_TOP)
    low, still, high = (number(calc, name, "g/m2") for name in ("removed_low", "removed", "removed_high"))
    assert 0.0 < low < still < high
    # By hand: the air stands where ½ ρ U² 0.1 is the stack of a gap as warm as the face.
    air, face = 35.0 + 273.15, step(calc, "Te", "degC") + 273.15
    dew, full = (float(saturation_pressure(t)) for t in (35.0 - 20 / 1.8, face - 273.15))
    out, inside = ((101325 - 0.378055 * p) / 287.04 / t for p, t in ((dew, air), (full, face)))
    stack = 9.80665 * 4 * 0.3048 * (out - inside)
    assert number(calc, "still_wind", "m/s") == pytest.approx((stack / 0.06022) ** 0.5, rel=1e-3)
    practice = with_practice(load_practice(), "gap.wind_speed", parse("25 mph", {"speed"}))
    project = load_project(tmp_path / "project.yaml", practice)
    windy = gap_ventilation.calculate(project, project.parapets[0], practice)
    assert number(windy, "removed_low", "g/m2") == 0.0
    assert number(windy, "velocity_against", "m/s") < 0.0


def test_year_of_drying(tmp_path: Path) -> None:
    """Month by month; a gap in the lee and one in the wind differ, and the months' mean is that of the year."""
    calc = calculation(gap_ventilation, with_year(tmp_path), WEST, OPEN_TOP, YEAR)
    (table,) = (one for one in calc.tables if one.name == "months")
    values = [row[1].value for row in table.rows if isinstance(row[1], Quantity)]
    assert len(values) == 12 and min(values) > 0.0
    days = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    mean = sum(day * value for day, value in zip(days, values, strict=True)) / 365
    assert step(calc, "my", "g/m2") == pytest.approx(mean * 1e3, rel=1e-6)
    assert step(calc, "mm", "g/m2") == pytest.approx(min(values) * 1e3, rel=1e-6)
    assert values.index(min(values)) in (10, 11, 0, 1)  # winter dries least
    without = calculation(gap_ventilation, with_year(tmp_path), OPEN_TOP, YEAR)
    assert [one.name for one in without.tables] == ["wind"]
    assert any("parapet.orientation" in text for text in without.leaves_out)


def test_closed_gap_is_not_covered(tmp_path: Path) -> None:
    calc = calculation(gap_ventilation, tmp_path, WEST)
    assert calc.missing[0].startswith("drainage layer.open_at_top")
    closed = (OPEN_TOP[0], OPEN_TOP[1].replace("yes", "no"))
    assert "stands still" in calculation(gap_ventilation, tmp_path, WEST, closed).missing[0]
    screed = ("kind: vented weep screed", "kind: vented weep screed, open: no")
    assert "stands still" in calculation(gap_ventilation, tmp_path, WEST, OPEN_TOP, screed).missing[0]


def test_dew_point_given_changes_the_removal(tmp_path: Path) -> None:
    dry = ("site:\n", "site:\n  dew_point_summer: 40 degF\n")
    assumed = calculation(gap_ventilation, tmp_path, WEST, OPEN_TOP)
    given = calculation(gap_ventilation, tmp_path, WEST, OPEN_TOP, dry)
    assert number(given, "removed", "g/m2") > number(assumed, "removed", "g/m2")


def test_near_a_wind_that_turns_the_air_every_state_stands_on_the_sheet(tmp_path: Path) -> None:
    calc = calculation(gap_ventilation, tmp_path, WEST, OPEN_TOP)
    assert not any("states" in text for text in calc.leaves_out)
    practice = with_practice(load_practice(), "gap.wind_speed", parse("12 mph", {"speed"}))
    project = load_project(tmp_path / "project.yaml", practice)
    turned = gap_ventilation.calculate(project, project.parapets[0], practice)
    (states,) = (text for text in turned.leaves_out if "leaves the gap 3 states" in text)
    assert states.count("carried off") == 3
    assert f"{turned.results['removed_low'].value.text} carried off" in states
