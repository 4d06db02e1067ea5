"""The paths of the control layers: a line type and a letter each, off on the section, breaks marked."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.drawing.control import LOOK, control, offset, runs, with_paths
from specgen.drawing.section import section
from specgen.drawing.shapes import Bubble, Stroke, Text
from specgen.drawing.sheet import CONTROL_LAYERS
from specgen.drawing.view import view_of
from specgen.paths.trace import control_paths
from tests.drawing.walls import job


def test_each_layer_has_its_own_line_type_and_letter() -> None:
    assert set(LOOK) == set(CONTROL_LAYERS)
    assert len({dash for dash, _, _ in LOOK.values()}) == len({letter for _, letter, _ in LOOK.values()}) == 4
    drawing = control(view_of(job({"vapor_path": "over the top"})))
    for name, (dash, letter, _) in LOOK.items():
        items = [item for item in drawing.items if item.layer == f"control-{name}"]
        assert [item.dash for item in items if isinstance(item, Stroke)] == [dash]
        assert {item.words for item in items if isinstance(item, Text)} == {letter}


def test_on_the_section_the_paths_are_off() -> None:
    view = view_of(job())
    drawing = with_paths(section(view, {})[0], view)
    off = {layer.name for layer in drawing.layers if not layer.on}
    assert off == {f"control-{name}" for name in CONTROL_LAYERS}
    assert any(item.layer in off for item in drawing.items)
    assert not any(item.layer in off for item in drawing.shown())


def test_the_water_path_runs_from_the_roof_over_the_top_and_down() -> None:
    view = view_of(job())
    run = next(run for run in runs(view) if run.path.layer == "water")
    assert run.points[0][0] > view.placing.x(view.frame.right)
    assert max(y for _, y in run.points) > view.placing.y(view.levels.wall_top)
    assert run.points[-1][1] < view.placing.y(0.0)


def test_every_break_of_the_paths_is_told() -> None:
    one = job(laps={"top flashing / roof turn-up": {"lap": "1 in"}})
    drawing = control(view_of(one))
    printed = " ".join(item.words for item in drawing.items if isinstance(item, Text))
    breaks = {
        b.condition
        for p in control_paths(one.project, one.parapet, one.practice)
        if p.place == "plain run"
        for b in p.breaks
    }
    assert any("shorter" in condition for condition in breaks)
    assert all(condition in printed for condition in breaks)
    keys = {item.key for item in drawing.items if isinstance(item, Bubble) and item.layer == "key"}
    assert "x1" in keys


def test_a_path_that_is_not_declared_is_told_and_not_drawn() -> None:
    drawing = control(view_of(job({"heat_path": None})))
    printed = " ".join(item.words for item in drawing.items if isinstance(item, Text))
    assert "H heat (dots), 1 open: no path declared" in printed
    assert not any(item.layer == "control-heat" for item in drawing.items)


@given(st.floats(0.5, 5.0))
def test_an_offset_square_corner_stays_square(away: float) -> None:
    assert offset([(0.0, 0.0), (0.0, 10.0), (-10.0, 10.0)], away) == (
        pytest.approx((away, 0.0)),
        pytest.approx((away, 10.0 + away)),
        pytest.approx((-10.0, 10.0 + away)),
    )
