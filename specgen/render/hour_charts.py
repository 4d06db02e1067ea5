"""The charts of the hours that are kept beside a project, of parapets whose kept result still holds."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import pairwise

from specgen.drawing.chart_result import race_chart, result_charts
from specgen.drawing.shapes import Drawing
from specgen.model.hourly import MID_HEIGHT
from specgen.model.project import Project
from specgen.practice.entries import Practice


def hour_charts(
    project: Project, practice: Practice, holds: Callable[[str], bool]
) -> Mapping[str, tuple[Drawing, ...]]:
    """By parapet: its cuts over the years and across the wall, what its leaks do, and its race against the next one.

    Args:
        project: with what is kept beside it.
        practice: the limits.
        holds: whether what is kept of a parapet of that name was made from what now stands in the project.

    Returns:
        The charts, in the order of the parapets; a stale result has none.
    """
    kept = [
        project.hourly[one.name] for one in project.parapets if one.name in project.hourly and holds(one.name)
    ]
    found = {one.parapet: result_charts(one, practice, project.system) for one in kept}
    for first, second in pairwise(kept):
        race = race_chart(MID_HEIGHT, first, second)
        if race is not None:
            found[first.parapet] += (race,)
    return found
