"""Every number printed in the Word files is in trace.json, and leads from there to where it was set.

The words are read from the written files by python-docx; the number finder below is another one than the
program's own. It counts digits that stand for a value, and leaves out those that only name something.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from specgen.practice.load import load_practice
from tests.chain.runs import CONFORMING, run
from tests.render.word_reading import lines, opened

NAMES = (
    r"(?:Section )?\d\d \d\d \d\d",
    r"(?:Paragraph|Article)s? [\d.]+[\w.]*(?:(?:, | and )\d+\.\d[\w.]*)*",
    r"ANSI/SPRI/FM 4435/ES-1(?: test RE-\d)?",
    r"DOC PS \d",
    r"UC\d[A-Z]",
    r"\b\d{4}-H\d\d\b",  # alloy and temper
    r"(?:ASTM|AWPA|AAMA|ISO|NFPA|CSA|ICC-ES) [A-Z]*\d[\d.]*(?:/[A-Z]\d+M?)?(?: Annex [A-Z]\d+)?",
    r"(?:ASCE 7|IBC|IRC|IECC)[ -]?(?:\d{4}|\d\d)?",
    r"\b\d\d CFR \d+(?:\.\d+)?",
    r"\bP-\d\b",  # the parapets of the project
    r"\blevel \d\b",  # a class of a standard
    r"\bG\d\d\b",  # a coating of ASTM A653
)
VALUE = re.compile(r"\d+(?: \d+/\d+|/\d+|\.\d+)?")
LEVELS = {
    "Part Heading": 0,
    "Article Heading": 1,
    "Paragraph A": 2,
    "Paragraph 1": 3,
    "Paragraph a": 4,
    "Paragraph 1)": 5,
}


def values(words: str) -> Counter[str]:
    for name in NAMES:
        words = re.sub(name, " ", words)
    return Counter(VALUE.findall(words))


def paragraphs(path: Path) -> dict[str, str]:
    """The numbered paragraphs of a written section by their full number."""
    number, found = "", {}
    chain: list[str] = []
    for line in lines(path.read_bytes()):
        level = LEVELS.get(line.style)
        if level is None:
            assert not values(line.text), f"{path.name}: a number outside the numbered text: {line.text}"
            continue
        own = line.label if level < 2 else line.label.rstrip(".)")
        chain = [*chain[:level], own]
        number = ".".join(chain[1:]) if level else own
        found[number] = line.text
    return found


@pytest.fixture(scope="module")
def trace(written) -> dict[str, Any]:
    return json.loads((written / "trace.json").read_text("utf-8"))


@pytest.fixture(scope="module")
def entries(trace) -> list[dict[str, Any]]:
    """Every traced number of sections and checklist."""
    traced = [one for section in trace["sections"] for one in section["paragraphs"]]
    return [
        number
        for one in (*traced, *(row["trace"] for row in trace["checklist"]))
        for number in one["numbers"]
    ]


def test_the_number_finder_leaves_out_names_and_finds_values():
    assert not values(
        "Section 07 65 00, Paragraphs 2.1.A.3 and 2.2.B, Article 3.4, ASTM E96 method A, ASCE 7-22"
    )
    assert values("at parapet P-2: at least 3 1/2 in, 0.004 cfm/ft² at 75 Pa, 1 gal") == Counter(
        ["3 1/2", "0.004", "75", "1"]
    )


def test_every_number_of_every_section_is_traced(written, trace):
    count = 0
    for section in trace["sections"]:
        (path,) = written.glob(f"{section['section'].replace(' ', '-')}-*.docx")
        printed = paragraphs(path)
        traced = {
            one["place"].removeprefix(section["section"] + " "): one["numbers"]
            for one in section["paragraphs"]
        }
        assert printed.keys() == traced.keys()
        for number, words in printed.items():
            found = Counter(value for one in traced[number] for value in VALUE.findall(one["number"]))
            assert values(words) == found, f"{path.name} {number}: {words}"
            assert all(one["number"] in words for one in traced[number])
            count += found.total()
    assert len(trace["sections"]) == 11
    assert count > 60


def test_every_number_of_the_checklist_is_traced(written, trace):
    rows = trace["checklist"]
    word = opened((written / "submittal-checklist.docx").read_bytes())
    tables = [table for table in word.tables if table.rows[0].cells[0].text == "No."]
    printed = [[cell.text for cell in row.cells] for table in tables for row in table.rows[1:]]
    for table in tables:
        assert [row.cells[0].text for row in table.rows[1:]] == [str(n) for n in range(1, len(table.rows))]
    assert len(printed) == len(rows)
    count = 0
    for row, (_running, _place, *cells) in zip(rows, printed, strict=True):
        seen = Counter(value for one in row["trace"]["numbers"] for value in VALUE.findall(one["number"]))
        found = values(" | ".join(cells))
        assert found == seen, f"{row['number']}: {cells}"
        count += found.total()
    assert count > 25


def test_each_number_leads_to_a_requirement_or_a_practice_value_and_to_its_source(trace, entries):
    requirements = {one["id"]: one for one in trace["requirements"]}
    practice = load_practice().entries
    for entry in entries:
        source = entry["origin"]["source"]
        assert source["document"] and source["status"] and source["status_words"]
        assert "edition" in source
        if source["status"] == "C":
            assert source["edition"], f"{entry}: an adopted code without its edition"
        if entry["by"] in requirements:
            stated = requirements[entry["by"]]
            assert entry["number"] in stated["limit"]
            assert stated["origin"] == entry["origin"]
        elif entry["origin"]["kind"] == "choice":  # an entry of a list in the project file, as a rating
            assert entry["by"] == entry["origin"]["key"]
            file, line, column = entry["by"].split(":")
            typed = (CONFORMING / file).read_text("utf-8").splitlines()[int(line) - 1][int(column) - 1 :]
            assert entry["number"] in typed
        else:
            assert entry["by"] in practice
            assert (entry["origin"]["kind"], entry["origin"]["key"]) == ("practice", entry["by"])


def test_each_requirement_leads_back_to_what_set_it(trace):
    practice = load_practice()
    known = {*practice.entries, *(f"table {name}" for name in practice.tables)}
    lines_typed = (CONFORMING / "project.yaml").read_text("utf-8").splitlines()
    report = json.loads(run("calc", CONFORMING, "--format", "json").out)
    calculated = {f"{one['subject']}.{name}" for one in report["calculations"] for name in one["results"]}
    kinds = Counter()
    for one in trace["requirements"]:
        kind, key = one["origin"]["kind"], one["origin"]["key"]
        kinds[kind] += 1
        if kind == "choice":
            file, line, column = key.split(":")
            assert file == "project.yaml"
            typed = lines_typed[int(line) - 1][int(column) - 1 :]
            assert values(one["limit"].split(" at 75 Pa")[0]) <= values(typed), (one["limit"], typed)
        elif kind == "practice":
            assert key in known
        else:
            assert (kind, key in calculated) == ("calculation", True), key
    assert kinds.keys() == {"choice", "practice", "calculation"}
