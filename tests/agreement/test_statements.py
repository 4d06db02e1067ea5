"""The reader is not blind: every file of an issue makes statements, of every sort."""

from __future__ import annotations

from collections import Counter

import openpyxl
import pytest

from specgen.agreement import asked, drawn, order
from specgen.agreement.counts import counts
from specgen.agreement.identity import identity
from specgen.agreement.issue import opened, read_pages
from specgen.agreement.reader import contradictions
from specgen.agreement.values import meets, printed_values
from tests.agreement.issues import found_in, written
from tests.chain.runs import CONFORMING, contents, run
from tests.conftest import LONG

EXAMPLES = ("mixed-humid-midrise", "marine-library", "plaster-covered-top")


@pytest.mark.parametrize("example", EXAMPLES if LONG else EXAMPLES[::3])
def test_every_file_speaks(example):
    issue = opened(read_pages(written(example)))
    found = [
        *identity(issue),
        *asked.row_statements(issue),
        *asked.paragraph_statements(issue),
        *asked.values_in_file(issue),
        *order.steps(issue),
        *order.laps(issue),
        *order.owners(issue),
        *counts(issue),
    ]
    assert {page.file for page in issue.pages} <= {one.file for one in found} | {"drawings.pdf"}
    assert any(page.file == "drawings.pdf" and page.sheets for page in issue.pages)
    sorts = Counter(one.about.partition(" ")[0] for one in found)
    for sort in (
        "project",
        "issue",
        "state",
        "adopted",
        "title",
        "step",
        "trade",
        "hold",
        "owner",
        "lap",
        "number",
    ):
        assert sorts[sort] >= 2, sort


def test_the_page_in_the_contents_is_no_part_of_a_title():
    issue = opened(read_pages(written(EXAMPLES[0])))
    about = "title of Section 07 71 00"
    found = [one for one in identity(issue) if (one.file, one.about) == ("project-manual.docx", about)]
    assert {one.value for one in found} == {"Copings"}
    assert any(one.text.endswith("Copings 07 71 00-1") for one in found)


@pytest.mark.parametrize("example", EXAMPLES if LONG else EXAMPLES[::3])
def test_limits_are_read_in_many_places(example):
    issue = opened(read_pages(written(example)))
    numeric = [row for row in issue.rows if next(printed_values(row.required), None)]
    assert len(numeric) > 20
    cited = list(asked.citations(issue))
    assert {citation.file.rpartition(".")[2] for citation, _, _ in cited} == {"svg", "html", "docx", "json"}
    assert len(list(order.sentences(issue, {}))) > 5
    assert len(list(drawn.stated(issue))) > 50


@pytest.mark.parametrize(
    ("size", "limit", "kept"),
    [
        ("1/2 in", "at least 1 in", False),
        ("24 mm", "at least 1 in", False),
        ("25 mm", "at least 1 in", True),
        ("11 mm", "at least 11.2 mm", True),  # 7/16 in, printed twice
        ("13 mm", "at least 16 mm", False),
        ("1 9/16 in", "at least 1 5/8 in", False),
        ("0.98 in (25 mm)", "at least 1 in (25 mm)", True),
        ("1 in (25 mm)", "at least 1 in (25 mm)", True),
        ("14 ft 6 in", "not more than 16 ft", True),
        ("0.003 cfm/ft² at 75 Pa", "not more than 0.002 cfm/ft² at 75 Pa", False),
        ("1 in", "1 in", None),
        ("1 in", "at least 40 psi", None),
    ],
)
def test_a_size_against_a_limit(size, limit, kept):
    assert meets(next(printed_values(size)), next(printed_values(limit))) is kept


def test_a_register_in_the_folder_is_read_too(tmp_path):
    out = tmp_path / "out"
    assert run("write", CONFORMING, "-o", out).status in (0, 1, 3)
    assert run("register", CONFORMING, "-o", out).status in (0, 1, 3)
    before = {str(one) for one in found_in(CONFORMING.name)}
    assert {str(one) for one in contradictions(contents(out))} == before
    path = out / "submittal-register.xlsx"
    book = openpyxl.load_workbook(path)
    cells = [one for row in book["Register"].iter_rows() for one in row]
    next(one for one in cells if one.value == "1.3.A").value = "9.9.Z"
    book.save(path)
    new = {str(one) for one in contradictions(contents(out))} - before
    assert any(path.name in one and "9.9.Z" in one for one in new)
