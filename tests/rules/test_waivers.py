"""Waivers end: the last day is compared with the issue date of the project, never with the clock."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.assessment import Assessment, assess
from specgen.files.marks import Mark
from specgen.intake.project import load_project
from specgen.model.finding import Outcome
from specgen.model.project import Decision, Project, Record
from specgen.practice.load import load_practice
from specgen.rules.waivers import expired
from tests import plain_yaml

PRACTICE = load_practice()
BASE = (Path(__file__).parent / "base.yaml").read_text()
ISSUED = date(2026, 11, 2)  # issue date of base.yaml
MARK = Mark("project.yaml", 1, 1)


def run(tmp_path: Path, *waivers: dict) -> Assessment:
    content = plain_yaml.load(BASE)
    coping = next(one for one in content["parapets"][0]["top"] if one["role"] == "coping")
    coping["outer_leg"] = "1 in"
    given_by = {"by": "the architect", "date": date(2026, 5, 1), "reason": "shown by test"}
    content["waivers"] = [{"rule": "CP04", **given_by, **one} for one in waivers]
    (tmp_path / "project.yaml").write_text(plain_yaml.dump(content))
    return assess(load_project(tmp_path, PRACTICE), PRACTICE)


def outcomes(found: Assessment) -> dict[str, Outcome]:
    return {one.code: one.outcome for one in found.findings if one.code in ("CP04", "WV01", "WV02")}


@pytest.mark.parametrize("until", [None, ISSUED, ISSUED + timedelta(days=30)])
def test_a_waiver_is_in_force_through_its_last_day(tmp_path: Path, until: date | None) -> None:
    found = run(tmp_path, {"until": until} if until else {})
    assert outcomes(found) == {"CP04": Outcome.WAIVED}
    (waiver,) = found.waivers_in_force
    assert waiver.rule == "CP04"
    (finding,) = [one for one in found.findings if one.code == "CP04"]
    last = f", until {until}" if until else ""
    assert finding.waiver == f"the architect, 2026-05-01{last}: shown by test"


def test_an_expired_waiver_waives_nothing_and_is_told(tmp_path: Path) -> None:
    found = run(tmp_path, {"until": ISSUED - timedelta(days=1)})
    assert outcomes(found) == {"CP04": Outcome.FAIL, "WV02": Outcome.FAIL}
    assert found.waivers_in_force == ()
    (finding,) = [one for one in found.findings if one.code == "WV02"]
    assert finding.message == "the waiver of CP04 ended on 2026-11-01, before the issue date 2026-11-02"
    assert (
        (tmp_path / "project.yaml")
        .read_text()
        .splitlines()[finding.mark.line - 1]
        .strip()
        .startswith("until:")
    )


def test_a_second_waiver_takes_over_from_an_expired_one(tmp_path: Path) -> None:
    found = run(tmp_path, {"until": ISSUED - timedelta(days=1)}, {"until": ISSUED})
    assert outcomes(found) == {"CP04": Outcome.WAIVED, "WV02": Outcome.FAIL}
    assert [one.values["until"] for one in found.waivers_in_force] == [ISSUED]


def test_a_waiver_of_a_rule_that_does_not_fail_dangles(tmp_path: Path) -> None:
    found = run(tmp_path, {}, {"rule": "CP06"})
    assert outcomes(found) == {"CP04": Outcome.WAIVED, "WV01": Outcome.FAIL}
    assert [one.rule for one in found.waivers_in_force] == ["CP04"]


@given(st.dates(), st.dates())
def test_only_the_two_dates_of_the_file_decide(until: date, issued: date) -> None:
    waiver = Decision("waiver", {"until": until}, {}, MARK, rule="CP04", parapet="all")
    empty = Record("site", {}, {}, MARK)
    project = Project(Record("project", {"issue_date": issued}, {}, MARK), empty, empty, (), "project.yaml")
    assert expired(waiver, project) == (until < issued)
