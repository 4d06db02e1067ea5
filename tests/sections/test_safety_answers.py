"""Each answer that the rules on fire, guards, and falls ask for reaches the section that buys the work."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.model.project import Component, Project
from specgen.sections.build import build_sections
from specgen.sections.clause_file import load_clauses
from specgen.units.quantity import quantity
from specgen.work.lint_issue import lint_issue
from tests.chain.runs import REPO
from tests.sections.test_special_walls import INSULATED, PRACTICE, below, paragraphs, written
from tests.sections.written import specification

WOOD, STEEL, MIDRISE = "hot-humid-lowrise", INSULATED, "mixed-humid-midrise"


def project(
    name: str, parapet: dict | None = None, wood: str | None = None, studs: str = "", **building: object
) -> Project:
    """A worked example with other answers, and with other studs; None where one is not stated."""
    found = load_project(REPO / "tests" / "stated" / name, PRACTICE)
    values = {key: value for key, value in {**found.building.values, **building}.items() if value is not None}

    def treated(part: Component) -> Component:
        part = replace(part, kind=studs) if studs and part.role == "framing" else part
        asked = wood is not None and part.role in ("framing", "sheathing")
        return replace(part, values={**part.values, "fire_treatment": wood}) if asked else part

    walls = tuple(
        replace(
            one,
            build_up=tuple(map(treated, one.build_up)),
            values={key: v for key, v in {**one.values, **(parapet or {})}.items() if v is not None},
        )
        for one in found.parapets
    )
    return replace(found, building=replace(found.building, values=values), parapets=walls)


ANSWER = {"construction_type": "III-A", "wood_in_walls": "fire-retardant-treated, walls rated 2 h"}
TREATED = {"fire_treatment", "fire_answer", "fire_label", "fire_fasteners"}
TESTED = {"fire_spread", "fire_extended", "fire_front"}


def test_an_answer_on_wood_in_walls_buys_fire_retardant_treated_wood():
    sections = written(project(WOOD, **ANSWER))
    for number, what in (("06 10 00", "studs"), ("06 16 00", "sheathing")):
        printed = paragraphs(sections, number)
        assert TREATED | {"fire_certificate", "fire_values", "fire_rain"} <= printed.keys()
        assert printed["fire_treatment"] == (
            f"Fire-retardant treatment of wood {what}: AWPA U1, use category UCFA or UCFB."
        )
        assert below(sections, number, "fire_answer") == ["Fire-retardant-treated, walls rated 2 h."]
    studs, boards = paragraphs(sections, "06 10 00"), paragraphs(sections, "06 16 00")
    assert any(one.startswith("ASTM E84") for one in studs.values())  # among the references
    assert "Section 06 10 00" in boards["fire_as_studs"] and not TESTED & boards.keys()
    only_boards = paragraphs(written(project(WOOD, studs="cold-formed steel studs", **ANSWER)), "06 16 00")
    for printed in (studs, only_boards):
        assert "not more than 25, as listed" in printed["fire_spread"]
        assert "continued for 20 min more" in printed["fire_extended"]
        assert "not more than 10 1/2 ft beyond" in printed["fire_front"]


@pytest.mark.parametrize(
    ("name", "parapet", "building"),
    [
        (WOOD, {}, ANSWER),
        (MIDRISE, {"fire_exception": "noncombustible roof"}, {"nfpa_285_basis": "exception of the code"}),
        (
            MIDRISE,
            {"fire_rated": True, "wall_fire_rating": quantity(1, "h"), "fire_confirmed_by": "the owner"},
            {},
        ),
    ],
)
def test_what_an_answer_prints_is_said_once_and_in_the_words_of_the_trade(name, parapet, building):
    found = project(name, parapet, **building)
    requirements, book = assess(found, PRACTICE).requirements, load_clauses(PRACTICE)
    sections = build_sections(found, requirements, PRACTICE, book)
    assert lint_issue(specification(found, requirements, PRACTICE, book, sections)) == ()


@pytest.mark.parametrize(
    ("building", "wood", "printed"),
    [
        ({**ANSWER, "wood_in_walls": None}, None, True),  # the rule asks; the sections ask for the safe wood
        (ANSWER, "UCFB", True),
        (ANSWER, "none", False),  # the answer permits other wood
        ({"construction_type": "V-A"}, None, False),
        ({"construction_type": "V-A"}, "UCFA", True),
        ({"construction_type": None}, None, False),
    ],
)
def test_treated_wood_is_asked_for_where_the_wall_needs_it(building, wood, printed):
    sections = written(project(WOOD, wood=wood, **building))
    found = paragraphs(sections, "06 10 00", "06 16 00")
    assert (found.keys() >= TREATED - {"fire_answer"}) is printed
    assert bool(TREATED & found.keys()) is printed
    if wood in ("UCFA", "UCFB"):
        assert found["fire_treatment"].endswith(f"use category {wood}.")


def test_treated_studs_without_blocking_have_their_section():
    found = project(WOOD, **ANSWER)
    bare = replace(
        found,
        parapets=tuple(
            replace(wall, top=tuple(one for one in wall.top if one.role != "blocking"))
            for wall in found.parapets
        ),
    )
    printed = paragraphs(written(bare), "06 10 00")
    assert printed.keys() >= TREATED
    words = "\n".join(text for key, text in printed.items() if not key.startswith("reference"))
    assert "blocking" not in words.lower()


@pytest.mark.parametrize(
    ("name", "building", "parapet", "number", "key", "text"),
    [
        (STEEL, {}, {}, "07 27 00", "fire_named", "Tested assembly named by the architect of record."),
        (
            STEEL,
            {"nfpa_285": "one story with sprinklers", "nfpa_285_basis": "exception of the code"},
            {},
            "07 27 00",
            "fire_excepted_wall",
            "One story with sprinklers.",
        ),
        (
            STEEL,
            {"wood_blocking": "accepted, letter of 2 November"},
            {},
            "06 10 00",
            "blocking_answer",
            "Accepted, letter of 2 November.",
        ),
        (
            STEEL,
            {"fall_protection": "anchors laid out by the safety consultant"},
            {},
            "01 40 00",
            "fall_protection",
            "Anchors laid out by the safety consultant.",
        ),
        (
            STEEL,
            {},
            {"fire_exception": "noncombustible roof"},
            "07 27 00",
            "fire_excepted",
            "noncombustible roof.",
        ),
        (
            STEEL,
            {},
            {"fire_rated": True, "wall_fire_rating": quantity(1, "h"), "fire_confirmed_by": "the architect"},
            "07 50 00",
            "fire_facing_accepted",
            "by the architect.",
        ),
        (
            STEEL,
            {},
            {"fire_rated": True, "wall_fire_rating": quantity(1, "h")},
            "07 27 00",
            "fire_ratings",
            "1 h, the rating of the wall below it.",
        ),
    ],
)
def test_an_answer_in_words_is_printed(name, building, parapet, number, key, text):
    found = below(written(project(name, parapet, **building)), number, key)
    assert found and all(one.endswith(text) for one in found)


@pytest.mark.parametrize(
    ("guard", "key", "words"),
    [
        ("by parapet height", "guard_parapet", "at least 42 in above the finished roof"),
        ("by railing", "guard_railing", "Section 05 52 00, Metal Railings"),
        ("by roof access plan", "maintenance_plan", "roof access plan"),
        ("no access near the edge", "maintenance_no_access", "the parapet is no guard"),
    ],
)
def test_how_people_are_guarded_is_printed(guard: str, key: str, words: str):
    printed = paragraphs(written(project(WOOD, guard=guard)), "01 40 00")
    assert words in printed[key]
    others = {"guard_parapet", "guard_railing", "maintenance_plan", "maintenance_no_access"} - {key}
    assert not others & printed.keys()


def test_the_height_of_a_fire_rated_parapet_is_asked_for_and_kept():
    rated = {"fire_rated": True, "wall_fire_rating": quantity(1, "h")}
    printed = paragraphs(written(project(STEEL, rated)), "07 27 00", "07 50 00")
    assert printed["fire_height"].endswith("at least 30 in.") and printed["reroof_fire"].endswith(
        "at least 30 in."
    )


def test_an_answered_wall_is_a_tested_assembly_where_facts_are_missing():
    printed = paragraphs(written(project(STEEL, construction_type=None)), "07 27 00")
    assert {"fire_assembly", "fire_report", "fire_named"} <= printed.keys()
    by_exception = {"nfpa_285_basis": "exception of the code"}
    printed = paragraphs(written(project(STEEL, **by_exception)), "07 27 00")
    assert not {"fire_assembly", "fire_report", "fire_named"} & printed.keys()
    assert "fire_excepted_wall_kept" in printed


def test_another_country_is_told_no_law_of_this_one():
    found = project(WOOD)
    abroad = replace(found, site=replace(found.site, values={**found.site.values, "country": "Germany"}))
    assert not {"fall_work", "maintenance_falls"} & paragraphs(written(abroad), "01 40 00").keys()
