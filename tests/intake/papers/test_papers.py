"""Papers that a browser, a word processor, a spreadsheet and a typesetting program print, with notices and neighbors.

860 papers with ``SPECGEN_LONG=1``, and the printed page compared; else eight. A program that is not there skips by name.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.intake.papers.makers import PLAIN
from tests.intake.papers.trial import FIRST, PAGE, PAPERS, page, tried

LONG = os.environ.get("SPECGEN_LONG") == "1"
LEAST_TAKEN = 0.9  # of the values of plain papers that can be taken as they stand


def test_nothing_wrong_is_taken_and_most_of_what_is_plain(tmp_path: Path) -> None:
    tries = tried(range(FIRST, FIRST + (PAPERS if LONG else 8)), tmp_path)
    outcomes = [(one.seed, one.paper.trap, found) for one in tries for found in one.found]
    assert [one for one in outcomes if one[2].outcome == "WRONG"] == []
    plain = [
        found for one in tries if one.paper.layout in PLAIN and not one.paper.trap for found in one.found
    ]
    taken = sum(found.outcome == "accepted" for found in plain)
    assert taken >= LEAST_TAKEN * sum(found.acceptable for found in plain)
    if LONG:
        assert PAGE.read_text(encoding="utf-8") == page(tries)


@pytest.mark.parametrize("trap", ["a notice", "another product", "a heading"])
def test_a_trap_that_is_not_seen_is_counted_as_wrong(trap: str) -> None:
    """The score itself: a value that is taken where the truth says that it may not be is wrong."""
    from dataclasses import replace

    from tests.intake.papers.makers import _blocked, drawn
    from tests.intake.sheets.layouts import ruled
    from tests.intake.sheets.score import outcomes

    data, truth = ruled(4)
    assert not any(one.outcome == "WRONG" for one in outcomes(data, truth))
    assert any(one.outcome == "WRONG" for one in outcomes(data, _blocked(truth, trap)))
    assert any(one.outcome == "WRONG" for one in outcomes(data, replace(truth, facts=())))
    assert drawn(4) == drawn(4)
