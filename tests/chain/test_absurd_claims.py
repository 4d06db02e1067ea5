"""Absurd values of a submitted product: no command takes one for met before the submittal or the request confirms it."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from zipfile import ZipFile

import pytest

from tests.chain.runs import CONFORMING, SUBMITTAL, copied, run

ASKED = [
    ("value: 14 perm", "value: 1400 perm"),
    ("value: 42 psi", "value: 4200 psi"),
    ("value: 180 days", "value: 1800 days"),
    ("service_temperature: 250 degF", "service_temperature: 900 degF"),
    ("family: STPE fluid", "family: polyolefin wrap"),
]
IMPOSSIBLE = [("value: 42 psi", "value: 40000 psi"), ("value: 40 mil", "value: 40 in")]
REQUEST = """\
request: {number: S-1, project: "2601", date: 2026-11-16, from: installer, reason: stock, cost: none, time: none}
changes:
  - {set: barrier.vapor_permeance, to: 1400 perm%s}
"""


def submitted(folder: Path, *changes: tuple[str, str]) -> Path:
    text = SUBMITTAL.read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path = folder / "submittal.yaml"
    path.write_text(text, "utf-8")
    return path


@pytest.mark.parametrize(("old", "new"), ASKED, ids=[new for _, new in ASKED])
def test_a_claim_that_is_not_expected_is_asked_about(tmp_path: Path, old: str, new: str) -> None:
    paper = submitted(tmp_path, (old, new))
    review = run("review", CONFORMING, paper, "-o", tmp_path / "out", "--format", "json")
    (one,) = json.loads(review.out)["reviews"][0]["products"]
    asked = [row["reason"] for row in one["verdicts"] if row["doubted"]]
    asked += [point["message"] for point in one["wall"] if point["code"] == "MV01"]
    assert review.status == 3 and len(asked) == 1
    assert "expected of" in asked[0] and asked[0].endswith("is this meant?")


@pytest.mark.parametrize("command", ["review", "letters"])
def test_a_letter_prints_the_question(tmp_path: Path, command: str) -> None:
    paper = submitted(tmp_path, ("value: 14 perm", "value: 1400 perm"))
    run(command, CONFORMING, paper, "-o", tmp_path / "out")
    letters = [ZipFile(path).read("word/document.xml") for path in (tmp_path / "out").rglob("*.docx")]
    assert any(b"is this meant?" in letter and b"did you mean" in letter for letter in letters)


@pytest.mark.parametrize(("old", "new"), IMPOSSIBLE, ids=[new for _, new in IMPOSSIBLE])
def test_a_claim_that_cannot_be_costs_its_row_and_is_never_met(tmp_path: Path, old: str, new: str) -> None:
    paper = submitted(tmp_path, (old, new))
    done = run("review", CONFORMING, paper, "-o", tmp_path / "out", "--format", "json")
    (one,) = json.loads(done.out)["reviews"][0]["products"]
    (row,) = (row for row in one["verdicts"] if row["result"] != "meets")
    assert done.status == 1 and row["result"] == "not readable"
    assert f"`{new.partition(': ')[2]}` cannot be; " in row["reason"]


def test_a_reason_confirms_a_claim(tmp_path: Path) -> None:
    paper = submitted(tmp_path, ("value: 14 perm", "value: 1400 perm"))
    text = paper.read_text("utf-8")
    paper.write_text(f'{text}    meant: {{vapor_permeance: "a film, report of May"}}\n', "utf-8")
    done = run("review", CONFORMING, paper, "-o", tmp_path / "out", "--format", "json")
    (one,) = json.loads(done.out)["reviews"][0]["products"]
    (row,) = (row for row in one["verdicts"] if row["requirement"]["attribute"] == "vapor_permeance")
    assert (row["result"], row["doubted"]) == ("meets", False) and "is this meant?" not in done.out


@pytest.mark.parametrize("reason", ["", "{}", '{pull_adhesio: "x"}', '{thickness: ""}'])
def test_a_confirmation_without_a_reason_or_a_value_is_refused(tmp_path: Path, reason: str) -> None:
    paper = submitted(tmp_path)
    paper.write_text(f"{paper.read_text('utf-8')}    meant: {reason}\n", "utf-8")
    done = run("review", CONFORMING, paper, "-o", tmp_path / "out")
    assert done.status == (0 if reason == "{}" else 2), done.err


@pytest.mark.parametrize("reason", ["", ', meant: "a film, report of May"'])
def test_a_change_that_a_request_proposes_is_confirmed_by_a_reason(tmp_path: Path, reason: str) -> None:
    path = tmp_path / "request.yaml"
    path.write_text(REQUEST % reason, "utf-8")
    done = run("substitute", CONFORMING, path, "-o", tmp_path / "out", "--format", "json")
    asked = [point["code"] for point in json.loads(done.out)["requests"][0]["points"]]
    assert ("MV01" in asked) is (not reason), done.out
    assert done.status == (0 if reason else 3)


def test_an_accepted_product_is_asked_about_by_the_audit(tmp_path: Path) -> None:
    folder = copied(CONFORMING, tmp_path / "all" / "p")
    shutil.copy(submitted(tmp_path, ("value: 14 perm", "value: 1400 perm")), folder / "sent.yaml")
    entry = "{submittal: sent.yaml, date: 2026-11-20, by: architect, result: make corrections noted}"
    (folder / "accepted.yaml").write_text(f"accepted:\n  - {entry}\n", "utf-8")
    done = run("audit", tmp_path / "all", "-o", tmp_path / "out", "--jobs", 1, "--format", "json")
    (line,) = json.loads(done.out)["projects"]
    assert done.status == 3 and line["papers"][0]["unproven"] == 1
    assert [one["code"] for one in line["accepted"]].count("MV01") == 1
