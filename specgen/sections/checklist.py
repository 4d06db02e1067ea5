"""The submittal checklist: one row a requirement and one a demanded document, each with its paragraph."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from specgen.model.document import Block, Document, Para, Style, Table, framed, properties_of, text
from specgen.model.project import Project
from specgen.model.requirement import Requirement, RequirementSet
from specgen.practice.entries import Practice
from specgen.sections.build import ParagraphRef, SectionText, SubmittalDemand
from specgen.sections.clause import ClauseBook
from specgen.sections.trace import TracedNumber, TracedParagraph, of_requirement, traced
from specgen.sections.words import joined, requirement_words

_HEADER = ("No.", "Paragraph", "Item", "Required", "Method", "Evidence wanted", "Type", "Trade", "Where")
_WIDTHS = (0.04, 0.09, 0.18, 0.16, 0.1, 0.19, 0.1, 0.08, 0.06)
EVERYWHERE = "all"


@dataclass(frozen=True)
class ChecklistRow:
    """One thing to submit or to show."""

    number: str  # stable: the requirement's id, or section and key of the paragraph
    section: str
    paragraph: str
    item: str
    required: str
    method: str
    evidence: str
    type: str  # action, informational, closeout
    trade: str
    where: str
    requirement: str  # id, or "" for a document
    trace: TracedParagraph


@dataclass(frozen=True)
class Checklist:
    """The record of the checklist beside its documents."""

    rows: tuple[ChecklistRow, ...]


def checklist(
    project: Project,
    requirements: RequirementSet,
    sections: Iterable[SectionText],
    practice: Practice,
    book: ClauseBook,
) -> tuple[ChecklistRow, ...]:
    """The rows of a project's checklist, by section and paragraph.

    Args:
        project: the project.
        requirements: its requirements.
        sections: what :func:`specgen.sections.build.build_sections` wrote of them.
        practice: holds roles, trades and kinds.
        book: the clauses the sections were written from.
    """
    rows: list[ChecklistRow] = []
    for section in sections:
        numbers = {one.key: one.numbers for one in section.trace}
        rows += [_document_row(demand, numbers[demand.paragraph.key]) for demand in section.submittals]
        for name, place in section.paragraphs.items():
            rows.append(_row(requirements.by_id[name], place, project, practice, book.evidence))
    return tuple(rows)


def _row(
    requirement: Requirement,
    place: ParagraphRef,
    project: Project,
    practice: Practice,
    evidence: Mapping[str, tuple[str, str]],
) -> ChecklistRow:
    system = project.system
    role = practice.vocabulary.roles[requirement.role]
    required = requirement_words(requirement, practice, system)
    kind, wanted = evidence[requirement.evidence]
    where = f"checklist {requirement.id}"
    numbers = traced(required, of_requirement(requirement, practice, system), (), where)
    return ChecklistRow(
        number=requirement.id,
        section=place.section,
        paragraph=place.number,
        item=f"{role.title[:1].upper()}{role.title[1:]}: {requirement.title}",
        required=required,
        method=requirement.method,
        evidence=wanted,
        type=kind,
        trade=role.trade,
        where=EVERYWHERE if requirement.everywhere else joined(requirement.where, "and"),
        requirement=requirement.id,
        trace=TracedParagraph(where, requirement.id, (requirement.id,), numbers),
    )


def _document_row(demand: SubmittalDemand, numbers: tuple[TracedNumber, ...]) -> ChecklistRow:
    number = f"{demand.paragraph.section} {demand.paragraph.key}"
    return ChecklistRow(
        number=number,
        section=demand.paragraph.section,
        paragraph=demand.paragraph.number,
        item=demand.item,
        required="document",
        method="",
        evidence=_evidence(demand),
        type=demand.type,
        trade=demand.trade,
        where=joined(demand.parapets, "and") if demand.parapets else EVERYWHERE,
        requirement="",
        trace=TracedParagraph(
            f"checklist {number}", number, (), () if demand.text.endswith(":") else numbers
        ),
    )


def _evidence(demand: SubmittalDemand) -> str:
    """What the paragraph asks for; where it only opens a list, the paragraph that holds the list is named."""
    if demand.text.endswith(":"):
        return f"{demand.item}, as listed in Paragraph {demand.paragraph.number}."
    return demand.text


def checklist_document(
    rows: Iterable[ChecklistRow],
    sections: Iterable[SectionText],
    project: Project,
    waivers: tuple[Block, ...] = (),
) -> Document:
    """The checklist as a landscape document: one table a section with its own running numbers, then the waivers in force.

    ``waivers`` is what :func:`specgen.sections.waivers.waiver_blocks` makes of the assessment.
    """
    titles = {section.number: section.title for section in sections}
    title, subject = "Submittal Checklist", "Submittals and required evidence"
    blocks = (Para(Style.TITLE, text(title)), *_tables(tuple(rows), titles), *waivers)
    properties = properties_of(project, title, subject)
    return framed(properties, blocks, landscape=True)


def _tables(rows: tuple[ChecklistRow, ...], titles: Mapping[str, str]) -> Iterator[Block]:
    for number, title in titles.items():
        inside = [row for row in rows if row.section == number]
        if not inside:
            continue
        yield Para(Style.HEADING, text(f"Section {number} {title}"))
        yield Table(
            header=_HEADER,
            rows=tuple(
                (str(count), row.paragraph, row.item, row.required, row.method, row.evidence, row.type,
                 row.trade, row.where)
                for count, row in enumerate(inside, start=1)
            ),
            widths=_WIDTHS,
            caption=f"Submittals of Section {number} {title}",
        )  # fmt: skip
