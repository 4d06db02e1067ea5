"""Thermal movement against handbook figures."""

from __future__ import annotations

import pytest

from specgen.physics.movement import length_change
from tests.published.register import How, published

FT = 0.3048
INCH = 0.0254
RISE_100F = 100.0 / 1.8

# metal, coefficient [1/K] (common handbook figure, memory), least and greatest movement of 10 ft over 100 °F [in.],
# source and how obtained.
HANDBOOK = [
    ("aluminium", 23.6e-6, 0.15, 0.16, "project's basis of figures, read"),
    ("galvanized steel", 12.0e-6, 0.075, 0.085, "project's basis: about half of aluminium, read"),
    ("titanium-zinc", 22.0e-6, 0.14, 0.156, "project's basis: slightly less than aluminium, read"),
]


@published(
    "coping movement",
    "movement of 10 ft over 100 °F: aluminum, steel, zinc",
    "handbook coefficients",
    "from memory of the project basis",
    "bounds a row",
    How.MEMORY,
)
@pytest.mark.parametrize(("metal", "alpha", "low", "high", "source"), HANDBOOK)
def test_ten_feet_over_a_hundred_degrees(
    metal: str, alpha: float, low: float, high: float, source: str
) -> None:
    inches = length_change(10.0 * FT, alpha, RISE_100F) / INCH
    assert low <= inches <= high, (metal, source)


@published(
    "coping movement",
    "movement of 10 ft of copper over 100 °F",
    "copper flashing manual",
    "0.0000095 to 0.0000098 per °F, read in a public manual",
    "0.112 to 0.118 in.",
    How.READ,
)
def test_ten_feet_of_copper_over_a_hundred_degrees() -> None:
    """Sheet copper manuals print 0.0000095 to 0.0000098 per °F: read in a public copper flashing manual."""
    assert 0.112 <= length_change(10.0 * FT, 17.0e-6, RISE_100F) / INCH <= 0.118


@published(
    "coping movement",
    "contraction of a copper strip over 60 °F",
    "copper flashing manual",
    "worked example, read in a public manual",
    "1e-8 in.",
    How.READ,
)
def test_copper_strip_of_the_flashing_manual() -> None:
    """A public copper flashing manual: 1 in. cooled from 60 °F to 0 °F shortens by 0.00057 in. Read."""
    change = length_change(1.0 * INCH, 0.0000095 * 1.8, -60.0 / 1.8) / INCH
    assert change == pytest.approx(-0.00057, abs=1e-8)
