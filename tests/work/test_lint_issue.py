"""The linter of written sections: nothing on any project that can be made, and every planted fault."""

from __future__ import annotations

import os
from dataclasses import replace

import pytest

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.model.document import Span
from specgen.model.requirement import Limit
from specgen.sections.build import build_sections
from specgen.sections.clause_text import ClauseText, compile_text
from specgen.units.quantity import parse
from specgen.work.lint_issue import lint_issue, read
from tests.sections import products
from tests.sections.written import specification

WANTED = products.ALL if os.environ.get("SPECGEN_LONG") else ()
CHOSEN = tuple(enumerate(WANTED)) or products.some(30)


def test_no_remark_on_generated_projects(practice, book, tmp_path):
    found = []
    for number, kinds in CHOSEN:
        project = load_project(products.write(tmp_path, number, kinds), practice)
        requirements = assess(project, practice).requirements
        sections = build_sections(project, requirements, practice, book)
        assert len(sections) >= 10
        remarks = lint_issue(specification(project, requirements, practice, book, sections))
        found += [f"{number}: {remark}" for remark in remarks]
    assert found == []


def test_the_chosen_projects_hold_every_kind():
    for column, values in enumerate(zip(*products.ALL, strict=True)):
        assert {kinds[column] for _, kinds in CHOSEN} == set(values)


# section and key of a clause, the words planted there, and what the linter says of them
PLANTED = [
    ("07 27 00", "clean", "Remove dust as required.", "vague: `as required`"),
    ("07 27 00", "shingle", "Install the barrier properly from the bottom up.", "vague: `properly`"),
    ("07 27 00", "roll", "Roll the sheet adequately.", "vague: `adequately`"),
    ("07 27 00", "primer", "Primer: suitable for the substrate.", "vague: `suitable`"),
    ("07 27 00", "stagger", "Stagger laps where applicable.", "vague: `where applicable`"),
    ("07 27 00", "cut_edges", "Seal cut edges and/or laps.", "vague: `and/or`"),
    (
        "07 27 00",
        "wall_below",
        "Join the barrier to the wall below in a workmanlike way.",
        "vague: `workmanlike`",
    ),
    (
        "07 27 00",
        "repair",
        "Repair punctures to the satisfaction of the Architect.",
        "vague: `to the satisfaction`",
    ),
    ("07 27 00", "transition", "Transition sheet: approved equal.", "vague: `approved equal`"),
    ("07 27 00", "prime", "Prime if necessary.", "vague: `if necessary`"),
    ("07 65 00", "shingle", "Lap sheets of vapour barrier in shingle order.", "British spelling: `vapour`"),
    ("07 65 00", "fishmouths", "Cut the moulding out.", "British spelling: `moulding`"),
    ("07 65 00", "order", "The flashing shall be installed last.", "`shall`: write the imperative"),
    ("07 65 00", "clean", "Surfaces must be clean.", "indirect: write the imperative"),
    ("07 65 00", "prime", "The installer is required to prime.", "indirect: write the imperative"),
    ("07 65 00", "roll", "Roll [once] [again].", "unresolved choice"),
    ("07 65 00", "edge_sealant", "Edge sealant: ____.", "unresolved choice"),
    ("07 65 00", "corners", "Corners: TBD.", "unresolved choice"),
    ("07 65 00", "repair", "Repair each puncture. Patch each cut.", "more than one requirement"),
    ("07 65 00", "corners_first", "Seal the corners; lap the lengths.", "more than one requirement"),
    ("07 71 00", "hems", "Hem each edge two inches.", "a number in words: `two inches`"),
    ("07 71 00", "washers", "Washers: of the Washvennic line.", "a name: `Washvennic`"),
    ("07 71 00", "joint_sealant", "Joint sealant: the Orlumic product.", "a name: `Orlumic`"),
    ("07 71 00", "cleat_line", "Set the cleat with Grellifax.", "a name: `Grellifax`"),
    ("07 71 00", "engage", "Hook the leg into the cleat®.", "a trademark sign"),
    ("07 71 00", "separate", "Dissimilar metals are separated.", "no command"),
    ("07 71 00", "clean", "The coping is clean before completion.", "no command"),
    ("07 71 00", "replace", "Dented pieces go back to the shop.", "no command"),
    (
        "07 71 00",
        "measure",
        "{{ section('07 71 23') }}: measure first.",
        "Section 07 71 23, which is not issued",
    ),
    ("07 71 00", "loose_pieces", "Tie: see Section 07 65 00, Flashings.", "another title"),
    ("07 71 00", "tested_assembly", "Cleat: by Section 09 99 99.", "Section 09 99 99, which is not issued"),
    (
        "07 71 00",
        "plaster_free",
        "Drip: by Section 01 40 00, Quality Requirements, Paragraph 9.9.Z.",
        "refers to 9.9.Z of Section 01 40 00",
    ),
    ("09 24 00", "score", "Score: {{ at_least('field.experience') }}.", "prints `field.experience`"),
    ("09 24 00", "frozen", "Dry: {{ at_most('field.wood_moisture') }}.", "prints `field.wood_moisture`"),
    ("09 24 00", "mark_supports", "Round edges over which a membrane bends.", "says again what 06 10 00"),
    (
        "09 24 00",
        "lime",
        "Length of each piece: {{ at_most('field.storage_high') }}.",
        "sets another value for",
    ),
    ("09 24 00", "continuous_panel", "Finish each panel neatly.", "vague: `neatly`"),
    ("09 24 00", "protect", "Minimize drying of plaster.", "vague: `minimize`"),
    ("09 24 00", "open_outlets", "Use the best sealant at outlets.", "vague: `best`"),
    ("09 24 00", "cracks", "Cracks, colour, and texture: as the mock-up.", "British spelling: `colour`"),
    ("09 24 00", "storage_cement", "Cement should lie under cover.", "no command"),
    ("09 24 00", "storage_lath", "Store lath per Lathkeeper instructions.", "a name: `Lathkeeper`"),
]


@pytest.fixture(scope="module")
def with_faults(project, requirements, practice, book):
    """The sample with every fault of the list in it at once; each is looked for at its own clause."""
    words = {(section, key): text for section, key, text, _ in PLANTED}

    def planted(section, clause):
        text = words.get((section.number, clause.key))
        compiled = clause.text
        if text is not None:
            compiled = compile_text(text) if "{" in text else ClauseText(text)
        sub = tuple(planted(section, one) for one in clause.sub)
        return replace(clause, text=compiled, sub=sub)

    sections = tuple(
        replace(
            section,
            parts={
                part: tuple(
                    replace(article, clauses=tuple(planted(section, one) for one in article.clauses))
                    for article in articles
                )
                for part, articles in section.parts.items()
            },
        )
        for section in book.sections
    )
    faulty = replace(book, sections=sections)
    written = build_sections(project, requirements, practice, faulty)
    issue = specification(project, requirements, practice, faulty, written)
    return issue, lint_issue(issue)


@pytest.mark.parametrize(
    ("section", "key", "words", "message"), PLANTED, ids=[f"{a} {b}" for a, b, *_ in PLANTED]
)
def test_a_planted_fault_is_found_at_its_clause(with_faults, section, key, words, message):
    issue, remarks = with_faults
    printed = {
        one.place for text in issue.sections if text.number == section for one in read(text) if one.key == key
    }
    assert printed, f"{section} {key} is not printed"
    assert [one for one in remarks if one.key in printed and message in one.message]


def test_the_sample_has_no_remark(project, requirements, practice, book, sections):
    assert lint_issue(specification(project, requirements, practice, book, sections)) == ()


@pytest.fixture
def issue(project, requirements, practice, book, sections):
    return specification(project, requirements, practice, book, sections)


def edited(issue, number, key, edit):
    """The issue with one printed paragraph changed, and its traced numbers with it."""
    out = []
    for section in issue.sections:
        if section.number == number:
            blocks = []
            for block in section.document.blocks:
                if getattr(block, "key", "") == key:
                    block = replace(block, content=(Span(edit(block.text)),))
                blocks.append(block)
            trace = tuple(
                replace(one, numbers=tuple(replace(n, number=edit(n.number)) for n in one.numbers))
                if one.key == key
                else one
                for one in section.trace
            )
            document = replace(section.document, blocks=tuple(blocks))
            section = replace(section, document=document, trace=trace)
        out.append(section)
    return replace(issue, sections=tuple(out))


def without(issue, number, key):
    out = []
    for section in issue.sections:
        if section.number == number:
            blocks = tuple(one for one in section.document.blocks if getattr(one, "key", "") != key)
            section = replace(section, document=replace(section.document, blocks=blocks))
        out.append(section)
    return replace(issue, sections=tuple(out))


@pytest.mark.parametrize(
    ("number", "key", "old", "new", "message"),
    [
        ("07 71 00", "outer_drip", "25 mm", "24 mm", "`24 mm` is weaker"),
        ("09 24 00", "weep_flange", "3 1/2 in", "3 in", "`3 in` is weaker"),
        ("07 71 00", "piece_length", "10 ft", "12 ft", "`12 ft` is weaker"),
        ("06 10 00", "moisture_pass", "19 %", "21 %", "`21 %` is weaker"),
        ("09 24 00", "plaster_thickness", " (22 mm)", "", "one system of units alone"),
        ("09 24 00", "panel_area", " (13.4 m²)", "", "one system of units alone"),
        ("07 27 00", "pull_rate", "500 ft² (", "500 (", "has no unit"),
        ("07 65 00", "lap_barrier", "4 in (", "4 (", "has no unit"),
    ],
)
def test_a_wrong_number_is_found(issue, number, key, old, new, message):
    section = next(one for one in issue.sections if one.number == number)
    before = next(one.text for one in read(section) if one.key == key)
    assert old in before, before
    changed = edited(issue, number, key, lambda words: words.replace(old, new))
    assert any(message in one.message for one in lint_issue(changed)), lint_issue(changed)


def test_units_of_another_system_are_found(issue):
    assessment = issue.assessment
    info = replace(assessment.project.info, values={**assessment.project.info.values, "units": "SI"})
    project = replace(assessment.project, info=info)
    other = replace(issue, assessment=replace(assessment, project=project))
    assert any("is not in the project's units (SI)" in one.message for one in lint_issue(other))


def test_a_standard_that_is_cited_and_not_listed_is_found(issue):
    messages = [one.message for one in lint_issue(without(issue, "07 27 00", "reference ASTM E2178"))]
    assert "ASTM E2178 is cited and not listed under References" in messages


def test_a_standard_that_is_listed_and_not_cited_is_found(issue):
    changed = edited(issue, "07 92 00", "guide", lambda _words: "Install sealants by hand.")
    messages = [one.message for one in lint_issue(changed)]
    assert "ASTM C1193 is listed under References and cited nowhere" in messages


def test_a_live_reference_to_nowhere_is_found(issue):
    messages = [one.message for one in lint_issue(without(issue, "07 27 00", "adhesion"))]
    assert "refers to `adhesion`, which is not printed" in messages


def test_two_ways_to_specify_one_attribute_are_found(issue):
    depth = next(one for one in issue.assessment.requirements.by_id.values() if one.name == "drainage.depth")
    both = replace(
        depth, id="drainage.efficiency", name="drainage.efficiency", limit=Limit("at least", parse("90 %"))
    )
    requirements = replace(
        issue.assessment.requirements, by_id={**issue.assessment.requirements.by_id, both.id: both}
    )
    section = next(one for one in issue.sections if one.number == "09 24 00")
    blocks = tuple(
        replace(block, requirements=("drainage.efficiency",))
        if getattr(block, "key", "") == "drainage_kind"
        else block
        for block in section.document.blocks
    )
    changed = replace(section, document=replace(section.document, blocks=blocks))
    others = tuple(one for one in issue.sections if one.number != "09 24 00")
    assessment = replace(issue.assessment, requirements=requirements)
    found = lint_issue(replace(issue, sections=(*others, changed), assessment=assessment))
    assert any("specifies by performance what" in one.message for one in found)
