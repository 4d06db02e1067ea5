"""Control joints of the plastered face, by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import plaster_panels
from specgen.practice.load import load_practice
from tests.design.projects import FULL, changed_project, full, number

PLASTER = "role: plaster, kind: portland cement plaster"


def test_joints_by_hand(tmp_path: Path) -> None:
    """60 ft by 4 ft. The ratio of 2.5 governs: panels to 10 ft, area 40 ft² and side 10 ft stay within.

    Six panels of exactly 10 ft need 5 joints, and the joint at the scupper, 20 ft, is one of them.
    """
    calc = full(plaster_panels, tmp_path)
    assert set(calc.results) == set(plaster_panels.SETS)
    assert number(calc, "vertical_joints", "") == 5
    assert number(calc, "horizontal_joints", "") == 0
    assert calc.verdict("vertical_at") == "10 ft, 20 ft, 30 ft, 40 ft, 50 ft"
    assert number(calc, "largest_ratio", "") == pytest.approx(2.5)
    assert number(calc, "control_joint", "ft") == pytest.approx(5 * 4)
    assert number(calc, "casing_bead", "ft") == pytest.approx(60 + 4)  # one end at a rising wall
    assert number(calc, "corner_bead", "ft") == pytest.approx(4)
    assert number(calc, "weep_screed", "ft") == pytest.approx(60)


def test_an_opening_off_the_grid_moves_the_joints(tmp_path: Path) -> None:
    """With a joint at 22 ft: 22/10 is 3 panels, 38/10 is 4: 2 + 1 + 3 joints."""
    calc = full(plaster_panels, tmp_path, ("position: 20 ft", "position: 22 ft"))
    assert number(calc, "vertical_joints", "") == 6
    assert "22 ft" in str(calc.verdict("vertical_at"))


def test_a_building_joint_parts_the_plaster(tmp_path: Path) -> None:
    """At 33 ft: 33/10 is 4 panels with a joint at the scupper, 20 ft; 27/10 is 3: 3 + 1 + 2 lines, one of them parted."""
    joint = "joints: [{name: J-1, what: expansion, width: 2 in, position: 33 ft}]"
    calc = full(plaster_panels, tmp_path, ("    scuppers:", f"    {joint}\n    scuppers:"))
    assert "33 ft" in str(calc.verdict("vertical_at"))
    assert number(calc, "vertical_joints", "") == 6
    assert number(calc, "control_joint", "ft") == pytest.approx(5 * 4)
    assert number(calc, "casing_bead", "ft") == pytest.approx(60 + 4 + 2 * 4)


def test_a_step_is_told(tmp_path: Path) -> None:
    step = "steps: [{name: S-1, height: 18 in, position: 20 ft}]"
    calc = full(plaster_panels, tmp_path, ("    scuppers:", f"    {step}\n    scuppers:"))
    assert plaster_panels.BEYOND_STEP in calc.leaves_out


def test_joints_close_together_are_told(tmp_path: Path) -> None:
    """A scupper 2 in from the end makes a sliver that only many joints can cut to the ratio."""
    near = full(plaster_panels, tmp_path, ("position: 20 ft", "position: 2 in"))
    assert any("stand close together" in text for text in near.leaves_out)
    assert not any("stand close together" in text for text in full(plaster_panels, tmp_path).leaves_out)


def test_taller_plaster_makes_other_panels(tmp_path: Path) -> None:
    """12 ft high: 144 ft² leave 12 ft, so 60 ft need 5 panels; the scupper at 20 ft makes 2 and 4."""
    calc = full(plaster_panels, tmp_path, ("height: 4 ft", "height: 4 ft\n    plaster_height: 12 ft"))
    assert number(calc, "vertical_joints", "") == 5
    assert number(calc, "largest_area", "ft2") <= 144 + 1e-9
    assert not any("No plastered height" in text for text in calc.leaves_out)


def test_the_assumed_height_is_said(tmp_path: Path) -> None:
    calc = full(plaster_panels, tmp_path)
    assert any("parapet.plaster_height" in text for text in calc.leaves_out)


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("    length: 60 ft\n", "", "parapet.length"),
        ("      - {role: plaster, kind: portland cement plaster, thickness: 1 in}\n", "", "no plaster"),
        ("position: 20 ft", "position: 0.1 in", "no layout of a face"),
        ("    length: 60 ft\n", "    length: 1000 ft\n", "split the parapet"),
    ],
)
def test_unknown(tmp_path: Path, old: str, new: str, expected: str) -> None:
    calc = full(plaster_panels, tmp_path, (old, new))
    assert any(expected in text for text in calc.missing)


def test_face_for_a_drawing(tmp_path: Path) -> None:
    project = changed_project(tmp_path, file=FULL)
    face = plaster_panels.face_of(project, project.parapets[0], load_practice())
    assert face is not None
    assert face.layout.vertical_m == pytest.approx([x * 0.3048 for x in (10, 20, 30, 40, 50)])


@pytest.mark.parametrize(
    ("own", "joints", "ratio"),
    [("panel_ratio: 2.5", 5, 2.5), ("panel_ratio: 2.2", 7, 2.0), ("panel_ratio: 3", 5, 2.5)],
)
def test_the_stricter_of_standard_and_project(own: str, joints: int, ratio: float, tmp_path: Path) -> None:
    """4 ft high, a joint at 20 ft: 2.5 to 1 is 10 ft; 2.2 to 1 is 8.8 ft, 3 panels of 20/3 ft and 5 of 8 ft, 2.0 to 1."""
    change = (PLASTER, f"{PLASTER}, {own}")
    calc = full(plaster_panels, tmp_path, change)
    assert number(calc, "vertical_joints", "") == joints
    assert number(calc, "largest_ratio", "") == pytest.approx(ratio, rel=1e-3)
    assert {line.symbol for line in calc.inputs} >= {"ρ", "ρ'"}


def test_places_as_they_are_laid_out(tmp_path: Path) -> None:
    change = (PLASTER, f"{PLASTER}, panel_ratio: 2.2")
    places = str(full(plaster_panels, tmp_path, change).verdict("vertical_at")).split(", ")
    assert places[:2] == ["6 ft 8 in", "13 ft 4 in"]
    metric = full(plaster_panels, tmp_path, change, ("2026-03-02}", "2026-03-02, units: SI}"))
    assert str(metric.verdict("vertical_at")).startswith("2032 mm, 4064 mm")
