"""Widths of lettering, by the metrics of the typeface in the files."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.drawing.lettering import cut, printable, text_box, width, wrapped
from specgen.drawing.shapes import Text
from specgen.render.pdf_fonts import font


@pytest.mark.parametrize("bold", [False, True])
def test_widths_against_the_typeface_that_a_pdf_carries(bold: bool) -> None:
    carried = font(bold)
    for code in (
        *range(32, 127),
        *range(160, 256),
    ):  # the typeface counts in 2,048ths of its size, the table in thousandths
        assert width(chr(code), 1000.0, bold) == pytest.approx(
            carried.stringWidth(chr(code), 1000.0), abs=0.5
        )


@pytest.mark.parametrize("bold", [False, True])
def test_another_letter_is_not_taken_narrower_than_it_is(bold: bool) -> None:
    carried = font(bold)
    for letter in "–—‘’“”•…≤≥łőжψ":
        assert width(letter, 1000.0, bold) >= carried.stringWidth(letter, 1000.0), letter


@given(st.text(max_size=200), st.floats(4.0, 80.0))
def test_wrapped_lines_fit_and_lose_nothing(words: str, room: float) -> None:
    lines = wrapped(words, 2.4, room)
    assert all(width(line, 2.4) <= room or len(line) == 1 for line in lines)
    assert "".join(lines).replace(" ", "") == printable(words).replace(" ", "")


@given(st.text(max_size=80), st.floats(4.0, 80.0))
def test_cut_words_fit(words: str, room: float) -> None:
    assert width(cut(words, 2.4, room), 2.4) <= room


def test_upward_lettering_fills_an_upright_box() -> None:
    level, upward = (text_box(Text("note", (5.0, 5.0), "3 in", 2.0, upward=turn)) for turn in (False, True))
    assert level[2] - level[0] == pytest.approx(upward[3] - upward[1])
    assert level[3] - level[1] == pytest.approx(upward[2] - upward[0])
