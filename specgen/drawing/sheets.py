"""Every sheet of every parapet of a project."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import partial

from specgen.drawing.blank import blank
from specgen.drawing.clearing import cleared
from specgen.drawing.control import control, with_paths
from specgen.drawing.details import details
from specgen.drawing.elevation import elevation
from specgen.drawing.exploded import exploded
from specgen.drawing.section import section
from specgen.drawing.shapes import Dimension, Drawing, Text
from specgen.drawing.sizes import Job, job_of
from specgen.drawing.view import view_of
from specgen.rules.wall import Wall
from specgen.specification import Specification


def sheets(spec: Specification) -> tuple[Drawing, ...]:
    """The drawings of a project: for each parapet its section, control layers, order of work, panels, blank and details.

    Args:
        spec: the project as written; the notes name its paragraphs.

    Returns:
        The sheets in the order of the parapets. Panels and blank are left out where their calculation has no result.
    """
    return tuple(sheet for by_parapet in by_parapets(spec).values() for sheet in by_parapet)


def by_parapets(spec: Specification) -> Mapping[str, tuple[Drawing, ...]]:
    """The same sheets by the name of their parapet; none of one of which no component is listed yet."""
    return {
        wall.parapet.name: sheets_of(wall, spec)
        for wall in spec.assessment.walls
        if any(wall.parapet.components())
    }


def sheets_of(wall: Wall, spec: Specification) -> tuple[Drawing, ...]:
    """The sheets of one parapet, at which a component is listed."""
    plain = spec.assessment.paper_words()
    return tuple(
        _lettered(replace(sheet, name=f"{wall.parapet.name} {sheet.name}"), plain)
        for sheet in _of(job_of(wall, spec.unmet(wall.parapet.name)), spec)
    )


def section_sheets(spec: Specification) -> tuple[Drawing, ...]:
    """The section of each parapet alone."""
    plain = spec.assessment.paper_words()
    return tuple(
        _lettered(next(_of(job_of(wall, spec.unmet(wall.parapet.name)), spec)), plain)
        for wall in spec.assessment.walls
        if any(wall.parapet.components())
    )


def _lettered(sheet: Drawing, plain: Callable[[str], str]) -> Drawing:
    """A sheet with the trade's names of parts, and its words clear of its lines."""
    items = tuple(
        replace(item, words=plain(item.words)) if isinstance(item, Text | Dimension) else item
        for item in sheet.items
    )
    return cleared(replace(sheet, items=items, description=plain(sheet.description)))


def _of(job: Job, spec: Specification) -> Iterator[Drawing]:
    view, where = view_of(job), spec.paragraphs
    first, *more = section(view, where)
    yield with_paths(first, view)
    yield from more
    yield control(view)
    yield exploded(job)
    for sheet in (elevation(job, where), blank(view)):
        if sheet is not None:
            yield sheet
    yield from details(job, partial(spec.printed, job.parapet.name))
