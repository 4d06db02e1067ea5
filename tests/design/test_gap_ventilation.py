"""Ventilation of the gap: by the pressure balance, a closed gap, and the vapor carried off."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import gap_ventilation
from specgen.physics.moist_air import saturation_pressure
from tests.design.moisture import OPEN_TOP, WEST, step
from tests.design.projects import calculation, number


def test_velocity_closes_the_pressure_balance(tmp_path: Path) -> None:
    """Put the velocity back into the two losses: they sum to the stack pressure."""
    calc = calculation(gap_ventilation, tmp_path, WEST, OPEN_TOP)
    assert set(calc.results) == set(gap_ventilation.SETS)
    v, b, height = number(calc, "velocity", "m/s"), 7 / 16 * 0.0254, 4 * 0.3048
    friction = 12 * 1.82e-5 * height * v / b**2
    local = 0.5 * 1.2041 * v**2 * 2 * (0.5 + 1.0) / 0.3**2
    assert friction + local == pytest.approx(step(calc, "Δp", "Pa"), rel=1e-9)
    air, gap = 35.0 + 273.15, step(calc, "Tg", "degC") + 273.15
    density = 101325 / 287.04
    assert step(calc, "Δp", "Pa") == pytest.approx(9.80665 * height * density * (1 / air - 1 / gap), rel=1e-4)
    assert number(calc, "air_changes", "") == pytest.approx(3600 * v / height, rel=1e-9)


def test_vapor_removed_is_the_density_difference_times_the_air(tmp_path: Path) -> None:
    """Second way: the air of the afternoon times the difference of vapor density at the gap temperature."""
    calc = calculation(gap_ventilation, tmp_path, WEST, OPEN_TOP)
    v, b, height = number(calc, "velocity", "m/s"), 7 / 16 * 0.0254, 4 * 0.3048
    warm = step(calc, "Tg", "degC")
    difference = float(saturation_pressure(warm)) - float(saturation_pressure(35.0 - 20 / 1.8))
    density = difference / (461.52 * (warm + 273.15))
    assert number(calc, "removed", "g/m2") == pytest.approx(v * b * 14400 * density / height * 1e3, rel=1e-4)


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
