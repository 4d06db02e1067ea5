"""The vocabulary as Cerberus schemas: made by the program, so proved here and not again in every run."""

from __future__ import annotations

from itertools import product

from cerberus import Validator

from specgen.intake.records import ANY
from specgen.intake.schema import fields_schema
from specgen.practice.load import load_practice


def test_every_schema_is_one_to_cerberus() -> None:
    """Cerberus refuses a schema with a rule it does not know; specgen does not ask it at run time."""
    vocabulary = load_practice().vocabulary
    fields = [one.fields for one in (*vocabulary.records.values(), *vocabulary.roles.values())]
    assert len(fields) > 20
    for one, require in product(fields, (True, False)):
        Validator(fields_schema(one, vocabulary, require, {"id": ANY}))
