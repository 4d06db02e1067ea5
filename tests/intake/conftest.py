"""A small sound project file, and the two things a test does with an edited copy: load it, or read its problems."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.intake.submittal import load_submission
from specgen.model.project import Project
from specgen.model.submission import Submission
from specgen.practice.load import load_practice

SOUND = """\
project:
  name: Mill Yard
  number: "7"
  issue_date: 2026-11-02
site:
  place: a town
  climate_zone: 4A
building:
  height: 30 ft
parapets:
  - name: P-1
    height: 36 in
    build_up:
      - role: plaster
        kind: portland cement plaster
        coats: 3
      - role: drainage layer
        kind: mesh
        depth: 3/8 in
      - role: weep screed
        kind: vented weep screed
        screened: yes
      - role: barrier
        id: wrb
        kind: fluid-applied
        family: STPE fluid
        air_permeance: 0.003 cfm/ft2 @ 75 Pa
      - role: roof turn-up
        kind: TPO
    top:
      - role: top flashing
        kind: self-adhered butyl
      - role: bridging tape
        kind: butyl tape
        compatible_with: [TPO, butyl]
      - role: coping
        kind: formed metal
        metal: galvanized steel
        thickness: 24 ga
    transitions:
      - between: [wrb, weep screed]
        lap: 3 in
        upper: wrb
      - between: [top flashing, roof turn-up]
        lap: 4 in
        tape: bridging tape
"""


@pytest.fixture
def sound() -> str:
    return SOUND


@pytest.fixture
def load(tmp_path: Path) -> Callable[[str | bytes], Project]:
    def read(text: str | bytes) -> Project:
        path = tmp_path / "project.yaml"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return load_project(path, load_practice())

    return read


@pytest.fixture
def submit(tmp_path: Path) -> Callable[[str], Submission]:
    def read(text: str) -> Submission:
        path = tmp_path / "submittal.yaml"
        path.write_text(text)
        return load_submission(path, load_practice())

    return read


@pytest.fixture
def problems_of(tmp_path: Path, load: Callable[[str | bytes], Project]) -> Callable[[str | bytes], list[str]]:
    """What is said about a file: ``line:column message | fix``, one text a problem."""

    def read(text: str | bytes) -> list[str]:
        with pytest.raises(InputError) as caught:
            load(text)
        return problem_lines(caught.value)

    return read


@pytest.fixture
def problems_of_submittal(submit: Callable[[str], Submission]) -> Callable[[str], list[str]]:
    def read(text: str) -> list[str]:
        with pytest.raises(InputError) as caught:
            submit(text)
        return problem_lines(caught.value)

    return read


def problem_lines(error: InputError) -> list[str]:
    for problem in error.problems:
        assert "\n" not in problem.message + problem.fix, "a message is one line, its fix another"
        assert problem.message.strip()
    return [f"{one.mark.line}:{one.mark.column} {one.message} | {one.fix}" for one in error.problems]
