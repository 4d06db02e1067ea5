"""Hatches stay inside their outline, and no two materials are drawn alike."""

from __future__ import annotations

from typing import get_args

import pytest

from specgen.drawing.hatches import inside, strokes
from specgen.drawing.materials import hatch_of
from specgen.drawing.shapes import Hatch, rectangle
from specgen.practice.load import load_practice

SLOPED = ((0.0, 0.0), (30.0, 0.0), (30.0, 8.0), (0.0, 12.0))
DRAWN = [hatch for hatch in get_args(Hatch) if hatch not in ("none", "blank", "solid")]


@pytest.mark.parametrize("hatch", DRAWN)
def test_every_stroke_lies_inside(hatch: Hatch) -> None:
    found = strokes(SLOPED, hatch)
    assert found.lines or found.dots
    for (x0, y0), (x1, y1) in found.lines:
        assert inside(((x0 + x1) / 2.0, (y0 + y1) / 2.0), SLOPED)
    assert all(inside(dot, SLOPED) for dot in found.dots)


def test_the_same_outline_gives_the_same_strokes_and_each_material_its_own() -> None:
    drawn = {hatch: strokes(SLOPED, hatch) for hatch in DRAWN}
    assert all(strokes(SLOPED, hatch) == found for hatch, found in drawn.items())
    assert len(set(drawn.values())) == len(DRAWN)


@pytest.mark.parametrize("hatch", DRAWN)
@pytest.mark.parametrize("outline", [(), ((0.0, 0.0), (1.0, 1.0)), rectangle(0.0, 0.0, 0.0, 5.0)])
def test_nothing_is_drawn_in_no_area(hatch: Hatch, outline: tuple[tuple[float, float], ...]) -> None:
    assert not strokes(outline, hatch).lines
    assert not strokes(outline, hatch).dots


def test_a_large_area_is_stippled_more_widely() -> None:
    assert len(strokes(rectangle(0.0, 0.0, 5000.0, 5000.0), "plaster").dots) < 5000


def test_every_solid_kind_of_the_vocabulary_has_a_hatch() -> None:
    roles = load_practice().vocabulary.roles
    for role in ("plaster", "sheathing", "insulation", "top insulation", "blocking"):
        for kind in roles[role].kinds:
            assert hatch_of(role, kind) != "none", (role, kind)
