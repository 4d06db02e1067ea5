"""Drainage of the gap: the film and the rise by hand, narrow and wide gaps, what is unknown."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import gap_drainage
from tests.design.moisture import EVENT, WEST, step
from tests.design.projects import calculation, number

RHO, MU, G, GAMMA = 998.2, 1.0016e-3, 9.80665, 72.74e-3
FLOW = 0.01 * 1.3 * 0.5 * 0.2 * 10 * 25.4 / 1.5 * 1.2192 / 3600 / RHO  # 1 % of the event over 4 ft, m²/s


def test_film_and_rise_by_hand(tmp_path: Path) -> None:
    calc = calculation(gap_drainage, tmp_path, WEST, EVENT)
    assert set(calc.results) == set(gap_drainage.SETS)
    assert step(calc, "q", "m3/s") == pytest.approx(FLOW * 0.3048, rel=1e-9)  # by the foot
    assert calc.verdict("regime") == "film"
    assert 0 < number(calc, "use", "%") < 100
    film = (3 * MU * FLOW / 0.5 / (RHO * G)) ** (1 / 3)  # half of the gap is blocked
    assert number(calc, "film", "mm") == pytest.approx(film * 1e3, rel=1e-9)
    rise = 2 * GAMMA / (RHO * G * 7 / 16 * 0.0254)
    assert number(calc, "capillary_rise", "mm") == pytest.approx(rise * 1e3, rel=1e-9)
    least = 2 * GAMMA / (RHO * G * 0.25 * 0.0254)
    assert number(calc, "smallest_gap", "mm") == pytest.approx(least * 1e3, rel=1e-9)


def test_narrow_gap_is_a_slot_that_wicks(tmp_path: Path) -> None:
    calc = calculation(gap_drainage, tmp_path, WEST, EVENT, ("depth: 7/16 in", "depth: 0.5 mm"))
    assert calc.verdict("regime") == "slot"
    assert number(calc, "film", "mm") == 0.0
    assert number(calc, "capillary_rise", "mm") == pytest.approx(29.7, abs=0.05)  # the rise of a 0.5 mm gap
    assert any("narrow gap" in line.title for line in calc.results.values())


def test_too_much_water_is_unknown_never_yes(tmp_path: Path) -> None:
    """0.1 mm as a slot carries ρgb³/(12μ): 0.8 mL/s over 1 m, half of it blocked."""
    changes = (("depth: 7/16 in", "depth: 0.1 mm"), ("10 m/s", "60 m/s"), ("25.4 mm", "500 mm"))
    calc = calculation(gap_drainage, tmp_path, WEST, EVENT, *changes)
    assert calc.verdict("regime") == "unknown"
    assert number(calc, "use", "%") > 100


def test_missing(tmp_path: Path) -> None:
    assert "site.rain_event" in calculation(gap_drainage, tmp_path, WEST).missing[0]
    calc = calculation(gap_drainage, tmp_path, WEST, EVENT, (", depth: 7/16 in", ""))
    assert calc.missing[0].startswith("drainage layer.depth")
