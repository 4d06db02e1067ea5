"""One section's clauses to its lines: which paragraphs print, at which parapets, with which words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from specgen.files.faults import Fault
from specgen.model.project import Project
from specgen.model.requirement import Origin, Requirement, RequirementSet
from specgen.practice.entries import Practice
from specgen.sections.clause import Article, Clause, ClauseBook, ClauseSection
from specgen.sections.clause_text import ClauseTextError
from specgen.sections.existing import EACH, ONCE, ExistingItem, origin_of
from specgen.sections.facts import REF_CLOSE, REF_OPEN, TextFacts, condition_context
from specgen.sections.words import calculation_words, parapets_in_words
from specgen.wall.place import part_of

PART_LEVEL, ARTICLE_LEVEL, FIRST_LEVEL = 0, 1, 2


class SectionError(Fault):
    """Clauses and requirements do not fit together: the specification would be silent or speak twice."""


@dataclass(frozen=True)
class SectionLine:
    """One numbered paragraph, its references to others still marked by key."""

    level: int
    clause: str  # key of the clause, part or article
    key: str  # unique in the section
    text: str
    requirement: Requirement | None = None
    printed: tuple[tuple[str, str], ...] = ()  # practice key, text printed
    origin: Origin | None = None  # where an entry of a list that the project tells comes from
    submittals: str = ""
    document: str = ""
    at: tuple[str, ...] = ()
    fill: str = ""


class LineMaker:
    """Turns the clauses of sections into lines for one project."""

    def __init__(
        self, project: Project, requirements: RequirementSet, practice: Practice, book: ClauseBook
    ) -> None:
        self.project = project
        self.requirements = requirements
        self.practice = practice
        self.titles = book.titles
        self.numbers = {section.number: section for section in book.sections}
        self._applies: dict[str, tuple[str, ...]] = {}
        self.places = {
            parapet.name: condition_context(project, parapet, requirements, practice, self.issued)
            for parapet in project.parapets
        }

    def applies_at(self, section: ClauseSection) -> tuple[str, ...]:
        """The parapets that have a role this section covers and meet its condition.

        A section without roles is about the work as a whole: it applies wherever a wall is described.
        """
        found = self._applies.get(section.number)
        if found is None:
            found = tuple(
                parapet.name
                for parapet in self.project.parapets
                if (any(part_of(parapet, role) for role in section.roles) or not section.roles)
                and (section.when is None or section.when.holds(self.places[parapet.name]))
            )
            self._applies[section.number] = found
        return found

    def issued(self, number: str) -> bool:
        """Whether a section of this number is written for the project."""
        section = self.numbers.get(number)
        return section is not None and bool(self.applies_at(section))

    def lines(self, section: ClauseSection) -> tuple[SectionLine, ...]:
        """The lines of a section; empty articles are left out."""
        base = self.applies_at(section)
        stated = tuple(self.stated(section))
        out: list[SectionLine] = []
        for part, articles in section.parts.items():
            out.append(SectionLine(PART_LEVEL, part, f"part {part}", part.capitalize()))
            for article in articles:
                inside = [
                    line
                    for clause in article.clauses
                    for line in self._expand(clause, article, base, FIRST_LEVEL, stated)
                ]
                if inside or article.fill:
                    out.append(
                        SectionLine(ARTICLE_LEVEL, article.key, article.key, article.title, fill=article.fill)
                    )
                    out.extend(inside)
        return tuple(out)

    def stated(self, section: ClauseSection) -> Iterator[tuple[Requirement, Clause]]:
        """The requirements this section states, with the clause that does."""
        base = self.applies_at(section)
        for article in section.articles():
            for clause in article.clauses:
                yield from self._stated(clause, base)

    def _stated(self, clause: Clause, base: tuple[str, ...]) -> Iterator[tuple[Requirement, Clause]]:
        at = self._at(clause, base)
        for requirement in self._variants(clause, at):
            yield requirement, clause
        for below in clause.sub if at else ():
            yield from self._stated(below, at)

    def _at(self, clause: Clause, base: tuple[str, ...]) -> tuple[str, ...]:
        if clause.when is None:
            return base
        return tuple(name for name in base if clause.when.holds(self.places[name]))

    def _variants(self, clause: Clause, at: tuple[str, ...]) -> tuple[Requirement, ...]:
        out = []
        for requirement in self.requirements.named(clause.states) if clause.states else ():
            inside = set(requirement.parapets) & set(at)
            if inside and inside != set(requirement.parapets):
                raise SectionError(
                    f"{clause.mark}: `{clause.key}` states {requirement.id} at {', '.join(sorted(inside))}, "
                    f"but it holds at {', '.join(requirement.parapets)}"
                )
            if inside:
                out.append(requirement)
        return tuple(out)

    def _expand(
        self,
        clause: Clause,
        article: Article,
        base: tuple[str, ...],
        level: int,
        stated: tuple[tuple[Requirement, Clause], ...],
    ) -> Iterator[SectionLine]:
        at = self._at(clause, base)
        if clause.states:
            for requirement in self._variants(clause, at):
                same = requirement.everywhere or set(requirement.parapets) == set(base)
                where = () if same else requirement.parapets
                yield self._line(clause, article, level, where, requirement.parapets, requirement)
            return
        if not at:
            return
        below = [line for sub in clause.sub for line in self._expand(sub, article, at, level + 1, stated)]
        if clause.lists:
            below = list(self._listed(clause, at, level + 1, stated))
        if clause.each:
            below = list(self._each(clause, at, level + 1))
        if below or not (clause.sub or clause.lists or clause.each):
            where = () if set(at) == set(base) else at
            yield self._line(clause, article, level, where, at, None)
            yield from below

    def _line(
        self,
        clause: Clause,
        article: Article,
        level: int,
        where: tuple[str, ...],
        at: tuple[str, ...],
        requirement: Requirement | None,
    ) -> SectionLine:
        words = parapets_in_words(where) if where else ""
        if requirement is not None and requirement.layers:
            words = parapets_in_words(requirement.where)
        facts = TextFacts(self.project, self.practice, self.titles)
        try:
            text = clause.text.render(facts.context(at, words, requirement))
        except ClauseTextError as error:
            raise SectionError(f"{clause.mark}: {clause.key}: {error}") from error
        if words and "where" not in clause.text.names:
            text = f"{words[0].upper()}{words[1:]}: {text}"
        if requirement is not None:
            _check_says(clause, requirement, text)
            text = f"{text} {calculation_words(requirement)}".rstrip()
        return SectionLine(
            level=level,
            clause=clause.key,
            key=clause.key if requirement is None else paragraph_key(clause, requirement),
            text=text,
            requirement=requirement,
            printed=tuple(facts.printed.items()),
            submittals=article.submittals,
            document=clause.document,
            at=where,
        )

    def _listed(
        self,
        clause: Clause,
        at: tuple[str, ...],
        level: int,
        stated: tuple[tuple[Requirement, Clause], ...],
    ) -> Iterator[SectionLine]:
        assert clause.item is not None
        for requirement, stating in stated:
            if requirement.evidence != clause.lists or not set(requirement.parapets) & set(at):
                continue
            key = paragraph_key(stating, requirement)
            facts = TextFacts(self.project, self.practice, self.titles)
            where = "" if requirement.everywhere else parapets_in_words(requirement.where)
            context = {
                **facts.context(at, where, requirement),
                "role": self.practice.vocabulary.roles[requirement.role].title,
                "title": requirement.title,
                "paragraph": f"{REF_OPEN}={key}{REF_CLOSE}",
            }
            text = clause.item.render(context)
            yield SectionLine(
                level, clause.key, f"{clause.key}:{requirement.id}", text[:1].upper() + text[1:]
            )

    def _each(self, clause: Clause, at: tuple[str, ...], level: int) -> Iterator[SectionLine]:
        """One line for each entry of a list: of the work as a whole, or of each parapet."""
        if clause.each in ONCE:
            for number, entry in enumerate(ONCE[clause.each](self.project, self.practice), start=1):
                yield self._entry(clause, entry, f"{clause.key}:{number}", "", level)
            return
        several = len(self.project.parapets) > 1
        for parapet in (one for one in self.project.parapets if one.name in at):
            where = f" {parapets_in_words((parapet.name,))}" if several else ""
            entries = EACH[clause.each](parapet, self.project, self.practice)
            for number, entry in enumerate(entries, start=1):
                yield self._entry(clause, entry, f"{clause.key}:{parapet.name}:{number}", where, level)

    def _entry(self, clause: Clause, entry: ExistingItem, key: str, where: str, level: int) -> SectionLine:
        assert clause.item is not None
        try:
            text = clause.item.render({**entry.words, "where": where})
        except ClauseTextError as error:
            raise SectionError(f"{clause.mark}: {clause.key}: {error}") from error
        text = text[:1].upper() + text[1:]
        return SectionLine(level, key, key, text, origin=origin_of(entry, self.practice))


def paragraph_key(clause: Clause, requirement: Requirement) -> str:
    """The key of the paragraph by which a clause states one requirement."""
    return clause.key + requirement.id.removeprefix(requirement.name)


def _check_says(clause: Clause, requirement: Requirement, text: str) -> None:
    if isinstance(requirement.limit.value, bool) and clause.says is not requirement.limit.value:
        raise SectionError(
            f"{clause.mark}: `{clause.key}` says {clause.says}, the requirement {requirement.id} asks for "
            f"{requirement.limit.value}"
        )
    if requirement.method and requirement.method not in text:
        raise SectionError(
            f"{clause.mark}: `{clause.key}` does not print the method {requirement.method} of {requirement.id}"
        )
