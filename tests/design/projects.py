"""The small project of this room's tests, with lines changed or left out."""

from __future__ import annotations

from pathlib import Path
from types import ModuleType

from specgen.intake.project import load_project
from specgen.model.calculation import Calculation
from specgen.model.project import Project
from specgen.practice.load import load_practice
from specgen.units.quantity import to_unit

FILE = Path(__file__).with_name("project.yaml")
FULL = Path(__file__).with_name("full.yaml")  # with the pieces of the top, scuppers and the roof


def calculation(
    module: ModuleType, folder: Path, *changes: tuple[str, str], file: Path = FILE
) -> Calculation:
    """The calculation of the project after text in its file has been replaced.

    Raises:
        AssertionError: a text to replace is not in the file, so that the test would test nothing.
    """
    practice = load_practice()
    project = changed_project(folder, *changes, file=file)
    return module.calculate(project, project.parapets[0], practice)


def changed_project(folder: Path, *changes: tuple[str, str], file: Path = FILE) -> Project:
    """A project after text in its file has been replaced.

    Raises:
        AssertionError: a text to replace is not in the file, so that the test would test nothing.
    """
    text = file.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    path = folder / "project.yaml"
    path.write_text(text, encoding="utf-8")
    return load_project(path, load_practice())


def full(module: ModuleType, folder: Path, *changes: tuple[str, str]) -> Calculation:
    """The calculation of the full project."""
    return calculation(module, folder, *changes, file=FULL)


def number(calc: Calculation, name: str, unit: str) -> float:
    """A result in a unit."""
    value = calc.result(name)
    assert value is not None, calc.missing
    return to_unit(value, unit)
