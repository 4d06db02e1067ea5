"""The strips of a wall: order, widths, room for laps, what the project does not describe."""

from __future__ import annotations

import pytest

from specgen.drawing.frame import frame_of, spread
from tests.drawing.walls import job

INCH = 0.0254


def test_strips_join_without_gap_from_the_outside_in() -> None:
    frame = frame_of(job(), 4.0)
    names = [strip.name for strip in frame.strips]
    assert names[:5] == ["plaster", "drainage layer", "outer lap", "barrier", "sheathing"]
    assert names[-4:] == ["roof-side sheathing", "roof turn-up", "roof tape", "roof lap"]
    for one, other in zip(frame.strips, frame.strips[1:], strict=False):
        assert one.x1 == pytest.approx(other.x0)


def test_solid_layers_are_to_scale_and_thin_ones_get_a_readable_width() -> None:
    frame = frame_of(job(), 4.0)
    plaster, barrier = frame.named("plaster"), frame.named("barrier")
    assert plaster is not None
    assert barrier is not None
    assert plaster.x1 - plaster.x0 == pytest.approx(0.875 * INCH)
    assert barrier.enlarged
    assert frame.displaced > 0.0


def test_the_flashing_stands_outside_of_what_it_laps_and_behind_what_laps_it() -> None:
    right = frame_of(job(), 4.0)
    wrong = frame_of(job(laps={"top flashing / barrier": {"upper": "barrier"}}), 4.0)
    for frame, outside in ((right, True), (wrong, False)):
        lap, barrier = frame.named("outer lap"), frame.named("barrier")
        assert lap is not None
        assert barrier is not None
        assert (lap.x1 <= barrier.x0 + 1e-12) is outside


def test_a_stated_thickness_that_the_layers_do_not_fill_leaves_a_space() -> None:
    frame = frame_of(job({"thickness": "13 in"}), 4.0)
    space = frame.named("space")
    assert space is not None
    layers = sum(strip.size.value for strip in frame.strips if strip.part is not None)
    assert space.x1 - space.x0 == pytest.approx(13 * INCH - layers)
    assert frame_of(job({"thickness": None}), 4.0).named("space") is None


def test_one_unknown_thickness_takes_what_the_stated_total_leaves() -> None:
    frame = frame_of(job({"thickness": "13 in"}, {"framing": {"thickness": None}}), 4.0)
    framing = frame.named("framing")
    assert framing is not None
    assert framing.size.assumed
    assert sum(strip.size.value for strip in frame.strips) == pytest.approx(13 * INCH)


def test_pulled_apart_every_strip_keeps_its_width_and_its_order() -> None:
    frame = frame_of(job(), 8.0)
    apart = spread(frame, 0.05)
    assert [s.x1 - s.x0 for s in apart.strips] == pytest.approx([s.x1 - s.x0 for s in frame.strips])
    starts = [strip.x0 for strip in apart.strips]
    assert starts == sorted(starts)
    assert apart.right - apart.left > frame.right - frame.left + 0.3
