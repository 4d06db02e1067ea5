"""The waivers and answers in force at the end of the section they concern: what is accepted or answered otherwise."""

from __future__ import annotations

from dataclasses import replace

from specgen.assessment import Assessment
from specgen.model.finding import Finding
from specgen.sections.build import SectionText
from specgen.sections.waivers import waiver_blocks

GENERAL = "01 40 00"


def with_waivers(sections: tuple[SectionText, ...], assessment: Assessment) -> tuple[SectionText, ...]:
    """The sections, each with the waivers and answers in force that concern it, before its end.

    One concerns the section that states the requirement it is about; without one, the section of the component it
    is about; without either, Section 01 40 00.
    """
    waived = [one for one in assessment.findings if one.waiver or one.answer]
    if not waived:
        return sections
    issued = {section.number for section in sections}
    stated = {name: section.number for section in sections for name in section.paragraphs}
    places = {id(one): _section(one, assessment, stated, issued) for one in waived}
    out = []
    for section in sections:
        here = tuple(one for one in waived if places[id(one)] == section.number)
        blocks = waiver_blocks(replace(assessment, findings=here)) if here else ()
        *before, end = section.document.blocks
        document = replace(section.document, blocks=(*before, *blocks, end))
        out.append(replace(section, document=document))
    return tuple(out)


def _section(finding: Finding, assessment: Assessment, stated: dict[str, str], issued: set[str]) -> str:
    if finding.requirement in stated:
        return stated[finding.requirement]
    for parapet in assessment.project.parapets:
        part = parapet.by_id(finding.layer) if parapet.name == finding.parapet else None
        if part is not None:
            section = assessment.practice.vocabulary.roles[part.role].section
            return section if section in issued else GENERAL
    return GENERAL
