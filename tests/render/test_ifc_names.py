"""Names in building models: the standard's own exist in the standard, ours do not use its prefix, no two are one."""

from __future__ import annotations

import uuid
from collections import Counter

import pytest

from specgen.render.ifc_names import PREFIX, element_of, global_id, guid, property_of, set_of
from tests.render import model_page
from tests.render.bim_examples import PRACTICE

ROLES = PRACTICE.vocabulary.roles


def test_the_page_is_up_to_date():
    assert model_page.PAGE.read_text("utf-8") == model_page.page(PRACTICE), (
        "run python -m tests.render.model_page"
    )


def test_a_global_id_is_the_uuid_as_the_schema_writes_it():
    guids = pytest.importorskip("ifcopenshell.guid", reason="ifcopenshell (extra bim) is not installed")
    for name in ("P-1", "coping", ""):
        assert guids.expand(global_id("job", name)) == guid("job", name).hex
    assert isinstance(guid("job"), uuid.UUID)


def test_every_role_in_the_wall_is_an_element_and_no_two_properties_of_a_role_are_one():
    assert [name for name, role in ROLES.items() if element_of(PRACTICE, name) is None] == [
        name for name, role in ROLES.items() if role.where == "place"
    ]
    for role in ROLES.values():
        named = Counter(property_of(PRACTICE, role.name, key) for key in (*role.fields, "kind"))
        assert set(named.values()) == {1}, role.name
        assert set_of(role.name).startswith(PREFIX)


def test_what_is_named_as_the_standard_does_is_in_the_standard():
    """Entities, types, measures and property sets, in the schema and the templates that the library carries."""
    ifcopenshell = pytest.importorskip("ifcopenshell", reason="ifcopenshell (extra bim) is not installed")
    from ifcopenshell.util.pset import PsetQto

    schemas = [ifcopenshell.schema_by_name(name) for name in ("IFC4X3_ADD2", "IFC4")]
    for row in PRACTICE.table("ifc_elements").rows:
        for schema in schemas:  # an IDS is held against both
            assert schema.declaration_by_name(row["entity"])
        kinds = schemas[0].declaration_by_name(f"{row['entity']}TypeEnum").enumeration_items()
        assert row["type"] in kinds
    for row in PRACTICE.table("ifc_measures").rows:
        assert all(schema.declaration_by_name(row["measure"]) for schema in schemas)
    templates = PsetQto("IFC4X3")
    for row in PRACTICE.table("ifc_properties").rows:
        properties = {one.Name: one for one in templates.get_by_name(row["set"]).HasPropertyTemplates}
        kind = properties[row["property"]].PrimaryMeasureType
        assert (kind or "IfcLabel") == row["measure"]
