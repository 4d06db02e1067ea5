"""Values tried without touching the file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from specgen.intake.values import UnusableValueError
from specgen.model.project import Project
from specgen.practice.entries import Practice
from specgen.units.quantity import Quantity, QuantityError
from specgen.wall.edit import PRACTICE, PathError, remarks, with_practice, with_value
from specgen.work.values import value_for


class TrialError(ValueError):
    """A path that names nothing, or a value that cannot stand there; the message says so of the words that were given."""


@dataclass(frozen=True)
class Trial:
    """A project and practice with the tried values, and what to tell about them."""

    project: Project
    practice: Practice
    notes: tuple[str, ...]


def tried(project: Project, practice: Practice, assignments: Sequence[str]) -> Trial:
    """The project with every ``path=value`` set, in the order given.

    Raises:
        TrialError: a path that names nothing, or a value that cannot stand there.
    """
    notes: list[str] = []
    for text in assignments:
        path, equals, written = (part.strip() for part in text.partition("="))
        if not equals or not path or not written:
            raise TrialError(f'`{text}`: write path=value, as "P-1.drainage layer.kind=mesh"')
        try:
            value = value_for(project, practice, path, written)
            if path.startswith(f"{PRACTICE}.") and isinstance(value, Quantity):
                practice = with_practice(practice, path.removeprefix(f"{PRACTICE}."), value)
            else:
                before, project = project, with_value(project, practice, path, value, keep=True)
                notes += dict.fromkeys(f"{text}: {one}" for one in remarks(before, project, practice, path))
        except PathError as error:
            raise TrialError(f"`{text}`: {error}") from error
        except (UnusableValueError, QuantityError) as error:
            fix = f"; {error.fix}" if error.fix else ""
            raise TrialError(f"`{text}`: {error.message}{fix}") from error
    return Trial(project, practice, tuple(notes))
