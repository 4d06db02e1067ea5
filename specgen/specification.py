"""What is written of one assessed project, made once: every reader of paragraphs, rows or sections is handed this."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from specgen.assessment import Assessment
from specgen.files.marks import Mark
from specgen.model.document import Numbered, numbered
from specgen.model.finding import Outcome
from specgen.model.project import Project
from specgen.model.requirement import Requirement
from specgen.practice.entries import Practice
from specgen.practice.nominal import paired
from specgen.requirements.judge import Standing, judge
from specgen.sections.build import ParagraphRef, SectionText, build_sections
from specgen.sections.checklist import ChecklistRow, checklist
from specgen.sections.clause import ClauseBook
from specgen.sections.clause_file import load_clauses
from specgen.sections.waived import with_waivers
from specgen.sections.words import parapets_in_words, requirement_words
from specgen.units.quantity import Quantity
from specgen.units.show import show, show_beside


@dataclass(frozen=True)
class Unmet:
    """A requirement that a value of the wall fails, and the paragraph that states it."""

    requirement: Requirement
    where: ParagraphRef
    practice: Practice
    system: str

    def beside(self, value: Quantity) -> tuple[str, str]:
        """The value and what the Sections ask for, printed so that the two numbers tell what the judge tells."""
        limit = self.requirement.limit
        asked = requirement_words(self.requirement, self.practice, self.system, value)
        words = show(paired(value), self.system)
        if isinstance(limit.stated, Quantity):
            words, _ = show_beside(value, limit.comparison, limit.stated, self.system)
        return words, f"{self.where.section}, {self.where.number} asks for {asked}"


@dataclass(frozen=True)
class Printed:
    """A paragraph as a sheet about one parapet quotes it: without the parapets it holds at."""

    ref: ParagraphRef
    words: str


@dataclass(frozen=True)
class Specification:
    """An assessment with the sections written of it, where each requirement is stated, and the checklist."""

    assessment: Assessment
    clauses: ClauseBook  # those that ship, the office's own laid over them
    sections: tuple[SectionText, ...]  # as issued: the waivers in force stand in the sections they concern

    @cached_property
    def paragraphs(self) -> Mapping[str, ParagraphRef]:
        """Requirement id to the one paragraph that states it."""
        return {key: ref for section in self.sections for key, ref in section.paragraphs.items()}

    @cached_property
    def rows(self) -> tuple[ChecklistRow, ...]:
        """The checklist, by section and paragraph."""
        one = self.assessment
        return checklist(one.project, one.requirements, self.sections, one.practice, self.clauses)

    def printed(self, parapet: str, section: str, clause: str) -> tuple[Printed, ...]:
        """What a clause of a section prints for a parapet; nothing where it does not hold there."""
        text = next((one for one in self.sections if one.number == section), None)
        found = []
        for one in self._numbered.get(section, ()):
            asked = one.para.requirements[0] if one.para.requirements else ""
            stated = self.assessment.requirements.by_id[asked].name if asked else ""
            if text is None or one.para.key.removesuffix(asked.removeprefix(stated)) != clause:
                continue
            at = text.places.get(one.para.key, ())
            if not at or parapet in at:
                where = parapets_in_words(at) if at else ""
                words = one.para.text.removeprefix(f"{where[:1].upper()}{where[1:]}: ")
                words = words.replace(f" {where}:", ":") if where else words
                found.append(Printed(ParagraphRef(section, one.number, one.para.key), words))
        return tuple(found)

    @cached_property
    def _numbered(self) -> Mapping[str, tuple[Numbered, ...]]:
        return {one.number: numbered(one.document.blocks) for one in self.sections}

    def unmet(self, parapet: str) -> Mapping[Mark, Unmet]:
        """Where a parapet's values are written that fail a requirement.

        Every paper that prints such a value prints beside it what the Sections ask for instead.
        """
        one = self.assessment
        wall = next(each for each in one.project.parapets if each.name == parapet)
        missed = {
            found.mark: found.requirement
            for found in one.findings
            if found.outcome is Outcome.FAIL and found.parapet == parapet and found.requirement
        }
        for part in wall.components():
            for asked in one.requirements.of_role(part.role):
                stated = part.stated(asked.attribute)
                if stated is None or not asked.holds_at(parapet, part.id):
                    continue
                if judge(asked, stated, one.practice).standing is Standing.MISSED:
                    missed.setdefault(part.at(asked.attribute), asked.id)
        return {
            mark: Unmet(broken, ref, one.practice, one.system)
            for mark, key in missed.items()
            if (broken := one.requirements.by_id.get(key)) and (ref := self.paragraphs.get(key))
        }

    def again(self, project: Project) -> Specification:
        """Another project assessed and written in the same way.

        Raises:
            SectionError: as :func:`specify`.
        """
        return _written(self.assessment.again(project), self.clauses)


def specify(assessment: Assessment) -> Specification:
    """Write the sections of an assessed project, from its own clauses.

    Args:
        assessment: the project with its requirements and findings.

    Raises:
        InputError: carries every problem of the office's clause files.
        SectionError: as :func:`specgen.sections.build.build_sections`.
    """
    return _written(assessment, load_clauses(assessment.practice, over=assessment.clauses))


def _written(assessment: Assessment, clauses: ClauseBook) -> Specification:
    project = assessment.with_hours_that_hold
    sections = build_sections(project, assessment.requirements, assessment.practice, clauses)
    return Specification(assessment, clauses, with_waivers(sections, assessment))
