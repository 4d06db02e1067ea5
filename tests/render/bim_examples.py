"""The worked examples as the tests of building models read them, each assessed once in a process."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from specgen.specification import Specification, specify

PROJECTS = Path(__file__).parents[2] / "projects"
STATED = Path(__file__).parents[1] / "stated"
THREE = PROJECTS / "mixed-humid-midrise"  # one finding, at three parapets; conforms
ONE = PROJECTS / "faulty-parapet"  # one parapet, many findings
PRACTICE = load_practice()


@cache
def spec_of(folder: Path) -> Specification:
    """An example as written."""
    return specify(assess(load_project(folder, PRACTICE), PRACTICE))
