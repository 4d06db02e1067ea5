"""Calculations of the design room against figures published elsewhere; how each was obtained stands beside it."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import galvanic, lath_fasteners, plaster_panels, scuppers
from tests.design.projects import full, number
from tests.published.register import How, published


@published(
    "scuppers",
    "head of a 6 in. scupper for a flow",
    "ASCE 7 commentary, rain loads",
    "table of scuppers, from memory",
    "0.05 in.",
    How.MEMORY,
)
@pytest.mark.parametrize(("gpm", "inches"), [(18, 1), (50, 2), (90, 3), (140, 4)])
def test_scupper_heads(tmp_path: Path, gpm: float, inches: float) -> None:
    """ASCE 7 commentary, rain loads, table of scuppers, 6 in wide (from memory). Its flows are rounded: ±0.05 in."""
    area = gpm / (4 / 12 / 60 * 7.480519)
    calc = full(scuppers, tmp_path, ("area_served: 1200 ft2", f"area_served: {area:.4f} ft2"))
    assert number(calc, "primary_head", "in") == pytest.approx(inches, abs=0.05)


@published(
    "scuppers",
    "load of ponded water",
    "ASCE 7, rain loads",
    "R = 5.2 (ds + dh), from memory",
    "0.3 %",
    How.MEMORY,
)
def test_rain_load_is_5_2_psf_an_inch(tmp_path: Path) -> None:
    """ASCE 7, R = 5.2 (ds + dh) in psf and inches (from memory); 5.2 is rounded: 0.3 %."""
    calc = full(scuppers, tmp_path)
    assert number(calc, "water_load", "psf") == pytest.approx(
        5.2 * number(calc, "water_depth", "in"), rel=3e-3
    )


@published(
    "lath fasteners",
    "weight of 7/8 in. plaster on lath",
    "ASCE 7 commentary, design dead loads",
    "from memory",
    "0.05 psf",
    How.MEMORY,
)
def test_dead_load_of_plaster(tmp_path: Path) -> None:
    """ASCE 7 commentary, minimum design dead loads (from memory): cement plaster on metal lath, 7/8 in, 10 psf."""
    calc = full(lath_fasteners, tmp_path, ("plaster, thickness: 1 in", "plaster, thickness: 7/8 in"))
    assert number(calc, "dead_load", "psf") == pytest.approx(10, abs=0.05)


@published(
    "plaster panels",
    "fewest joints of a 72 ft face",
    "ASTM C1063",
    "limits from memory, layouts by hand",
    "exact",
    How.MEMORY,
)
@pytest.mark.parametrize(("height", "vertical", "horizontal"), [(8, 3, 0), (12, 5, 0), (18, 4, 1)])
def test_panels_of_c1063(tmp_path: Path, height: int, vertical: int, horizontal: int) -> None:
    """ASTM C1063 (from memory): 144 ft², 18 ft, 2.5 to 1. A 72 ft face, by hand:

    8 ft high takes 4 panels of 18 ft (144 ft², 2.25 to 1), 12 ft high 6 of 12 ft. 18 ft high, 9 panels of 8 ft
    need 8 joints; with one joint at mid-height 5 of 14.4 by 9 ft (130 ft²) do with 5, and 4 of 18 ft are too large.
    """
    calc = full(
        plaster_panels,
        tmp_path,
        ("    height: 4 ft\n", f"    height: 4 ft\n    plaster_height: {height} ft\n"),
        ("length: 60 ft", "length: 72 ft"),
        ("position: 20 ft, ", ""),
        ("position: 60 ft", "position: 72 ft"),
    )
    assert number(calc, "vertical_joints", "") == vertical
    assert number(calc, "horizontal_joints", "") == horizontal


@published(
    "galvanic",
    "difference of anodic index",
    "MIL-STD-889 handbooks",
    "anodic index, from memory",
    "exact",
    How.MEMORY,
)
@pytest.mark.parametrize(
    ("coping", "volts"), [("copper", 0.85), ("stainless steel", 0.70), ("aluminum", 0.30), ("zinc", 0.05)]
)
def test_couples_with_galvanized_steel(tmp_path: Path, coping: str, volts: float) -> None:
    """Anodic index after MIL-STD-889 handbooks (from memory): galvanized 1.20, copper 0.35, zinc 1.25."""
    calc = full(galvanic, tmp_path, ("metal: aluminum", f"metal: {coping}"))
    pair = next(line for line in calc.steps if line.title.startswith(f"coping ({coping}) and cleat"))
    assert not isinstance(pair.value, str)
    assert pair.value.number == pytest.approx(volts)
