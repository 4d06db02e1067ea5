"""Steps of an hour damp the day (docs/heat-and-moisture-checks.md); what is judged of a year they leave alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design.hourly_study import read
from specgen.design.hourly_years import judged, march_years
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from tests.intake.weather_files import MIXED_HUMID

PROJECT = Path("tests/stated") / "mixed-humid-midrise" / "project.yaml"
MOISTURE = 0.001
MOLD = 0.05
"""By mass [-], and of the index [-]: what four steps in place of one may change."""


@pytest.mark.parametrize("cut", [0, 1, 2])
def test_four_steps_an_hour_judge_a_year_alike(cut: int) -> None:
    practice = load_practice()
    project = load_project(PROJECT, practice, MIXED_HUMID)
    found = read(project, project.parapets[0], practice, 1)
    section = found.cuts[cut]
    once, often = (
        judged(section, 0.01, march_years(section, 0.01, found.limits, steps=steps, most=1), found.limits)
        for steps in (1, 4)
    )
    assert once.places
    for one, other in zip(once.places, often.places, strict=True):
        assert abs((one.moisture_peak or 0.0) - (other.moisture_peak or 0.0)) < MOISTURE, one.name
        assert abs(one.mold_peak - other.mold_peak) < MOLD, one.name
