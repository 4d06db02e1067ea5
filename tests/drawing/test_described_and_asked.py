"""A size that fails is printed as described, with what the Sections ask for: no sheet shows another building."""

from __future__ import annotations

import re

import pytest

from specgen.assessment import assess
from specgen.drawing.shapes import Dimension, Text
from specgen.drawing.sheets import sheets
from specgen.specification import specify
from tests.drawing.walls import PRACTICE, project

FAILING = {
    "outer_drip": "1/2 in",
    "outer_leg": "1 in",
    "inner_leg": "1 in",
    "slope": "1/8 in/ft",
    "thickness": "0.032 in",
}


def printed() -> dict[str, str]:
    """The lettering of each kind of sheet of the demo with a coping that fails in every size."""
    made = project({}, {"coping": FAILING, "roof turn-up": {"height": "6 in"}}, {}, {})
    spec = specify(assess(made, PRACTICE))
    found: dict[str, str] = {}
    for drawing in sheets(spec):
        name = drawing.name.partition(" ")[2]
        found[name] = " ".join(one.words for one in drawing.items if isinstance(one, Text | Dimension))
    return found


SHEETS = printed()


@pytest.mark.parametrize(
    ("sheet", "size", "asked"),
    [
        ("section", "1/2 in", "1 in"),
        ("section", "height 6 in", "8 in"),
        ("section", "slope 1/8 in/ft", "1/4 in/ft"),
        ("coping-blank", "1/2 in", "1 in"),
        ("coping-blank", "interior face lap over the base flashing 1 in", "2 in"),
        ("coping-blank", "0.032 in", "0.040 in"),
    ],
)
def test_a_failing_size_says_what_the_sections_ask_for(sheet: str, size: str, asked: str) -> None:
    wanted = rf"{size} as described; 07 \d\d 00, \d\.\d\.[A-Z](\.\d)? asks for (at )?least {asked}"
    lettering = SHEETS[sheet].replace("asks for at least", "asks for least")
    assert re.search(wanted, lettering), SHEETS[sheet]


def test_a_size_that_holds_is_printed_alone() -> None:
    spec = specify(assess(project({}, {}, {}, {}), PRACTICE))
    assert not [
        one.words
        for drawing in sheets(spec)
        for one in drawing.items
        if isinstance(one, Text | Dimension) and "as described" in one.words
    ]
