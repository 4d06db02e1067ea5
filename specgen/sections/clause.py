"""Clauses as read: sections, articles, paragraphs, and what an office changed of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from specgen.files.marks import Mark
from specgen.sections.clause_text import ClauseText, Condition

PARTS = ("general", "products", "execution")


@dataclass(frozen=True)
class Clause:
    """One paragraph before it meets a project."""

    key: str
    text: ClauseText
    mark: Mark
    when: Condition | None = None
    states: str = ""  # the requirement this paragraph prints
    says: bool | None = None  # what the words say, where the limit is a yes or no
    lists: str = ""  # evidence: one subparagraph for each requirement of the section that asks for it
    each: str = ""  # what a project tells: one subparagraph for each entry
    item: ClauseText | None = None
    document: str = ""  # the submittal this paragraph demands, as the checklist names it
    sub: tuple[Clause, ...] = ()


@dataclass(frozen=True)
class Article:
    """One article of a part."""

    key: str
    title: str
    clauses: tuple[Clause, ...]
    fill: str = ""
    submittals: str = ""


@dataclass(frozen=True)
class ClauseSection:
    """One section's clauses; ``parts`` holds general, products, execution."""

    number: str
    title: str
    roles: tuple[str, ...]
    trade: str
    parts: Mapping[str, tuple[Article, ...]]
    path: str
    when: Condition | None = None

    def articles(self) -> Iterator[Article]:
        """Every article, in order."""
        for part in PARTS:
            yield from self.parts[part]

    def clauses(self) -> Iterator[Clause]:
        """Every clause with its subparagraphs, in order."""
        for article in self.articles():
            for clause in article.clauses:
                yield from family(clause)


def family(clause: Clause) -> Iterator[Clause]:
    """A clause and everything below it."""
    yield clause
    for below in clause.sub:
        yield from family(below)


@dataclass(frozen=True)
class ClauseChange:
    """One clause that comes from the office, or that the office leaves out."""

    what: Literal["replaced", "added", "suppressed"]
    section: str
    key: str
    mark: Mark
    reason: str = ""
    requirements: tuple[str, ...] = ()  # catalogue names that a suppressed clause stated


@dataclass(frozen=True)
class ClauseBook:
    """All sections, the words of the evidence, and the titles of related sections."""

    sections: tuple[ClauseSection, ...]
    titles: Mapping[str, str]
    evidence: Mapping[str, tuple[str, str]]  # evidence to (type of submittal, what is wanted)
    changes: tuple[ClauseChange, ...] = ()  # what an office changed, in the order of its files

    @property
    def suppressed(self) -> Mapping[str, ClauseChange]:
        """Catalogue names of requirements whose clause an office has suppressed."""
        return {name: one for one in self.changes for name in one.requirements}
