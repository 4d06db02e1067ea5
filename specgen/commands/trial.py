"""``--set path=value``: values tried without touching the file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import click

from specgen.intake.values import UnusableValueError
from specgen.model.project import Project
from specgen.practice.entries import Practice
from specgen.units.quantity import Quantity, QuantityError
from specgen.wall.edit import PRACTICE, PathError, remarks, with_practice, with_value
from specgen.work.values import value_for


@dataclass(frozen=True)
class Trial:
    """A project and practice with the tried values, and what to tell about them."""

    project: Project
    practice: Practice
    notes: tuple[str, ...]


def tried(project: Project, practice: Practice, assignments: Sequence[str]) -> Trial:
    """The project with every ``path=value`` set, in the order given.

    Raises:
        click.UsageError: a path that names nothing, or a value that cannot stand there; exits with 2.
    """
    notes: list[str] = []
    for text in assignments:
        path, equals, written = (part.strip() for part in text.partition("="))
        if not equals or not path or not written:
            raise click.UsageError(f'--set `{text}`: write path=value, as "P-1.drainage layer.kind=mesh"')
        try:
            value = value_for(project, practice, path, written)
            if path.startswith(f"{PRACTICE}.") and isinstance(value, Quantity):
                practice = with_practice(practice, path.removeprefix(f"{PRACTICE}."), value)
            else:
                before, project = project, with_value(project, practice, path, value, keep=True)
                notes += dict.fromkeys(f"{text}: {one}" for one in remarks(before, project, practice, path))
        except PathError as error:
            raise click.UsageError(f"--set `{text}`: {error}") from error
        except (UnusableValueError, QuantityError) as error:
            fix = f"; {error.fix}" if error.fix else ""
            raise click.UsageError(f"--set `{text}`: {error.message}{fix}") from error
    return Trial(project, practice, tuple(notes))
