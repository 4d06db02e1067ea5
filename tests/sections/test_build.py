"""Every requirement is stated once, at its parapets, in the right words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specgen.model.document import CrossRef, Style, numbered
from specgen.model.requirement import Limit, RequirementSet
from specgen.sections.build import build_sections
from specgen.sections.lines import SectionError
from specgen.sections.words import requirement_words
from specgen.units.quantity import parse

ROOF_LOOSE = {"kind: TPO, attachment: fully adhered": "kind: TPO, attachment: loose"}
KINDS = {
    "fluid": {"kind: self-adhered, family: acrylic adhesive": "kind: fluid-applied, family: STPE fluid"},
    "fluid with its film": {
        "kind: self-adhered, family: acrylic adhesive": "kind: fluid-applied, family: STPE fluid, "
        "thickness: 40 mil, least_thickness: 40 mil"
    },
    "flat lath over wood": {
        "kind: self-furred expanded metal lath": "kind: expanded metal lath",
        "{id: board, role: sheathing, kind: glass-mat gypsum": "{id: board, role: sheathing, kind: plywood",
    },
    "acrylic finish with a return": {
        "top_edge: casing bead": "top_edge: casing bead, finish: acrylic finish, horizontal_return: yes"
    },
    "fastened": {"kind: self-adhered, family: acrylic adhesive": "kind: mechanically fastened"},
    "paper": {"kind: self-adhered, family: acrylic adhesive": "kind: building paper"},
    "mesh": {"kind: dimpled sheet, depth: 7/16 in": "kind: mesh, depth: 7/16 in, filter_fabric: yes"},
    "mat by efficiency": {
        "kind: dimpled sheet, depth: 7/16 in": "kind: grooved mat, drainage_efficiency: 92 %",
        "{sheet: {depth: 3/4 in}, ": "{",
    },
    "no tape": {
        "      - {id: tape, role: bridging tape, kind: butyl tape, each_side: 3 in}\n": "",
        ", tape: tape": "",
    },
    "loose roof": ROOF_LOOSE,
    "fluid flashing": {
        "kind: self-adhered butyl, thickness": "kind: fluid-applied, family: PMMA fluid, thickness"
    },
    "plaster top": {
        "kind: formed metal, metal: aluminum, thickness: 0.050 in, color: dark,": "kind: plaster-covered,"
    },
    "earth": {"above_roof: 8 in": "above_earth: 6 in, above_paving: 2 in"},
    "SI": {"units: both": "units: SI"},
    "inch-pound": {"units: both": "units: inch-pound"},
    "no coping": {
        "changes: {sheet: {depth: 3/4 in}, coping: {color: light, outer_leg: 5 in}}": "changes: {}"
    },
}


def texts(section):
    return {one.para.key: one.para.text for one in numbered(section.document.blocks)}


def by_number(sections, number):
    return next(section for section in sections if section.number == number)


def test_each_requirement_is_stated_by_one_paragraph_that_prints_its_limit(sections, requirements, practice):
    stated = [name for section in sections for name in section.paragraphs]
    assert sorted(stated) == sorted(requirements.by_id)
    for section in sections:
        words = {one.number: one.para.text for one in numbered(section.document.blocks)}
        for name, place in section.paragraphs.items():
            requirement = requirements.by_id[name]
            paragraph = words[place.number]
            if not isinstance(requirement.limit.value, bool):
                assert requirement_words(requirement, practice, "both") in paragraph
            assert requirement.method in paragraph
            for parapet in () if requirement.everywhere else requirement.parapets:
                assert parapet in paragraph


@pytest.mark.parametrize("case", KINDS, ids=list(KINDS))
def test_every_kind_of_project_has_all_its_requirements_stated(changed, practice, book, case):
    project, requirements = changed(KINDS[case])
    sections = build_sections(project, requirements, practice, book)
    assert {name for section in sections for name in section.paragraphs} == set(requirements.by_id)


def test_a_requirement_stated_nowhere_stops_the_writing(project, requirements, practice, book):
    one = requirements.by_id["coping.slope"]
    more = replace(one, id="coping.shine", name="coping.shine")
    with pytest.raises(SectionError, match=r"coping\.shine: stated by no paragraph"):
        build_sections(project, RequirementSet({**requirements.by_id, more.id: more}), practice, book)


def test_a_requirement_stated_twice_stops_the_writing(project, requirements, practice, book):
    barrier = next(one for one in book.sections if one.number == "07 27 00")
    twice = replace(book, sections=(*book.sections, replace(barrier, number="07 99 00")))
    with pytest.raises(SectionError, match=r"barrier\.kind: stated by 07 27 00 barrier_kind and 07 99 00"):
        build_sections(project, requirements, practice, twice)


def test_words_that_contradict_a_yes_or_no_stop_the_writing(project, requirements, practice, book):
    one = requirements.by_id["coping.covers_width"]
    wrong = replace(one, limit=Limit("is", False))
    with pytest.raises(SectionError, match=r"says True, the requirement coping\.covers_width asks for False"):
        build_sections(project, RequirementSet({**requirements.by_id, one.id: wrong}), practice, book)


def test_where_parapets_differ_the_paragraph_is_repeated_with_its_parapets(sections):
    words = texts(by_number(sections, "09 24 00"))
    assert words["drainage_depth@P-1"] == "Drainage depth at parapet P-1: at least 7/16 in (11.2 mm)."
    assert words["drainage_depth@P-2"] == "Drainage depth at parapet P-2: at least 3/4 in (19 mm)."


def test_a_condition_that_holds_at_one_parapet_names_it(changed, practice, book):
    project, requirements = changed(
        {"coping: {color: light": "wrb: {kind: fluid-applied, family: STPE fluid}, coping: {color: light"}
    )
    words = texts(by_number(build_sections(project, requirements, practice, book), "07 27 00"))
    assert words["fluid_applied"] == "At parapet P-2: Fluid-applied membrane:"
    assert words["film_checks"].startswith("Measure the wet film")  # below its parent: not named again
    assert words["self_adhered"] == "At parapet P-1: Self-adhered sheet:"


def test_kind_decides_the_language(changed, practice, book):
    project, requirements = changed(KINDS["plaster top"])
    words = texts(by_number(build_sections(project, requirements, practice, book), "07 71 00"))
    assert "plaster_top" in words
    assert not {"hems", "no_exposed", "washers", "coping_thickness"} & set(words)


def test_references_are_live_and_name_the_number_printed(sections):
    count = 0
    for section in sections:
        number = {one.para.key: one.number for one in numbered(section.document.blocks)}
        links = [
            part
            for para in section.document.paragraphs()
            for part in para.content
            if isinstance(part, CrossRef)
        ]
        count += len(links)
        assert all(number[link.key] == link.text for link in links)
    assert count > 60


def test_the_references_article_lists_what_is_cited_and_nothing_else(sections):
    words = texts(by_number(sections, "07 27 00"))
    listed = {key.removeprefix("reference ") for key in words if key.startswith("reference ")}
    assert listed == {
        *("AAMA 711", "ASTM D1970", "ASTM D4541", "ASTM E96", "ASTM E331", "ASTM E1186", "ASTM E2178"),
        "ASTM E2357",
    }
    coping = texts(by_number(sections, "07 71 00"))
    assert "reference ANSI/SPRI/FM 4435/ES-1" in coping
    assert "reference ASTM B370" not in coping  # the sample's coping is aluminum, not copper


def test_a_cited_standard_without_a_title_stops_the_writing(project, requirements, practice, book):
    one = requirements.by_id["barrier.pull_adhesion"]
    other = replace(one, method="ASTM D9999")
    with pytest.raises(SectionError, match="ASTM D9999 is cited and has no row"):
        build_sections(project, RequirementSet({**requirements.by_id, one.id: other}), practice, book)


def test_cautions_stand_once_and_every_section_leads_to_them(sections):
    for section in sections:
        whole = "\n".join(texts(section).values())
        home = section.number == "01 40 00"
        for words in (
            "authority having jurisdiction",
            "design professional of record to confirm",
            "fall protection",
        ):
            assert whole.count(words) == (1 if home else 0), (section.number, words)
        assert home or "Cautions on the roof edge, structure, and fire: Section 01 40 00" in whole
        assert [block.style for block in section.document.blocks][-1] is Style.SECTION_END


def test_two_runs_write_the_same(project, requirements, practice, book, sections):
    assert build_sections(project, requirements, practice, book) == sections


def test_a_strict_limit_is_printed_exactly(project, requirements, practice, book):
    one = requirements.by_id["flashing.thickness"]
    other = replace(one, limit=Limit("at least", parse("0.0625 in")))
    found = build_sections(project, RequirementSet({**requirements.by_id, one.id: other}), practice, book)
    assert "at least 0.0625 in" in texts(by_number(found, "07 65 00"))["flashing_thickness"]
