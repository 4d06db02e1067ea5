"""A size that nobody states is drawn at the limit that the sections ask for, and every sheet says so."""

from __future__ import annotations

from typing import Any

import pytest

from specgen.drawing.blank import blank
from specgen.drawing.shapes import Dimension, Drawing, Text
from specgen.drawing.view import view_of
from tests.drawing.test_section import sheet
from tests.drawing.walls import job

DRIPS = ("outer_drip", "inner_drip")


def printed(drawing: Drawing | None) -> str:
    assert drawing is not None
    return " ".join(item.words for item in drawing.items if isinstance(item, Text))


def dimensions(parts: dict[str, Any]) -> list[str]:
    return [item.words for item in sheet(job(parts=parts)).items if isinstance(item, Dimension)]


def test_drips_are_drawn_at_their_least() -> None:
    stated = dimensions({})
    left = dimensions({"coping": dict.fromkeys(DRIPS)})
    assert stated.count("at least 1 in") == 0 and left.count("at least 1 in") == 2


def test_what_is_computed_from_a_limit_is_one_as_well() -> None:
    """The height of a face follows from the lap of its leg: where the lap is a least one, so is the height."""
    left = dimensions({"coping": {"outer_leg": None, "outer_face_height": None, "inner_leg": None}})
    assert len([words for words in left if words.startswith("at least ")]) == 2
    assert not [words for words in dimensions({}) if words.startswith("at least ")]


@pytest.mark.parametrize("name", ["outer_leg", "thickness", "slope", "piece_length"])
def test_the_blank_says_which_of_its_sizes_are_limits(name: str) -> None:
    changes: dict[str, Any] = {"outer_face_height": None} if name == "outer_leg" else {}
    words = printed(blank(view_of(job(parts={"coping": {name: None, **changes}}))))
    assert "Left to the Sections, and drawn at their limit: " in words
    assert "Left to the Sections" not in printed(blank(view_of(job())))
