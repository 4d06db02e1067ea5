"""The question that the review would ask of a value read from a data sheet, where its kind is not expected to have it."""

from __future__ import annotations

from dataclasses import replace

from specgen.files.marks import Mark
from specgen.intake.bounds import stated
from specgen.intake.values import UnusableValueError
from specgen.model.datasheet import Reading, ReadValue
from specgen.model.submission import Claim, Product
from specgen.practice.entries import Field, Practice
from specgen.practice.sheet import sheet_thickness
from specgen.units.quantity import Quantity, QuantityError
from specgen.wall.products import doubted_claims


def asked(reading: Reading, practice: Practice) -> Reading:
    """The reading with a question at each value that the kind read is not expected to have.

    Args:
        reading: of one product.
        practice: the vocabulary, the ranges, and the gauges of metals.
    """
    fields = practice.vocabulary.roles[reading.role].fields
    words = {one.attribute: one.value for one in reading.values}
    claims = {
        one.attribute: claim
        for one in reading.values
        if one.attribute in fields
        and (claim := _claim(fields[one.attribute], one, words.get("metal", ""), practice))
    }
    kind = words.get("kind", "")
    product = Product(reading.role, reading.name, kind, claims, Mark(reading.name, 1, 1))
    units = practice.vocabulary.records["project"].fields["units"].default
    doubted = doubted_claims(product, practice, str(units))
    values = tuple(
        replace(one, question=f"{why}; is this meant?") if (why := doubted.get(one.attribute)) else one
        for one in reading.values
    )
    return replace(reading, values=values)


def _claim(field: Field, value: ReadValue, metal: str, practice: Practice) -> Claim | None:
    """The value as the submittal file will state it; None where it states none, or no quantity or word."""
    if not value.value or field.type in ("yes or no", "text"):
        return None
    written = int(value.value) if field.type == "count" else value.value
    try:
        one = stated(field, written, practice.vocabulary)
        exact = one.value
        if field.type == "sheet thickness" and isinstance(exact, Quantity):
            exact = sheet_thickness(practice, exact, metal or None)
    except (UnusableValueError, QuantityError):
        return None
    return Claim(exact, value.method, "", Mark("", 1, 1), one.sense, one.upper)
