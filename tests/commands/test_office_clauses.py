"""The office's clauses in every command: a paragraph has one number, whichever document names it."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from tests.chain.runs import REPO, run

BASE = REPO / "tests" / "rules" / "base.yaml"
FIRST = '{key: office_first, text: "Color: not black."}'
SUBMITTAL = """\
submittal: {number: "07 27 00-01", project: "0000", date: 2026-11-16, from: air barrier installer}
products: [{role: barrier, name: Barrier A, kind: fluid-applied}]
"""
REQUEST = """\
request: {number: S-1, project: "0000", date: 2026-12-01, from: air barrier installer, reason: faster}
products: [{role: barrier, name: Wrap W, kind: mechanically fastened}]
"""
ROW = "barrier.kind"


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project with an office's clauses, which put a paragraph before the barrier's kind."""
    folder = tmp_path_factory.mktemp("office")
    (folder / "project.yaml").write_text(BASE.read_text("utf-8"))
    clauses = folder / "own"
    clauses.mkdir()
    (clauses / "07-27-00.yaml").write_text(f"section: 07 27 00\nadd: [{{after: barrier, {FIRST[1:-1]}}}]\n")
    (folder / "submittal.yaml").write_text(SUBMITTAL)
    (folder / "request.yaml").write_text(REQUEST)
    return folder


def data_of(*words: object) -> Any:
    return json.loads(run(*words, "--format", "json").out)


def test_review_and_substitute_name_the_paragraph_that_write_prints(office):
    own = ("--clauses", office / "own")
    assert run("write", office, "-o", office / "out", *own).status in (0, 1, 3)
    rows = json.loads((office / "out" / "submittal-checklist.json").read_text("utf-8"))["rows"]
    printed = {row["number"]: row["paragraph"] for row in rows}
    assert printed[ROW] == "2.1.B"
    (review,) = data_of("review", office, office / "submittal.yaml", "-o", office / "letters", *own)[
        "reviews"
    ]
    verdicts = {one["requirement"]["id"]: one["paragraph"] for one in review["products"][0]["verdicts"]}
    assert verdicts == {name: printed[name] for name in verdicts}
    (request,) = data_of("substitute", office, office / "request.yaml", "-o", office / "forms", *own)[
        "requests"
    ]
    verdicts = {one["requirement"]["id"]: one["paragraph"] for one in request["products"][0]["verdicts"]}
    assert verdicts == {name: printed[name] for name in verdicts}


def test_register_names_the_office_s_paragraphs(office):
    clauses = office / "asks"
    clauses.mkdir()
    words = "Color card: of the barrier."
    (clauses / "07-27-00.yaml").write_text(
        f'section: 07 27 00\nadd: [{{after: action, key: office_card, document: Color card, text: "{words}"}}]\n'
    )
    rows = data_of("register", office, "-o", office / "register", "--clauses", clauses)["rows"]
    assert [row["paragraph"] for row in rows if row["item"] == "Color card"] == ["1.3.A"]


def test_the_folder_beside_the_office_file_is_used_unasked(office, tmp_path):
    (tmp_path / "project.yaml").write_text(
        (office / "project.yaml").read_text("utf-8").replace("0.002 cfm/ft2 @ 75 Pa", "0.01 cfm/ft2 @ 75 Pa")
    )
    (tmp_path / "office.yaml").write_text(
        'office: {name: Sample Office, document: Wall Standards, edition: "2026"}\n'
    )
    without = stated(tmp_path)
    (office / "own").rename(tmp_path / "clauses")
    try:
        assert (without, stated(tmp_path)) == ("07 27 00 2.1.B", "07 27 00 2.1.C")
    finally:
        (tmp_path / "clauses").rename(office / "own")


def stated(folder: Path) -> str:
    """Where `check --explain` says the barrier's air permeance is stated."""
    found = json.loads(run("check", folder, "--explain", "--code", "WB02", "--format", "json").out)
    (place,) = {one["limit"]["paragraph"] for one in found["explanations"]}
    return place


def test_nobody_builds_sections_without_the_clauses_of_the_project():
    """`specify` is the one way from an assessment to its clauses, sections and rows."""
    package = REPO / "specgen"
    for function, home in (
        ("build_sections", "build"),
        ("load_clauses", "clause_file"),
        ("checklist", "checklist"),
    ):
        found = [
            path.relative_to(package).as_posix()
            for path in sorted(package.rglob("*.py"))
            if re.search(rf"(?<![:\w]){function}\(", path.read_text("utf-8"))
        ]
        # An office's section numbers are held against the clauses where its file is read.
        early = ["work/inputs.py"] if function == "load_clauses" else []
        assert found == [f"sections/{home}.py", "specification.py", *early]
