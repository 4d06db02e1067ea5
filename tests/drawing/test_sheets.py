"""Which sheets a project has, and what the order of work, the panels and the blank show."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from specgen.design import coping_geometry, plaster_panels
from specgen.drawing.blank import blank
from specgen.drawing.elevation import elevation
from specgen.drawing.exploded import exploded
from specgen.drawing.notes import part_keys
from specgen.drawing.shapes import Bubble, Item, Stroke, Text
from specgen.drawing.sheets import sheets
from specgen.drawing.view import view_of
from specgen.paths.sequence import sequence
from tests.drawing.jobs import DEMOS, demo
from tests.drawing.walls import job


def words_of(items: Iterable[Item]) -> str:
    return " ".join(item.words for item in items if isinstance(item, Text))


def test_a_project_has_its_sheets_parapet_by_parapet_and_the_same_ones_again() -> None:
    issue = demo(next(path for path in DEMOS if path.name == "mixed-humid-midrise"))
    drawn = sheets(issue)
    for parapet in issue.assessment.project.parapets:
        names = [
            one.name.removeprefix(f"{parapet.name} ")
            for one in drawn
            if one.name.startswith(f"{parapet.name} ")
        ]
        assert {"section", "control-layers", "order-of-work", "plaster-panels", "coping-blank"} <= set(names)
    assert len({one.name for one in drawn}) == len(drawn)
    assert sheets(issue) == drawn


def test_every_sheet_tells_what_it_shows_to_one_who_cannot_see_it() -> None:
    for one in sheets(demo(DEMOS[0])):
        assert len(one.description) > 40
        assert one.title


def test_numbers_follow_the_order_of_work() -> None:
    one = job()
    steps = sequence(one.parapet, one.practice).steps
    assert [part_keys(one)[step.component] for step in steps] == [str(n) for n in range(1, len(steps) + 1)]
    drawing = exploded(one)
    assert all(f"{step.component}: {step.trade}" in words_of(drawing.items) for step in steps)


def test_an_order_that_goes_in_a_circle_is_drawn_and_told() -> None:
    wrong = {
        "top flashing / barrier": {"upper": "barrier"},
        "top flashing / drainage layer": {"lap": "4 in", "upper": "top flashing"},
    }
    one = job(laps=wrong)
    assert sequence(one.parapet, one.practice).cycle is not None
    drawing = exploded(one)
    assert "no order of work" in words_of(drawing.items).replace("  ", " ")
    keys = {item.key for item in drawing.items if isinstance(item, Bubble) and item.layer == "key"}
    assert set(part_keys(one).values()) <= keys


@pytest.mark.parametrize("length", ["12 ft", "120 ft", "400 ft"])
def test_panels_show_every_joint_of_the_calculation(length: str) -> None:
    one = job({"length": length})
    face = plaster_panels.face_of(one.project, one.parapet, one.practice)
    drawing = elevation(one, {})
    assert face is not None
    assert drawing is not None
    uprights = {
        (round((item.points[0][0]) / 0.7), round(item.points[0][1], 3))
        for item in drawing.items
        if isinstance(item, Stroke) and item.layer == "metal" and item.points[0][0] == item.points[1][0]
    }
    assert len(uprights) >= len(face.layout.vertical_m)
    assert f"{len(face.layout.vertical_m)} upright" in words_of(drawing.items)


def test_panels_and_blank_need_their_calculation() -> None:
    one = job({"length": None})
    assert elevation(one, {}) is None
    assert blank(view_of(one)) is None


def test_a_layout_beyond_a_limit_of_the_project_says_so() -> None:
    one = job({"length": "120 ft"}, {"plaster": {"panel_ratio": 1.5}})
    drawing = elevation(one, {})
    assert drawing is not None
    face = plaster_panels.face_of(one.project, one.parapet, one.practice)
    assert face is not None
    assert ("Add joints" in words_of(drawing.items)) == (face.layout.greatest_ratio > 1.5)


def test_the_blank_shows_every_bend_where_it_is() -> None:
    one = job()
    found = coping_geometry.blank_of(one.project, one.parapet, one.practice)
    drawing = blank(view_of(one))
    assert found is not None
    assert drawing is not None
    flat = found[0]
    outline = next(
        item for item in drawing.items if isinstance(item, Stroke) and item.closed and item.pen == "heavy"
    )
    top = max(y for _, y in outline.points)
    bends = [
        i.points[0][1]
        for i in drawing.items
        if isinstance(i, Stroke) and i.layer == "metal" and len(i.points) == 2
    ]
    assert [(top - y) * drawing.factor / 1000.0 for y in bends] == pytest.approx(
        [bend.at_m for bend in flat.bends]
    )
    assert all(bend.name in words_of(drawing.items) for bend in flat.bends)
