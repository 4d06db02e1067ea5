"""``--set path=value``: values tried without touching the file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import click

from specgen.files.yaml_scalars import plain_value
from specgen.intake.values import SHEET_THICKNESS, UnusableValueError, convert
from specgen.model.project import Project, Value
from specgen.practice.entries import Practice
from specgen.practice.sheet import sheet_thickness
from specgen.units.quantity import Quantity, QuantityError
from specgen.wall.edit import PRACTICE, PathError, find, remarks, value_at, with_practice, with_value


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


def value_for(project: Project, practice: Practice, path: str, written: str) -> Value:
    """A written value as what stands at a path.

    Raises:
        PathError: the path names nothing.
        UnusableValueError, QuantityError: the value cannot stand there.
    """
    spot = find(project, practice, path)
    try:
        plain = plain_value(written)
    except ValueError as error:
        raise UnusableValueError(str(error)) from error
    value = convert(spot.field, plain, practice.vocabulary)
    if spot.field.type != "sheet thickness" or not isinstance(value, Quantity):
        return value
    if value.dimension in SHEET_THICKNESS - {"length"}:
        metal = value_at(project, practice, f"{spot.component}.metal", spot.parapets[0])
        return sheet_thickness(practice, value, str(metal) if metal else None)
    return value
