"""One parapet as a rule sees it: its parts, what is known of them, its calculations and requirements."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from specgen.model.calculation import ByParapet
from specgen.model.project import Component, Parapet, Project
from specgen.model.requirement import Comparison, Requirement, RequirementSet
from specgen.paths.graph import WallGraph, wall_of
from specgen.paths.sequence import Sequence, sequence
from specgen.paths.shapes import LayerPath
from specgen.paths.trace import control_paths
from specgen.practice.entries import Practice
from specgen.units.quantity import Quantity
from specgen.units.show import show, show_beside, show_limit
from specgen.wall import code, facts
from specgen.wall.differing import records_at
from specgen.wall.memo import Memo, lent
from specgen.wall.place import Place


@dataclass(frozen=True)
class Wall(Place):
    """One parapet with all that a rule may ask."""

    requirements: RequirementSet
    memo: Memo = field(repr=False, compare=False)  # holds the paths and the order of work, traced once

    def requirement(self, name: str, part: Component | None = None) -> Requirement | None:
        """The requirement of this catalogue name at this parapet, or None if it does not apply here.

        With one component of its role, the requirement on this one; without, on any of them.
        """
        return self.requirements.at(name, self.parapet.name, part.id if part else "")

    def shown(self, value: Quantity) -> str:
        """A value that the project has not written itself, in the project's language of units."""
        return show(value, self.project.system)

    def limit(self, value: Quantity, comparison: Comparison) -> str:
        """A limit in the project's language of units."""
        return show_limit(value, comparison, self.project.system)

    def beside(self, value: Quantity, comparison: Comparison, limit: Quantity) -> tuple[str, str]:
        """A value and what it is held against, printed so that the two numbers tell what the judge tells."""
        return show_beside(value, comparison, limit, self.project.system)

    @cached_property
    def holders(self) -> Mapping[int, Mapping[str, str]]:
        """By the identity of the values of each record here: which of them are limits of requirements."""
        return {id(vars(one)["values"]): vars(one)["specified"] for _, one in records_at(self.parapet)}

    @property
    def graph(self) -> WallGraph:
        """This parapet as the paths of the control layers see it: its parts with their materials."""
        return lent(wall_of, self.project, self.parapet, self.practice)

    @property
    def paths(self) -> tuple[LayerPath, ...]:
        """The paths of the control layers, at the plain run and at every place."""
        return self.memo.at(control_paths, self.parapet.name)

    @property
    def order(self) -> Sequence:
        """The order of work, or the cycle that prevents one."""
        return self.memo.at(_order, self.parapet.name)

    @property
    def barrier(self) -> Component | None:
        """The wall barrier: the first that is bonded, else the first."""
        return self.part("barrier")

    @property
    def plastered(self) -> bool:
        """Whether a face of the parapet is plaster."""
        return facts.plastered(self)

    @property
    def country_covered(self) -> bool:
        """Whether the rules of code cover the project's country."""
        return code.country_covered(self.project)

    @property
    def edition(self) -> int | None:
        """The year of the adopted building code, or None if none is stated."""
        return code.edition_of(self.project)


def _order(_: Project, parapet: Parapet, practice: Practice) -> Sequence:
    return sequence(parapet, practice)


def walls_of(
    project: Project,
    calculations: ByParapet,
    requirements: RequirementSet,
    practice: Practice,
    memo: Memo | None = None,
) -> tuple[Wall, ...]:
    """The parapets of a project in the order of the file; what is traced of them is kept in the memo."""
    memo = memo or Memo(project, practice)
    return tuple(
        Wall(project, parapet, practice, calculations[parapet.name], requirements, memo)
        for parapet in project.parapets
    )
