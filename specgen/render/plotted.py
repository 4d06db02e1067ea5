"""What is drawn of the calculations of a parapet through matplotlib, by subject."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from typing import TYPE_CHECKING

from specgen.design import coping_geometry, plaster_panels, roof_junction, uncertainty, vapor_drive
from specgen.model.project import Parapet, Project
from specgen.practice.entries import Practice
from specgen.render import plots
from specgen.units.quantity import from_si, to_unit

if TYPE_CHECKING:
    from matplotlib.figure import Figure

Named = tuple[str, "Figure"]  # what it shows


def plotted(
    project: Project, parapet: Parapet, practice: Practice, subjects: Collection[str]
) -> Iterator[tuple[str, str, Figure]]:
    """Subject, name and figure of each drawing; an unknown calculation has none.

    Args:
        project: with the limits of its requirements in place of what it leaves to the sections, or as stated.
        parapet: of the project.
        practice: the trade's numbers.
        subjects: of `EVERYDAY` and `STUDIES`.
    """
    for subject, drawn in {**EVERYDAY, **STUDIES}.items():
        if subject in subjects:
            for name, figure in drawn(project, parapet, practice):
                yield subject, name, figure


def _profile(project: Project, parapet: Parapet, practice: Practice) -> Iterator[Named]:
    state = vapor_drive.drawn(project, parapet, practice)
    if state is not None:
        title = f"Sun-heated afternoon, parapet {parapet.name}"
        yield "profile", plots.profile(state, title, project.system)


def _blank(project: Project, parapet: Parapet, practice: Practice) -> Iterator[Named]:
    piece = coping_geometry.blank_of(project, parapet, practice)
    if piece is not None:
        title = f"Blank of the coping, parapet {parapet.name}"
        yield "coping blank", plots.blank(*piece, title, project.system)


def _panels(project: Project, parapet: Parapet, practice: Practice) -> Iterator[Named]:
    face = plaster_panels.face_of(project, parapet, practice)
    if face is not None:
        yield (
            "panel elevation",
            plots.panels(face, f"Control joints, parapet {parapet.name}", project.system),
        )


def _isotherms(project: Project, parapet: Parapet, practice: Practice) -> Iterator[Named]:
    field = roof_junction.field_of(project, parapet, practice)
    if field is not None:
        yield "isotherms", plots.isotherms(field, f"Roof and parapet {parapet.name}", project.system)


def _tornadoes(project: Project, parapet: Parapet, practice: Practice) -> Iterator[Named]:
    for one in uncertainty.HEADLINES:
        found = uncertainty.headline(one, project, parapet, practice)
        if found is not None:
            base, swings = found
            value = to_unit(from_si(base.value, base.dimension), base.unit)
            title = f"{one.result.replace('_', ' ')}, parapet {parapet.name}"
            yield f"tornado {one.name}", plots.tornado(swings, value, base.unit, title, project.system)


Plotter = Callable[[Project, Parapet, Practice], Iterator[Named]]
EVERYDAY: Mapping[str, Plotter] = {
    vapor_drive.SUBJECT: _profile,
    coping_geometry.SUBJECT: _blank,
    plaster_panels.SUBJECT: _panels,
}
STUDIES: Mapping[str, Plotter] = {roof_junction.SUBJECT: _isotherms, uncertainty.SUBJECT: _tornadoes}
"""Of the long studies: isotherms and sensitivities."""
