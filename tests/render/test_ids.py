"""The IDS file asks what the requirements ask: every one of them or a reason, each bound, each place."""

from __future__ import annotations

from functools import cache
from importlib.util import find_spec
from pathlib import Path

import pytest
from lxml import etree

from specgen.model.requirement import Requirement
from specgen.render.ids import IDS, XS, Ids, ids_file
from specgen.render.ifc_names import modelled
from specgen.specification import Specification
from specgen.units.quantity import Quantity
from tests.conftest import LONG
from tests.render.bim_examples import PRACTICE, PROJECTS, THREE, spec_of

EVERY = tuple(sorted(PROJECTS.iterdir()))
TRIED = EVERY if LONG else (THREE,)
NAMES = {"i": IDS, "x": XS}


@cache
def made(folder: Path) -> tuple[Specification, Ids]:
    return spec_of(folder), ids_file(spec_of(folder))


def found(ids: Ids, identifier: str) -> list[etree._Element]:
    root = etree.fromstring(ids.data)
    return [one for one in root.findall(".//i:specification", NAMES) if one.get("identifier") == identifier]


@pytest.mark.parametrize("folder", TRIED, ids=lambda one: one.name)
def test_every_requirement_is_asked_for_or_left_out_with_a_reason(folder):
    spec, ids = made(folder)
    left = [one.id for one in ids.left_out]
    assert sorted([*ids.asked, *left]) == sorted(spec.assessment.requirements.by_id)
    assert all(one.why for one in ids.left_out)
    assert all(found(ids, identifier) for identifier in ids.asked)


def _bound(asked: Requirement, one: etree._Element) -> None:
    """The value of a specification is the limit of its requirement, in the unit of the standard."""
    limit, values = asked.limit, one.findall("i:requirements/i:property/i:value", NAMES)
    if isinstance(limit.value, Quantity):
        how = {"at least": "minInclusive", "at most": "maxInclusive"}[limit.comparison]
        (bound,) = values[0].findall(f"x:restriction/x:{how}", NAMES)
        expected = modelled(PRACTICE, limit.value)
        assert expected is not None
        assert float(bound.get("value", "")) == pytest.approx(expected.value, rel=1e-12)
        return
    words = [
        str(node.text or node.get("value"))
        for value in values
        for node in value.iterfind(".//*", NAMES)
        if (node.text and node.text.strip()) or node.get("value")
    ]
    wanted = limit.value if isinstance(limit.value, tuple) else (limit.value,)
    assert words == [str(each).lower() if isinstance(each, bool) else str(each) for each in wanted]


@pytest.mark.parametrize("folder", TRIED, ids=lambda one: one.name)
def test_each_bound_and_each_list_of_words_is_that_of_its_requirement(folder):
    spec, ids = made(folder)
    for identifier in ids.asked:
        for one in found(ids, identifier):
            _bound(spec.assessment.requirements.by_id[identifier], one)


def test_a_requirement_of_some_parapets_is_asked_at_these_alone():
    _, ids = made(THREE)
    (one,) = found(ids, "coping.thickness@P-1")
    held = [each.get("value") for each in one.findall("i:applicability/i:property//x:enumeration", NAMES)]
    assert held == ["P-1", "P-3"]
    assert not found(ids, "coping.slope")[0].findall("i:applicability/i:property", NAMES)


def test_a_temperature_is_in_kelvin_and_a_permeance_in_a_unit_that_checkers_can_compare():
    _, ids = made(THREE)
    bounds = {
        key: float(found(ids, key)[0].find(".//x:restriction/*", NAMES).get("value"))
        for key in ("flashing.service_temperature", "barrier.vapor_permeance")
    }
    assert bounds["flashing.service_temperature"] == pytest.approx((240 - 32) / 1.8 + 273.15)
    assert bounds["barrier.vapor_permeance"] == pytest.approx(
        572.135, rel=1e-5
    )  # NIST SP 811: 57.2135 a perm


def test_instructions_say_why_and_where_it_comes_from():
    _, ids = made(THREE)
    (one,) = found(ids, "barrier.air_permeance")
    words = one.find("i:requirements/i:property", NAMES).get("instructions")
    assert "by ASTM E2178" in words and "Source: IECC 2021" in words
    assert one.get("instructions") in words


@pytest.mark.skipif(
    find_spec("ifctester") is None, reason="ifctester, which carries the schema of IDS, is not installed"
)
@pytest.mark.parametrize("folder", TRIED, ids=lambda one: one.name)
def test_the_file_is_valid_by_the_published_schema(folder, tmp_path):
    xmlschema = pytest.importorskip("xmlschema")
    spec = find_spec("ifctester")
    assert spec is not None and spec.submodule_search_locations
    schema = xmlschema.XMLSchema(str(Path(spec.submodule_search_locations[0]) / "ids.xsd"))
    _, ids = made(folder)
    path = tmp_path / "walls.ids"
    path.write_bytes(ids.data)
    schema.validate(str(path))
    path.write_bytes(ids.data.replace(b"<title>", b"<titel>").replace(b"</title>", b"</titel>"))
    assert not schema.is_valid(str(path))  # the schema is one that refuses


def test_the_same_project_makes_the_same_bytes():
    spec, ids = made(THREE)
    assert ids_file(spec).data == ids.data
