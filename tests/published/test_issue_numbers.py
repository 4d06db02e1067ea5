"""Every number with a unit in the files of an issue leads to a requirement, a practice value, a stated value or a
calculation, and a limit reads the same wherever it is printed.

Source: the files themselves, read by python-docx, openpyxl and as text; the finder of numbers in ``issues`` is
another one than the program's own. Obtained: run here.
"""

from __future__ import annotations

import html
import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import docx
import openpyxl
import pytest

from specgen.practice.load import load_practice
from specgen.units.quantity import Quantity
from specgen.units.show import show
from tests.chain.runs import REPO, run
from tests.published.issues import CONFORMING, Measure, issued, measures, only_long, paragraphs
from tests.render.word_reading import lines


@pytest.fixture(params=CONFORMING)
def name(request: pytest.FixtureRequest) -> str:
    only_long(request.param)
    return str(request.param)


def trace(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((issued(name) / "trace.json").read_text("utf-8"))
    return found


def limits(name: str) -> list[dict[str, Any]]:
    """The requirements whose limit has a number with a unit."""
    return [one for one in trace(name)["requirements"] if measures(one["limit"])]


@cache
def specified(name: str) -> frozenset[Measure]:
    """What a specification may print: limits, and the practice values that its paragraphs name."""
    data = trace(name)
    words = [one["limit"] for one in data["requirements"]]
    words += [n["number"] for s in data["sections"] for p in s["paragraphs"] for n in p["numbers"]]
    words += [n["number"] for row in data["checklist"] for n in row["trace"]["numbers"]]
    return frozenset(one for some in words for one in measures(some))


@cache
def known(name: str) -> frozenset[Measure]:
    """What a report may print besides: values of the project file, practice values, calculations."""
    project = REPO / "tests" / "stated" / name
    system = re.search(r"units: *(.*)", (project / "project.yaml").read_text("utf-8"))
    language = system[1].strip() if system else "inch-pound"
    practice = load_practice()
    words = [(project / "project.yaml").read_text("utf-8"), " ".join(run("calc", project).out.split())]
    values = [entry.value for entry in practice.entries.values()]
    values += [value for table in practice.tables.values() for row in table.rows for value in row.values()]
    words += [show(one, form) for one in values if isinstance(one, Quantity) for form in (language, "SI")]
    words += [
        str(entry.source) for entry in practice.entries.values()
    ]  # a source may name its place by a number
    # The limit of the index is a bare number in its entry, and volts where it is printed.
    words.append(show(practice.quantity("galvanic.limit_outdoors"), language) + " V")
    return specified(name) | frozenset(one for some in words for one in measures(some))


def leads_nowhere(words: str, to: frozenset[Measure]) -> list[Measure]:
    return sorted(measures(words) - to, key=lambda one: (one.unit, one.value))


def test_the_finder_finds_numbers_with_units_and_leaves_names() -> None:
    assert measures("Section 07 65 00, Paragraph 2.1.A, ASTM E96, IBC 2021, line 14 in file") == set()
    assert measures("1,200 ng/(Pa·s·m²), 3 1/2 in, 7/16 in, 45 mils, 50 degF, 2 ft2") == {
        Measure(1200.0, "ng/(Pa·s·m²)"),
        Measure(3.5, "in"),
        Measure(0.4375, "in"),
        Measure(45.0, "mil"),
        Measure(50.0, "°F"),
        Measure(2.0, "ft²"),
    }


def test_a_number_that_leads_nowhere_is_found(name: str) -> None:
    assert leads_nowhere("lap at least 7.77 ft", known(name)) == [Measure(7.77, "ft")]


def test_numbers_of_documents_for_the_job_lead_to_a_requirement_or_a_practice_value(name: str) -> None:
    folder, stray, count = issued(name), [], 0
    files = [*folder.glob("*.docx"), *folder.glob("field/*.docx")]
    assert len(files) >= 15
    for path in files:
        # Findings that stand are printed in the manual and put to the conference; they tell stated values.
        allowed = known(name) if path.stem in ("project-manual", "conference-agenda") else specified(name)
        for words in paragraphs(path):
            count += len(measures(words))
            stray += [(path.name, words, one) for one in leads_nowhere(words, allowed)]
    assert not stray
    assert count > 150


def test_numbers_of_the_checklist_in_excel_and_json_lead_there_too(name: str) -> None:
    folder, stray = issued(name), []
    book = openpyxl.load_workbook(folder / "submittal-checklist.xlsx")
    cells = [(sheet.title, cell) for sheet in book for row in sheet.iter_rows() for cell in row if cell.value]
    for title, cell in cells:
        stray += [(title, cell.coordinate, one) for one in leads_nowhere(str(cell.value), specified(name))]
    for row in json.loads((folder / "submittal-checklist.json").read_text("utf-8"))["rows"]:
        words = f"{row['item']} | {row['required']} | {row['evidence']}"
        stray += [(row["number"], words, one) for one in leads_nowhere(words, specified(name))]
    assert not stray


def test_numbers_of_the_report_lead_to_stated_values_practice_or_calculations(name: str) -> None:
    page = (issued(name) / "basis-of-design.html").read_text("utf-8")
    page = re.sub(r"<style>.*?</style>|src=\"data:[^\"]*\"", "", page, flags=re.DOTALL)
    texts = [
        html.unescape(re.sub(r"<[^>]+>", " ", one)) for one in re.split(r"</(?:td|p|dd|li|summary)>", page)
    ]
    stray = [
        (" ".join(words.split())[-160:], one) for words in texts for one in leads_nowhere(words, known(name))
    ]
    assert not stray
    assert sum(len(measures(words)) for words in texts) > 200


@cache
def numbered_paragraphs(folder: Path, section: str) -> dict[str, str]:
    """The paragraphs of a section by their full number, read from the Word file."""
    (path,) = folder.glob(f"{section.replace(' ', '-')}-*.docx")
    chain: list[str] = []
    found: dict[str, str] = {}
    levels = ("Article Heading", "Paragraph A", "Paragraph 1", "Paragraph a", "Paragraph 1)")
    for line in lines(path.read_bytes()):
        if line.style in levels:
            level = levels.index(line.style)
            chain = [*chain[:level], line.label if level == 0 else line.label.rstrip(".)")]
            found[".".join(chain)] = line.text
    return found


def test_a_limit_stands_in_one_paragraph_and_reads_the_same_there(name: str) -> None:
    data = trace(name)
    stating = [key for s in data["sections"] for p in s["paragraphs"] for key in p.get("requirements", ())]
    assert len(limits(name)) > 30
    for one in limits(name):
        assert stating.count(one["id"]) == 1, f"{one['id']} is stated {stating.count(one['id'])} times"
        words = numbered_paragraphs(issued(name), one["section"])[one["paragraph"]]
        assert measures(one["limit"]) <= measures(words), f"{one['id']}: {one['limit']} not in: {words}"


def test_a_limit_reads_the_same_in_all_forms_of_the_checklist(name: str) -> None:
    folder = issued(name)
    rows = json.loads((folder / "submittal-checklist.json").read_text("utf-8"))["rows"]
    by_id = {one["id"]: one for one in trace(name)["requirements"]}
    sheet = openpyxl.load_workbook(folder / "submittal-checklist.xlsx")["Checklist"]
    table = list(sheet.iter_rows(values_only=True))
    head = next(n for n, row in enumerate(table) if row[0] == "No.")
    column = table[head].index("Required")
    in_excel = [str(row[column]) for row in table[head + 1 :]]
    word = docx.Document(str(folder / "submittal-checklist.docx"))
    in_word = [
        " | ".join(cell.text for cell in row.cells)
        for one in word.tables
        if one.rows[0].cells[0].text == "No."
        for row in one.rows[1:]
    ]
    assert len(rows) == len(in_excel) == len(in_word)
    checked = 0
    for row, excel, printed in zip(rows, in_excel, in_word, strict=True):
        if row["requirement"]:
            limit = by_id[row["requirement"]]["limit"]
            assert row["required"] == excel, row["number"]
            assert row["required"] in printed, row["number"]
            assert limit.startswith(row["required"]), (row["number"], limit)
            checked += 1
    assert checked > 50


def test_a_limit_in_field_papers_and_report_is_the_requirement(name: str) -> None:
    data = {(one["section"], one["paragraph"], one["limit"]) for one in trace(name)["requirements"]}
    holds = " ".join(paragraphs(issued(name) / "field" / "hold-point-checklist.docx"))
    found = re.findall(r"______[^(_]*\(([^;]+); (\d\d \d\d \d\d), ([\w.]+)\)", holds)
    assert len(found) > 5
    assert not [one for one in found if (one[1], one[2], one[0]) not in data]
    page = (issued(name) / "basis-of-design.html").read_text("utf-8")
    rows = re.findall(r"<code>([\w.@-]+)</code></th><td>(.*?)</td><td>(.*?)</td>", page)
    by_id = {one["id"]: one for one in trace(name)["requirements"]}
    checked = {html.unescape(key): html.unescape(limit) for key, limit, _ in rows if key in by_id}
    assert len(checked) > 50
    assert not {key: limit for key, limit in checked.items() if by_id[key]["limit"] != limit}


def test_a_limit_in_a_note_of_a_drawing_is_the_requirement(name: str) -> None:
    data = {(one["paragraph"], one["limit"]) for one in trace(name)["requirements"]}
    found = []
    for path in issued(name).glob("drawings/*-section*.svg"):
        texts = [
            html.unescape(one) for one in re.findall(r"<text[^>]*>([^<]*)</text>", path.read_text("utf-8"))
        ]
        for words in texts:
            found += re.findall(r"((?:at least|not more than) .+): (?:\d\d \d\d \d\d, )?(\d[\w.]+)$", words)
    assert len(found) > 5
    assert not [one for one in found if (one[1], one[0]) not in data]
