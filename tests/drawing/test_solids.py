"""Parts at their true sizes: layers add up, sheets are as thick as they are, nothing is lost or without extent."""

from __future__ import annotations

from itertools import pairwise
from math import fsum, hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.drawing.shapes import bounds
from specgen.drawing.sizes import job_of
from specgen.drawing.solids import band, solids
from tests.conftest import LONG
from tests.render.bim_examples import PROJECTS, THREE, spec_of

EXAMPLES = tuple(sorted(PROJECTS.iterdir())) if LONG else (THREE,)


def area(outline: tuple[tuple[float, float], ...]) -> float:
    return abs(fsum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise((*outline, outline[0])))) / 2.0


@pytest.mark.parametrize("folder", EXAMPLES, ids=lambda one: one.name)
def test_layers_stand_side_by_side_and_fill_the_wall(folder):
    for wall in spec_of(folder).assessment.walls:
        cut = solids(job_of(wall, {}))
        at = 0.0
        drawn = {one.component: one for one in cut.parts}
        for layer in cut.layers:
            if layer.component:
                left, _, right, _ = bounds(drawn[layer.component].outlines[0])
                assert (left, right) == pytest.approx((at, at + layer.thickness.value), abs=1e-5)
            at += layer.thickness.value
        stated = wall.parapet.si("thickness")
        if stated is not None:
            assert at == pytest.approx(stated, abs=0.0051)


@pytest.mark.parametrize("folder", EXAMPLES, ids=lambda one: one.name)
def test_every_component_has_an_outline_or_a_line(folder):
    for wall in spec_of(folder).assessment.walls:
        cut = solids(job_of(wall, {}))
        assert {one.component for one in cut.parts} == {one.id for one in wall.parapet.components()}
        for one in cut.parts:
            assert one.line or one.outlines
            assert all(area(outline) > 0.0 for outline in one.outlines)


@given(
    st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), min_size=2, max_size=6).filter(
        lambda points: all(a != b for a, b in pairwise(points))
    )
)
def test_no_miter_of_a_sheet_reaches_beyond_its_legs(points):
    line = tuple((0.05 * x, 0.05 * y) for x, y in points)
    outline = band(line, 0.001)
    longest = max(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(line))
    for x, y in outline:
        assert min(hypot(x - a, y - b) for a, b in line) <= hypot(longest, 0.0005) + 1e-9
    assert len(outline) >= 2 * len(line) - 2


def test_a_bend_of_a_right_angle_has_the_area_of_its_legs():
    outline = band(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)), 0.1)
    assert area(outline) == pytest.approx(0.2)
    assert outline[1] == pytest.approx((0.95, 0.05))
