"""Sheet metal by gauge and by weight."""

from __future__ import annotations

import pytest

from specgen.practice.entries import cell
from specgen.practice.load import load_practice
from specgen.practice.sheet import sheet_thickness
from specgen.units.quantity import QuantityError, parse, to_unit

PRACTICE = load_practice()
GAUGES = PRACTICE.table("gauges").rows


@pytest.mark.parametrize("row", GAUGES, ids=lambda row: f"{row['metal']} {cell(row, 'gauge').number:g}")
def test_each_gauge_gives_the_thickness_of_its_row(row: dict[str, object]) -> None:
    gauge = f"{cell(row, 'gauge').number:g} ga"
    assert sheet_thickness(PRACTICE, parse(gauge), str(row["metal"])) == row["thickness"]


def test_a_higher_gauge_is_a_thinner_sheet() -> None:
    for metal in {row["metal"] for row in GAUGES}:
        rows = sorted(
            (row for row in GAUGES if row["metal"] == metal), key=lambda row: cell(row, "gauge").number
        )
        sizes = [cell(row, "thickness").value for row in rows]
        assert sizes == sorted(sizes, reverse=True) and len(set(sizes)) == len(sizes)


@pytest.mark.parametrize("text", ["0.040 in", "1 mm", "40 mil"])
def test_a_length_stays_as_written_with_any_metal_or_none(text: str) -> None:
    for metal in (None, "copper", "aluminum", "galvanized steel"):
        assert sheet_thickness(PRACTICE, parse(text), metal).text == text


@pytest.mark.parametrize(
    ("text", "metal", "message", "fix"),
    [
        ("22 ga", None, "`22 ga` means nothing without its metal", "give `metal`"),
        ("16 oz/ft2", None, "`16 oz/ft2` means nothing without its metal", "give `metal`"),
        ("22 ga", "aluminum", "aluminum is not sold by gauge", "inches or mm"),
        ("22 ga", "zinc", "zinc is not sold by gauge", "inches or mm"),
        ("22 ga", "copper", "copper is not sold by gauge", "oz/ft2"),
        ("21 ga", "galvanized steel", "no gauge 21 for galvanized steel", "known gauges: 16, 18"),
        ("22.5 ga", "stainless steel", "no gauge 22.5 for stainless steel", "known gauges"),
        ("16 oz/ft2", "aluminum", "aluminum is not sold by weight", "inches or mm"),
    ],
)
def test_what_means_nothing_is_refused(text: str, metal: str | None, message: str, fix: str) -> None:
    with pytest.raises(QuantityError) as caught:
        sheet_thickness(PRACTICE, parse(text, {"gauge", "mass per area"}), metal)
    assert caught.value.message == message and fix in caught.value.fix


def test_weight_in_other_units_gives_the_same_thickness() -> None:
    ounces = sheet_thickness(PRACTICE, parse("16 oz/ft2"), "copper")
    pounds = sheet_thickness(PRACTICE, parse("1 lb/ft2"), "copper")
    assert pounds.value == pytest.approx(ounces.value, rel=1e-12)
    assert to_unit(ounces, "in") == pytest.approx(0.0216, rel=1e-9)


def test_the_weight_of_copper_agrees_with_its_density() -> None:
    # Second method: 1 oz/ft2 over the handbook density of copper, 8.93 g/cm3 (memory): within 2 %.
    assert pytest.approx(0.00135, rel=0.02) == 0.0283495 / 0.09290304 / 8930 / 0.0254
