"""The IDS held against models that nobody here made: no crash, nothing found that is not there, honest failures.

The models are not shipped. ``SPECGEN_OPEN_MODELS`` names a folder of IFC files, as the sample models of IFC and the
test cases of IDS, which buildingSMART International publishes.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest

from specgen.render.ids import ids_file
from specgen.render.ifc_names import SYSTEM
from tests.render.bim_examples import THREE, spec_of

FOLDER = os.environ.get("SPECGEN_OPEN_MODELS", "")
MODELS = tuple(sorted(Path(FOLDER).glob("*.ifc"))) if FOLDER else ()
pytestmark = pytest.mark.skipif(
    not MODELS, reason="SPECGEN_OPEN_MODELS names no folder of IFC files: no model that others made is tried"
)


@pytest.fixture(scope="module")
def asked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("ids") / "walls.ids"
    path.write_bytes(ids_file(spec_of(THREE)).data)
    return path


def checked(asked: Path, model: Any) -> Any:
    ids = pytest.importorskip("ifctester.ids")
    found = ids.open(str(asked))
    found.validate(model)
    return found


def test_no_model_of_others_holds_our_components_and_each_requirement_says_so(asked):
    ifcopenshell = pytest.importorskip("ifcopenshell")
    schemas = set()
    for path in MODELS:
        model = ifcopenshell.open(path)
        schemas.add(model.schema)
        wrong = [
            (path.name, one.name)
            for one in checked(asked, model).specifications
            if one.applicable_entities or (one.status and model.schema != "IFC2X3")
        ]
        assert not wrong
    assert schemas & {"IFC4", "IFC4X3"}


def test_a_component_that_others_name_without_values_fails_at_each_value_and_at_no_other(asked):
    """A covering that is classified as ours, put into a model of others."""
    ifcopenshell = pytest.importorskip("ifcopenshell")
    tried = 0
    for path in MODELS:
        model = ifcopenshell.open(path)
        if model.schema != "IFC4X3":
            continue
        tried += 1
        coping = model.create_entity("IfcCovering", GlobalId=ifcopenshell.guid.new(), PredefinedType="COPING")
        system = model.create_entity("IfcClassification", Name=SYSTEM)
        reference = model.create_entity(
            "IfcClassificationReference", Identification="coping", ReferencedSource=system
        )
        model.create_entity(
            "IfcRelAssociatesClassification",
            GlobalId=ifcopenshell.guid.new(),
            RelatedObjects=[coping],
            RelatingClassification=reference,
        )
        found = [one for one in checked(asked, model).specifications if one.applicable_entities]
        assert found and all(one.name.startswith("Coping: ") for one in found)
        reasons = {each["reason"] for one in found for wanted in one.requirements for each in wanted.failures}
        assert reasons == {"The required property set does not exist"}
    assert tried
