"""The linter of clause language, and the clauses that ship under it."""

from __future__ import annotations

import pytest

from specgen.sections.lint import lint_book, lint_text


def test_no_clause_that_ships_has_a_remark(book):
    assert [str(remark) for remark in lint_book(book)] == []


@pytest.mark.parametrize(
    ("words", "remark"),
    [
        ("Fasten as required.", "vague: `as required`"),
        ("Seal joints and/or laps.", "vague: `and/or`"),
        ("Remove any dust.", "vague: `any`"),
        ("Use a suitable primer.", "vague: `suitable`"),
        ("Provide good workmanship.", "vague: `good`"),
        ("The vapour barrier is tight.", "British spelling: `vapour`"),
        ("The sheet shall be bonded.", "`shall`: write the imperative"),
        ("The sheet is required to be bonded.", "indirect: write the imperative"),
        ("Color: [white] [gray].", "unresolved choice"),
        ("Color: ____.", "unresolved choice"),
        ("Lap the sheet. Roll the lap.", "more than one requirement in a paragraph"),
        ("Lap the sheet; roll the lap.", "more than one requirement in a paragraph"),
        ("Lap the sheet two inches.", "a number in words: `two inches`"),
        ("Use Superseal membrane.", "a name: `Superseal`"),
    ],
)
def test_remarks(words, remark):
    assert remark in lint_text(words)


def test_plain_language_passes():
    assert lint_text("Lap the sheet over the wall barrier, as shown on the Drawings.") == ()
