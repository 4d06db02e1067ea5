"""The field papers are readings of the order of work, the joints, the requirements and the sections."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from specgen.assessment import assess
from specgen.field.frame import built_alike, field_words
from specgen.field.papers import field_papers
from specgen.field.tests_plan import test_paragraphs as paragraphs_of_tests
from specgen.model.document import Document, Table, numbered
from specgen.model.folded import folded
from specgen.paths.owners import owned_joints
from specgen.paths.sequence import sequence
from specgen.sections.form_text import FormText
from specgen.sections.words import requirement_words
from specgen.specification import Specification, specify
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING, REPO, copied

DEMOS = sorted(path.parent for path in (REPO / "tests" / "stated").glob("*/project.yaml"))


@cache
def made(folder: Path) -> Specification:
    return specify(read_inputs(folder, None, False).assessed())


@pytest.fixture(scope="module")
def demo() -> Specification:
    return made(CONFORMING)


def tables(document: Document) -> list[Table]:
    return [block for block in document.blocks if isinstance(block, Table)]


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_every_joint_has_exactly_one_owner_that_works_at_the_wall(folder: Path) -> None:
    assessment = made(folder).assessment
    trades = {role.trade for role in assessment.practice.vocabulary.roles.values()}
    for parapet in assessment.project.parapets:
        joints = owned_joints(parapet, sequence(parapet, assessment.practice), assessment.practice)
        known = [j for j in parapet.transitions if parapet.by_id(j.first) and parapet.by_id(j.second)]
        laps = [joint for joint in joints if joint.what == "lap"]
        assert len(laps) == len(known)
        assert len({joint.name for joint in joints}) == len(joints)
        assert all(joint.owner in trades for joint in joints)
        stated = sum(
            record.values.get(str(row["part"])) not in (None, False, "none")
            for kind, records in (
                ("corner", parapet.corners),
                ("end", parapet.ends),
                ("step", parapet.steps),
                ("joint", parapet.joints),
                ("scupper", parapet.scuppers),
                ("penetration", parapet.penetrations),
            )
            for record in records
            for row in assessment.practice.table("place_owners").where(place=kind)
        )
        assert len(joints) - len(laps) == stated


def test_the_upper_sheet_decides_who_owns_a_lap(demo: Specification) -> None:
    assessment = demo.assessment
    parapet = assessment.project.parapets[0]
    joints = owned_joints(parapet, sequence(parapet, assessment.practice), assessment.practice)
    owners = {joint.words: (joint.owner, joint.prepares) for joint in joints}
    assert owners["barrier over weep screed"] == ("air barrier installer", "plasterer")
    assert owners["drainage layer over top flashing"] == ("plasterer", "air barrier installer")


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_the_hold_points_are_those_of_the_order_of_work(folder: Path) -> None:
    spec = made(folder)
    paper = field_papers(spec)["hold-point-checklist"]
    rows = [row for table in tables(paper) for row in table.rows]
    wanted = [
        [
            (str(number), step.component, hold.component, hold.look_for)
            for number, step in enumerate(alike.sequence.steps, start=1)
            for hold in step.holds
        ]
        for alike in built_alike(spec.assessment)
    ]
    bare = field_words()("before_inspect")  # no inspection: what is measured there before the part goes on
    found = [
        [row[:4] for row in table.rows if row[0].isdecimal() and row[2] != bare] for table in tables(paper)
    ]
    assert all(found.count(one) in (1, len(found)) for one in wanted)  # said once where parapets share it
    assert all(one in wanted for one in found)
    assert len(found) <= len(wanted)
    assert all(row[5] == row[6] == "" for row in rows)  # photograph and signature are for a person
    assert wanted


def test_a_standing_wall_has_its_holds_before_the_first_layer_and_a_new_wall_has_none() -> None:
    spec = made(REPO / "tests" / "stated" / "existing-repair")
    (table,) = tables(field_papers(spec)["hold-point-checklist"])
    standing = [row for row in table.rows if not row[0].isdecimal()]
    assert table.rows[: len(standing)] == tuple(standing)
    assert [row[2] for row in standing][:2] == ["survey for hazardous materials", "stability of the parapet"]
    assert standing[0][1] == "cutting of existing work" and standing[-1][2] == "daily closure"
    printed = [
        one.para.text
        for section in spec.sections
        for one in numbered(section.document.blocks)
        if section.number == "02 41 19"
    ]
    for row in standing:
        assert f"{row[2][:1].upper()}{row[2][1:]}, before {row[1]}: {row[3]}." in printed
    wall = spec.assessment.project.parapets[0]
    new = replace(wall, name="N-1", existing=None)
    both = specify(assess(replace(spec.assessment.project, parapets=(wall, new)), spec.assessment.practice))
    of_new = tables(field_papers(both)["hold-point-checklist"])[1]
    assert len(tables(field_papers(both)["hold-point-checklist"])) == 2
    assert all(row[0].isdecimal() for row in of_new.rows)


def test_a_measured_limit_is_the_requirement_with_its_paragraph(
    demo: Specification,
) -> None:
    assessment = demo.assessment
    limit = assessment.requirements.by_id["cleat.fastener_spacing"]
    place = demo.paragraphs[limit.id]
    words = requirement_words(limit, assessment.practice, assessment.system)
    rows = tables(field_papers(demo)["hold-point-checklist"])[0].rows
    cell = next(row[4] for row in rows if row[2] == "cleat")
    assert f"({words}; {place.section}, {place.number})" in cell
    assert sum(f"{place.section}, {place.number})" in row[4] for row in rows) == 1


def test_the_test_plan_repeats_the_sections_word_for_word(
    demo: Specification,
) -> None:
    rows = [row for table in tables(field_papers(demo)["mock-up-and-test-plan"]) for row in table.rows]
    printed = {para.text for section in demo.sections for para in section.document.paragraphs()}
    assert rows and all(words in printed for _, words, *_ in rows)
    found = paragraphs_of_tests(demo.sections, FormText("field/field"))
    assert [(one.number, one.words) for one in found] == [row[:2] for row in rows]
    assert any("If noncompliant" in row[1] for row in rows)


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_the_test_plan_lists_tests_only(folder: Path) -> None:
    """Each paragraph is a test with a criterion below it, or stands below one; each criterion has room for its result."""
    for table in tables(field_papers(made(folder))["mock-up-and-test-plan"]):
        heads = [row for row in table.rows if row[0].count(".") == 2]
        for place, words, *_ in heads:
            assert words.endswith(":")
            assert any(row[0].startswith(f"{place}.") and row[1].startswith("Pass:") for row in table.rows), (
                place
            )
        assert all(any(row[0].startswith(head[0]) for head in heads) for row in table.rows)
        assert all(("pass" in row[2]) is row[1].startswith("Pass:") for row in table.rows)


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_each_blank_has_the_unit_of_its_limit(folder: Path) -> None:
    for table in tables(field_papers(made(folder))["hold-point-checklist"]):
        for line in (line for row in table.rows for line in row[4].splitlines()):
            blank = re.search(r"______ (\S+ )?\((?:at least|not more than|[\d]).*?(\S+?)[;)]", line)
            assert blank, line
            assert (blank[1] or "").strip() in ("", blank[2]) or blank[1].strip() in line.split("(", 1)[1], (
                line
            )
            assert blank[1] or blank[2].isdigit(), line


def test_the_agenda_names_each_trade_and_each_open_question() -> None:
    spec = made(REPO / "tests" / "stated" / "faulty-parapet")
    assessment = spec.assessment
    attendance, agenda = tables(field_papers(spec)["conference-agenda"])
    here = {step.trade for alike in built_alike(assessment) for step in alike.sequence.steps}
    assert here <= {name[:1].lower() + name[1:] for row in attendance.rows for name in (row[0], row[2])}
    asked = [row[2] for row in agenda.rows if row[1] == "Open questions"]
    counted = list(folded(one for one in assessment.findings if one.counts))
    assert len(asked) == len(counted) > 10
    for line, one in zip(asked, counted, strict=True):
        assert one.finding.message.split("`")[0] in line


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_a_paper_for_other_people_has_no_rule_code_no_key_and_no_status_letter(folder: Path) -> None:
    for paper in field_papers(made(folder)).values():
        cells = [cell for table in tables(paper) for row in table.rows for cell in row]
        printed = "\n".join([*(para.text for para in paper.paragraphs()), *cells])
        assert not re.search(r"\b[A-Z]{2}\d\d\b|`|\[[CSPM]: ", printed), printed


def test_every_paper_carries_the_cautions(demo: Specification) -> None:
    for paper in field_papers(demo).values():
        printed = " ".join(para.text for para in paper.paragraphs())
        assert "fall protection" in printed and "structural engineer of record" in printed


def test_what_must_hold_before_a_layer_goes_on_is_measured_before_it(demo: Specification) -> None:
    names = [one.title for one in demo.assessment.requirements.by_id.values() if one.measured_before]
    papers = field_papers(demo)
    (holds,) = [one for name, one in papers.items() if "hold-point" in name]
    found = [row for table in tables(holds) for row in table.rows if any(n in row[4] for n in names)]
    assert found
    for _, before, inspected, *_ in found:
        assert (before, inspected) in (
            ("barrier", "sheathing"),
            ("bridging tape", field_words()("before_inspect")),
        )


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_sentences_of_order_agree_with_the_order_of_work(folder: Path) -> None:
    """Where a section says to set one part before another, the order of work does the same."""
    spec = made(folder)
    roles = {role.name for role in spec.assessment.practice.vocabulary.roles.values()}
    order = re.compile(
        rf"(?:Set|Install) the ({'|'.join(roles)}) (before|after) the (?:wall )?({'|'.join(roles)})\b"
    )
    sentences = [
        match
        for section in spec.sections
        for one in numbered(section.document.blocks)
        for match in order.finditer(one.para.text)
    ]
    assert len(sentences) >= (1 if "existing" not in folder.name else 0)
    for wall in spec.assessment.walls:
        steps = [step.component for step in wall.order.steps]
        for match in sentences:
            first, then = (match[1], match[3]) if match[2] == "before" else (match[3], match[1])
            places = {
                role: [steps.index(part.id) for part in wall.parapet.all_of(role) if part.id in steps]
                for role in (first, then)
            }
            if places[first] and places[then]:
                assert min(places[first]) < min(places[then]), (wall.parapet.name, match[0])


MEASURED = re.compile(
    r".+: ______ (?:(\S+) )?\(.*?(?:at least|not more than) .+; \d\d \d\d \d\d, \d\.\d+\.\w.*\)"
)
SIZES = (
    "thickness",
    "adhesion",
    "width on each side",
    "spacing",
    "temperature",
    "height",
    "depth",
    "moisture",
)


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_what_is_measured_has_a_unit_and_a_limit_and_the_rest_is_seen(folder: Path) -> None:
    """A line asks for a number in a unit against a limit, or for a yes; it names no size without a place for it."""
    rows = [row for table in tables(field_papers(made(folder))["hold-point-checklist"]) for row in table.rows]
    for row in rows:
        for line in filter(None, row[4].split("\n")):
            found = MEASURED.fullmatch(line)
            assert found is not None and (found[1] or "count" in line), line
        assert [size for size in SIZES if size in row[3] and size.partition(" on ")[0] not in row[4]] == [], (
            row
        )


def test_a_film_is_measured_before_it_is_covered(demo: Specification, tmp_path: Path) -> None:
    """Against its limit, or where the sections name none against the report that was accepted."""

    def cell(spec: Specification) -> str:
        rows = [row for table in tables(field_papers(spec)["hold-point-checklist"]) for row in table.rows]
        return next(row[4] for row in rows if row[2] == "barrier" and "continuous film" in row[3])

    assert "dry film thickness: ______ mils (at least 40 mils; 07 27 00, 2.1." in cell(demo)
    assert "pull adhesion to the substrate: ______ psi (at least 40 psi; 07 27 00, 2.1." in cell(demo)
    own = ("        thickness: 40 mil\n        least_thickness: 40 mil\n", "")
    tested = made(copied(CONFORMING, tmp_path / "wall", own))
    assert "dry film thickness: ______ mils (at least that of the accepted test report; 07 27 00, 3." in cell(
        tested
    )
