"""The reader of finished files on details: what a step quotes is held against the paragraph that it names."""

from __future__ import annotations

from specgen.agreement.reader import contradictions
from tests.agreement.issues import written
from tests.agreement.plants import put

SHEET = "drawings/p-2-end-at-a-rising-wall.svg"


PLANTS = (  # a size, other words, another paragraph
    (
        "Turn the flashing up at least 4 in behind",
        "Turn the flashing up at least 2 in behind",
        "at least 2 in behind",
    ),
    ("Run the end dam behind the barrier", "Run the end dam before the barrier", "before the barrier"),
    (": 07 92 00, 3.2.J", ": 07 92 00, 3.9.J", "3.9.J"),
)


def test_a_step_that_says_something_else_than_its_paragraph_is_told() -> None:
    files = written("cold-continental-school")
    sheet = files[SHEET]
    for old, new, _ in PLANTS:
        sheet = put(old, new, 1)(sheet)  # the description quotes it first
    found = [str(one) for one in contradictions({**files, SHEET: sheet}) if "P-2, note" in str(one)]
    for _, new, words in PLANTS:
        assert [one for one in found if words in one], (new, found)


def test_a_description_that_says_something_else_than_its_sheet_is_told() -> None:
    files = written("cold-continental-school")
    old, new, _ = PLANTS[0]
    planted = {**files, SHEET: put(old, new)(files[SHEET])}
    assert [one for one in contradictions(planted) if "description" in str(one)]
