"""What a run kept of the hours of a wall, and whether it holds for the wall as it is described now."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.model.calculation import AT_LIMIT
from specgen.model.hourly import HourlyResult
from specgen.model.project import Parapet, Project
from specgen.physics.errors import PhysicsError
from specgen.practice.entries import Practice

NONE, STALE, HOLDS = "none", "stale", "holds"
REQUIRED = "required"


@dataclass(frozen=True)
class KeyNow:
    """The key that a run would keep its result under.

    ``key`` is "" where a value is missing or cannot be; ``missing`` names it. ``on_limits``: whether the limit of a
    requirement stands for a value that nobody stated.
    """

    key: str
    missing: tuple[str, ...] = ()
    on_limits: bool = False


@dataclass(frozen=True)
class Standing:
    """How the kept result of a parapet stands: ``state`` is `NONE`, `STALE` or `HOLDS`."""

    state: str
    result: HourlyResult | None = None
    now: KeyNow = KeyNow("")

    @property
    def held(self) -> HourlyResult | None:
        """The result, where it holds; no reader looks at another."""
        return self.result if self.state == HOLDS else None


def standing(project: Project, parapet: Parapet, practice: Practice) -> Standing:
    """How the kept result of a parapet stands; nothing is worked out where none is kept.

    Args:
        project: with the limits of its requirements in place of what it leaves to the sections.
        parapet: one of its parapets.
        practice: the office's, where it has one.
    """
    kept = project.hourly.get(parapet.name)
    if kept is None:
        return Standing(NONE)
    now = key_now(project, parapet, practice, kept.years)
    return Standing(HOLDS if now.key and now.key == kept.key else STALE, kept, now)


def key_now(project: Project, parapet: Parapet, practice: Practice, years: int) -> KeyNow:
    """The key of a run of so many years of a wall as it is described.

    Args:
        project, parapet, practice: as for :func:`standing`.
        years: that are asked for at most.
    """
    from specgen.design.hourly_study import (
        read,  # arrays, weather and materials: where a result is kept alone
    )
    from specgen.design.worksheet import Unknown, Worksheet

    sheet = Worksheet("hourly moisture", "", project, parapet, practice, "", [])
    try:
        key = read(project, parapet, practice, years, sheet).key
    except Unknown:
        return KeyNow("", tuple(sheet.missing))
    except PhysicsError as error:
        return KeyNow("", (f"out of range: {error}",))
    return KeyNow(key, (), any(line.source.startswith(AT_LIMIT) for line in sheet.inputs))


def wanted(project: Project) -> bool:
    """Whether the project asks for the study."""
    return project.site.word("hourly") == REQUIRED
