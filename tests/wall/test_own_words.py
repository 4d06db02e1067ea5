"""Texts of people that hold the name of a role: found in a project and beside it, and printed as written."""

from __future__ import annotations

from pathlib import Path

from docx import Document

from specgen.files.marks import Mark
from specgen.intake.project import load_project
from specgen.model.project import Record
from specgen.practice.load import load_practice
from specgen.wall.own_words import own_words
from tests.chain.runs import run

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "tests" / "stated" / "mixed-humid-midrise"
NAMED = "Roof turn-up Guild Hall"


def named(tmp_path: Path) -> Path:
    """The demo with a name that holds that of a role, and an answer that is no more than the role's name."""
    words = (DEMO / "project.yaml").read_text()
    assert "name: Alder Street Offices" in words
    path = tmp_path / "project.yaml"
    path.write_text(words.replace("name: Alder Street Offices", f"name: {NAMED}"))
    return path


def test_a_name_is_found_and_the_name_of_a_part_is_none(tmp_path: Path) -> None:
    practice = load_practice()
    project = load_project(named(tmp_path), practice)
    request = Record("request", {"from": "The roof turn-up people", "number": "1"}, {}, Mark("", 1, 1))
    found = own_words(practice.vocabulary, project, [request], ["roof turn-up", "Roof Turn-Up Sheet"])
    assert found == (NAMED, "The roof turn-up people", "Roof Turn-Up Sheet")


def test_every_paper_prints_the_name_as_written(tmp_path: Path) -> None:
    named(tmp_path)
    assert run("write", tmp_path, "-o", tmp_path / "out").status in (0, 1, 3)
    printed = "\n".join(
        paragraph.text
        for path in sorted((tmp_path / "out").rglob("*.docx"))
        for paragraph in Document(str(path)).paragraphs
    )
    drawn = "\n".join(path.read_text() for path in (tmp_path / "out" / "drawings").glob("*.svg"))
    assert "Base flashing Guild Hall" not in printed + drawn
    assert NAMED in printed
    assert "roof turn-up" not in printed.replace(NAMED, "").lower()
