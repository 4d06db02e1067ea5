"""Walls that are not the common one: standing, of concrete, with outside insulation, vented, with plaster on top."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.model.document import numbered
from specgen.practice.load import load_practice
from specgen.sections.build import SectionText, build_sections
from specgen.sections.cautions import cautions
from specgen.sections.clause_file import load_clauses
from specgen.sections.trace import TracedParagraph
from specgen.work.lint_issue import lint_issue
from tests.chain.runs import REPO
from tests.sections.written import specification

PRACTICE = load_practice()
EXISTING, PLASTER, CONCRETE = "existing-repair", "plaster-covered-top", "marine-library"
VENTED, INSULATED = "hot-humid-lowrise", "cold-continental-school"


def written(project) -> dict[str, SectionText]:
    practice = PRACTICE
    requirements = assess(project, practice).requirements
    return {
        one.number: one for one in build_sections(project, requirements, practice, load_clauses(practice))
    }


@cache
def of(name: str) -> dict[str, SectionText]:
    return written(load_project(REPO / "tests" / "stated" / name, PRACTICE))


def paragraphs(sections: dict[str, SectionText], *numbers: str) -> dict[str, str]:
    return {
        one.para.key: one.para.text
        for number in numbers or sections
        for one in numbered(sections[number].document.blocks)
    }


def all_words(sections: dict[str, SectionText]) -> str:
    return "\n".join(
        one.para.text for section in sections.values() for one in numbered(section.document.blocks)
    )


def below(sections: dict[str, SectionText], number: str, key: str) -> list[str]:
    return [text for name, text in paragraphs(sections, number).items() if name.startswith(f"{key}:")]


def test_observations_openings_and_repairs_are_printed_in_the_project_s_words():
    sections = of(EXISTING)
    wall = load_project(REPO / "tests" / "stated" / EXISTING, PRACTICE).parapets[0].existing
    assert wall is not None
    seen = below(sections, "02 41 19", "existing_observed")
    assert [text.split(",")[0] for text in seen] == [one.word("name") for one in wall.observations]
    assert seen[0] == "O-1, outer face: crack, along the top, 1/16 in wide, 2026-08-18."
    assert "31 %" in next(text for text in seen if text.startswith("M-1"))
    opened = below(sections, "02 41 19", "existing_opened_found")
    assert len(opened) == len(wall.openings)
    assert "studs sound to the probe" in opened[0]
    extents = below(sections, "02 41 19", "existing_extent")
    assert extents == [
        f"{(one.word('what') or '').capitalize()}: {one.word('where')}." for one in wall.repairs
    ]


def test_their_numbers_lead_to_the_line_of_the_project_file():
    traced: dict[str, TracedParagraph] = {one.key: one for one in of(EXISTING)["02 41 19"].trace}
    (width,) = (one for one in traced["existing_observed:C-1:1"].numbers if one.number == "1/16 in")
    assert width.origin.kind == "choice"
    file, line, _column = width.origin.key.rsplit(":", 2)
    assert (
        "O-1"
        in (REPO / "tests" / "stated" / EXISTING / "project.yaml").read_text().splitlines()[int(line) - 1]
    )
    assert file.endswith("project.yaml")


def without_openings(names: tuple[str, ...]):
    project = load_project(REPO / "tests" / "stated" / EXISTING, PRACTICE)
    wall = project.parapets[0]
    assert wall.existing is not None
    left = tuple(one for one in wall.existing.openings if one.word("name") not in names)
    return replace(
        project, parapets=(replace(wall, existing=replace(wall.existing, openings=left, repairs=())),)
    )


def test_openings_that_are_still_wanted_are_asked_of_the_contractor():
    assert below(of(EXISTING), "01 73 29", "existing_wanted") == []
    wanted = below(written(without_openings(("T-3", "T-5"))), "01 73 29", "existing_wanted")
    assert [text.split(":")[0] for text in wanted] == [
        "At the base, number of openings 1",
        "At a corner, number of openings 1",
    ]


def test_without_a_stated_extent_the_old_limits_hold():
    sections = written(without_openings(("T-6",)))
    words = paragraphs(sections)
    assert "existing_extent" not in words and "existing_change" not in words
    assert "back to the middle of the next support" in words["existing_board"]
    assert "Join new barrier to sound existing barrier" in words["existing_barrier"]


def test_a_stated_extent_and_a_missing_barrier_are_not_contradicted():
    words = all_words(of(EXISTING))
    assert "back to the middle of the next support" not in words
    assert "damage to the barrier" not in words and "sound existing barrier" not in words
    text = paragraphs(of(EXISTING), "06 16 00")["existing_board_extent"]
    place = next(
        one.number
        for one in numbered(of(EXISTING)["02 41 19"].document.blocks)
        if one.para.key == "existing_extent"
    )
    assert f"Paragraph {place}," in text
    assert "structural engineer of record" in paragraphs(of(EXISTING))["existing_framing"]
    # A top that is rebuilt keeps no blocking.
    assert "Replace existing blocking that" not in words and "down to the blocking or" not in words


def test_words_of_the_project_are_not_held_against_the_linter():
    project = load_project(REPO / "tests" / "stated" / EXISTING, PRACTICE)
    wall = project.parapets[0]
    assert wall.existing is not None
    first, *rest = wall.existing.observations
    vague = replace(first, values={**first.values, "note": "looks properly sealed, colour as required"})
    existing = replace(wall.existing, observations=(vague, *rest))
    project = replace(project, parapets=(replace(wall, existing=existing),))
    requirements = assess(project, PRACTICE).requirements
    book = load_clauses(PRACTICE)
    sections = build_sections(project, requirements, PRACTICE, book)
    assert "colour as required" in all_words({one.number: one for one in sections})
    assert lint_issue(specification(project, requirements, PRACTICE, book, sections)) == ()


def test_no_board_is_named_in_a_concrete_parapet():
    sections = of(CONCRETE)
    for number in ("07 27 00", "07 65 00", "09 24 00"):
        words = "\n".join(paragraphs(sections, number).values())
        assert not re.search(r"\bsheathing\b", words), number
    words = paragraphs(sections, "09 24 00")
    assert words["lath_supports"] == "Fasten the lath into the framing."
    assert "anchors made for that material" in words["anchors_solid"]
    assert "anchors_solid" not in paragraphs(of(PLASTER), "09 24 00")


def test_plain_stainless_steel_has_no_warranty_of_a_coating():
    assert "warranty_finish" not in paragraphs(of(CONCRETE), "07 71 00")
    assert "warranty_finish" in paragraphs(of(VENTED), "07 71 00")


@pytest.mark.parametrize(
    ("application", "printed", "gone"),
    [
        ("self-adhered", {"torch", "sheet_primer"}, {"torch_watch", "adhesive"}),
        ("cold adhesive", {"torch", "adhesive"}, {"torch_watch", "sheet_primer"}),
        ("torched", {"torch_watch", "torch_wood", "sheet_primer"}, {"torch", "adhesive"}),
    ],
)
def test_flame_and_adhesive_follow_how_the_sheet_is_bonded(application, printed, gone):
    project = load_project(REPO / "tests" / "stated" / CONCRETE, PRACTICE)
    walls = []
    for wall in project.parapets:
        parts = tuple(
            replace(one, values={**one.values, "application": application})
            if one.role == "roof turn-up"
            else one
            for one in wall.build_up
        )
        walls.append(replace(wall, build_up=parts))
    words = paragraphs(written(replace(project, parapets=tuple(walls))), "07 50 00")
    assert printed <= words.keys()
    assert not gone & words.keys()


def test_a_vented_gap_is_kept_open_at_its_top():
    words = paragraphs(of(VENTED), "09 24 00")
    assert {"vent_open", "vent_screen", "vent_counted"} <= words.keys()
    assert not {"vent_open", "vent_counted"} & paragraphs(of(CONCRETE), "09 24 00").keys()


def test_insulation_outside_the_barrier_is_told_to_the_plasterer():
    words = paragraphs(of(INSULATED), "09 24 00")
    assert {"insulation_ready", "mark_insulation", "def_gap_insulated", "related_insulation"} <= words.keys()
    assert "outside_insulation" not in words
    assert "insulation_ready" not in paragraphs(of(VENTED), "09 24 00")


METAL_WORDS = (
    "cleat",
    "loose",
    "fabricated",
    "Step between",
    "dented",
    "drip of the coping",
)


def test_a_plaster_covered_top_is_not_told_as_metal():
    words = "\n".join(paragraphs(of(PLASTER), "07 71 00", "07 92 00").values())
    assert [one for one in METAL_WORDS if one in words] == []
    plaster = paragraphs(of(PLASTER), "09 24 00")
    # A row of the submittals names an attribute by its title, whatever the wall.
    text = "\n".join(words for key, words in plaster.items() if ":" not in key)
    assert "upper edge of the plaster" not in text and "upper end of the" not in text
    assert {"top_no_fastener", "top_tied", "top_held", "top_tested", "top_calculation"} <= plaster.keys()
    assert "not more than 1 year" in paragraphs(of(PLASTER), "07 71 00")["maintenance_plaster"]


def test_a_fluid_applied_flashing_has_no_cut_sheet():
    project = load_project(REPO / "tests" / "stated" / PLASTER, PRACTICE)
    walls = []
    for wall in project.parapets:
        top = tuple(
            replace(one, kind="fluid-applied") if one.role == "top flashing" else one for one in wall.top
        )
        walls.append(replace(wall, top=top))
    words = paragraphs(written(replace(project, parapets=tuple(walls))), "07 65 00")
    assert "fluid_corner" in words and "outside_corner" not in words
    assert not any("open cut" in text for text in words.values())


@pytest.mark.parametrize("name", [EXISTING, PLASTER, CONCRETE, VENTED, INSULATED])
def test_one_section_prints_the_list_of_cautions_and_the_others_name_it(name):
    assert tuple(below(of(name), "01 40 00", "cautions")) == cautions()
    for number in of(name):
        if number != "01 40 00":
            words = paragraphs(of(name), number)["cautions"]
            assert words.startswith("Cautions on the roof edge, structure, and fire: Section 01 40 00, ")


def test_numbers_read_well_in_both_systems():
    assert "straightedge of 3 m: not more than 6 mm" in all_words(of(CONCRETE))
    assert "straightedge of 10 ft: not more than 1/4 in" in all_words(of(PLASTER))
    # What the trade counts by in round numbers is round in metric too.
    odd = ("609 mm", "102 mm", "153 mm", "91.4 m", "30.5 m", "6.1 m", "3.1 mm", "9.3 m²", "46 m²", "3.8 L")
    printed = re.findall(r"\d+(?:\.\d+)? (?:mm|m²|m|L)(?!\w)", all_words(of(CONCRETE)))
    assert len(printed) > 40
    assert set(printed).isdisjoint(odd)


ALONE = {
    "height: 30 ft": "construction_type: II-B, height: 76 ft",
    "    height: 36 in": "    outer_face: metal panel\n    height: 36 in",
    "      - {id: plaster, role: plaster, kind: portland cement plaster, thickness: 7/8 in, control_joints: yes, "
    "top_edge: casing bead}\n": "",
    "      - {id: lath, role: lath, kind: self-furred expanded metal lath}\n": "",
    "      - {id: sheet, role: drainage layer, kind: dimpled sheet, depth: 7/16 in, continuous: yes}\n": "",
    "sheet: {depth: 3/4 in}, ": "",
    "family: acrylic adhesive": "family: acrylic adhesive, low_heat_release: yes",
}


@pytest.mark.parametrize(("type_", "relied_on"), [("II-B", True), ("V-B", False)])
def test_a_barrier_that_burns_alone_proves_its_heat_release(changed, type_: str, relied_on: bool):
    project, requirements = changed(ALONE | {"height: 30 ft": f"construction_type: {type_}, height: 76 ft"})
    sections = {
        one.number: one for one in build_sections(project, requirements, PRACTICE, load_clauses(PRACTICE))
    }
    printed = paragraphs(sections, "07 27 00")
    assert (
        {"low_heat_release", "low_flame_spread", "fire_alone", "barrier_burning_report"} <= set(printed)
    ) is relied_on
    assert not {"fire_assembly", "fire_report"} & set(printed)
    if relied_on:
        assert "peak rate below 150 kW/m², total below 20 MJ/m²" in printed["low_heat_release"]
        assert "flame spread index not more than 25" in printed["low_flame_spread"]


def test_the_owner_is_told_of_ice_only_where_snow_lies_above_people():
    ice = {"maintenance_snow", "maintenance_closed", "maintenance_strike", "maintenance_salt"}
    assert (
        ice - {"maintenance_salt"} <= paragraphs(of(INSULATED), "01 40 00").keys()
    )  # the coping there is precast
    assert "pieces_slope" in paragraphs(of(INSULATED), "07 71 00")
    assert ice.isdisjoint(paragraphs(of(VENTED), "01 40 00"))


def test_what_a_warranty_does_not_exclude_names_what_is_there():
    metal, plaster = (paragraphs(of(name), "07 50 00", "07 71 00", "09 24 00") for name in (VENTED, PLASTER))
    assert {"warranty_edge", "warranty_parapet", "reroof_inlets", "maintenance_faces"} <= metal.keys()
    assert {"warranty_parapet", "maintenance_faces", "maintenance_drips"}.isdisjoint(plaster)
    assert "reroof_guard" in plaster and "reroof_flashing" in plaster


def test_air_leakage_of_the_building_has_the_limit_of_its_edition():
    project = load_project(REPO / "tests" / "stated" / INSULATED, PRACTICE)
    printed = {}
    for energy in ("IECC", "ASHRAE 90.1-2019", "ASHRAE 90.1-2022"):
        building = replace(project.building, values={**project.building.values, "energy_standard": energy})
        words = paragraphs(written(replace(project, building=building)), "01 40 00")
        (printed[energy],) = (text for key, text in words.items() if key.startswith("leakage_limit"))
    assert project.site.word("code") == "IBC 2024"
    assert {energy: "0.35 cfm/ft² at 75 Pa" in text for energy, text in printed.items()} == {
        "IECC": True,
        "ASHRAE 90.1-2019": False,
        "ASHRAE 90.1-2022": True,
    }, printed


URM = {"masonry": "unreinforced"}


@pytest.mark.parametrize(
    ("values", "key", "words"),
    [
        (
            URM | {"seismic_bracing": "installed with this work"},
            "code_bracing",
            "installed with the reroofing",
        ),
        (URM | {"seismic_bracing": "not evaluated"}, "code_bracing_asked", "Do not start the reroofing"),
        (URM | {"seismic_bracing": "compliance shown by evaluation"}, "", ""),
        ({"masonry": "reinforced", "seismic_bracing": "not evaluated"}, "", ""),
        ({"roof_diaphragm": "strengthened with this work"}, "code_diaphragm", "before the deck is covered"),
        ({"roof_diaphragm": "not evaluated"}, "code_diaphragm_asked", "Do not remove roofing"),
        ({"roof_diaphragm": "adequate by evaluation"}, "", ""),
    ],
)
def test_what_reroofing_brings_with_it_is_asked_of_the_contractor(
    values: dict[str, str], key: str, words: str
) -> None:
    project = load_project(REPO / "tests" / "stated" / EXISTING, PRACTICE)
    wall = project.parapets[0]
    assert wall.existing is not None
    standing = replace(wall.existing, values={**wall.existing.values, **values})
    printed = paragraphs(written(replace(project, parapets=(replace(wall, existing=standing),))), "01 73 29")
    asked = {
        name: text for name, text in printed.items() if name.startswith(("code_bracing", "code_diaphragm"))
    }
    assert list(asked) == ([key] if key else [])
    assert words in asked.get(key, "")
