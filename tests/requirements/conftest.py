"""Small projects for requirements: a parapet from YAML lines, and what is derived from it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from specgen.intake.project import load_project
from specgen.model.calculation import CalcLine, Calculation
from specgen.model.project import Project
from specgen.practice.load import load_practice
from specgen.units.quantity import parse
from specgen.wall.place import Place

HEAD = """\
project: {name: Mill Yard, number: "7", issue_date: 2026-11-02, units: %s}
site: {place: a town%s}
building: {%s}
parapets:
"""


def calculation(subject: str, parapet: str = "P-1", **results: str) -> Calculation:
    """A finished calculation with these results; a word stays a word."""
    lines = {
        name: CalcLine(name, name, parse(text) if text[0].isdigit() else text)
        for name, text in results.items()
    }
    return Calculation(subject, f"{subject} title", parapet, (), (), lines, (), "", ())


@pytest.fixture
def calculate() -> Callable[..., Calculation]:
    return calculation


@pytest.fixture
def project(tmp_path: Path) -> Callable[..., Project]:
    """``project(components, …)``: each argument is a parapet, its parts as ``role: {values}`` lines."""

    def make(
        *parapets: Mapping[str, str], units: str = "inch-pound", building: str = "", zone: str | None = None
    ) -> Project:
        text = HEAD % (units, f', climate_zone: "{zone}"' if zone else "", building)
        roles = load_practice().vocabulary.roles
        for number, parts in enumerate(parapets, 1):
            text += f"  - name: P-{number}\n    height: 36 in\n"
            text += f"    {parts['parapet']}\n" if "parapet" in parts else ""
            for key, where in (("build_up", "build-up"), ("top", "top")):
                rows = [
                    f"      - {{role: {r}, {v}}}\n"
                    for r, v in parts.items()
                    if r in roles and roles[r].where == where
                ]
                text += f"    {key}:\n{''.join(rows)}" if rows else ""
            if "transitions" in parts:
                text += f"    transitions:\n{parts['transitions']}"
        path = tmp_path / "project.yaml"
        path.write_text(text)
        return load_project(path, load_practice())

    return make


@pytest.fixture
def place(project: Callable[..., Project]) -> Callable[..., Place]:
    def make(
        parts: Mapping[str, str], *done: Calculation, building: str = "", zone: str | None = None
    ) -> Place:
        found = project(parts, building=building, zone=zone)
        return Place(found, found.parapets[0], load_practice(), {one.subject: one for one in done})

    return make
