"""Sections as the specification of a project that the test puts together itself."""

from __future__ import annotations

from dataclasses import replace

from specgen.assessment import assess
from specgen.model.project import Project
from specgen.model.requirement import RequirementSet
from specgen.practice.entries import Practice
from specgen.sections.build import SectionText
from specgen.sections.clause_file import ClauseBook
from specgen.specification import Specification


def specification(
    project: Project,
    requirements: RequirementSet,
    practice: Practice,
    book: ClauseBook,
    sections: tuple[SectionText, ...],
) -> Specification:
    """The sections with what they were written from; the project's own requirements give way to these."""
    return Specification(replace(assess(project, practice), requirements=requirements), book, sections)
