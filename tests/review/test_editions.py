"""The edition of a test method: told where it is another than the office wants, which decides on an older one."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import docx
import pytest

from specgen.model.submission import Claim, Result
from specgen.practice.entries import OlderEditions, Practice
from specgen.practice.load import load_practice
from specgen.practice.methods import Edition
from specgen.requirements.judge import Standing, Stated, judge
from specgen.review.judge import Judged, judged
from specgen.units.quantity import parse
from tests.chain.runs import CONFORMING, SUBMITTAL, run
from tests.rules import cases

WANTED = {"ASTM E2178": Edition(2021)}
GOOD, BAD = "0.002 cfm/ft2 @ 75 Pa", "0.2 cfm/ft2 @ 75 Pa"


def practice(older: OlderEditions = "confirm") -> Practice:
    return replace(load_practice(), editions=WANTED, older_editions=older)


def verdict(tmp_path: Path, method: str, under: Practice, value: str = GOOD) -> Judged:
    project = cases.load({}, tmp_path)
    (asked,) = (
        one
        for one in cases.assess(project, under).requirements.by_id.values()
        if one.name == "barrier.air_permeance"
    )
    claim = Claim(parse(value), method, "test report", project.parapets[0].mark)
    standing = judge(asked, Stated(claim.value, method=method), under).standing
    found = judged(asked, claim, under, "inch-pound")
    assert (standing is Standing.OLDER_EDITION) <= (found.result is Result.CONFIRM)
    return found


@pytest.mark.parametrize(
    ("method", "older", "result", "words"),
    [
        (
            "ASTM E2178-13",
            "confirm",
            Result.CONFIRM,
            "by ASTM E2178-13, an older edition than ASTM E2178-21. Confirm",
        ),
        ("ASTM E2178-13", "accept", Result.MEETS, "by ASTM E2178-13, an older edition than ASTM E2178-21"),
        ("ASTM E2178-23", "confirm", Result.MEETS, "by ASTM E2178-23, a newer edition than ASTM E2178-21"),
        ("ASTM E2178-21", "confirm", Result.MEETS, ""),
        ("ASTM E2178", "confirm", Result.MEETS, ""),
        ("ASTM E2178-13(2021)", "confirm", Result.MEETS, ""),
        ("ASTM E283-04", "confirm", Result.OTHER_METHOD, ""),
    ],
)
def test_a_value_by_another_edition(
    tmp_path: Path, method: str, older: OlderEditions, result: Result, words: str
) -> None:
    found = verdict(tmp_path, method, practice(older))
    assert found.result is result
    assert words in found.reason
    assert ("edition" in found.reason) is bool(words)


def test_a_failing_value_fails_by_any_edition_and_its_edition_is_told(tmp_path: Path) -> None:
    found = verdict(tmp_path, "ASTM E2178-13", practice("accept"), BAD)
    assert found.result is Result.FAILS
    assert "an older edition than ASTM E2178-21" in found.reason


def test_without_a_wanted_edition_none_is_older(tmp_path: Path) -> None:
    found = verdict(tmp_path, "ASTM E2178-13", load_practice())
    assert found.result is Result.MEETS
    assert "edition" not in found.reason


def test_an_office_file_decides(tmp_path: Path) -> None:
    """By the command: the verdict, and the References article that says which edition is wanted."""
    submittal = SUBMITTAL
    old = tmp_path / "old.yaml"
    old.write_text(submittal.read_text().replace("ASTM E2178-21", "ASTM E2178-13"))
    assert "E2178-13" in old.read_text()
    head = 'office: {name: Sample Office, document: Wall Standards, edition: "2026"}\neditions: {ASTM E2178: 2021}\n'
    office = tmp_path / "office.yaml"
    plain = _letter(old, tmp_path / "plain")
    office.write_text(head)
    confirm = _letter(old, tmp_path / "confirm", "--office", office)
    office.write_text(f"{head}older_editions: accept\n")
    accept = _letter(old, tmp_path / "accept", "--office", office)
    words, doubt = "an older edition than ASTM E2178-21", "Confirm that the value holds"
    assert [words in one for one in (plain, confirm, accept)] == [False, True, True]
    assert [doubt in one for one in (plain, confirm, accept)] == [False, True, False]
    run("write", CONFORMING, "--office", office, "-o", tmp_path / "issue")
    (section,) = (tmp_path / "issue").glob("07-27-*.docx")
    assert "ASTM E2178-21, Standard Test Method" in _words(section)


def _letter(submittal: Path, folder: Path, *options: object) -> str:
    run("review", CONFORMING, submittal, *options, "-o", folder)
    return " ".join(_words(one) for one in folder.glob("*.docx"))


def _words(file: Path) -> str:
    read = docx.Document(str(file))
    cells = (cell.text for table in read.tables for row in table.rows for cell in row.cells)
    return " ".join([*(one.text for one in read.paragraphs), *cells])
