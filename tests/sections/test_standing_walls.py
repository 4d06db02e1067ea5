"""The two sections on walls that stand: where they are written, what holds the work, and that each fact stands once."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.sections.build import SectionText, build_sections
from specgen.sections.clause_file import load_clauses
from specgen.work.lint_issue import lint_issue
from tests.chain.runs import REPO
from tests.sections.test_special_walls import (
    CONCRETE,
    EXISTING,
    INSULATED,
    PLASTER,
    PRACTICE,
    VENTED,
    below,
    of,
    paragraphs,
    written,
)
from tests.sections.written import specification

STANDING = ("01 73 29", "02 41 19")


@cache
def standing_wall():
    """The project with the standing wall and its requirements, which no answer of the wall changes."""
    project = load_project(REPO / "tests" / "stated" / EXISTING, PRACTICE)
    return project, assess(project, PRACTICE).requirements, load_clauses(PRACTICE)


def with_answers(project, values):
    """The project with other answers of its standing wall; None where one is not stated."""
    wall = project.parapets[0]
    assert wall.existing is not None
    answers = {name: value for name, value in {**wall.existing.values, **values}.items() if value is not None}
    existing = replace(wall.existing, values=answers)
    return replace(project, parapets=(replace(wall, existing=existing),))


def with_year(project, year: int | None, children: bool | None):
    """The record of the building with another year and use."""
    answers = {**project.building.values, "year_built": year, "child_occupied": children}
    values = {key: one for key, one in answers.items() if one is not None}
    return replace(project.building, values=values)


def stated(**values: str | None) -> dict[str, SectionText]:
    """The sections of the standing wall with other answers."""
    project, requirements, book = standing_wall()
    project = with_answers(project, values)
    return {one.number: one for one in build_sections(project, requirements, PRACTICE, book)}


@pytest.mark.parametrize("name", [EXISTING, PLASTER, CONCRETE, VENTED, INSULATED])
def test_the_sections_on_standing_walls_are_written_for_standing_walls_alone(name: str):
    assert [number for number in STANDING if number in of(name)] == (
        list(STANDING) if name == EXISTING else []
    )


def test_they_name_the_standing_walls_and_no_other():
    project = load_project(REPO / "tests" / "stated" / EXISTING, PRACTICE)
    wall = project.parapets[0]
    sections = written(replace(project, parapets=(replace(wall, name="N-1", existing=None), wall)))
    assert below(sections, "02 41 19", "parapets") == ["Parapet C-1."]
    assert "N-1" not in "\n".join(paragraphs(sections, *STANDING).values())


def test_nothing_is_cut_before_its_survey_and_its_support():
    order = list(paragraphs(stated(surveyed=None, stability=None), "02 41 19"))
    assert order.index("hazard_first") < order.index("support_release") < order.index("removal")
    order = list(paragraphs(of(EXISTING), "02 41 19"))
    assert order.index("hazard_report") < order.index("support_temporary") < order.index("removal")
    assert "hazard_first" not in order and "support_release" not in order


HOLDS = {
    "not surveyed": (
        {"surveyed": None, "hazardous_materials": "not surveyed"},
        "hazard_first",
        "hazard_report",
    ),
    "nobody says": ({"surveyed": None, "hazardous_materials": None}, "hazard_first", "hazard_covered"),
    "contradictory": ({"hazardous_materials": "not surveyed"}, "hazard_first", "hazard_report"),
    "found": ({"hazardous_materials": "found"}, "abatement_cleared", "hazard_first"),
    "nobody designs the abatement": (
        {"hazardous_materials": "found"},
        "abatement_none",
        "abatement_designer",
    ),
    "not evaluated": ({"stability": "not evaluated"}, "support_release", "support_temporary"),
    "stands": ({"stability": "stands without bracing"}, "support_stands", "support_release"),
    "braced for good": ({"stability": "permanent bracing designed"}, "support_permanent", "support_release"),
    "warranty not stated": ({"roof_warranty": None}, "roof_first", "roof_accepted"),
    "warranty in force": ({"roof_warranty": "in force"}, "roof_first", "roof_accepted"),
    "no warranty": ({"roof_warranty": "none in force"}, "roof_patch", "roof_letter"),
    "not classified": ({"work_class": None}, "code_asked", "code_class"),
}


@pytest.mark.parametrize("name", HOLDS)
def test_what_is_not_there_yet_holds_the_work(name: str):
    answers, there, absent = HOLDS[name]
    keys = paragraphs(stated(**answers), *STANDING)
    assert there in keys and absent not in keys


FOUND = {"hazardous_materials": "found"}
SECTIONS = {"asbestos": "02 82 00", "lead": "02 83 00", "polychlorinated biphenyls": "02 84 00"}


@pytest.mark.parametrize(
    ("answers", "named"),
    [
        ({**FOUND, "found_materials": ("asbestos",)}, {"asbestos"}),
        ({**FOUND, "found_materials": ("asbestos", "lead")}, {"asbestos", "lead"}),
        (FOUND, set(SECTIONS)),  # nobody says what was found
        ({"hazardous_materials": "not surveyed", "surveyed": None}, set(SECTIONS)),
        ({"hazardous_materials": None}, set(SECTIONS)),
        ({}, set()),
    ],
)
def test_what_is_not_ruled_out_is_removed_under_the_section_of_its_designer(answers, named):
    words = "\n".join(paragraphs(stated(**answers), "02 41 19").values())
    assert {one for one, number in SECTIONS.items() if f"removed under Section {number}, " in words} == named
    assert {one for one, number in SECTIONS.items() if f"Section {number}, " in words} == named


def test_what_was_found_and_who_abates_it_are_printed():
    found = {**FOUND, "found_materials": ("asbestos", "lead"), "abatement_by": "licensed designer, D-7"}
    sections = stated(**found)
    assert below(sections, "02 41 19", "hazard_found") == ["Asbestos and lead."]
    assert below(sections, "02 41 19", "abatement_designer") == ["Licensed designer, D-7."]
    order = list(paragraphs(sections, "02 41 19"))
    assert order.index("abatement_notice") < order.index("abatement_cleared") < order.index("removal")
    assert "abatement_none" not in order
    assert (
        "at least 10 days, counted as working days"
        in paragraphs(sections, "02 41 19")["abatement_notice_time"]
    )


@pytest.mark.parametrize(
    ("answers", "year", "children"),
    [
        ({**FOUND, "found_materials": ("asbestos", "lead"), "abatement_by": "licensed designer"}, 1961, True),
        ({**FOUND, "found_materials": ("polychlorinated biphenyls",)}, 1961, None),
        ({"hazardous_materials": "not surveyed", "surveyed": None, "stability": None}, None, True),
        ({"hazardous_materials": None, "roof_warranty": None, "work_class": None}, None, None),
    ],
)
def test_every_answer_of_a_standing_wall_prints_in_the_words_of_the_trade(answers, year, children):
    project, requirements, book = standing_wall()
    project = replace(with_answers(project, answers), building=with_year(project, year, children))
    sections = build_sections(project, requirements, PRACTICE, book)
    assert lint_issue(specification(project, requirements, PRACTICE, book, sections)) == ()


def hold_points(**answers: str | None) -> list[str]:
    return below(stated(**answers), "02 41 19", "holds")


def test_the_abatement_is_a_hold_point_before_plaster_is_cut():
    (abated,) = [one for one in hold_points(**FOUND) if one.startswith("Abatement")]
    assert abated == (
        "Abatement, before cutting of existing work: notice sent, hazardous material of the report removed, "
        "clearance report on site."
    )
    assert not [one for one in hold_points() if one.startswith("Abatement")]


LEAD_SAFE = {"lead_firm", "lead_renovator", "lead_occupants", "lead_ground", "lead_clean", "firm_certificate"}


@pytest.mark.parametrize(
    ("year", "children", "printed", "perhaps"),
    [
        (1961, True, True, False),
        (1961, None, False, True),
        (None, True, False, True),
        (None, False, False, False),
        (1978, True, False, False),
        (1961, False, False, False),
    ],
)
def test_lead_safe_renovation_is_asked_for_where_it_is_owed(year, children, printed, perhaps):
    project, requirements, book = standing_wall()
    project = replace(project, building=with_year(project, year, children))
    sections = {one.number: one for one in build_sections(project, requirements, PRACTICE, book)}
    keys = paragraphs(sections, "02 41 19")
    assert bool(LEAD_SAFE & keys.keys()) is (keys.keys() >= LEAD_SAFE) is printed
    assert ("lead_firm_unknown" in keys) is perhaps
    if perhaps:
        assert "built before 1978" in keys["lead_firm_unknown"]


def test_one_fact_stands_in_one_section():
    words = {number: paragraphs(of(EXISTING), number) for number in of(EXISTING)}
    every = [text for texts in words.values() for text in texts.values()]
    frame = "Cautions on the roof edge", "Section 01 40 00, Quality Requirements: qualifications"
    twice = [
        text
        for number in STANDING
        for key, text in words[number].items()
        if every.count(text) > 1 and not key.startswith("reference") and len(text.split()) > 4
    ]
    assert [text for text in twice if not text.startswith(frame)] == []
    for phrase in (
        "asbestos",
        "lead-containing",
        "closed against rain",
        "Extent of the repair",
        "plaster and lath without",
    ):
        assert [number for number in words if phrase in "\n".join(words[number].values())] == ["02 41 19"], (
            phrase
        )


def test_no_law_of_the_united_states_is_printed_for_a_wall_in_another_country():
    """Where the wall stands elsewhere the sections refer to the regulations of the place, and every reference holds."""
    project, asked, book = standing_wall()
    abroad = replace(
        project, site=replace(project.site, values={**project.site.values, "country": "Elsewhere"})
    )
    for where, law in ((project, True), (abroad, False)):
        sections = build_sections(where, asked, PRACTICE, book)
        printed = "\n".join(one.text for section in sections for one in section.document.paragraphs())
        assert ("40 CFR 61.145" in printed) is law and ("29 CFR 1926.850" in printed) is law
        assert ("CFR" in printed or "OSHA" in printed) is law
        assert ("as the regulations of the place ask" in printed) is not law
        assert "Survey for hazardous materials: thorough inspection" in printed
