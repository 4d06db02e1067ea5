"""One parapet as a rule sees it: its parts, what is known of them, its calculations and requirements."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from specgen.model.calculation import ByParapet, Calculation
from specgen.model.project import Component, Parapet, Project
from specgen.model.requirement import Requirement, RequirementSet
from specgen.paths.graph import WallGraph, wall_of
from specgen.paths.sequence import Sequence, sequence
from specgen.paths.shapes import LayerPath
from specgen.paths.trace import control_paths
from specgen.practice.entries import Kind, Practice, PracticeEntry
from specgen.requirements.conditions import Place
from specgen.requirements.conditions import family as family_of
from specgen.units.quantity import Quantity
from specgen.units.show import Rounding, show

COVERED_COUNTRIES = ("US", "USA", "United States")


@dataclass(frozen=True)
class Wall:
    """One parapet with all that a rule may ask."""

    project: Project
    parapet: Parapet
    practice: Practice
    calculations: Mapping[str, Calculation]  # by subject
    requirements: RequirementSet

    def part(self, role: str) -> Component | None:
        """The first component with this role, outermost first."""
        return self.parapet.part(role)

    def kind(self, part: Component) -> Kind:
        """What is known of the generic kind of a component."""
        return self.practice.kind(part.role, part.kind)

    def family(self, part: Component) -> str | None:
        """The material family of a component, or None if it is not known."""
        return family_of(self.practice, part)

    def requirement(self, name: str) -> Requirement | None:
        """The requirement of this catalogue name at this parapet, or None if it does not apply here."""
        return self.requirements.at(name, self.parapet.name)

    def shown(self, value: Quantity | PracticeEntry, rounding: Rounding = "nearest") -> str:
        """A value that the project has not written itself, in the project's language of units."""
        value = value.quantity() if isinstance(value, PracticeEntry) else value
        return show(value, self.project.info.word("units") or "inch-pound", rounding)

    @property
    def place(self) -> Place:
        """This parapet as the conditions of the requirements see it."""
        return Place(self.project, self.parapet, self.practice, self.calculations)

    @cached_property
    def graph(self) -> WallGraph:
        """This parapet as the paths of the control layers see it: its parts with their materials."""
        return wall_of(self.project, self.parapet, self.practice)

    @cached_property
    def paths(self) -> tuple[LayerPath, ...]:
        """The paths of the control layers, at the plain run and at every place."""
        return control_paths(self.project, self.parapet, self.practice)

    @cached_property
    def order(self) -> Sequence:
        """The order of work, or the cycle that prevents one."""
        return sequence(self.parapet, self.practice)

    @property
    def barrier(self) -> Component | None:
        """The wall barrier: the first that is bonded, else the first."""
        every = self.parapet.all_of("barrier")
        return next((part for part in every if self.kind(part).bonded), every[0] if every else None)

    @property
    def plastered(self) -> bool:
        """Whether a face of the parapet is plaster."""
        faces = (self.parapet.word("outer_face"), self.parapet.word("inner_face"))
        return "stucco" in faces or self.part("plaster") is not None

    @property
    def country_covered(self) -> bool:
        """Whether the rules of code cover the project's country."""
        return country_covered(self.project)

    @property
    def edition(self) -> int | None:
        """The year of the adopted building code, or None if none is stated."""
        code = self.project.site.word("code") or ""
        year = code.removeprefix("IBC ")
        return int(year) if year.isdigit() else None


def walls_of(
    project: Project, calculations: ByParapet, requirements: RequirementSet, practice: Practice
) -> tuple[Wall, ...]:
    """The parapets of a project in the order of the file; their paths and their order of work are traced once."""
    return tuple(
        Wall(project, parapet, practice, calculations[parapet.name], requirements)
        for parapet in project.parapets
    )


def country_covered(project: Project) -> bool:
    """Whether the rules of code cover the project's country."""
    return (project.site.word("country") or "US") in COVERED_COUNTRIES
