"""The clauses under the section numbers of an office: every reference, title and condition follows the choice."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace

from specgen.files.marks import InputError, InputProblem
from specgen.practice.entries import SectionName
from specgen.sections.clause import Clause, ClauseBook, ClauseSection
from specgen.sections.clause_text import ClauseText, compile_condition, compile_text

_QUOTED = re.compile(r"(?<=[\"'])\d\d \d\d \d\d(?=[\"'])")


def renumbered(book: ClauseBook, names: Mapping[str, SectionName]) -> ClauseBook:
    """The sections under the numbers and titles that an office gives them.

    Args:
        book: the clauses, numbered as they ship.
        names: by the number that ships, the office's own.

    Raises:
        InputError: a number that another section has.
    """
    if not names:
        return book
    titles = {(names[one].number if one in names else one): title for one, title in book.titles.items()}
    if problems := list(_taken(book, names)):
        raise InputError(problems)
    titles |= {one.number: one.title for one in names.values() if one.title}
    sections = tuple(_section(one, titles, names) for one in book.sections)
    changes = tuple(replace(one, section=_number(one.section, names)) for one in book.changes)
    in_order = tuple(sorted(sections, key=lambda one: one.number))
    return replace(book, sections=in_order, titles=titles, changes=changes)


def _taken(book: ClauseBook, names: Mapping[str, SectionName]) -> Iterator[InputProblem]:
    for shipped_as, one in names.items():
        if one.number in book.titles and one.number not in names and one.number != shipped_as:
            message = f"the number {one.number} is that of the Section {book.titles[one.number]}"
            yield InputProblem(
                one.mark, message, f"give Section {shipped_as} a number that no other section has"
            )


def _number(number: str, names: Mapping[str, SectionName]) -> str:
    return names[number].number if number in names else number


def _section(
    section: ClauseSection, titles: Mapping[str, str], names: Mapping[str, SectionName]
) -> ClauseSection:
    number = _number(section.number, names)
    parts = {
        part: tuple(
            replace(article, clauses=tuple(_clause(one, names) for one in article.clauses))
            for article in articles
        )
        for part, articles in section.parts.items()
    }
    return replace(section, number=number, title=titles[number], parts=parts)


def _clause(clause: Clause, names: Mapping[str, SectionName]) -> Clause:
    when = clause.when
    return replace(
        clause,
        text=_text(clause.text, names),
        item=_text(clause.item, names) if clause.item else None,
        when=compile_condition(_source(when.source, names)) if when and when.calls else when,
        sub=tuple(_clause(one, names) for one in clause.sub),
    )


def _text(text: ClauseText, names: Mapping[str, SectionName]) -> ClauseText:
    return compile_text(_source(text.source, names)) if text.calls else text


def _source(source: str, names: Mapping[str, SectionName]) -> str:
    return _QUOTED.sub(lambda found: _number(found[0], names), source)
