"""Findings as SARIF: levels, kinds, places, suppressions, rules; the same bytes for the same input."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from specgen.assessment import Assessment, assess
from specgen.files.marks import Mark
from specgen.intake.project import load_project
from specgen.model.finding import Finding, Outcome, Severity
from specgen.practice.load import load_practice
from specgen.render.sarif import relative_uri, sarif_log
from specgen.rules.papers import PAPER_RULES

ROOT = Path(__file__).parents[2]
PRACTICE = load_practice()


@pytest.fixture(scope="module")
def faulty() -> Assessment:
    return assess(load_project(ROOT / "tests/stated/faulty-parapet", PRACTICE), PRACTICE)


def finding(**values: Any) -> Finding:
    return Finding(
        **{
            "code": "CP04",
            "name": "coping exterior face",
            "severity": Severity.RISK,
            "outcome": Outcome.FAIL,
            "message": "the leg is short",
            "mark": Mark("p/project.yaml", 4, 7),
            "parapet": "P-1",
            "layer": "coping",
            "reason": "Rain climbs.",
            "remedy": "Lengthen it.",
            "sources": (),
            **values,
        }
    )


def result(faulty: Assessment, **values: Any) -> dict[str, Any]:
    (one,) = sarif_log([finding(**values)], faulty, Path("/work"))["runs"][0]["results"]
    return one


@pytest.mark.parametrize(("severity", "level"), [("defect", "error"), ("risk", "warning"), ("query", "note")])
def test_severity_becomes_a_level(faulty: Assessment, severity: str, level: str) -> None:
    one = result(faulty, severity=Severity(severity))
    assert (one["kind"], one["level"]) == ("fail", level)
    assert "suppressions" not in one


def test_unknown_is_a_note_and_names_what_is_missing(faulty: Assessment) -> None:
    one = result(faulty, outcome=Outcome.UNKNOWN, missing="add `outer_leg`")
    assert (one["kind"], one["level"]) == ("fail", "note")
    assert one["message"]["text"].endswith("Missing: add `outer_leg`.")


def test_waived_is_suppressed_with_its_ground(faulty: Assessment) -> None:
    one = result(faulty, outcome=Outcome.WAIVED, waiver="the owner, 2026-05-01: tested")
    assert one["level"] == "warning"
    (suppression,) = one["suppressions"]
    assert suppression == {
        "kind": "inSource",
        "status": "accepted",
        "justification": "the owner, 2026-05-01: tested",
    }


def test_the_place_is_a_region_in_a_relative_file(faulty: Assessment) -> None:
    (place,) = result(faulty)["locations"]
    assert place["physicalLocation"] == {
        "artifactLocation": {"uri": "p/project.yaml", "uriBaseId": "SRCROOT"},
        "region": {"startLine": 4, "startColumn": 7},
    }
    assert place["logicalLocations"][0]["fullyQualifiedName"] == "P-1/coping"


@pytest.mark.parametrize(
    ("file", "uri"),
    [
        ("projects/x/project.yaml", "projects/x/project.yaml"),
        ("/data/projects/x/project.yaml", "projects/x/project.yaml"),
        ("./a b/é.yaml", "a%20b/%C3%A9.yaml"),
        ("../outside/project.yaml", "project.yaml"),
    ],
)
def test_no_address_names_this_machine(file: str, uri: str) -> None:
    assert relative_uri(Mark(file, 1, 1), Path("/data")) == uri


def test_every_rule_is_described_and_each_result_points_at_its_own(faulty: Assessment) -> None:
    shown = [one for one in faulty.findings if one.outcome in (Outcome.FAIL, Outcome.UNKNOWN)]
    (run,) = sarif_log(shown, faulty, ROOT)["runs"]
    rules = run["tool"]["driver"]["rules"]
    assert [rule["id"] for rule in rules] == sorted(
        rule.code for rule in (*(entry.rule for entry in faulty.book), *PAPER_RULES)
    )
    for rule in rules:
        assert re.fullmatch(r"[A-Za-z0-9-]+", rule["name"])
        assert rule["shortDescription"]["text"] and rule["fullDescription"]["text"]
        assert "Sources:\n" in rule["help"]["text"]
        assert "**Remedy:**" in rule["help"]["markdown"] and "Wrong:" in rule["help"]["markdown"]
        assert "**Sources:**\n\n- " in rule["help"]["markdown"] and "helpUri" not in rule
    assert len(run["results"]) == len(shown) > 5
    for one, finding in zip(run["results"], shown, strict=True):
        assert rules[one["ruleIndex"]]["id"] == one["ruleId"] == finding.code


def test_logs_of_several_projects_are_told_apart_and_name_no_address(faulty: Assessment) -> None:
    (run,) = sarif_log([], faulty, ROOT)["runs"]
    assert run["automationDetails"] == {"id": "specgen/tests/stated/faulty-parapet/project.yaml/"}
    assert "informationUri" not in run["tool"]["driver"]  # the program has none
    assert run["columnKind"] == "unicodeCodePoints"


def test_the_same_input_gives_the_same_log(faulty: Assessment) -> None:
    again = assess(load_project(ROOT / "tests/stated/faulty-parapet", PRACTICE), PRACTICE)
    logs = [json.dumps(sarif_log(one.findings, one, ROOT)) for one in (faulty, again)]
    assert logs[0] == logs[1]
    assert str(ROOT) not in logs[0]


def test_a_fingerprint_survives_a_moved_line_and_tells_places_apart(faulty: Assessment) -> None:
    def print_of(**values: Any) -> str:
        return result(faulty, **values)["partialFingerprints"]["specgenFinding/v1"]

    assert print_of() == print_of(mark=Mark("p/project.yaml", 90, 1))
    assert len({print_of(), print_of(parapet="P-2"), print_of(layer="x"), print_of(code="CP03")}) == 4


def test_what_no_rule_covers_is_a_note_until_a_person_answers(faulty: Assessment) -> None:
    asked = result(faulty, outcome=Outcome.NOT_COVERED)
    assert (asked["kind"], asked["level"]) == ("fail", "note") and "suppressions" not in asked
    answered = result(faulty, outcome=Outcome.NOT_COVERED, answer="the architect, 2026-11-02: local code")
    (one,) = answered["suppressions"]
    assert (one["status"], one["justification"]) == ("accepted", "the architect, 2026-11-02: local code")
