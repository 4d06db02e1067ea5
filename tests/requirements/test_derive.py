"""Requirements of a project: the strictest origin governs, parapets that differ get variants, SI is never weaker."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.files.marks import Mark
from specgen.model.calculation import Calculation
from specgen.model.project import Component, Parapet, Project, Record
from specgen.model.requirement import Requirement, RequirementSet
from specgen.model.source import Status
from specgen.practice.load import load_practice
from specgen.requirements.catalogue_file import load_catalogue
from specgen.requirements.derive import derive
from specgen.requirements.judge import meets
from specgen.sections.words import limit_words
from specgen.units.quantity import Quantity, from_si, parse, to_unit
from specgen.units.show import show

PRACTICE = load_practice()
METAL = "kind: formed metal, metal: aluminum"
MakeProject = Callable[..., Project]


def only(found: RequirementSet, name: str) -> Requirement:
    (requirement,) = found.named(name)
    return requirement


def text(requirement: Requirement) -> str:
    value = requirement.limit.value
    assert isinstance(value, Quantity)
    return value.text


@pytest.mark.parametrize(
    ("name", "part", "values", "limit", "kind"),
    [
        # at least: the larger governs
        ("coping.slope", "coping", METAL + ", slope: 1/2 in/ft", "1/2 in/ft", "choice"),
        ("coping.slope", "coping", METAL + ", slope: 1/8 in/ft", "1/4 in/ft", "practice"),
        ("coping.slope", "coping", METAL, "1/4 in/ft", "practice"),
        (
            "coping.slope",
            "coping",
            METAL + ", slope: 1/4 in/ft",
            "1/4 in/ft",
            "practice",
        ),  # a tie: the first named
        ("turnup.height", "roof turn-up", "kind: TPO, height: 12 in", "12 in", "choice"),
        ("turnup.height", "roof turn-up", "kind: TPO, height: 6 in", "8 in", "practice"),
        ("coping.thickness", "coping", METAL + ", outer_face_height: 6 in", "0.040 in", "practice"),
        (
            "coping.thickness",
            "coping",
            METAL + ", outer_face_height: 6 in, thickness: 0.063 in",
            "0.063 in",
            "choice",
        ),
        ("coping.thickness", "coping", METAL, "0.019 in", "practice"),
        # at most: the smaller governs
        (
            "plaster.panel_area",
            "plaster",
            "kind: portland cement plaster, panel_area: 120 ft2",
            "120 ft²",
            "choice",
        ),
        (
            "plaster.panel_area",
            "plaster",
            "kind: portland cement plaster, panel_area: 150 ft2",
            "144 ft²",
            "practice",
        ),
        ("coping.piece_length", "coping", METAL + ", piece_length: 8 ft", "8 ft", "choice"),
        ("coping.piece_length", "coping", METAL + ", piece_length: 12 ft", "10 ft", "practice"),
        # a fact of the project
        ("barrier.exposure", "barrier", "kind: self-adhered, planned_exposure: 60 days", "60 days", "choice"),
    ],
)
def test_the_strictest_origin_governs(
    name: str, part: str, values: str, limit: str, kind: str, project: MakeProject
) -> None:
    found = only(derive(project({part: values}), (), PRACTICE), name)
    assert (text(found), found.origin.kind) == (limit, kind)


def test_origins_name_their_source(project: MakeProject) -> None:
    parts = {
        "coping": METAL + ", slope: 1/2 in/ft, outer_face_height: 6 in",
        "plaster": "kind: portland cement plaster",
    }
    found = derive(project(parts), (), PRACTICE)
    choice = only(found, "coping.slope").origin
    assert choice.source.status is Status.CHOICE and choice.source.document == "project.yaml line 10"
    assert choice.key.endswith("project.yaml:10:68")
    practice = only(found, "plaster.panel_area").origin
    assert practice.key == "plaster.panel_area" and practice.source == PRACTICE.source("plaster.panel_area")
    lookup = only(found, "coping.thickness").origin
    assert (
        lookup.key == "table coping_thickness" and lookup.source == PRACTICE.table("coping_thickness").source
    )


def test_a_requirement_carries_what_its_catalogue_entry_and_field_say(project: MakeProject) -> None:
    found = only(derive(project({"barrier": "kind: fluid-applied"}), (), PRACTICE), "barrier.air_permeance")
    assert (found.id, found.role, found.attribute) == ("barrier.air_permeance", "barrier", "air_permeance")
    assert (found.method, found.condition, found.section) == ("ASTM E2178", "75 Pa", "07 27 00")
    assert (found.stage, found.evidence, found.everywhere) == ("product", "test report", True)
    assert found.parapets == ("P-1",) and found.reason.endswith(".")


def test_an_installation_requirement_names_no_test_method(project: MakeProject) -> None:
    found = derive(
        project({"plaster": "kind: portland cement plaster", "roof turn-up": "kind: TPO"}), (), PRACTICE
    )
    assert all(not one.method for one in found.by_id.values() if one.stage == "installation")


def test_parapets_with_the_same_limit_share_one_requirement(project: MakeProject) -> None:
    parts = {"coping": METAL + ", slope: 1/2 in/ft"}
    found = derive(
        project(
            parts, {"coping": METAL + ", slope: 1/2 in/ft"}, {"plaster": "kind: portland cement plaster"}
        ),
        (),
        PRACTICE,
    )
    one = only(found, "coping.slope")
    assert one.id == "coping.slope" and one.parapets == ("P-1", "P-2")
    assert one.everywhere, "the third parapet has no coping"


def test_the_same_limit_in_another_unit_is_the_same_limit(project: MakeProject) -> None:
    found = derive(
        project({"coping": METAL + ", outer_drip: 2 in"}, {"coping": METAL + ", outer_drip: 50.8 mm"}),
        (),
        PRACTICE,
    )
    assert only(found, "coping.outer_drip").parapets == ("P-1", "P-2")


def test_parapets_that_differ_get_variants(project: MakeProject) -> None:
    slopes = ["1/2 in/ft", "1/4 in/ft", "1/2 in/ft"]
    found = derive(project(*({"coping": METAL + f", slope: {slope}"} for slope in slopes)), (), PRACTICE)
    assert {one.id: one.parapets for one in found.named("coping.slope")} == {
        "coping.slope@P-1": ("P-1", "P-3"),
        "coping.slope@P-2": ("P-2",),
    }
    assert not any(one.everywhere for one in found.named("coping.slope"))
    at = found.at("coping.slope", "P-3")
    assert at is not None and at.id == "coping.slope@P-1"
    assert found.at("coping.slope", "P-4") is None


def test_a_condition_met_at_one_parapet_only(project: MakeProject) -> None:
    found = derive(project({"coping": METAL}, {"coping": "kind: stone"}), (), PRACTICE)
    metal = only(found, "coping.metal")
    assert metal.id == "coping.metal" and metal.parapets == ("P-1",) and not metal.everywhere
    assert {one.id for one in found.named("coping.kind")} == {"coping.kind@P-1", "coping.kind@P-2"}


def test_no_component_no_requirement(project: MakeProject) -> None:
    found = derive(project({"plaster": "kind: portland cement plaster"}), (), PRACTICE)
    assert {one.role for one in found.by_id.values()} == {"plaster", "joint sealant"}
    assert found.of_role("coping") == ()


@pytest.mark.parametrize(
    ("system", "calculated", "limit"),
    [
        ("inch-pound", "41.2 psf", "42 psf"),
        ("inch-pound", "41 psf", "41 psf"),
        ("inch-pound", "41.0000001 psf", "42 psf"),
        ("inch-pound", "2 kPa", "42 psf"),
        ("SI", "1.96 kPa", "2 kPa"),
        ("SI", "2.01 kPa", "2.05 kPa"),
        ("SI", "2.05 kPa", "2.05 kPa"),
        ("both", "41.2 psf", "42 psf"),
    ],
)
def test_a_calculated_limit_is_rounded_up_to_its_step(
    system: str, calculated: str, limit: str, project: MakeProject, calculate: Callable[..., Calculation]
) -> None:
    wind = calculate(
        "coping wind", resistance_face=calculated, resistance_top=calculated, resistance_inner=calculated
    )
    found = only(derive(project({"coping": METAL}, units=system), [wind], PRACTICE), "coping.resistance_face")
    assert text(found) == limit
    assert found.origin.kind == "calculation" and found.origin.key == "coping wind.resistance_face"
    assert found.origin.source.status is Status.CALCULATED


@pytest.mark.parametrize(
    ("system", "shear", "printed"),
    [
        ("SI", "3.772 kN/m", "3.78 kN/m"),
        ("SI", "3.244 kN/m", "3.25 kN/m"),
        ("both", "3.244 kN/m", "223 lbf/ft (3.25 kN/m)"),
    ],
)
def test_a_calculated_limit_is_printed_in_the_units_of_the_project(
    system: str, shear: str, printed: str, project: MakeProject, calculate: Callable[..., Calculation]
) -> None:
    """One of two limits of a paragraph stood alone, the other beside pounds, by how each happened to be rounded."""
    moments = {f"moment_{name}": "1 kN·m/m" for name in ("toward_roof", "outward")} | {"brace": "1 kN/m"}
    wind = calculate("parapet wind", shear_toward_roof=shear, shear_outward=shear, **moments)
    frame = project({"framing": "kind: cold-formed steel studs"}, units=system)
    found = only(derive(frame, [wind], PRACTICE), "framing.shear_toward_roof")
    assert limit_words(found.limit, system) == f"at least {printed}"


def test_an_unknown_calculation_sets_no_limit(project: MakeProject) -> None:
    wind = Calculation("coping wind", "t", "P-1", (), (), {}, (), "", (), missing=("wind speed",))
    assert derive(project({"coping": METAL}), [wind], PRACTICE).named("coping.resistance_face") == ()


def test_laps_come_from_the_transitions_where_they_are_stricter(project: MakeProject) -> None:
    parts = {"barrier": "kind: fluid-applied", "top flashing": "kind: self-adhered butyl"}
    for lap, limit, kind in (("6 in", "6 in", "choice"), ("3 in", "4 in", "practice")):
        joint = f"      - {{between: [top flashing, barrier], lap: {lap}}}\n"
        found = only(derive(project({**parts, "transitions": joint}), (), PRACTICE), "flashing.lap_barrier")
        assert (text(found), found.origin.kind) == (limit, kind)


def test_a_printed_si_limit_is_the_limit(project: MakeProject) -> None:
    parts = {
        "barrier": "kind: fluid-applied",
        "drainage layer": "kind: mesh",
        "plaster": "kind: portland cement plaster",
        "weep screed": "kind: vented weep screed, above_roof: 8 in",
        "roof turn-up": "kind: TPO",
        "coping": METAL + ", outer_face_height: 6 in",
    }
    plain = derive(project(parts, building="height: 30 ft"), (), PRACTICE)
    metric = derive(project(parts, units="SI", building="height: 30 ft"), (), PRACTICE)
    assert set(plain.by_id) == set(metric.by_id)
    seen = 0
    for one in (*plain.by_id.values(), *metric.by_id.values()):
        limit = one.limit.value
        if isinstance(limit, Quantity) and one.origin.key in PRACTICE.entries:
            source = PRACTICE.quantity(one.origin.key)
            assert meets(limit, one.limit.comparison, source), f"{one.id}: weaker than {source.text}"
            slack = {"abs": 1.0} if source.dimension == "temperature" else {"rel": 0.06}
            assert limit.value == pytest.approx(source.value, **slack)
            seen += 1
    assert seen > 24
    assert text(only(metric, "drainage.depth")) == "4.8 mm"
    air = only(metric, "barrier.air_permeance").limit.value
    assert isinstance(air, Quantity) and air.condition is not None and air.condition.number == 75


MARK = Mark("p.yaml", 1, 1)
FIELDS = [
    (entry, field)
    for entry in load_catalogue()
    if "choice" in entry.origins and not entry.when
    for field in [PRACTICE.vocabulary.roles[entry.role].fields.get(entry.attribute)]
    if field is not None and field.type in ("length", "area", "slope", "number")
]


def chosen(role: str, values: Mapping[str, Any], system: str) -> Project:
    kind = next(iter(PRACTICE.vocabulary.roles[role].kinds))
    part = Component(role, values, dict.fromkeys(values, MARK), MARK, id=role, kind=kind)
    parapet = Parapet("parapet", {}, {}, MARK, name="P-1", build_up=(part,))
    blank = Record("site", {}, {}, MARK)
    return Project(Record("project", {"units": system}, {}, MARK), blank, blank, (parapet,), "p.yaml")


@given(st.sampled_from(FIELDS), st.floats(1e-4, 500), st.sampled_from(["SI", "inch-pound"]))
def test_a_limit_in_the_projects_units_is_never_weaker_than_the_choice(
    what: tuple[Any, Any], size: float, system: str
) -> None:
    entry, field = what
    value = from_si(size, field.type, {"length": "in", "area": "ft2"}.get(field.type))
    found = only(derive(chosen(entry.role, {field.name: value}, system), (), PRACTICE), entry.name)
    limit = found.limit.value
    assert isinstance(limit, Quantity)
    slack = 1e-9 * abs(value.value)
    if entry.comparison == "at least":
        assert limit.value >= value.value - slack
    elif found.origin.kind == "choice":
        assert limit.value <= value.value + slack
    again = parse(show(limit, system), {limit.dimension})
    assert to_unit(again, limit.unit) == pytest.approx(limit.number, rel=1e-9)
