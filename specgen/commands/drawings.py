"""``--plots DIR``: every drawing that the calculations of a project allow."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from pathlib import Path

from specgen.assessment import settled
from specgen.design import hourly_moisture
from specgen.drawing.shapes import Drawing
from specgen.model.project import Project
from specgen.practice.entries import Practice
from specgen.render import plots
from specgen.render.files import file_stem
from specgen.render.hour_charts import hour_charts
from specgen.render.plotted import EVERYDAY, STUDIES, plotted
from specgen.render.png_drawing import png_bytes
from specgen.render.svg import svg_bytes
from specgen.work.papers import papers_folder


def write_drawings(
    project: Project,
    practice: Practice,
    parapets: Sequence[str],
    folder: Path,
    *,
    studies: bool,
    other_project: bool,
) -> tuple[str, ...]:
    """Draw and write what is determined; an unknown calculation has no drawing.

    Args:
        project: the project.
        practice: the trade's numbers.
        parapets: which parapets, by name.
        folder: where to; made if absent.
        studies: also the drawings of the long studies: isotherms and sensitivities.
        other_project: the folder may hold another project's papers; they are withdrawn.

    Returns:
        The names of the files.

    Raises:
        InputError: the project lacks what its papers bear.
        OutputError: the folder is another project's, or a file cannot be written.
    """
    target = papers_folder(folder, project, practice, other_project=other_project)
    target.former_owner()  # refused before anything is drawn
    names: list[str] = []
    wanted = (*EVERYDAY, *(STUDIES if studies else ()))
    for parapet in project.parapets:
        if parapet.name not in parapets:
            continue
        for _, what, figure in plotted(project, parapet, practice, wanted):
            stem = _free(file_stem(parapet.name, what), names)
            for ending, data in zip(("svg", "png"), plots.svg_and_png(figure), strict=True):
                target.add(f"{stem}.{ending}", data)
                names.append(f"{stem}.{ending}")
    for name, what, chart in _charts(project, practice, parapets):
        stem = _free(file_stem(name, what), names)
        for ending, data in (("svg", svg_bytes(chart)), ("png", png_bytes(chart))):
            target.add(f"{stem}.{ending}", data)
            names.append(f"{stem}.{ending}")
    target.commit()
    return tuple(names)


def _free(stem: str, taken: Collection[str]) -> str:
    """A name that no file has yet; parapets may differ in what no file name holds, as P-1 and p-1.

    >>> _free("p-1-panels", []), _free("p-1-panels", ["p-1-panels.svg", "p-1-panels-2.svg"])
    ('p-1-panels', 'p-1-panels-3')
    """
    stems = (stem, *(f"{stem}-{number}" for number in range(2, len(taken) + 3)))
    return next(one for one in stems if f"{one}.svg" not in taken)


def _charts(
    project: Project, practice: Practice, parapets: Sequence[str]
) -> Iterator[tuple[str, str, Drawing]]:
    """The charts of the hours that are kept, with parapet and name."""
    if not project.hourly:
        return
    walls = {one.name: one for one in settled(project, practice).parapets if one.name in parapets}

    def holds(name: str) -> bool:
        return name in walls and hourly_moisture.calculate(project, walls[name], practice).done

    for name, charts in hour_charts(project, practice, holds).items():
        for chart in charts:
            yield name, chart.name.removeprefix(name), chart
