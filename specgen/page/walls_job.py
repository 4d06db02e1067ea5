"""Walls proposed in a process of its own, and handed back as words and drawings."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from specgen.assessment import Assessment
from specgen.drawing.picture import picture_of
from specgen.page.desk import Options
from specgen.page.jobs import JobResult
from specgen.render.compared import Comparison, DrawnParapet, compared
from specgen.render.svg_inline import Svg
from specgen.render.svg_picture import picture_svg
from specgen.units.counted import many
from specgen.work.inputs import read_inputs
from specgen.work.proposals import Ready, propose

WALLS = "specgen.page.walls_job:walls"
VIEW = "start/proposals"


def walls(path: Path, options: Options) -> JobResult:
    """Propose walls from a file of facts.

    Args:
        path: of the project file.
        options: of the page, as the commands take them.

    Returns:
        With a :class:`Comparison` as result.

    Raises:
        InputError: a fact is open without which no wall can be proposed.
    """
    inputs = read_inputs(path, options.office, options.allow_code, options.weather, options.clauses)
    found = comparison_of(propose(inputs))
    count = len(found.walls)
    words = f"{many(count, 'wall')} {'is' if count == 1 else 'are'} proposed." if count else "No wall fits."
    return JobResult(words, VIEW, found)


def comparison_of(ready: Ready) -> Comparison:
    """What a run has found, with a drawing of each parapet of each wall."""
    pairs = list(zip(ready.proposed.walls, ready.assessments, strict=True))
    pictures = {wall.name: tuple(_drawn(assessment, wall.name)) for wall, assessment in pairs}
    findings = {wall.name: [one for one in each.findings if one.counts] for wall, each in pairs}
    plain = pairs[0][1].paper_words() if pairs else str
    return compared(ready.proposed, ready.texts, pictures, findings, plain)


def _drawn(assessment: Assessment, wall: str) -> Iterator[DrawnParapet]:
    """Each parapet of a wall; a key leads to the reasons of the wall's choices."""
    for parapet in assessment.project.parapets:
        picture = picture_of(assessment, parapet.name)
        if picture is not None:
            keyed = [(one.number, one.words) for one in picture.parts if one.key is not None]
            parts = tuple(sorted(keyed, key=lambda one: (len(one[0]), one)))
            element = picture_svg(picture, lambda _: f"#{wall}-why")
            yield DrawnParapet(parapet.name, str(element), parts)


def drawn(words: str) -> Svg:
    """A drawing that another process has made, as a template sets it."""
    return Svg(words)
