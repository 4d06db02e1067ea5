"""The project manual: every section whole, every requirement with its paragraph, no key twice."""

from __future__ import annotations

import pytest

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.model.document import Document, Para, Style, Table, numbered
from specgen.model.folded import folded
from specgen.practice.load import load_practice
from specgen.sections.cautions import cautions
from specgen.sections.manual import manual
from specgen.specification import specify
from tests.chain.runs import CONFORMING, FAULTY


@pytest.fixture(scope="module", params=[CONFORMING, FAULTY], ids=lambda path: path.name)
def bound(request):
    practice = load_practice()
    spec = specify(assess(load_project(request.param, practice), practice))
    return spec.assessment, spec.sections, manual(spec.assessment, spec.sections, spec.paragraphs)


def tables(document: Document) -> list[Table]:
    return [block for block in document.blocks if isinstance(block, Table)]


def test_each_section_stands_in_the_manual_with_the_same_words_and_numbers(bound):
    _, sections, volume = bound
    assert len(volume.parts) == len(sections) + 2
    for section, part in zip(sections, volume.parts[:-2], strict=True):
        alone = [(one.number, one.para.text) for one in numbered(section.document.blocks)]
        assert [(one.number, one.para.text) for one in numbered(part.blocks)] == alone
        heading = part.blocks[0]
        assert isinstance(heading, Para) and heading.style is Style.SECTION_TITLE
        assert heading.text == f"Section {section.number} – {section.title}"


def test_no_key_stands_twice(bound):
    keys = [para.key for document in bound[2].documents for para in document.paragraphs() if para.key]
    assert len(keys) == len(set(keys)) > 100


def test_appendix_names_each_stated_requirement_where_it_is_stated(bound):
    _, sections, volume = bound
    places = {name: place for section in sections for name, place in section.paragraphs.items()}
    (table,) = tables(volume.parts[-2])
    assert {row[0]: (row[3], row[4]) for row in table.rows} == {
        name: (place.section, place.number) for name, place in places.items()
    }
    assert {link.key for link in table.links} == {f"{one.section} {one.key}" for one in places.values()}
    assert all("[" in row[5] for row in table.rows)  # source with status


def test_the_cautions_are_those_of_every_document(bound):
    texts = [block.text for block in bound[2].parts[-1].blocks if isinstance(block, Para)]
    assert set(cautions()) <= set(texts)


def test_waivers_and_findings_are_those_of_the_assessment(bound):
    assessment, _, volume = bound
    rows = [row for table in tables(volume.parts[-1]) for row in table.rows]
    standing = [one for one in assessment.findings if one.counts]
    assert len(rows) == len(assessment.waivers_in_force) + len(folded(standing))
    assert {one.message for one in standing} <= {row[3] for row in rows if len(row) == 5}


def test_each_part_begins_with_the_heading_that_the_contents_name(bound):
    volume = bound[2]
    for part in volume.parts:
        assert part.blocks[0].style in (Style.SECTION_TITLE, Style.HEADING)
    last = bound[1][-1].number
    note = f"Each section counts its own pages. Page {last}-2 is the second page of Section {last}."
    assert volume.contents.blocks[-1].text == note
