"""The linter of clause language, and the clauses that ship under it."""

from __future__ import annotations

import re

import pytest

from specgen.sections.lint import lint_text


def test_no_clause_that_ships_has_a_remark(book):
    found = [
        f"{clause.mark}: {clause.key}: {message}"
        for section in book.sections
        for clause in section.clauses()
        for source in (clause.text.source, clause.item.source if clause.item else "", clause.document)
        for message in lint_text(re.sub(r"\{\{.*?\}\}|\{%.*?%\}", "x", source))
    ]
    assert found == []


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
        ("Use Quenvorel membrane.", "a name: `Quenvorel`"),
    ],
)
def test_remarks(words, remark):
    assert remark in lint_text(words)


def test_plain_language_passes():
    assert lint_text("Lap the sheet over the wall barrier, as shown on the Drawings.") == ()
