"""The page that compares proposed walls: one HTML file that needs no other file, no network and no script."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from specgen.drawing.shapes import Drawing
from specgen.model.project import Project
from specgen.propose.result import Proposed
from specgen.render.basis import Figure, figure
from specgen.render.page import page_template
from specgen.rules.existing.openings import PlannedOpenings
from specgen.sections.cautions import cautions


def proposals_page(
    found: Proposed,
    project: Project,
    drawn: Mapping[str, Sequence[Drawing]],
    openings: Sequence[PlannedOpenings],
    plain: Callable[[str], str],
) -> bytes:
    """The page of a run.

    Args:
        found: the walls, and why the others fell.
        project: the facts.
        drawn: the sections by wall.
        openings: where a standing wall is opened before its repair is decided.
        plain: words with the trade's names of parts.

    Returns:
        HTML in UTF-8, the same bytes for the same facts.
    """
    figures: dict[str, tuple[Figure, ...]] = {
        name: tuple(figure(sheet) for sheet in sheets) for name, sheets in drawn.items()
    }
    page = page_template("propose/comparison.html").render(
        found=found,
        project=project,
        figures=figures,
        openings=openings,
        plain=plain,
        same=_same(found),
        cautions=cautions(),
    )
    return (page.rstrip() + "\n").encode()


def _same(found: Proposed) -> tuple[tuple[str, str], ...]:
    """The choices in which all walls agree."""
    walls = found.walls
    return tuple(
        (reason.choice, reason.option)
        for place, reason in enumerate(walls[0].reasons if walls else ())
        if len({wall.reasons[place].option for wall in walls}) == 1
    )
