"""The checklist: one row a requirement, one a document, each with the paragraph that asks for it."""

from __future__ import annotations

import json

import pytest

from specgen.model.document import Table, numbered
from specgen.model.plain import plain
from specgen.sections.checklist import checklist, checklist_document


@pytest.fixture
def rows(project, requirements, sections, practice, book):
    return checklist(project, requirements, sections, practice, book)


def test_one_row_a_requirement(rows, requirements, practice):
    of_requirement = [row for row in rows if row.requirement]
    assert sorted(row.number for row in of_requirement) == sorted(requirements.by_id)
    for row in of_requirement:
        requirement = requirements.by_id[row.requirement]
        assert row.method == requirement.method
        assert row.trade == practice.vocabulary.roles[requirement.role].trade
        assert (row.where == "all") is requirement.everywhere


def test_rows_name_the_paragraph_that_exists(rows, sections):
    printed = {
        (section.number, one.number) for section in sections for one in numbered(section.document.blocks)
    }
    assert all((row.section, row.paragraph) in printed for row in rows)
    assert len({row.number for row in rows}) == len(rows)


def test_documents_of_the_submittal_articles_have_rows(rows):
    items = {row.item: row.type for row in rows if not row.requirement}
    assert items["Compatibility letter of the barrier's manufacturer"] == "informational"
    assert items["Shop drawings of the coping and its fastening"] == "action"
    assert items["Warranties of the parapet work"] == "closeout"


def test_every_number_of_a_row_is_traced(rows):
    traced = [number for row in rows for number in row.trace.numbers]
    assert len(traced) > 40
    row = next(row for row in rows if row.number == "drainage.depth@P-2")
    assert (row.required, row.where) == ("at least 3/4 in (19 mm)", "P-2")
    assert [number.number for number in row.trace.numbers] == ["3/4 in", "19 mm"]


def test_the_document_has_a_table_a_section(rows, sections, project):
    document = checklist_document(rows, sections, project)
    tables = [block for block in document.blocks if isinstance(block, Table)]
    assert document.landscape
    assert len(tables) == len(sections) == 11
    for table in tables:
        assert [row[0] for row in table.rows] == [str(count + 1) for count in range(len(table.rows))]
    assert sum(len(table.rows) for table in tables) == len(rows)
    assert all(abs(sum(table.widths) - 1) < 1e-9 for table in tables)


def test_json(rows):
    content = json.loads(json.dumps(plain(rows)))
    assert content[0]["section"] == "01 25 00"
    assert len(content) == len(rows)
