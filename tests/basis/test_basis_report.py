"""The basis report is a reading of the assessment: nothing in it is its own, and it needs nothing else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from lxml import html

from specgen.assessment import Assessment
from specgen.basis import content
from specgen.design.run import everyday
from specgen.drawing.sheets import by_parapets
from specgen.model.finding import Outcome
from specgen.paths.meetings import meetings
from specgen.render.basis import CALCULATION_SHEETS, WALL_SHEETS, basis_bytes
from specgen.sections.words import requirement_words
from specgen.specification import Specification, specify
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING, FAULTY, copied

Made = tuple[Assessment, Specification, bytes]


def made(folder: Path) -> Made:
    spec = specify(read_inputs(folder, None, False).assessed())
    return spec.assessment, spec, basis_bytes(spec, everyday())


@pytest.fixture(scope="module", params=[CONFORMING, FAULTY], ids=lambda path: path.name)
def report(request: pytest.FixtureRequest) -> Made:
    return made(request.param)


def words_of(data: bytes) -> str:
    tree = html.fromstring(data.decode())
    for style in tree.iter("style"):
        style.drop_tree()
    return re.sub(r"\s+", " ", tree.text_content())


def spaced(words: str) -> str:
    return re.sub(r"\s+", " ", words)


def test_every_finding_stands_in_it_with_reason_place_and_authority(report: Made) -> None:
    assessment, _, data = report
    words = words_of(data)
    shown = [one for one in assessment.findings if one.counts or one.outcome is Outcome.WAIVED]
    assert shown
    for one in shown:
        for part in (one.message, one.reason, one.remedy, *map(str, one.sources)):
            assert spaced(part) in words
        assert f"{Path(one.mark.file).name}:{one.mark.line}" in words


def test_every_path_stands_in_it_as_a_chain(report: Made) -> None:
    assessment, _, data = report
    words = words_of(data)
    for path in assessment.paths:
        assert spaced(path.chain) in words
        assert all(spaced(change) in words for one in path.breaks for change in one.least_changes)


def test_every_requirement_stands_in_it_with_its_limit_paragraph_and_source(report: Made) -> None:
    assessment, spec, _ = report
    where = spec.paragraphs
    rows = {row.id: row for row in content.requirements(spec)}
    assert set(rows) == set(assessment.requirements.by_id)
    for name, one in assessment.requirements.by_id.items():
        assert rows[name].limit == requirement_words(one, assessment.practice, assessment.system)
        assert rows[name].source == str(one.origin.source)
        assert rows[name].paragraph == f"{where[name].section}, {where[name].number}"


def test_every_calculation_stands_in_it_with_its_lines(report: Made) -> None:
    assessment, _, data = report
    words = words_of(data)
    for by_subject in assessment.calculations.values():
        for subject in everyday():
            calc = by_subject[subject]
            assert calc.title in words
            lines = (*calc.inputs, *calc.steps, *calc.results.values())
            for line in lines:
                cells = content.line_cells(line, assessment)
                assert spaced(cells[1]) in words and spaced(cells[2]) in words
            assert all(spaced(missing) in words for missing in calc.missing)


def test_the_drawings_of_wall_and_calculations_stand_in_it(report: Made) -> None:
    _, spec, data = report
    for parapet, sheets in by_parapets(spec).items():
        for sheet in sheets:
            shown = sheet.name.removeprefix(f"{parapet} ") in (*WALL_SHEETS, *CALCULATION_SHEETS.values())
            assert (f"<figcaption>{sheet.title}</figcaption>" in data.decode()) == shown, sheet.name


def test_it_needs_no_other_file_no_network_and_no_script(report: Made) -> None:
    _, _, data = report
    tree = html.fromstring(data.decode())
    assert not list(tree.iter("script", "link", "iframe", "object", "embed", "form"))
    assert all(one.get("src").startswith("data:image/svg+xml;base64,") for one in tree.iter("img"))
    assert all(one.get("href").startswith("#") for one in tree.iter("a"))
    ids = [one.get("id") for one in tree.iter() if one.get("id")]
    assert len(ids) == len(set(ids))
    assert all(one.get("href")[1:] in ids for one in tree.iter("a"))
    assert all(one.get("alt") for one in tree.iter("img"))
    assert not [key for one in tree.iter() for key in one.attrib if key.startswith("on")]


def test_laps_and_contacts_are_in_the_matrix(report: Made) -> None:
    assessment, _, _ = report
    pairs = {part for one in meetings(assessment.project, assessment.practice) for part in one.parts}
    for parapet in assessment.project.parapets:
        for joint in parapet.transitions:
            tape = parapet.by_id(joint.word("tape") or "")
            met = (joint.first, tape.id) if tape else (joint.first, joint.second)
            if parapet.by_id(joint.first) and parapet.by_id(joint.second):
                assert f"{met[0]} and {met[1]}" in pairs


def test_the_same_project_gives_the_same_bytes() -> None:
    assert made(CONFORMING)[2] == made(CONFORMING)[2]


def test_names_of_the_project_are_no_markup(tmp_path: Path) -> None:
    hostile = '"<script>alert(1)</script>{{ 7 * 7 }}"'
    project = copied(CONFORMING, tmp_path / "p", ("name: Alder Street Offices", f"name: {hostile}"))
    data = made(project)[2]
    assert b"<script" not in data and b"&lt;script&gt;alert(1)" in data
    assert b"{{ 7 * 7 }}" in data


def test_no_folder_of_this_machine_is_named(report: Made) -> None:
    assessment, _, data = report
    assert str(Path(assessment.project.path).parent).encode() not in data
