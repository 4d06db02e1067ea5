"""The fields of a project as a form shows them: each value with its way, its limit, what stands on it, and its echo."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from html.parser import HTMLParser
from pathlib import Path

import pytest

from specgen.assessment import Assessment
from specgen.files.yaml_reader import read_yaml_text
from specgen.intake.project import ProjectReader
from specgen.intake.worked import worked_examples
from specgen.model.project import Project, Record
from specgen.page.field_view import APART, LEFT, NOT_STATED, OPEN, STATED, FieldAddress, FieldView, decided
from specgen.page.fields import Fields, understood
from specgen.practice.load import load_practice
from specgen.render.page import page_template
from specgen.specification import specify
from specgen.units.quantity import dimensions, parse
from specgen.work.inputs import read_inputs

PRACTICE = load_practice()
KNOWN = PRACTICE.vocabulary


@lru_cache(maxsize=4)
def example(name: str) -> Assessment:
    return read_inputs(worked_examples()[name], None, False).assessed()


def assessed(text: str) -> Assessment:
    """A project of a few lines, beside an example for its practice and rules."""
    reader = ProjectReader(PRACTICE, read_yaml_text(text, "project.yaml", want=dict), "project.yaml")
    project = reader.read()
    assert not reader.problems, reader.problems
    return example("faulty-parapet").again(project)


def records(project: Project) -> Iterator[tuple[Record, str]]:
    yield from ((one, "") for one in (project.info, project.site, project.building, project.quality))
    for wall in project.parapets:
        yield from ((one, wall.name) for one in (wall, *wall.components(), *wall.transitions, *wall.places))


def every(one: Assessment) -> list[FieldView]:
    made = Fields(one, specify(one).paragraphs)
    return [view for record, parapet in records(one.project) for view in made.of(record, parapet)]


def shown(view: FieldView) -> str:
    return str(page_template("live/field.html").module.field(view, "/t/"))  # type: ignore[attr-defined]


class Elements(HTMLParser):
    """The elements of a piece of a page, and whether each is closed in its turn."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.feed(text)
        assert not self.open, self.open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))
        if tag not in ("input", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


@pytest.mark.parametrize("name", ["faulty-parapet", "existing-repair", "hot-humid-lowrise"])
def test_each_field_of_a_project_is_a_form_with_names_for_a_reader(name: str) -> None:
    ids = list[str]()
    for view in every(example(name)):
        found = Elements(shown(view)).found
        mine = [str(one["id"]) for _, one in found if "id" in one]
        ids += mine
        labels = {one["for"] for tag, one in found if tag == "label" and "for" in one}
        for tag, one in found:
            assert not {key for key in one if key == "style" or key.startswith(("on", "hx-on"))}, one
            if tag in ("input", "select") and one.get("type") in (None, "text", "date"):
                assert one["id"] in labels, one
            for target in (one.get("aria-describedby") or "").split():
                assert target in mine, target
    assert len(ids) == len(set(ids))


def test_a_value_that_is_stated_is_shown_as_it_was_typed_with_the_other_language() -> None:
    views = {view.address: view for view in every(example("faulty-parapet"))}
    wind = views[FieldAddress("site", "wind_speed")]
    assert (wind.way, wind.value, wind.echo) == (STATED, "115 mph", "115 mph = 51 m/s")
    assert {"51.41 m/s"} <= set(wind.units) and wind.checks >= 2
    site = assessed("project: {name: A}\nsite: {salt_water_distance: 12 km}\n")
    (view,) = (one for one in Fields(site).of(site.project.site) if one.address.key == "salt_water_distance")
    assert view.echo == "12 km = 7.5 mi" and view.value == "12 km"


def test_the_four_ways_are_told_apart() -> None:
    one = assessed(
        "project: {name: A}\nsite: {place: unknown, not_applicable: {salt_water_distance: far inland}}\n"
        "building: {height: 40 ft}\n"
        "parapets: [{name: P-1, build_up: [{role: barrier, kind: self-adhered}]}]\n"
    )
    views = {view.address.key: view for view in Fields(one).of(one.project.site)}
    assert views["place"].way == OPEN
    assert (views["salt_water_distance"].way, views["salt_water_distance"].reason) == (APART, "far inland")
    assert (views["code"].way, views["code"].ways[LEFT]) == (LEFT, NOT_STATED)
    (barrier,) = one.project.parapets[0].build_up
    of_it = {view.address.key: view for view in Fields(one).of(barrier, "P-1")}
    assert of_it["air_permeance"].way == LEFT
    assert of_it["air_permeance"].ways[LEFT] == "left to the sections"
    assert of_it["kind"].value == "self-adhered" and LEFT not in of_it["kind"].ways
    (name,) = (view for view in Fields(one).of(one.project.info) if view.address.key == "name")
    assert list(name.ways) == [STATED]  # what a project must state


def test_a_default_of_the_vocabulary_is_stated_by_nobody() -> None:
    one = assessed("project: {name: A}\n")
    (units,) = (view for view in Fields(one).of(one.project.info) if view.address.key == "units")
    assert (units.way, units.value) == (LEFT, "") and "taken as inch-pound" in units.help
    assert not any(choice.chosen for choice in units.choices)


def test_the_limit_is_that_of_the_paragraph_and_the_findings_stand_on_their_value() -> None:
    one = example("faulty-parapet")
    paragraphs = specify(one).paragraphs
    views = {view.address: view for view in every(one)}
    drip = views[FieldAddress("component", "outer_drip", "P-1", "coping")]
    (asked,) = (each for each in one.requirements.by_id.values() if each.name == "coping.outer_drip")
    where = paragraphs[asked.id]
    assert drip.limit is not None and drip.limit.words == "at least 1 in"
    assert drip.limit.paragraph == f"{where.section} {where.number}" and drip.limit.reason == asked.reason
    assert [each.code for each in drip.findings] == ["CP03"]
    placed = {each.code for view in views.values() for each in view.findings}
    assert {"CL03", "VD04", "PL14", "WB18", "WB01", "CP03"} <= placed  # also what is not stated at all


def test_a_value_that_is_not_expected_is_shown_with_the_reason_why() -> None:
    one = assessed("project: {name: A}\nbuilding: {height: 3000 ft}\n")
    (view,) = (each for each in Fields(one).of(one.project.building) if each.address.key == "height")
    assert view.value == "3000 ft" and view.doubt
    assert "Set aside until a reason is given" in shown(view)


def test_every_quantity_offers_its_units_and_what_it_offers_can_be_read() -> None:
    one = example("hot-humid-lowrise")
    named = set(dimensions())
    seen = 0
    for view in every(one):
        kinds = KNOWN.roles if view.address.record == "component" else KNOWN.records
        if view.input != "quantity" or view.address.record == "component":
            continue
        of = kinds[view.address.record].fields[view.address.key]
        if of.type in named and of.type != "number":
            seen += 1
            assert len(view.units) >= (1 if of.type in ("angle", "time") else 2), view
            assert all(parse(each, {of.type}).dimension == of.type for each in view.units)
    assert seen > 40


def test_what_cannot_be_used_stays_as_it_was_typed() -> None:
    one = example("faulty-parapet")
    (wind,) = (each for each in Fields(one).of(one.project.site) if each.address.key == "wind_speed")
    echoed, problem = understood(KNOWN.records["site"].fields["wind_speed"], "115", PRACTICE)
    assert not echoed and "write a speed" in problem
    again = wind.refused(STATED, "115", "", problem)
    page = shown(again)
    assert 'value="115"' in page and 'name="was" value="115 mph"' in page and 'aria-invalid="true"' in page
    assert again.id == wind.id and "write a speed" in page
    (code,) = (each for each in Fields(one).of(one.project.site) if each.address.key == "code")
    assert [each.value for each in code.refused(STATED, "IBC 2018", "", "no").choices if each.chosen] == [
        "IBC 2018"
    ]


@pytest.mark.parametrize("name", ['"><script>x()</script>', "a / b", "é – ‘", "x" * 400, "{{ base }}"])
def test_a_hostile_name_is_words(name: str) -> None:
    one = example("faulty-parapet")
    wall = replace(one.project.parapets[0], name=name)
    views = Fields(one).of(wall, name)
    page = "".join(map(shown, views))
    assert "<script" not in page and re.fullmatch(r"field-[0-9a-f]{12}", views[0].id)
    hidden = [found for tag, found in Elements(page).found if found.get("name") == "parapet"]
    assert {found["value"] for found in hidden} == {name}


def test_who_types_a_value_states_it_and_who_clears_it_does_not() -> None:
    assert decided(LEFT, LEFT, "4 in", "") == STATED
    assert decided(OPEN, OPEN, "4 in", "") == STATED
    assert decided(STATED, STATED, "", "4 in") == LEFT
    assert decided(APART, STATED, "4 in", "4 in") == APART
    assert decided(STATED, STATED, "4 in", "4 in") == STATED


def test_the_style_sheet_of_the_fields_needs_nothing_else() -> None:
    sheet = Path("templates/live/still/field.css").read_text()
    assert "url(" not in sheet and "@import" not in sheet
