"""Spread of the headline results: what one input does, by hand; the sample is seeded and stays in the range."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import coping_movement, uncertainty
from specgen.design.sheet import WIDTH, sheet
from specgen.design.uncertainty import HEADLINES, doubts, spread, swings
from specgen.model.calculation import CalcTable, Calculation
from specgen.practice.load import load_practice
from tests.design.projects import FULL, changed_project, full, number

MOVEMENT = next(one for one in HEADLINES if one.name == "movement")
WIND = next(one for one in HEADLINES if one.name == "resistance")


def test_wind_speed_swings_as_its_square(tmp_path: Path) -> None:
    """The table tries 0.95 and 1.05 times the speed: (1.05/0.95)² = 1.2216. Kzt 1.0 to 1.3 swings as itself."""
    project, practice = changed_project(tmp_path, file=FULL), load_practice()
    found = {swing.doubt.path: swing for swing in swings(WIND, project, project.parapets[0], practice)}
    speed = found["site.wind_speed"]
    assert speed.at_high.value / speed.at_low.value == pytest.approx((1.05 / 0.95) ** 2)
    hill = found["site.topographic_factor"]
    assert hill.at_high.value / hill.at_low.value == pytest.approx(1.3)
    widths = [swing.width for swing in swings(WIND, project, project.parapets[0], practice)]
    assert widths == sorted(widths, reverse=True)


def test_only_what_moves_the_result_is_shown(tmp_path: Path) -> None:
    """The installation temperature moves the gap, not the movement; the metal is dark, so light metal plays no part."""
    project, practice = changed_project(tmp_path, file=FULL), load_practice()
    found = {swing.doubt.path for swing in swings(MOVEMENT, project, project.parapets[0], practice)}
    assert found == {
        "P-1.coping.piece_length",
        "practice.movement.hot_metal",
        "practice.movement.night_cooling",
    }


def test_spread_of_a_product_by_hand(tmp_path: Path) -> None:
    """Movement is α L ΔT. Corners of the ranges bound it: 8 ft × (160 - 10) to 12 ft × (195 + 10), of 10 ft × 180."""
    project, practice = changed_project(tmp_path, file=FULL), load_practice()
    middle = number(full(coping_movement, tmp_path), "movement", "m")
    low, high = spread(MOVEMENT, project, project.parapets[0], practice)
    assert middle * 0.8 * 150 / 180 < low < middle < high < middle * 1.2 * 205 / 180
    assert (low, high) == spread(MOVEMENT, project, project.parapets[0], practice)


def test_a_larger_sample_agrees(tmp_path: Path) -> None:
    project, practice = changed_project(tmp_path, file=FULL), load_practice()
    small = spread(MOVEMENT, project, project.parapets[0], practice)
    large = spread(MOVEMENT, project, project.parapets[0], practice, samples=1000)
    assert small == pytest.approx(large, rel=0.03)


def test_ranges_follow_the_project(tmp_path: Path) -> None:
    project, practice = changed_project(tmp_path, file=FULL), load_practice()
    found = {doubt.path: doubt for doubt in doubts(WIND, project, project.parapets[0], practice)}
    speed = found["site.wind_speed"]
    assert (speed.low, speed.high) == pytest.approx((115 * 0.95 * 0.44704, 115 * 1.05 * 0.44704))


def test_calculation(tmp_path: Path) -> None:
    calc = full(uncertainty, tmp_path)
    assert set(calc.results) == set(uncertainty.SETS)
    assert calc.verdict("resistance_first") == "site.topographic_factor"
    assert [table.name for table in calc.tables] == [one.name for one in HEADLINES]
    for one in HEADLINES:
        low, high = calc.result(f"{one.name}_low"), calc.result(f"{one.name}_high")
        assert low is not None
        assert high is not None
        assert low.value < high.value


def test_every_range_of_the_table_can_be_read(tmp_path: Path) -> None:
    """Each row names a place or a practice value, and the result it moves exists."""
    project, practice = changed_project(tmp_path, file=FULL), load_practice()
    rows = practice.table("doubtful").rows
    read = [doubt for one in HEADLINES for doubt in doubts(one, project, project.parapets[0], practice)]
    assert len(read) == len(rows)
    for doubt in read:
        assert doubt.low < doubt.high, doubt.path


def test_unknown_headlines_are_named(tmp_path: Path) -> None:
    calc = full(uncertainty, tmp_path, ("  temp_summer: 95 degF\n", ""), ("  exposure: C\n", ""))
    assert len(calc.missing) == 2
    assert any("site.temp_summer" in text and "(vapor drive)" in text for text in calc.missing)


def test_a_table_too_wide_breaks_its_words_and_loses_none() -> None:
    words = (
        "a long name of an input that nobody would shorten, with its path (practice.vapor.film_coefficient)"
    )
    rows = ((words, *(f"{number} Btu" for number in range(5))),)
    table = CalcTable("t", "Wide", ("input", "a", "b", "c", "d", "e"), rows)
    calc = Calculation("s", "t", "P-1", (), (), {}, (), "v", (), tables=(table,))
    text = sheet(calc)
    assert max(map(len, text.splitlines())) <= WIDTH
    inside = text[text.index("Wide") :].split()
    assert all(word in inside for word in words.split())
