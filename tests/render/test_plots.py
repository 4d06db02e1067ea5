"""What the drawings of calculations say: inputs at the ends of a tornado's bars, fractions of an inch on a blank."""

from __future__ import annotations

import pytest

from specgen.design.uncertainty import Doubt, Swing
from specgen.physics.coping_blank import Section, coping_blank
from specgen.units.quantity import from_si

plots = pytest.importorskip("specgen.render.plots")
pytest.importorskip("matplotlib")
INCH = 0.0254


def swing(title: str, low: float, high: float) -> Swing:
    doubt = Doubt("P-1.coping.piece_length", title, "length", "ft", 2.4384, 3.6576)
    return Swing(doubt, from_si(low, "length", "in"), from_si(high, "length", "in"))


def test_tornado_tells_the_range_of_each_input_and_the_result() -> None:
    swings = (
        swing("length of each piece of the coping", 0.10 * INCH, 0.30 * INCH),
        swing("night", 0.2 * INCH, 0.1 * INCH),
    )
    (axes,) = plots.tornado(swings, 0.2, "in", "movement", "inch-pound").axes
    printed = [text.get_text() for text in axes.texts]
    assert printed == ["8 ft", "12 ft"] * 2
    assert "0.2 in as calculated" in axes.get_title()
    assert [label.get_text() for label in axes.get_yticklabels()] == [
        "night",
        "length of each piece of the coping",
    ]
    # The value stands on the outer side of its end, whichever way the result goes.
    sides = [text.get_horizontalalignment() for text in axes.texts]
    assert sides == ["left", "right", "right", "left"]


@pytest.mark.parametrize(
    ("system", "found"), [("inch-pound", "outer edge: 7 1/8 in"), ("SI", "outer edge: 181 mm")]
)
def test_blank_in_fractions(system: str, found: str) -> None:
    flat = coping_blank(
        Section(10.25 * INCH, 6.125 * INCH, 4 * INCH, 0.04, False, 0.5 * INCH, 0.5, 0.5 * INCH)
    )
    (axes,) = plots.blank(flat, 3.0, "blank", system).axes
    printed = [text.get_text() for text in axes.texts]
    assert any(text.startswith(found) for text in printed)
    assert not any("." in text.partition(",")[0] for text in printed)
