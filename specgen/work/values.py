"""A value written on the command line or in a request, as what stands at its place in the project."""

from __future__ import annotations

from specgen.files.yaml_scalars import plain_value
from specgen.intake.values import SHEET_THICKNESS, UnusableValueError, convert
from specgen.model.project import Project, Value
from specgen.practice.entries import Practice
from specgen.practice.sheet import sheet_thickness
from specgen.units.quantity import Quantity
from specgen.wall.edit import find, value_at


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
