"""The page that compares proposed walls: one HTML file that needs no other file, no network and no script."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from specgen.drawing.shapes import Drawing
from specgen.model.finding import Finding
from specgen.model.paper import LETTER, PaperSize
from specgen.propose.result import Proposed, ProposedWall
from specgen.render.basis import Figure, figure
from specgen.render.page import page_template
from specgen.rules.existing.openings import PlannedOpenings
from specgen.sections.cautions import cautions

_RULE = re.compile(r"\brule [A-Z]{2}\d\d, ")  # a code is no word of paper: the name of the rule follows it


def proposals_page(
    found: Proposed,
    drawn: Mapping[str, Sequence[Drawing]],
    open_points: Mapping[str, Sequence[Finding]],
    openings: Sequence[PlannedOpenings],
    plain: Callable[[str], str],
    paper: PaperSize = LETTER,
) -> bytes:
    """The page of a run.

    Args:
        found: the walls, and why the others fell.
        drawn: the sections by wall.
        open_points: what is unknown or asked, by wall.
        openings: where a standing wall is opened before its repair is decided.
        plain: words as papers print them.
        paper: that of the project.

    Returns:
        HTML in UTF-8, the same bytes for the same facts.
    """
    figures: dict[str, tuple[Figure, ...]] = {
        name: tuple(figure(sheet) for sheet in sheets) for name, sheets in drawn.items()
    }
    page = page_template("propose/comparison.html").render(
        found=found,
        names={wall.name: wall.name.replace("-", " ").capitalize() for wall in found.walls},
        figures=figures,
        openings=openings,
        plain=without_codes(plain),
        same=same_choices(found),
        sources={wall.name: _sources(wall, plain) for wall in found.walls},
        points={name: open_points_of(findings, plain) for name, findings in open_points.items()},
        cautions=cautions(),
        paper=paper,
    )
    return (page.rstrip() + "\n").encode()


def without_codes(plain: Callable[[str], str]) -> Callable[[str], str]:
    """Words as papers print them, with the name of a rule alone where its code stands before it."""
    return lambda words: plain(_RULE.sub("the rule on ", words))


def _sources(wall: ProposedWall, plain: Callable[[str], str]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Each source of the choices, with the choices that rest on it."""
    found: dict[str, list[str]] = {}
    for reason in wall.reasons:
        found.setdefault(str(reason.source), []).append(plain(reason.choice))
    return tuple((source, tuple(choices)) for source, choices in found.items())


def open_points_of(findings: Sequence[Finding], plain: Callable[[str], str]) -> tuple[tuple[str, str], ...]:
    """What is open in a wall, each point once: whether it is unknown or asked, and in words."""
    points = (("Unknown" if one.open else "Question", plain(one.message)) for one in findings)
    return tuple(dict.fromkeys(points))


def same_choices(found: Proposed) -> tuple[tuple[str, str], ...]:
    """The choices in which all walls agree."""
    walls = found.walls
    return tuple(
        (reason.choice, reason.option)
        for place, reason in enumerate(walls[0].reasons if walls else ())
        if len({wall.reasons[place].option for wall in walls}) == 1
    )
