"""Moist air by the expressions of ISO 13788 worked by hand, and round trips."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from specgen.design import moist_air
from tests.design.projects import full, number

DEW = ("  temp_summer: 95 degF\n", "  temp_summer: 95 degF\n  dew_point_summer: 75 degF\n")


def magnus(temp_c: float) -> float:
    """Saturation pressure [Pa] over water as ISO 13788 states it (E.7)."""
    return 610.5 * math.exp(17.269 * temp_c / (237.3 + temp_c))


def test_outdoors_by_hand(tmp_path: Path) -> None:
    """95 °F is 35 °C, 75 °F is 23.889 °C."""
    calc = full(moist_air, tmp_path, DEW)
    assert set(calc.results) == set(moist_air.SETS)
    held = magnus((75 - 32) / 1.8)
    assert number(calc, "outdoor_vapor_pressure", "Pa") == pytest.approx(held, rel=1e-6)
    assert number(calc, "outdoor_humidity", "%") == pytest.approx(100 * held / magnus(35), rel=1e-6)
    # Psychrometric charts: 0.0188 lb to a pound at a dew point of 75 °F and sea level, read from memory.
    assert number(calc, "outdoor_ratio", "") == pytest.approx(0.0188, rel=0.01)


def test_indoors_round_trip(tmp_path: Path) -> None:
    """68 °F and 50 %: the dew point at which half of that saturation pressure saturates, 48.7 °F."""
    calc = full(moist_air, tmp_path, DEW)
    dew = number(calc, "indoor_dew_point", "degC")
    assert magnus(dew) == pytest.approx(0.5 * magnus(20), rel=1e-4)
    assert number(calc, "indoor_dew_point", "degF") == pytest.approx(48.7, abs=0.1)
    assert number(calc, "winter_below_dew_point", "deltaF") == pytest.approx(48.7 - 10, abs=0.1)


def test_what_is_missing_is_named(tmp_path: Path) -> None:
    calc = full(moist_air, tmp_path)
    assert [text.partition(":")[0] for text in calc.missing] == ["site.dew_point_summer"]
    indoor = full(moist_air, tmp_path, DEW, ("  indoor_humidity: 50 %\n", ""))
    assert str(indoor.verdict("indoor_dew_point")) == "not stated: building.indoor_humidity"


def test_a_dew_point_above_the_air_is_refused(tmp_path: Path) -> None:
    calc = full(moist_air, tmp_path, (DEW[0], DEW[1].replace("75", "96")))
    assert "above the air temperature" in calc.missing[0]
