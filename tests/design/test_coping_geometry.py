"""Pieces of the coping against a section drawn by hand."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.design import coping_geometry, coping_movement
from specgen.design.coping_geometry import blank_of, cut_list
from specgen.practice.load import load_practice
from tests.design.projects import FULL, calculation, changed_project, full, number

# Plaster 1, drainage 1/2, barrier 1 mm, plywood 1/2, concrete 6, insulation 2, membrane 0.060 in; lath is embedded.
BUILD_UP = 1 + 0.5 + 1 / 25.4 + 0.5 + 6 + 2 + 0.060
# Each drip of 1/2 in at 30 degrees projects 1/4 in, so a leg stands 3/4 in clear of a face it drips 1 in from.
WIDTH = BUILD_UP + 2 * 0.75
RISE = WIDTH / 48  # 1/4 in a foot


def test_section_by_hand(tmp_path: Path) -> None:
    calc = full(coping_geometry, tmp_path)
    assert set(calc.results) == set(coping_geometry.SETS)
    assert number(calc, "build_up", "in") == pytest.approx(BUILD_UP)
    assert number(calc, "width", "in") == pytest.approx(WIDTH)
    assert number(calc, "width_over_drips", "in") == pytest.approx(BUILD_UP + 2)
    assert number(calc, "rise", "in") == pytest.approx(RISE)
    # 6 in of face less 1 1/2 in of blocking and the rise on the high, outer side
    assert number(calc, "outer_lap", "in") == pytest.approx(6 - 1.5 - RISE)
    assert number(calc, "inner_leg", "in") == pytest.approx(3 + 1.5)
    # hem 1/2, drip 1/2, face 6, slant, leg 4 1/2, drip 1/2, hem 1/2
    assert number(calc, "girth", "in") == pytest.approx(12.5 + math.hypot(WIDTH, RISE))
    # 48 in of sheet holds one blank of 24.1 in, and a second would not fit
    assert number(calc, "strips", "") == 1
    assert number(calc, "sheet_used", "%") == pytest.approx(100 * (12.5 + math.hypot(WIDTH, RISE)) / 48)


def test_face_from_lap_where_none_is_stated(tmp_path: Path) -> None:
    calc = full(coping_geometry, tmp_path, (" outer_face_height: 6 in,", ""))
    assert number(calc, "outer_face", "in") == pytest.approx(4 + 1.5 + RISE)
    assert number(calc, "outer_lap", "in") == pytest.approx(4.0)


@pytest.mark.parametrize(
    ("toward", "rise", "face_above", "leg"),
    # what lies above the cladding outside, and the height of the interior face
    [
        ("roof", RISE, 1.5 + RISE, 4.5),
        ("outer face", RISE, 1.5, 4.5 + RISE),
        ("both sides", RISE / 2, 1.5, 4.5),
    ],
)
def test_side_that_the_top_drains_to(
    tmp_path: Path, toward: str, rise: float, face_above: float, leg: float
) -> None:
    calc = full(coping_geometry, tmp_path, ("slope_toward: roof", f"slope_toward: {toward}"))
    assert number(calc, "rise", "in") == pytest.approx(rise)
    assert number(calc, "outer_lap", "in") == pytest.approx(6 - face_above)
    assert number(calc, "inner_leg", "in") == pytest.approx(leg)
    slants = 2 * math.hypot(WIDTH / 2, rise) if toward == "both sides" else math.hypot(WIDTH, rise)
    assert number(calc, "girth", "in") == pytest.approx(2 + 6 + leg + slants)
    high = {"roof": "outer edge at 7 in turned 91.2°", "outer face": "outer edge at 7 in turned 88.8°"}
    assert high.get(toward, "ridge at") in str(calc.verdict("bend_lines"))


def test_pieces_by_hand(tmp_path: Path) -> None:
    """720 in less a corner leg and an end of 24 in each: 672 in. Gap 1/4 in.

    Six pieces, one corner, one end: 7 joints, 1 3/4 in; (672 - 1.75)/6 = 111.708 in. Five would be 134 in: too long.
    """
    calc = full(coping_geometry, tmp_path)
    assert number(calc, "straight_pieces", "") == 6
    assert number(calc, "joints", "") == 7
    assert number(calc, "piece_length", "in") == pytest.approx((672 - 1.75) / 6)
    assert number(calc, "joint_spacing", "in") == pytest.approx((672 - 1.75) / 6 + 0.25)
    # 111.7 in at 24 in or less: 5
    assert number(calc, "fixings_per_piece", "") == 5
    moved = number(full(coping_movement, tmp_path), "movement", "in")
    assert number(calc, "slot_length", "in") == pytest.approx(moved + 0.375)


@pytest.mark.parametrize("feet", [10, 20, 33, 100])
def test_pieces_and_gaps_fill_the_parapet(tmp_path: Path, feet: int) -> None:
    calc = full(
        coping_geometry, tmp_path, ("length: 60 ft", f"length: {feet} ft"), ("60 ft}", f"{feet} ft}}")
    )
    pieces, joints = number(calc, "straight_pieces", ""), number(calc, "joints", "")
    length = pieces * number(calc, "piece_length", "in") + joints * 0.25 + 48
    assert length == pytest.approx(12 * feet)
    assert number(calc, "piece_length", "in") <= 120 + 1e-9
    fewer = (12 * feet - 48 - (joints - 1) * 0.25) / (pieces - 1) if pieces > 1 else math.inf
    assert fewer > 120


@pytest.mark.parametrize(("turn", "leg"), [("outside", 31.5), ("inside", 24.0)])
def test_an_outside_corner_of_a_wide_coping_takes_a_longer_piece(
    tmp_path: Path, turn: str, leg: float
) -> None:
    """24 in over the faces and 3/4 in of drip twice: 25 1/2 in, and 6 in on the inner edge."""
    wide = (
        ("    length: 60 ft\n", "    length: 60 ft\n    thickness: 24 in\n"),
        ("turn: outside", f"turn: {turn}"),
        ("outer_drip: 1 in", "outer_drip: 3/4 in"),
        ("inner_drip: 1 in", "inner_drip: 3/4 in"),
    )
    calc = full(coping_geometry, tmp_path, *wide)
    pieces, joints = number(calc, "straight_pieces", ""), number(calc, "joints", "")
    straight = pieces * number(calc, "piece_length", "in") + joints * 0.25
    assert straight + leg + 24.0 == pytest.approx(720)


def test_stated_thickness_counts_where_it_is_more(tmp_path: Path) -> None:
    wide = full(coping_geometry, tmp_path, ("height: 4 ft", "height: 4 ft\n    thickness: 13 in"))
    assert number(wide, "build_up", "in") == pytest.approx(13)
    narrow = full(coping_geometry, tmp_path, ("height: 4 ft", "height: 4 ft\n    thickness: 9 in"))
    assert number(narrow, "build_up", "in") == pytest.approx(BUILD_UP)


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("kind: concrete, thickness: 6 in", "kind: concrete", "framing.thickness"),
        (", depth: 1/2 in", "", "drainage layer.depth"),
        (" outer_drip: 1 in,", "", "coping.outer_drip"),
        ("    length: 60 ft\n", "", "parapet.length"),
        ("  temp_install: 60 degF\n", "", "site.temp_install"),
    ],
)
def test_what_is_missing_is_named(tmp_path: Path, old: str, new: str, expected: str) -> None:
    calc = full(coping_geometry, tmp_path, (old, new))
    assert [text.split(":")[0] for text in calc.missing] == [expected]


def test_a_membrane_without_thickness_takes_the_usual_one(tmp_path: Path) -> None:
    calc = full(coping_geometry, tmp_path, (", thickness: 60 mil", ""))
    # table: 1.5 mm of TPO in place of 60 mil
    assert number(calc, "build_up", "in") == pytest.approx(BUILD_UP - 0.060 + 1.5 / 25.4)


def test_a_drip_shorter_than_its_bend_is_refused(tmp_path: Path) -> None:
    calc = full(coping_geometry, tmp_path, ("outer_drip: 1 in", "outer_drip: 1/8 in"))
    assert "a drip of less than" in calc.missing[0]


def test_a_corner_named_by_two_parapets_is_cut_once(tmp_path: Path) -> None:
    """Two like parapets: twice the straight pieces, one corner piece, two ends."""
    text = FULL.read_text(encoding="utf-8")
    second = text[text.index("  - name: P-1") :].replace("P-1", "P-2")
    path = tmp_path / "two.yaml"
    path.write_text(text + second, encoding="utf-8")
    project = changed_project(tmp_path, file=path)
    cuts = {cut.what: cut for cut in cut_list(project, load_practice())}
    assert {what: cut.count for what, cut in cuts.items()} == {
        "straight piece": 12,
        "corner piece, each leg": 1,
        "end piece": 2,
    }
    assert cuts["straight piece"].parapets == ("P-1", "P-2")


def test_drawing_has_the_numbers_of_the_sheet(tmp_path: Path) -> None:
    project = changed_project(tmp_path, file=FULL)
    made = blank_of(project, project.parapets[0], load_practice())
    assert made is not None
    calc = full(coping_geometry, tmp_path)
    assert made[0].girth_m == pytest.approx(number(calc, "girth", "m"))
    assert made[1] == pytest.approx(number(calc, "piece_length", "m"))


@given(drip=st.floats(0.5, 3.0), leg=st.floats(2.0, 8.0), thickness=st.floats(0.25, 3.0))
def test_metric_and_inch_pound_input_agree(
    tmp_path_factory: pytest.TempPathFactory, drip: float, leg: float, thickness: float
) -> None:
    folder = tmp_path_factory.mktemp("units")
    found = [
        calculation(
            coping_geometry,
            folder,
            ("outer_drip: 1 in", f"outer_drip: {drip * size:.9f} {unit}"),
            ("inner_leg: 3 in", f"inner_leg: {leg * size:.9f} {unit}"),
            (
                "kind: extruded polystyrene, thickness: 2 in",
                f"kind: extruded polystyrene, thickness: {thickness * size:.9f} {unit}",
            ),
            file=FULL,
        )
        for size, unit in ((1.0, "in"), (25.4, "mm"))
    ]
    for name in ("girth", "width", "piece_length"):
        assert number(found[0], name, "in") == pytest.approx(number(found[1], name, "in"), rel=1e-6)


def test_bends_are_told_as_a_shop_lays_them_out(tmp_path: Path) -> None:
    """Inches to the sixteenth, none in decimals; each within 1/32 in of the girth it belongs to."""
    words = str(full(coping_geometry, tmp_path).results["bend_lines"].value)
    places = re.findall(r" at ([0-9 /]+) in turned", words)
    assert len(places) == 6 and "." not in "".join(places)
    girth = number(full(coping_geometry, tmp_path), "girth", "in")
    last = float(sum(Fraction(part) for part in places[-1].split()))
    assert last == pytest.approx(girth - 0.5, abs=1 / 32)  # the inner hem is 1/2 in wide
