"""A filled stud cavity: between its parts, by hand, and warmer at the roof junction than an empty one."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import roof_junction, vapor_drive
from specgen.design.stud_cavity import filled_conductivity, filling
from specgen.design.worksheet import Worksheet
from specgen.intake.project import load_project
from specgen.model.project import Component
from specgen.practice.load import load_practice
from specgen.units.quantity import Quantity
from tests.design.projects import FULL, full, number

PRACTICE = load_practice()


def conductivity(tmp_path: Path, kind: str, cavity: str) -> float | None:
    project = load_project(FULL, PRACTICE)
    work = Worksheet("s", "t", project, project.parapets[0], PRACTICE, "", [])
    mark = project.parapets[0].mark
    part = Component("framing", {"cavity": cavity}, {}, mark, "framing", kind)
    row = filling(work, part)
    return None if row is None else filled_conductivity(work, part, row, 1)


@pytest.mark.parametrize(
    ("kind", "cavity", "by_hand"),
    [
        ("wood studs", "mineral wool", 0.75 * 0.036 + 0.25 * 0.13),
        ("wood studs", "glass fiber", 0.75 * 0.043 + 0.25 * 0.13),
        ("wood studs", "closed-cell foam", 0.75 * 0.026 + 0.25 * 0.13),
        # ASHRAE 90.1 gives for R-19 between 6 in steel studs (memory): 0.152 m/(7.1 × 0.176) = 0.12.
        ("cold-formed steel studs", "glass fiber", 0.12),
        ("cold-formed steel studs", "mineral wool", 0.036 / 0.37),
    ],
)
def test_by_hand(tmp_path: Path, kind: str, cavity: str, by_hand: float) -> None:
    assert conductivity(tmp_path, kind, cavity) == pytest.approx(by_hand, rel=0.04)


@pytest.mark.parametrize(
    ("kind", "cavity"),
    [("wood studs", "empty"), ("concrete", "mineral wool"), ("concrete masonry", "glass fiber")],
)
def test_nothing_fills_an_empty_cavity_or_a_solid_wall(tmp_path: Path, kind: str, cavity: str) -> None:
    assert conductivity(tmp_path, kind, cavity) is None


def test_a_filled_cavity_warms_the_junction_and_cools_the_membrane_less(tmp_path: Path) -> None:
    line = "role: framing, kind: concrete, thickness: 6 in"
    studs = "role: framing, kind: cold-formed steel studs, thickness: 6 in"
    filled = f"{studs}, cavity: mineral wool"
    empty, stuffed = (full(roof_junction, tmp_path, (line, one)) for one in (studs, filled))
    assert number(stuffed, "f_rsi", "") > number(empty, "f_rsi", "") + 0.02
    steps = {one.title: one.value for one in stuffed.steps}
    shown = next(
        value for title, value in steps.items() if title.startswith("equivalent thermal conductivity")
    )
    assert isinstance(shown, Quantity)
    drive = full(vapor_drive, tmp_path, (line, filled))
    assert any("equivalent thermal conductivity" in one.title for one in drive.steps)
