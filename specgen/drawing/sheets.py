"""Every sheet of every parapet of a project."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from specgen.assessment import Assessment
from specgen.drawing.blank import blank
from specgen.drawing.control import control, with_paths
from specgen.drawing.elevation import elevation
from specgen.drawing.exploded import exploded
from specgen.drawing.notes import paragraphs
from specgen.drawing.section import section
from specgen.drawing.shapes import Drawing
from specgen.drawing.sizes import Job
from specgen.drawing.view import view_of
from specgen.sections.build import ParagraphRef, SectionText


def sheets(assessment: Assessment, sections: Iterable[SectionText]) -> tuple[Drawing, ...]:
    """The drawings of a project: for each parapet its section, control layers, order of work, panels and blank.

    Args:
        assessment: the project with its requirements.
        sections: as written of it; the notes name their paragraphs.

    Returns:
        The sheets in the order of the parapets. Panels and blank are left out where their calculation has no result.
    """
    return tuple(sheet for by_parapet in by_parapets(assessment, sections).values() for sheet in by_parapet)


def by_parapets(assessment: Assessment, sections: Iterable[SectionText]) -> Mapping[str, tuple[Drawing, ...]]:
    """The same sheets by the name of their parapet."""
    where = paragraphs(sections)
    jobs = (
        Job(assessment.project, parapet, assessment.practice, assessment.requirements)
        for parapet in assessment.project.parapets
    )
    return {
        job.parapet.name: tuple(
            replace(sheet, name=f"{job.parapet.name} {sheet.name}") for sheet in _of(job, where)
        )
        for job in jobs
    }


def _of(job: Job, where: Mapping[str, ParagraphRef]) -> Iterator[Drawing]:
    view = view_of(job)
    first, *more = section(view, where)
    yield with_paths(first, view)
    yield from more
    yield control(view)
    yield exploded(job)
    for sheet in (elevation(job, where), blank(view)):
        if sheet is not None:
            yield sheet
