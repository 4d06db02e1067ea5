"""What a project states stricter than the trade sets the requirement; what it states weaker never does."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.files.marks import Mark
from specgen.model.project import Component, Parapet, Project, Record
from specgen.practice.load import load_practice
from specgen.practice.nominal import paired
from specgen.requirements.catalogue_file import CatalogueEntry, load_catalogue
from specgen.requirements.derive import _Held, _held, derive
from specgen.requirements.judge import meets
from specgen.units.quantity import Quantity, from_si, parse
from specgen.wall.place import Place, parts_of
from tests.requirements.test_derive import only, text

PRACTICE = load_practice()
MARK = Mark("p.yaml", 1, 1)
ORDERED = [one for one in load_catalogue() if one.comparison in ("at least", "at most")]
# No choice of the project: why.
NOT_CHOSEN = {
    "barrier.exposure": "the project states how long it is planned to stand, and that is the limit",
    "flashing.exposure": "the project states how long it is planned to stand, and that is the limit",
    "scupper.inlet_least": "the inlet stands between two limits; a choice as both would leave no tolerance",
    "scupper.inlet_most": "the inlet stands between two limits; a choice as both would leave no tolerance",
    "scupper.flange": "a project lists scuppers without it",
    "scupper.slope": "a project lists scuppers without it",
    "penetration.flange": "a project lists penetrations without it",
    "sealant.movement": "a project describes no sealant",
    "sealant.peel": "a project describes no sealant",
}


def chooses(entry: CatalogueEntry) -> bool:
    return any(one.split()[0] in ("choice", "stricter", "lap") for one in entry.origins)


def test_every_limit_takes_the_projects_choice_or_says_why_not() -> None:
    assert {one.name for one in ORDERED if not chooses(one)} == set(NOT_CHOSEN)


def place(role: str, attribute: str, value: object, system: str = "inch-pound") -> Place:
    kinds = PRACTICE.vocabulary.roles[role].kinds
    kind = "plywood" if role == "sheathing" else next(iter(kinds))
    if attribute == "product_standard":  # a top flashing of no sheet has none
        kind = "TPO"
    values: dict[str, Any] = {} if value is None else {attribute: value}
    if attribute == "finish_standard":  # which ones may serve depends on the metal
        values["metal"] = "aluminum"
    part = Component(role, values, dict.fromkeys(values, MARK), MARK, id=role, kind=kind)
    metal = Component(
        "coping", {"metal": "aluminum", "thickness": parse("0.040 in")}, {}, MARK, "coping", "formed metal"
    )
    studs = Component("framing", {}, {}, MARK, "framing", "wood studs")
    others = tuple(one for one in (metal, studs) if one.role != role)
    parapet = Parapet("parapet", {}, {}, MARK, name="P-1", build_up=(part, *others))
    cold = Record("site", {"climate_zone": "6A"}, {}, MARK)
    tall = Record("building", {"height": parse("30 ft")}, {}, MARK)
    project = Project(Record("project", {"units": system}, {}, MARK), cold, tall, (parapet,), "p.yaml")
    return Place(project, parapet, PRACTICE, {})


def at_first(entry: CatalogueEntry, spot: Place) -> _Held | None:
    return _held(entry, spot, parts_of(spot.parapet, entry.role)[0])


def statable() -> Iterator[CatalogueEntry]:
    for entry in ORDERED:
        field = PRACTICE.vocabulary.roles[entry.role].fields.get(entry.attribute)
        own = any(one in ("choice", "stricter") for one in entry.origins)
        if own and field is not None and at_first(entry, place(entry.role, entry.attribute, None)):
            yield entry


STATABLE = list(statable())


def test_most_of_the_catalogue_can_be_stated() -> None:
    assert len(STATABLE) > 35


def held(entry: CatalogueEntry, value: Quantity, system: str) -> _Held:
    found = at_first(entry, place(entry.role, entry.attribute, value, system))
    assert found is not None
    return found


@given(st.sampled_from(STATABLE), st.floats(1.01, 3.0), st.sampled_from(["inch-pound", "SI"]), st.booleans())
def test_the_stricter_of_practice_and_choice_governs(
    entry: CatalogueEntry, factor: float, system: str, stricter: bool
) -> None:
    plain = at_first(entry, place(entry.role, entry.attribute, None, system))
    assert plain is not None
    floor = plain.governing.value
    assert isinstance(floor, Quantity)
    up = stricter is (entry.comparison == "at least")
    size = (
        floor.value + factor
        if floor.dimension == "temperature" and up
        else floor.value * factor
        if up
        else floor.value / factor
    )
    if floor.dimension == "temperature" and not up:
        size = floor.value - factor
    value = from_si(size, floor.dimension, floor.unit)
    found = held(entry, value, system)
    assert found.governing.origin.kind == ("choice" if stricter else "practice")
    # What is printed is never weaker than the practice, nor than the choice where that is stricter.
    assert meets(found.limit.value, entry.comparison, floor)
    if stricter:
        assert meets(found.limit.value, entry.comparison, paired(value))
    assert found.floor == plain.limit


WORDS = [one for one in load_catalogue() if one.comparison == "one of"]


@pytest.mark.parametrize("entry", WORDS, ids=lambda entry: entry.name)
def test_a_choice_among_words_narrows_them(entry: CatalogueEntry) -> None:
    allowed = at_first(entry, place(entry.role, entry.attribute, None))
    assert allowed is not None and isinstance(allowed.limit.value, tuple)
    for word in PRACTICE.vocabulary.roles[entry.role].fields[entry.attribute].choices:
        if entry.role == "penetration flashing":
            continue  # listed by place, below
        found = at_first(entry, place(entry.role, entry.attribute, word))
        assert found is not None
        assert found.limit.value == ((word,) if word in allowed.limit.value else allowed.limit.value)


CASES = [
    ("coping.inner_fastener_spacing", "coping", "kind: formed metal, inner_fastener_spacing: 12 in", "12 in"),
    ("cleat.fastener_spacing", "cleat", "kind: continuous, fastener_spacing: 6 in", "6 in"),
    (
        "plaster.coping_clearance",
        "plaster",
        "kind: portland cement plaster, coping_clearance: 3/8 in",
        "3/8 in",
    ),
    ("weep.screen_opening", "weep screed", "kind: vented weep screed, screen_opening: 1/16 in", "1/16 in"),
]


@pytest.mark.parametrize(("name", "role", "values", "limit"), CASES)
def test_choices_once_lost(
    name: str, role: str, values: str, limit: str, project: Callable[..., Project]
) -> None:
    parts = {"coping": "kind: formed metal", role: values}
    assert text(only(derive(project(parts), (), PRACTICE), name)) == limit


def places(**lists: list[dict[str, str]]) -> str:
    return "".join(
        f"{key}: ["
        + ", ".join("{" + ", ".join(f"{a}: {b}" for a, b in one.items()) + "}" for one in rows)
        + "]\n    "
        for key, rows in lists.items()
    )


def test_scuppers_are_asked_for_what_holds_at_each_of_them(project: Callable[..., Project]) -> None:
    rows = [
        {
            "name": "A",
            "use": "primary",
            "width": "12 in",
            "height": "6 in",
            "outlet_drip": "3 in",
            "sleeve_family": "stainless steel",
        },
        {
            "name": "B",
            "use": "overflow",
            "width": "16 in",
            "height": "5 in",
            "outlet_drip": "2 in",
            "sleeve_family": "stainless steel",
        },
    ]
    found = derive(project({"parapet": places(scuppers=rows), "roof turn-up": "kind: TPO"}), (), PRACTICE)
    assert text(only(found, "scupper.opening")) == "5 in"
    assert text(only(found, "scupper.width")) == "12 in"
    assert text(only(found, "scupper.drip")) == "2 in"
    assert only(found, "scupper.family").limit.value == "stainless steel"
    rows[1]["sleeve_family"] = "copper"
    found = derive(project({"parapet": places(scuppers=rows), "roof turn-up": "kind: TPO"}), (), PRACTICE)
    assert found.named("scupper.family") == ()


def test_penetrations_are_closed_as_the_project_says(project: Callable[..., Project]) -> None:
    rows = [{"name": "A", "what": "pipe", "through": "roof turn-up", "sealed_by": "boot"}]
    parts = {"roof turn-up": "kind: TPO"}
    found = derive(project({"parapet": places(penetrations=rows), **parts}), (), PRACTICE)
    assert only(found, "penetration.sealed_by").limit.value == ("boot",)
    rows.append({"name": "B", "what": "pipe", "through": "roof turn-up", "sealed_by": "flange"})
    found = derive(project({"parapet": places(penetrations=rows), **parts}), (), PRACTICE)
    assert only(found, "penetration.sealed_by").limit.value == ("boot", "flange")


def test_a_choice_is_no_limit_where_nothing_asks_for_one(project: Callable[..., Project]) -> None:
    """A barrier that is tight on purpose is not asked to be open; a resistance without wind is not proven."""
    parts = {
        "barrier": "kind: self-adhered, vapor_permeance: 0.05 perm",
        "coping": "kind: formed metal, resistance_face: 200 psf",
    }
    found = derive(project(parts, zone="2A"), (), PRACTICE)
    assert found.named("barrier.vapor_permeance") == () == found.named("coping.resistance_face")
