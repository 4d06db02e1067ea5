"""Words that the trade does not use are in no clause and on no paper for the site."""

from __future__ import annotations

import re
from pathlib import Path

from specgen.practice.load import load_practice
from specgen.sections.clause_file import load_clauses

NOT_OF_THE_TRADE = re.compile(
    r"\bturn-up\b|\bmaker\b|\b(?:outer|inner) leg\b|\bhooked\b|length again|refuses it|\btested by (?!the )|"
    r"\bon failure\b|written change|\bmeeting:|tears within|\bsilence\b|\bproduct data: for|\bdegF\b|"
    r"\b(?:Inspection|Check) by the Architect\b",
    re.IGNORECASE,
)


def test_no_clause_has_them() -> None:
    found = [
        f"{clause.mark}: {source}"
        for section in load_clauses(load_practice()).sections
        for clause in section.clauses()
        for source in (clause.text.source, clause.item.source if clause.item else "", clause.document)
        if NOT_OF_THE_TRADE.search(re.sub(r"\{\{.*?\}\}|\{%.*?%\}", "x", source))
    ]
    assert found == []


def test_no_template_of_the_site_has_them() -> None:
    for path in sorted((Path(__file__).parents[2] / "templates/field").glob("*.yaml")):
        words = re.sub(r"\{\{.*?\}\}", "x", path.read_text())
        assert not NOT_OF_THE_TRADE.search(words), path.name


def test_the_list_finds_what_it_is_for() -> None:
    assert NOT_OF_THE_TRADE.search("Inspection by the Architect of each corner") is not None
    assert NOT_OF_THE_TRADE.search("Height of the turn-up: at least x") is not None
