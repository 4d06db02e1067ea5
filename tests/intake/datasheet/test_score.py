"""The reader on sheets drawn from known products: nothing wrong is accepted, and most of what can be taken is.

120 sheets with ``SPECGEN_LONG=1``, and the printed table compared; else one of each layout.
"""

from __future__ import annotations

import os

import pytest

from tests.intake.sheets.layouts import LAYOUTS
from tests.intake.sheets.score import outcomes, reading_of, tally
from tests.intake.sheets.table import PAGE, SHEETS, everything, page

LONG = os.environ.get("SPECGEN_LONG") == "1"
LEAST = {  # share of the acceptable values that are accepted, by layout; regression
    "table with lines": 0.95, "table without lines": 0.85, "uprights only": 0.6, "any spacing": 0.4,
    "two columns": 0.55, "footnotes": 0.95, "mixed units": 0.95,
    "by grade": 0.95, "rotated": 0.95, "list in words": 0.95, "running text": 0.0, "look-alikes": 0.9,
    "attributes across": 0.95, "scanned": 0.0,
}  # fmt: skip


@pytest.mark.parametrize("layout", list(LAYOUTS))
@pytest.mark.parametrize("seed", range(SHEETS) if LONG else (4,))
def test_nothing_wrong_is_accepted(layout: str, seed: int) -> None:
    at = list(LAYOUTS).index(layout)
    wrong = [one for one in outcomes(*LAYOUTS[layout](100 * at + seed)) if one.outcome == "WRONG"]
    assert wrong == []


@pytest.mark.skipif(not LONG, reason="all sheets are wanted: SPECGEN_LONG=1")
def test_most_values_are_accepted() -> None:
    for layout, found in everything().items():
        acceptable = sum(one.acceptable for one in found)
        assert tally(found)["accepted"] >= LEAST[layout] * acceptable, layout


@pytest.mark.skipif(not LONG, reason="all sheets are wanted: SPECGEN_LONG=1")
def test_the_printed_table_is_what_the_reader_makes_of_the_sheets() -> None:
    assert PAGE.read_text(encoding="utf-8") == page()


def test_the_score_knows_a_wrong_value() -> None:
    data, truth = LAYOUTS["table with lines"](4)
    other = LAYOUTS["table with lines"](7)[0]
    assert truth.role == LAYOUTS["table with lines"](7)[1].role == "barrier"
    assert any(one.outcome == "WRONG" for one in outcomes(other, truth))
    assert not any(one.outcome == "WRONG" for one in outcomes(data, truth))


def test_a_scanned_sheet_says_so_and_leaves_everything_blank() -> None:
    reading = reading_of(*(lambda drawn: (drawn[0], drawn[1].role))(LAYOUTS["scanned"](2)))
    assert all(not value.value for value in reading.values)
    assert reading.notes == (
        "sheet.pdf, page 1: the page holds no text: it is a picture or blank; --recognize has pictures read",
    )
