"""The SARIF log against the schema of OASIS SARIF 2.1.0.

Source: sarif-schema-2.1.0.json of the OASIS SARIF TC, as the models that the PyPI package ``pydantic-sarif`` 0.1.1
generated from it (required keys, enumerations, patterns, no unknown keys). The JSON file itself is not part of
a Python package.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pydantic import ValidationError
from pydantic_sarif.model import StaticAnalysisResultsFormatSarifVersion210JsonSchema as Log

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from specgen.render.sarif import sarif_log

ROOT = Path(__file__).parents[2]
PRACTICE = load_practice()


def log(name: str) -> dict[str, Any]:
    assessment = assess(load_project(ROOT / "tests" / "stated" / name, PRACTICE), PRACTICE)
    made = sarif_log(assessment.findings, assessment, ROOT)
    return json.loads(json.dumps(made))


@pytest.mark.parametrize(
    "name", sorted(path.parent.name for path in ROOT.glob("tests/stated/*/project.yaml"))
)
def test_the_log_of_every_shipped_project_is_valid(name: str) -> None:
    Log.model_validate(log(name))


def _level(run: dict[str, Any]) -> None:
    run["results"][0]["level"] = "fatal"


def _unknown(run: dict[str, Any]) -> None:
    run["results"][0]["severity"] = "defect"


def _rule_index(run: dict[str, Any]) -> None:
    run["results"][0]["ruleIndex"] = -2


def _no_driver(run: dict[str, Any]) -> None:
    del run["tool"]["driver"]


@pytest.mark.parametrize("spoil", [_level, _unknown, _rule_index, _no_driver])
def test_the_models_refuse_a_spoiled_log(spoil: Callable[[dict[str, Any]], None]) -> None:
    made = log("faulty-parapet")
    spoil(made["runs"][0])
    with pytest.raises(ValidationError):
        Log.model_validate(made)
