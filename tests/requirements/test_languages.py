"""The language of units of the documents changes no verdict."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.model.project import Project
from specgen.practice.load import load_practice
from tests.chain.runs import REPO, run

PRACTICE = load_practice()
EXAMPLES = sorted(path.parent.name for path in (REPO / "tests" / "stated").glob("*/project.yaml"))


def findings(project: Project, system: str) -> set[tuple[str, str, str, str, str]]:
    info = replace(project.info, values={**project.info.values, "units": system})
    found = assess(replace(project, info=info), PRACTICE).findings
    return {(one.code, one.parapet, one.layer, one.outcome.value, one.severity.value) for one in found}


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_example_has_the_same_findings_in_either_language(name: str) -> None:
    project = load_project(REPO / "tests" / "stated" / name / "project.yaml", PRACTICE)
    plain = findings(project, "inch-pound")
    assert len(plain) > 20
    assert findings(project, "SI") == plain


def test_the_starter_wall_has_the_same_findings_in_either_language(tmp_path: Path) -> None:
    run("new", tmp_path / "wall", "--from", "commented")
    project = load_project(tmp_path / "wall" / "project.yaml", PRACTICE)
    assert findings(project, "SI") == findings(project, "inch-pound") != set()
