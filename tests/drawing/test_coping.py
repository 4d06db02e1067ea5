"""The folded coping has the sizes of its calculation."""

from __future__ import annotations

from itertools import pairwise
from math import hypot, radians
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.design import coping_geometry
from specgen.drawing.coping import CopingShape, coping_shape, folded
from specgen.drawing.sizes import Size, job_of
from tests.drawing.jobs import DEMOS, PRACTICE, demo

sizes = st.floats(0.03, 0.3)


def shape(outer: float, inner: float, drip: float, fall: float, toward: str) -> CopingShape:
    drips, legs = (Size(drip), Size(drip)), (Size(outer), Size(inner))
    return CopingShape(True, fall, toward, *drips, *legs, 0.0127, radians(30.0), 0.0127, Size(0.0), False)


@given(sizes, sizes, st.floats(0.0, 0.3), st.sampled_from(["roof", "outer face", "both sides"]))
def test_legs_slope_and_drips(outer: float, inner: float, fall: float, toward: str) -> None:
    form = shape(outer, inner, 0.025, fall, toward)
    points = folded(form, -0.02, 0.32, 1.0)
    rise_out, rise_in = form.rise(0.34)
    top = {x: max(y for px, y in points if px == x) for x in (-0.02, 0.32)}
    assert top[-0.02] == pytest.approx(1.0 + rise_out)
    assert top[0.32] == pytest.approx(1.0 + rise_in)
    assert min(y for x, y in points if x < 0.0) == pytest.approx(1.0 + rise_out - outer)
    assert min(y for x, y in points if x > 0.3) == pytest.approx(1.0 + rise_in - inner)
    assert min(x for x, _ in points) == pytest.approx(-0.02 - form.projects)
    assert max(x for x, _ in points) == pytest.approx(0.32 + form.projects)


def test_a_drip_without_room_is_left_out() -> None:
    points = folded(shape(0.1, 0.1, 0.0, 0.0, "roof"), 0.0, 0.3, 1.0)
    assert min(x for x, _ in points) == 0.0


def test_length_of_the_fold_is_the_girth_of_the_blank() -> None:
    """Second method: the calculation adds the pieces of the blank; the fold is measured along its line."""

    assessment = demo(next(path for path in DEMOS if path.name == "mixed-humid-midrise")).assessment
    job = job_of(assessment.walls[0], {})
    found = coping_geometry.blank_of(job.project, job.parapet, PRACTICE)
    calc = coping_geometry.calculate(job.project, job.parapet, PRACTICE)
    coping, width = job.parapet.part("coping"), calc.result("width")
    assert found is not None
    assert coping is not None
    assert width is not None
    form = coping_shape(job, coping, 0.0381, 0.33)
    points = folded(form, 0.0, width.value, 0.0)
    long = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))
    # The calculation measures a leg to the foot of its drip, the fold to the drip's tip: k (1 - cos) less on each side.
    assert long == pytest.approx(found[0].girth_m, abs=2.5 * form.kick)


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_what_is_not_stated_is_marked_assumed(folder: Path) -> None:
    assessment = demo(folder).assessment
    for wall in assessment.walls:
        coping = wall.parapet.part("coping")
        if coping is None:
            continue
        form = coping_shape(job_of(wall, {}), coping, 0.04, 0.3)
        assert form.outer_drip.assumed == (not coping.has("outer_drip"))
        assert form.fall_assumed == (not coping.has("slope"))
