"""A calculation that others ask a result of: made once for a parapet, not once for each that asks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from specgen.model.calculation import Calculation
from specgen.model.project import Parapet, Project
from specgen.practice.entries import Practice

Calculate = Callable[[Project, Parapet, Practice], Calculation]


@dataclass(frozen=True, eq=False)
class _Asked:
    """The arguments of a calculation; equal where they are the same objects, which nothing changes."""

    project: Project
    parapet: Parapet
    practice: Practice

    def __hash__(self) -> int:
        return hash((id(self.project), id(self.parapet), id(self.practice)))

    def __eq__(self, other: object) -> bool:
        return (
            isinstance(other, _Asked)
            and self.parapet is other.parapet
            and self.project is other.project
            and self.practice is other.practice
        )


def shared(calculate: Calculate, project: Project, parapet: Parapet, practice: Practice) -> Calculation:
    """What ``calculate`` returns for these; kept for the next that asks."""
    return _made(calculate, _Asked(project, parapet, practice))


@lru_cache(maxsize=4096)
def _made(calculate: Calculate, asked: _Asked) -> Calculation:
    return calculate(asked.project, asked.parapet, asked.practice)
