"""The project manual: cover, contents, every section, the requirements, and what is waived or needs caution."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from specgen.assessment import Assessment
from specgen.model.document import (
    Block,
    CellLink,
    CrossRef,
    Document,
    Para,
    Properties,
    Style,
    Table,
    Volume,
    properties_of,
    text,
)
from specgen.model.folded import FoldedFinding, folded
from specgen.model.project import Project
from specgen.model.requirement import Requirement
from specgen.model.source import Status
from specgen.sections.build import ParagraphRef, SectionText
from specgen.sections.cautions import cautions
from specgen.sections.waivers import TITLE as WAIVERS
from specgen.sections.waivers import waiver_blocks
from specgen.sections.words import joined, requirement_words, without_file

TITLE = "Project Manual"
_REQUIREMENTS = ("Number", "Requirement", "Limit", "Section", "Paragraph", "Source and status")
_WIDTHS = (0.17, 0.18, 0.18, 0.07, 0.08, 0.32)
_PARAGRAPH = _REQUIREMENTS.index("Paragraph")
_HEADS = (Style.SECTION_NUMBER, Style.SECTION_TITLE)


@dataclass(frozen=True)
class _Issue:
    project: Project

    def document(
        self, name: str, prefix: str, blocks: Iterable[Block], *, landscape: bool = False
    ) -> Document:
        """One part of the manual that is no section."""
        return Document(
            properties=self.properties(name),
            header_left=self.project.title,
            header_right=f"{self.project.issued} | {self.project.state}",
            footer_left=name,
            page_prefix=prefix,
            blocks=tuple(blocks),
            landscape=landscape,
        )

    def properties(self, name: str) -> Properties:
        return properties_of(self.project, name, "Specification of stucco parapets")


def manual(
    assessment: Assessment, sections: tuple[SectionText, ...], places: Mapping[str, ParagraphRef]
) -> Volume:
    """The whole specification of a project as one volume.

    Args:
        assessment: the project with its requirements and findings.
        sections: what :func:`specgen.sections.build.build_sections` wrote of it.
        places: requirement id to the paragraph that states it.

    Returns:
        The volume; a paragraph's key in it is the section's number, a blank, and its key in the section.
    """
    issue = _Issue(assessment.project)
    return Volume(
        properties=issue.properties(TITLE),
        cover=issue.document(TITLE, "", _cover(assessment.project)),
        contents=issue.document("Table of Contents", "Contents", _contents(sections)),
        parts=(
            *(bound(section) for section in sections),
            issue.document("Requirements", "Appendix A", _requirements(assessment, places), landscape=True),
            issue.document("Waivers and Cautions", "Appendix B", _cautions(assessment)),
        ),
    )


def _contents(sections: tuple[SectionText, ...]) -> Iterator[Para]:
    yield Para(Style.TITLE, text("Table of Contents"))
    words = ["Each section counts its own pages."]
    words += [f"Page {one.number}-2 is the second page of Section {one.number}." for one in sections[-1:]]
    yield Para(Style.NOTE, text(" ".join(words)))


def _cover(project: Project) -> Iterator[Para]:
    yield Para(Style.COVER_TITLE, text(project.title))
    for words in (TITLE, "Stucco-clad parapets", project.site.word("place") or ""):
        if words:
            yield Para(Style.COVER_TEXT, text(words))
    yield Para(Style.COVER_TEXT, text(project.issued))
    yield Para(Style.COVER_TEXT, text(project.state))


def bound(section: SectionText) -> Document:
    """A section as it stands in the manual: number and title in one heading, keys with the section's number."""
    document = section.document
    heading = Para(Style.SECTION_TITLE, text(f"Section {section.number} – {section.title}"))
    rest = [
        _bound(block, section.number)
        for block in document.blocks
        if not (isinstance(block, Para) and block.style in _HEADS)
    ]
    return replace(document, blocks=(heading, *rest))


def _bound(block: Block, number: str) -> Block:
    if isinstance(block, Para):
        content = tuple(
            CrossRef(f"{number} {part.key}", part.text) if isinstance(part, CrossRef) else part
            for part in block.content
        )
        return replace(block, content=content, key=f"{number} {block.key}" if block.key else "")
    if isinstance(block, Table):
        return replace(block, links=tuple(replace(link, key=f"{number} {link.key}") for link in block.links))
    return block


def _requirements(assessment: Assessment, places: Mapping[str, ParagraphRef]) -> Iterator[Block]:
    yield Para(Style.HEADING, text("Appendix A – Requirements"))
    yield Para(
        Style.BODY,
        text(
            "Each requirement of this manual, the paragraph that states it, and where its limit comes from."
        ),
    )
    wanted = [one for one in assessment.requirements.by_id.values() if one.id in places]
    wanted.sort(key=lambda one: places[one.id].section)
    if not wanted:
        return
    yield Table(
        header=_REQUIREMENTS,
        rows=tuple(_row(one, places[one.id], assessment) for one in wanted),
        widths=_WIDTHS,
        caption="Requirements with limit, paragraph, source and status",
        links=tuple(
            CellLink(index, _PARAGRAPH, f"{places[one.id].section} {places[one.id].key}")
            for index, one in enumerate(wanted)
        ),
    )


def _row(requirement: Requirement, place: ParagraphRef, assessment: Assessment) -> tuple[str, ...]:
    role = assessment.practice.vocabulary.roles[requirement.role].title
    return (
        requirement.id,
        f"{role[:1].upper()}{role[1:]}: {requirement.title}",
        requirement_words(requirement, assessment.practice, assessment.system),
        place.section,
        place.number,
        str(requirement.origin.source),
    )


def _cautions(assessment: Assessment) -> Iterator[Block]:
    yield Para(Style.HEADING, text("Appendix B – Waivers and Cautions"))
    yield Para(Style.SUBHEADING, text("Cautions"))
    for words in cautions():
        yield Para(Style.BODY, text(words))
    listed = waiver_blocks(assessment, Style.SUBHEADING)
    yield from listed or (Para(Style.SUBHEADING, text(WAIVERS)), Para(Style.BODY, text("None.")))
    yield Para(Style.SUBHEADING, text("Findings that stand at this issue"))
    found = folded(one for one in assessment.findings if one.counts)
    if found:
        yield Table(
            ("Requirement", "Severity", "Where", "Finding", "Remedy"),
            tuple(_finding(one) for one in found),
            (0.22, 0.1, 0.14, 0.3, 0.24),
            "Findings that stand",
        )
    else:
        yield Para(Style.BODY, text("None."))
    remembered = sorted({one.section for one in assessment.requirements.by_id.values() if _from_memory(one)})
    if remembered:
        yield Para(Style.SUBHEADING, text("Sources to confirm"))
        yield Para(
            Style.BODY,
            text(
                "Appendix A marks limits whose source has not been read. Confirm each against its source before"
                f" issue. They stand in Section{'s' if len(remembered) > 1 else ''}"
                f" {joined(remembered, 'and')}."
            ),
        )


def _from_memory(requirement: Requirement) -> bool:
    return requirement.origin.source.status is Status.MEMORY


def _finding(one: FoldedFinding) -> tuple[str, ...]:
    finding = one.finding
    where = f"{joined(one.parapets, 'and')} {finding.layer}".strip()
    return (finding.title, finding.word, where, finding.message, without_file(finding.remedy))
