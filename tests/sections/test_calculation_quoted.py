"""The paragraph that a calculation sets, or asks for, quotes it; no other does."""

from __future__ import annotations

from specgen.model.document import Span
from specgen.model.requirement import RequirementSet
from specgen.sections.build import SectionText

BASIS = "Basis: the calculation “"


def paragraphs(sections: tuple[SectionText, ...]) -> dict[str, str]:
    """The text of the paragraph that states each requirement, by its id."""
    return {
        requirement: " ".join(part.text for part in para.content if isinstance(part, Span))
        for section in sections
        for para in section.document.paragraphs()
        for requirement in para.requirements
    }


def test_each_calculated_requirement_quotes_its_calculation(
    sections: tuple[SectionText, ...], requirements: RequirementSet
) -> None:
    found = paragraphs(sections)
    calculated = {
        one.id for one in requirements.by_id.values() if one.origin.kind == "calculation" or one.because
    }
    assert {"coping.joint_gap", "coping.resistance_top", "drainage.vapor_permeance"} <= calculated
    quoting = {name for name, text in found.items() if BASIS in text}
    assert quoting == calculated & set(found)


def test_the_quoted_title_is_that_of_the_origin(
    sections: tuple[SectionText, ...], requirements: RequirementSet
) -> None:
    gap = requirements.by_id["coping.joint_gap"]
    title = gap.origin.source.document.removeprefix("calculation: ")
    assert paragraphs(sections)["coping.joint_gap"].endswith(f"{BASIS}{title}”.")
