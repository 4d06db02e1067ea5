"""An office's clauses over those that ship: replaced, added, suppressed; each told, and held to the same rules."""

from __future__ import annotations

import json

import pytest

from specgen.files.marks import InputError
from specgen.sections.build import build_sections
from specgen.sections.clause_file import load_clauses
from specgen.work.lint_issue import SUPPRESSED, lint_issue, read
from tests.chain.runs import CONFORMING, run
from tests.sections.written import specification

OFFICE = """\
section: 07 71 00
replace:
  hems: {when: "metal('coping')", text: "Hem each edge that can be touched."}
  coping_thickness: {states: coping.thickness, text: "Sheet thickness{{ where }}: {{ limit }}."}
add:
  - {after: hems, key: office_label, when: "metal('coping')", text: "Label each piece on its hidden side."}
  - {after: protection, key: office_first, text: "Protect the roof below the parapet."}
suppress:
  samples: the office accepts photographs instead
"""
WHOLE = """\
number: 07 99 00
title: Office Work
roles: [coping]
trade: sheet-metal worker
general:
  - article: Summary
    key: summary
    paragraphs:
      - {key: includes, text: "Section includes: work of the office."}
products: []
execution: []
"""


@pytest.fixture
def over(tmp_path):
    def write(**files):
        for name, words in files.items():
            (tmp_path / f"{name}.yaml").write_text(words)
        return tmp_path

    return write


@pytest.fixture
def written(project, requirements, practice):
    def write(folder):
        book = load_clauses(practice, over=folder)
        sections = build_sections(project, requirements, practice, book)
        return book, specification(project, requirements, practice, book, sections)

    return write


def texts(issue, number):
    section = next(one for one in issue.sections if one.number == number)
    return {one.key: one.text for one in read(section)}


def test_clauses_are_replaced_added_and_suppressed(over, written):
    book, issue = written(over(coping=OFFICE))
    words = texts(issue, "07 71 00")
    assert words["hems"] == "Hem each edge that can be touched."
    assert words["coping_thickness"].startswith("Sheet thickness: at least 0.050 in")
    keys = list(words)
    assert keys.index("office_label") == keys.index("hems") + 1
    assert keys.index("office_first") == keys.index("protection") + 1
    assert "samples" not in words
    changes = [(one.what, one.key, one.mark.line) for one in book.changes]
    assert ("suppressed", "samples", 9) in changes and ("added", "office_label", 6) in changes
    assert lint_issue(issue) == ()


def test_a_whole_section_is_added(over, written):
    book, issue = written(over(own=WHOLE))
    assert [one.number for one in issue.sections][-2:] == ["07 99 00", "09 24 00"]
    assert [one.what for one in book.changes] == ["added"]


def test_a_suppressed_clause_that_carried_a_requirement_is_told(over, written):
    _, issue = written(over(a="section: 07 71 00\nsuppress: {slope: decided on the drawings}\n"))
    (remark,) = lint_issue(issue)
    assert f"{SUPPRESSED} coping.slope" in remark.message
    assert str(remark.mark).endswith("a.yaml:2:12")
    assert "coping.slope" not in next(one for one in issue.sections if one.number == "07 71 00").paragraphs


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ("section: 07 71 00\nsupress: {}\n", "did you mean `suppress`"),
        ("section: 07 71 01\n", "did you mean `07 71 00`"),
        ("section: 07 71 00\nsuppress: {hem: why}\n", "did you mean `hems`"),
        ("section: 07 71 00\nsuppress: {hems: ''}\n", "suppressed without a reason"),
        ("section: 07 71 00\nsuppress: {hems: 3}\n", "suppressed without a reason"),
        ("section: 07 71 00\nsuppress: [hems]\n", "`suppress` is no mapping"),
        ("section: 07 71 00\nreplace: {hems: words}\n", "`hems` is no mapping"),
        ("section: 07 71 00\nreplace: {hems: {text: Hem 3 in.}}\n", "the number `3` is written"),
        ("section: 07 71 00\nreplace: {hems: {text: '{{ limit.__class__ }}'}}\n", "not allowed in a clause"),
        ("section: 07 71 00\nreplace: {hems: {text: '{% for x in limit %}x{% endfor %}'}}\n", "not allowed"),
        ("section: 07 71 00\nreplace: {slope: {text: Slope it.}}\n", "add `states: coping.slope`"),
        ("section: 07 71 00\nadd: [{after: hmes, key: a, text: Do it.}]\n", "did you mean `hems`"),
        ("section: 07 71 00\nadd: [{after: hems, key: slope, text: Do it.}]\n", "used twice"),
        ("section: 07 71 00\nsuppress: {field_tests: why}\n", "no clause `field_tests`"),
        ("section: 07 71 00\nsuppress: {slope_toward: why}\n", "no paragraph `slope_toward`"),
        (WHOLE.replace("07 99 00", "07 71 00"), "ships with specgen"),
        (f"section: 07 71 00\nreplace: {{hems: {{text: '{'x' * 2001}'}}}}\n", "at most 2000"),
    ],
)
def test_a_faulty_overlay_is_refused_and_located(over, practice, words, message):
    with pytest.raises(InputError, match=message):
        load_clauses(practice, over=over(a=words))


def test_an_empty_folder_is_refused(over, practice):
    with pytest.raises(InputError, match="holds no clause file"):
        load_clauses(practice, over=over())


def test_the_manifest_says_which_clause_came_from_where(over, tmp_path):
    folder = over(coping=OFFICE)
    done = run("write", CONFORMING, "-o", tmp_path / "out", "--clauses", folder, "--strict")
    assert done.status == 0, done.err
    data = json.loads((tmp_path / "out" / "manifest.json").read_text())["clauses"]
    assert data["shipped"] > 700
    hems = next(one for one in data["office"] if one["key"] == "hems")
    assert (hems["section"], hems["what"]) == ("07 71 00", "replaced")
    assert (hems["mark"]["file"], hems["mark"]["line"]) == ("coping.yaml", 3)
    suppressed = next(one for one in data["office"] if one["what"] == "suppressed")
    assert suppressed["reason"] == "the office accepts photographs instead"


def test_strict_writes_nothing_and_lists_the_remarks(over, tmp_path):
    folder = over(a="section: 07 71 00\nreplace: {hems: {text: Hem the edges properly.}}\n")
    done = run("write", CONFORMING, "-o", tmp_path / "out", "--clauses", folder, "--strict")
    assert done.status == 1
    assert "vague: `properly`" in done.err and "1 remark; nothing was written." in done.err
    assert not (tmp_path / "out").exists()


def test_clauses_that_cannot_be_read_end_with_2(over, tmp_path):
    folder = over(a="section: 07 71 00\nreplace: {hems: {text: Hem 3 in.}}\n")
    done = run("write", CONFORMING, "-o", tmp_path / "out", "--clauses", folder)
    assert done.status == 2
    assert "a.yaml:2:24" in done.err and not (tmp_path / "out").exists()


def test_a_suppressed_requirement_is_written_and_ends_with_1(over, tmp_path):
    folder = over(a="section: 07 71 00\nsuppress: {slope: decided on the drawings}\n")
    done = run("write", CONFORMING, "-o", tmp_path / "out", "--clauses", folder)
    assert done.status == 1
    assert SUPPRESSED in done.err and (tmp_path / "out" / "manifest.json").exists()
