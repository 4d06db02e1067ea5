"""A sample project with every calculated requirement, and the sections written of it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from specgen.intake.project import load_project
from specgen.model.calculation import CalcLine, Calculation
from specgen.model.project import Project
from specgen.model.requirement import RequirementSet
from specgen.practice.entries import Practice
from specgen.practice.load import load_practice
from specgen.requirements.derive import derive
from specgen.sections.build import SectionText, build_sections
from specgen.sections.clause_file import ClauseBook, load_clauses
from specgen.units.quantity import Quantity, parse

SAMPLE = Path(__file__).with_name("sample.yaml")


def calculation(subject: str, parapet: str, results: dict[str, Quantity | str]) -> Calculation:
    lines = {name: CalcLine(name, name, value) for name, value in results.items()}
    return Calculation(subject, subject, parapet, (), (), lines, (), "", ())


def calculations(project: Project) -> list[Calculation]:
    out = []
    for index, parapet in enumerate(project.parapets):
        wind: dict[str, Quantity | str] = {
            "resistance_face": parse(f"{61 + 7 * index}.3 psf"), "resistance_top": parse("112.2 psf"),
            "resistance_inner": parse("112.2 psf"),
        }  # fmt: skip
        out.append(calculation("coping wind", parapet.name, wind))
        moved: dict[str, Quantity | str] = {"joint_gap": parse("5/16 in"), "longest_piece": parse("24 ft")}
        out.append(calculation("coping movement", parapet.name, moved))
        drive: dict[str, Quantity | str] = {
            "limit_met": "no", "needs_vapor_tight": "yes", "greatest_permeance": parse("0.2 perm"),
        }  # fmt: skip
        out.append(calculation("vapor drive", parapet.name, drive))
    return out


@pytest.fixture(scope="session")
def practice() -> Practice:
    return load_practice()


@pytest.fixture(scope="session")
def book(practice: Practice) -> ClauseBook:
    return load_clauses(practice)


@pytest.fixture(scope="session")
def project(practice: Practice) -> Project:
    return load_project(SAMPLE, practice)


@pytest.fixture(scope="session")
def requirements(project: Project, practice: Practice) -> RequirementSet:
    return derive(project, calculations(project), practice)


@pytest.fixture(scope="session")
def sections(
    project: Project, requirements: RequirementSet, practice: Practice, book: ClauseBook
) -> tuple[SectionText, ...]:
    return build_sections(project, requirements, practice, book)


Changed = Callable[[dict[str, str]], tuple[Project, RequirementSet]]


@pytest.fixture
def changed(practice: Practice, tmp_path: Path) -> Changed:
    """The sample with some words of its file replaced."""

    def make(words: dict[str, str]) -> tuple[Project, RequirementSet]:
        content = SAMPLE.read_text()
        for old, new in words.items():
            assert old in content, old
            content = content.replace(old, new)
        path = tmp_path / "project.yaml"
        path.write_text(content)
        found = load_project(path, practice)
        return found, derive(found, calculations(found), practice)

    return make
