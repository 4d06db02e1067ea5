"""Messages of a project in SI name its limits in SI."""

from __future__ import annotations

import re
from pathlib import Path

import yaml

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.model.finding import Finding
from specgen.practice.load import load_practice
from tests.rules.cases import changed

INCHES = re.compile(r"\d in\b|\d ft\b|psf|degF|°F")


def findings(tmp_path: Path, **change: object) -> list[Finding]:
    """Findings of the base in SI, with its lengths as they stand."""
    content = changed(change)
    content["project"]["units"] = "SI"
    path = tmp_path / "project.yaml"
    path.write_text(yaml.safe_dump(content, sort_keys=False, allow_unicode=True))
    return list(assess(load_project(path, load_practice()), load_practice()).findings)


def test_the_reach_of_the_inner_leg(tmp_path: Path) -> None:
    parts = {"turn-up": {"height": "500 mm"}, "coping": {"inner_leg": "75 mm"}}
    (said,) = (one for one in findings(tmp_path, parts=parts) if one.code == "RT09" and one.counts)
    assert "more than 406 mm" in said.message


def test_what_is_asked_for(tmp_path: Path) -> None:
    """The base is in inches: what stands behind `asked for` is not."""
    found = [one for one in findings(tmp_path) if "asked for" in one.message]
    assert len(found) > 20
    wrong = [one.message for one in found if INCHES.search(one.message.partition("asked for")[2])]
    assert wrong == []


def test_nominal_metric_values_pass(tmp_path: Path) -> None:
    parts = {
        "plaster": {"thickness": "22 mm"},
        "turn-up": {"height": "200 mm"},
        "coping": {"outer_drip": "25 mm", "inner_drip": "25 mm"},
    }
    laps = {"flashing / wrb": {"lap": "100 mm"}, "flashing / turn-up": {"lap": "100 mm"}}
    found = findings(tmp_path, parts=parts, laps=laps, parapet={"height": "300 mm"})
    assert {one.code for one in found if one.counts} & {"LP01", "PL05", "RT02", "CP03", "PA01"} == set()
