"""The vocabulary as Cerberus schemas: made by the program, so proved here and not again in every run."""

from __future__ import annotations

from itertools import product

from cerberus import Validator

from specgen.files.yaml_reader import MarkedMap, read_yaml_text
from specgen.intake.records import ANY
from specgen.intake.schema import Checker, fields_schema
from specgen.practice.load import load_practice
from tests.commands.test_odd_files import alarm


def test_every_schema_is_one_to_cerberus() -> None:
    """Cerberus refuses a schema with a rule it does not know; specgen does not ask it at run time."""
    vocabulary = load_practice().vocabulary
    fields = [one.fields for one in (*vocabulary.records.values(), *vocabulary.roles.values())]
    assert len(fields) > 20
    for one, require in product(fields, (True, False)):
        Validator(fields_schema(one, vocabulary, require, {"id": ANY}))


def test_thirty_thousand_unknown_keys_of_a_map_are_told_in_seconds() -> None:
    """Cerberus sorts what it found at each unknown key: 3,000 took 7 s, 30,000 would take many minutes."""
    text = "latitud: 40\n" + "".join(f"strange_{number}: 1\n" for number in range(30_000)) + "terain: C\n"
    node = read_yaml_text(text, "p.yaml", want=dict)
    assert isinstance(node, MarkedMap)
    fields = load_practice().vocabulary.records["site"].fields
    with alarm(10):
        found = Checker("site", fields_schema(fields, load_practice().vocabulary)).check(node, node.mark)
    strange = [one for one in found if one.message.startswith("unknown key")]
    assert [one.mark.line for one in strange] == list(range(1, 30_003))
    assert strange[0].fix == "did you mean `latitude`?"
    assert "`latitude` is missing" not in {one.message for one in found}
    assert strange[-1].fix.startswith("known here: ")  # a map of so many strange keys is of another kind
