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
    where = paragraphs(sections)
    return tuple(
        replace(sheet, name=f"{parapet.name} {sheet.name}")
        for parapet in assessment.project.parapets
        for sheet in _of(
            Job(assessment.project, parapet, assessment.practice, assessment.requirements), where
        )
    )


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
