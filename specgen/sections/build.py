"""Clauses and requirements to section texts: every requirement stated once, every paragraph numbered."""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass

from specgen.model.document import (
    KEYWORDS,
    LIST_STYLES,
    CrossRef,
    Document,
    Inline,
    Para,
    Span,
    Style,
    numbered,
    properties_of,
    text,
)
from specgen.model.project import Project
from specgen.model.requirement import RequirementSet
from specgen.practice.entries import Practice
from specgen.sections.clause import ClauseBook, ClauseSection
from specgen.sections.facts import REF_CLOSE, REF_OPEN
from specgen.sections.lines import FIRST_LEVEL, LineMaker, SectionError, SectionLine
from specgen.sections.references import reference_lines
from specgen.sections.trace import TracedParagraph, trace_section
from specgen.sections.words import joined

_REF = re.compile(f"{REF_OPEN}([^{REF_CLOSE}]*){REF_CLOSE}")


@dataclass(frozen=True)
class ParagraphRef:
    """Where a requirement is stated."""

    section: str  # "07 71 00"
    number: str  # "2.2.A.3"
    key: str


@dataclass(frozen=True)
class SubmittalDemand:
    """A document that a Submittals article asks for."""

    type: str  # action, informational, closeout
    item: str
    text: str
    paragraph: ParagraphRef
    trade: str
    parapets: tuple[str, ...]  # empty: everywhere


@dataclass(frozen=True)
class SectionText:
    """One written section, what it states where, and where each of its numbers comes from."""

    number: str
    title: str
    document: Document
    paragraphs: Mapping[str, ParagraphRef]  # requirement id to the paragraph that states it
    places: Mapping[str, tuple[str, ...]]  # paragraph to the parapets it holds at; empty: everywhere
    submittals: tuple[SubmittalDemand, ...]
    trace: tuple[TracedParagraph, ...]


def build_sections(
    project: Project,
    requirements: RequirementSet,
    practice: Practice,
    book: ClauseBook,
) -> tuple[SectionText, ...]:
    """Write the sections of a project.

    Args:
        project: the project.
        requirements: what :func:`specgen.requirements.derive.derive` made of it.
        practice: the trade's values, some of which the clauses print.
        book: the clauses they are written from.

    Returns:
        One text for each section of which the project has a role, in the order of their numbers.

    Raises:
        SectionError: a requirement of a covered role is stated by no paragraph or by two; a paragraph
            contradicts the requirement it states or leaves out its test method; a reference leads nowhere.
    """
    maker = LineMaker(project, requirements, practice, book)
    used = [section for section in book.sections if maker.applies_at(section)]
    _refuse_gaps(maker, used, requirements, book.suppressed)
    drafts = tuple(_draft(section, maker) for section in used)
    elsewhere = {
        f"{draft.section.number}#{clause}": tuple(draft.numbers[key] for key in keys)
        for draft in drafts
        for clause, keys in draft.by_clause.items()
    }
    return tuple(_section(draft, elsewhere, maker) for draft in drafts)


@dataclass(frozen=True)
class _Draft:
    """A section's lines with their numbers, its references still marked by key."""

    section: ClauseSection
    lines: tuple[SectionLine, ...]
    numbers: Mapping[str, str]
    by_clause: Mapping[str, list[str]]


def _refuse_gaps(
    maker: LineMaker,
    used: Iterable[ClauseSection],
    requirements: RequirementSet,
    suppressed: Container[str],
) -> None:
    sections = list(used)
    covered = {role for section in sections for role in section.roles}
    where: dict[str, list[str]] = {
        item.id: [] for item in requirements.by_id.values() if item.role in covered
    }
    for section in sections:
        for requirement, clause in maker.stated(section):
            where.setdefault(requirement.id, []).append(f"{section.number} {clause.key}")
    wrong = [
        f"requirement {name}: stated by {joined(places, 'and') or 'no paragraph'}"
        for name, places in where.items()
        if len(places) != 1 and not (not places and requirements.by_id[name].name in suppressed)
    ]
    if wrong:
        raise SectionError("each requirement is stated by one paragraph\n" + "\n".join(wrong))


def _draft(section: ClauseSection, maker: LineMaker) -> _Draft:
    lines = _with_references(section, maker)
    plain = tuple(_para(line, text(line.text or " ")) for line in lines)
    numbers = {one.para.key: one.number for one in numbered(plain)}
    by_clause: dict[str, list[str]] = {}
    for line in lines:
        by_clause.setdefault(line.clause, []).append(line.key)
    return _Draft(section, lines, numbers, by_clause)


def _section(draft: _Draft, elsewhere: Mapping[str, tuple[str, ...]], maker: LineMaker) -> SectionText:
    section, lines, numbers = draft.section, draft.lines, draft.numbers
    paras = tuple(_para(line, tuple(_resolved(line, numbers, draft.by_clause, elsewhere))) for line in lines)
    document = _document(section, maker.project, paras)
    return SectionText(
        number=section.number,
        title=section.title,
        document=document,
        paragraphs={
            line.requirement.id: ParagraphRef(section.number, numbers[line.key], line.key)
            for line in lines
            if line.requirement is not None
        },
        places={line.key: line.at for line in lines},
        submittals=tuple(_demands(section, lines, paras, numbers)),
        trace=trace_section(section.number, lines, paras, numbers, maker.project, maker.practice),
    )


def _with_references(section: ClauseSection, maker: LineMaker) -> tuple[SectionLine, ...]:
    lines = maker.lines(section)
    out: list[SectionLine] = []
    for index, line in enumerate(lines):
        out.append(line)
        # The list closes its article: it follows the article's last written paragraph.
        article = next((one for one in reversed(lines[: index + 1]) if one.level < FIRST_LEVEL), None)
        last = index + 1 == len(lines) or lines[index + 1].level < FIRST_LEVEL
        if last and article is not None and article.fill == "references":
            listed = reference_lines(lines, maker.practice)
            out.extend(listed)
            if not listed and out[-1] is article:
                out.pop()
    return tuple(out)


def _para(line: SectionLine, content: tuple[Inline, ...]) -> Para:
    return Para(
        style=LIST_STYLES[line.level],
        content=content,
        key=line.key,
        requirements=(line.requirement.id,) if line.requirement else (),
        sources=tuple(key for key, _ in line.printed),
    )


def _resolved(
    line: SectionLine,
    numbers: Mapping[str, str],
    by_clause: Mapping[str, list[str]],
    elsewhere: Mapping[str, tuple[str, ...]],
) -> Iterator[Inline]:
    """The line's words with live references in place of the marked keys."""
    at = 0
    for match in _REF.finditer(line.text):
        wanted = match[1]
        if "#" in wanted and not wanted.startswith("="):  # a key holds names that people gave
            # Another file's numbers cannot be live in this one: they are printed as computed.
            yield Span(line.text[at : match.start()] + _named_there(line, elsewhere.get(wanted, ())))
            at = match.end()
            continue
        keys = [wanted.removeprefix("=")] if wanted.startswith("=") else by_clause.get(wanted, [])
        if not keys or keys[0] not in numbers:
            raise SectionError(f"paragraph {line.key} refers to `{wanted}`, which is not printed")
        yield Span(line.text[at : match.start()] + _word_for(numbers[keys[0]], len(keys)))
        for index, key in enumerate(keys):
            if index:
                yield Span(" and " if index + 1 == len(keys) else ", ")
            yield CrossRef(key, numbers[key])
        at = match.end()
    if at < len(line.text):
        yield Span(line.text[at:])


def _word_for(number: str, count: int) -> str:
    return ("Article" if number.count(".") == 1 else "Paragraph") + ("s " if count > 1 else " ")


def _named_there(line: SectionLine, numbers: tuple[str, ...]) -> str:
    if not numbers:
        raise SectionError(f"paragraph {line.key} refers to a paragraph that another section does not print")
    return _word_for(numbers[0], len(numbers)) + joined(numbers, "and")


def _demands(
    section: ClauseSection,
    lines: tuple[SectionLine, ...],
    paras: tuple[Para, ...],
    numbers: Mapping[str, str],
) -> Iterator[SubmittalDemand]:
    for line, para in zip(lines, paras, strict=True):
        if line.document:
            place = ParagraphRef(section.number, numbers[line.key], line.key)
            yield SubmittalDemand(line.submittals, line.document, para.text, place, section.trade, line.at)


def _document(section: ClauseSection, project: Project, paras: tuple[Para, ...]) -> Document:
    issued, state = project.issued, project.state
    heads = (
        Para(Style.SECTION_NUMBER, text(f"Section {section.number}")),
        Para(Style.SECTION_TITLE, text(section.title)),
    )
    return Document(
        properties=properties_of(
            project,
            f"Section {section.number} {section.title}",
            "Specification section",
            keywords=(f"Section {section.number}", *KEYWORDS),
        ),
        header_left=project.title,
        header_right=f"{issued} | {state}",
        footer_left=section.title,
        page_prefix=section.number,
        blocks=(*heads, *paras, Para(Style.SECTION_END, text("End of Section"))),
    )
