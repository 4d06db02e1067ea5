"""The record of an issue and the list of changes to the next: what changed, and which input line changed it."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.model.document import Para, Style, text
from specgen.practice.load import load_practice
from specgen.sections.addendum import NO_LINE, addendum_document, compare
from specgen.sections.issue import Issue, issue_from, issue_json, issue_of
from specgen.specification import specify
from tests.chain.runs import CONFORMING


def issue(project: Path) -> Issue:
    practice = load_practice()
    assessment = assess(load_project(project, practice), practice)
    spec = specify(assessment)
    documents = {f"{one.number}.docx": one.document for one in spec.sections}
    return issue_of(assessment, documents, spec.rows, {"a.svg": "1"}, spec.clauses, {"a.svg": "P-1"})


@pytest.fixture(scope="module")
def old() -> Issue:
    return issue(CONFORMING)


@pytest.fixture(scope="module")
def new(tmp_path_factory) -> Issue:
    path = tmp_path_factory.mktemp("changed") / "project.yaml"
    words = (CONFORMING / "project.yaml").read_text(encoding="utf-8")
    assert "piece_length: 10 ft" in words
    words = words.replace("piece_length: 10 ft", "piece_length: 8 ft").replace("2026-11-02", "2026-12-01")
    path.write_text("# One line more above.\n" + words, encoding="utf-8")
    return issue(path)


def test_a_record_is_read_back_whole(old: Issue) -> None:
    data = json.loads(json.dumps(issue_json(old)))
    assert issue_json(issue_from(data)) == data
    back = issue_from(data)
    for name, document in old.documents.items():
        assert list(back.documents[name].paragraphs()) == list(document.paragraphs())
    assert not compare(old, back)


def test_a_changed_line_is_named_with_its_new_place_and_behind_each_text_it_changed(
    old: Issue, new: Issue
) -> None:
    found = compare(old, new)
    (change,) = found.inputs  # the date and the line put in above are no change of a value
    assert (change.was, change.now) == ("10 ft", "8 ft")
    number = 1 + next(
        index
        for index, line in enumerate((CONFORMING / "project.yaml").read_text("utf-8").splitlines(), start=1)
        if "piece_length: 10 ft" in line
    )
    assert change.place.startswith(f"project.yaml:{number}:")
    ids = {row.where for row in found.rows}
    assert {"coping.piece_length", "coping.joint_gap"} <= ids  # the gap through its calculation
    texts = [one for changes in found.paragraphs.values() for one in changes]
    assert {one.kind for one in texts} == {"changed"}
    for one in (*texts, *found.rows):
        assert [words.split()[0] for words in one.because] == [change.place]


def test_paragraphs_come_and_go(old: Issue) -> None:
    name, document = next(iter(old.documents.items()))
    paras = list(document.blocks)
    at = next(
        i for i, one in enumerate(paras) if isinstance(one, Para) and one.style is Style.PARAGRAPH and one.key
    )
    gone = paras[at]
    assert isinstance(gone, Para)
    paras[at] = Para(Style.PARAGRAPH, text("Something else."), "another_key")
    changed = replace(old, documents={**old.documents, name: replace(document, blocks=tuple(paras))})
    kinds = {one.kind: one for one in compare(old, changed).paragraphs[name]}
    assert kinds["deleted"].was == gone.text and kinds["added"].now == "Something else."
    assert kinds["added"].because == (NO_LINE,)


def test_rows_and_drawings_are_compared_by_name(old: Issue) -> None:
    rows = dict(old.rows)
    first = next(iter(rows))
    rows.pop(first)
    found = compare(old, replace(old, rows=rows, drawings={"a.svg": "2", "b.svg": "1"}))
    assert [(one.where, one.kind) for one in found.rows] == [(first, "deleted")]
    assert [(one.where, one.kind) for one in found.drawings] == [("a.svg", "changed"), ("b.svg", "added")]


def test_the_list_names_every_change(old: Issue, new: Issue) -> None:
    found = compare(old, new)
    document = addendum_document(found)
    cells = {
        cell for block in document.blocks if not isinstance(block, Para) for row in block.rows for cell in row
    }
    for changes in found.paragraphs.values():
        for one in changes:
            assert {one.where, one.was, one.now} <= cells
    assert document.properties.issue_date == "2026-12-01"
