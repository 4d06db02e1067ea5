"""The section: what its notes say, what is drawn over what, what is assumed, what is left out."""

from __future__ import annotations

import pytest

from specgen.drawing.placing import Placing, cuts_for
from specgen.drawing.section import section
from specgen.drawing.shapes import Area, Bubble, Dimension, Drawing, Text
from specgen.drawing.sizes import Job, job_of
from specgen.drawing.view import view_of
from tests.drawing.jobs import DEMOS, demo
from tests.drawing.walls import job


def words(drawing: Drawing) -> str:
    return " ".join(item.words for item in drawing.items if isinstance(item, Text))


def sheet(one: Job) -> Drawing:
    return section(view_of(one), {})[0]


def test_a_note_names_requirement_and_paragraph() -> None:
    spec = demo(next(path for path in DEMOS if path.name == "mixed-humid-midrise"))
    where = spec.paragraphs
    one = job_of(spec.assessment.walls[0], {})
    printed = words(section(view_of(one), where)[0])
    kind, depth, lap = where["drainage.kind"], where["drainage.depth"], where["flashing.lap_barrier"]
    assert f": {kind.section}, {kind.number} " in printed
    assert depth.section == kind.section
    assert f"at least 7/16 in: {depth.number} " in printed  # the section's number is said once in a note
    assert f"at least 4 in: {lap.section}, {lap.number} " in printed


def test_every_part_has_a_key_and_every_key_a_note() -> None:
    one = job()
    drawing = sheet(one)
    on_wall = {item.key for item in drawing.items if isinstance(item, Bubble) and item.layer == "key"}
    in_notes = {item.key for item in drawing.items if isinstance(item, Bubble) and item.layer == "note"}
    assert on_wall == in_notes
    assert {str(n) for n in range(1, len(list(one.parapet.components())) + 1)} <= on_wall


def test_a_size_that_nothing_states_is_marked_assumed() -> None:
    assert "parapet framing, cold-formed steel studs, thickness 6 in" in words(sheet(job()))
    printed = words(sheet(job({"thickness": None}, {"framing": {"thickness": None}})))
    assert "cold-formed steel studs, thickness 6 in (assumed)" in printed
    dims = [
        i.words
        for i in sheet(job(laps={"top flashing / barrier": {"lap": None}})).items
        if isinstance(i, Dimension)
    ]
    assert "at least 4 in" in dims


def test_the_sheet_states_its_scale_and_what_is_not_to_it() -> None:
    printed = words(sheet(job()))
    assert "scale 3 in = 1 ft (1:4)" in printed
    assert "thicker than they are" in printed.replace("  ", " ")
    assert "Between break lines plain wall is left out." in printed


def test_units_of_the_project_decide_paper_and_scale() -> None:
    assessment = demo(DEMOS[0]).assessment
    assert sheet(job_of(assessment.walls[0], {})).size[0] == (pytest.approx(279.4))


def test_the_coping_is_drawn_with_its_stated_face() -> None:
    dims = [item.words for item in sheet(job()).items if isinstance(item, Dimension)]
    assert "6 in" in dims
    assert "base flashing 40 in" in dims
    assert "parapet 42 in" in dims


def test_nothing_is_drawn_beyond_the_field() -> None:
    view = view_of(job())
    left, low, right, high = view.paper.field
    for item in section(view, {})[0].items:
        if isinstance(item, Area):
            assert all(left <= x <= right and low - 2.0 <= y <= high for x, y in item.outline), item


EACH = "plaster, lath, drainage layer, weep screed, barrier, framing, roof turn-up, top flashing, blocking, cleat, coping"


@pytest.mark.parametrize("missing", EACH.split(", "))
def test_a_wall_without_a_part_is_drawn(missing: str) -> None:
    drawing = sheet(job(parts={missing: None}))
    assert sum(isinstance(item, Area) for item in drawing.items) > 3


def test_a_wall_of_nothing_is_drawn() -> None:
    one = job()
    parts = {part.id: None for part in one.parapet.components() if part.role not in ("plaster", "coping")}
    assert sheet(job(parts=parts)).items


def test_what_fits_is_not_cut_and_cuts_leave_what_must_be_seen() -> None:
    zones = [(0.0, 0.1), (0.9, 1.0)]
    assert cuts_for(zones, 0.01, 100.0) == ()
    cuts = cuts_for(zones, 0.004, 100.0)
    assert cuts is not None
    (low, high) = cuts[0]
    assert low >= 0.1
    assert high <= 0.9
    placing = Placing(0.004, (0.0, 0.0), cuts)
    assert placing.y(1.0) - placing.y(0.0) == pytest.approx(100.0)
    assert placing.y(0.1) - placing.y(0.0) == pytest.approx(25.0)
    assert cuts_for(zones, 0.001, 100.0) is None
