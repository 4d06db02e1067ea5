"""Plaster over the top and on the roof side: the gap goes on below it, and both end above the roof."""

from __future__ import annotations

from pathlib import Path

from specgen.assessment import assess
from specgen.drawing.frame import frame_of, laps_of
from specgen.drawing.levels import levels_of
from specgen.drawing.piece import DRAINAGE, Build
from specgen.drawing.pieces_top import _plaster_over
from specgen.drawing.pieces_wall import wall_pieces
from specgen.drawing.shapes import Area, Stroke
from specgen.drawing.sizes import job_of
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from tests.chain.runs import REPO

PRACTICE = load_practice()


def build(name: str | Path) -> Build:
    project = load_project(REPO / "tests" / "stated" / name, PRACTICE)
    job = job_of(assess(project, PRACTICE).walls[0], {})
    frame = frame_of(job, 12.0)
    return Build(job, frame, levels_of(job, frame), laps_of(job))


def test_the_gap_runs_below_the_plaster_of_the_top() -> None:
    made = build("plaster-covered-top")
    coping = made.job.parapet.part("coping")
    assert coping is not None
    area, gap = _plaster_over(made, coping).items
    assert isinstance(area, Area) and isinstance(gap, Stroke) and gap.layer == DRAINAGE
    low, high = min(y for _, y in area.outline), max(y for _, y in area.outline)
    assert low == made.levels.plaster_top  # the band of the face goes on into it
    start, *_, end = gap.points
    assert start[1] == made.levels.plaster_top and low < end[1] < high
    crown = min(made.levels.crown)
    assert end[1] > crown, "the gap lies above the flashing on the blocking"
    assert laps_of(made.job).outer is made.job.parapet.part("barrier")


def test_nothing_of_the_outer_face_moves() -> None:
    made = build("mixed-humid-midrise")
    plaster = next(one for one in wall_pieces(made) if one.name == "plaster")
    assert (plaster.low, plaster.high) == (made.levels.outlet, made.levels.plaster_top)


def test_plaster_of_the_roof_side_ends_above_the_roof_and_below_the_coping(tmp_path: Path) -> None:
    text = (REPO / "tests/stated/mixed-humid-midrise/project.yaml").read_text("utf-8")
    layers = """      - {role: drainage layer, id: roof-side gap, kind: dimpled sheet, depth: 7/16 in}
      - {role: plaster, id: roof-side plaster, kind: portland cement plaster, thickness: 7/8 in}
    top:
"""
    (tmp_path / "project.yaml").write_text(text.replace("    top:\n", layers, 1), "utf-8")
    made = build(tmp_path)
    found = {one.name: one for one in wall_pieces(made)}
    for name in ("roof-side plaster", "roof-side gap"):
        assert found[name].side == "roof" and found[name].low > 0.1
    assert found["roof-side gap"].x < found["roof-side plaster"].x
