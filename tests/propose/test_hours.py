"""The hours of proposed walls: run when asked, kept with each wall; a kept result of the facts is of no proposed wall."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from specgen.intake.hourly import load_hourly
from specgen.model.project import Parapet
from specgen.work.hourly import RAN, Studied, _Work
from specgen.work.hourly_file import keep
from tests.chain.runs import run
from tests.commands.test_hourly import key_of
from tests.hourly_results import result_of

FACTS = Path(__file__).with_name("facts")


@pytest.fixture
def facts(tmp_path: Path) -> Path:
    """Few facts, with a kept result of some wall beside them."""
    path = tmp_path / "facts" / "project.yaml"
    path.parent.mkdir()
    path.write_bytes(next(iter(sorted(FACTS.glob("*.yaml")))).read_bytes())
    keep(path.parent, [result_of("P-1")])
    return path


@pytest.fixture
def ran(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The parapets that were run, in place of the runs."""
    found: list[str] = []

    def study(work: _Work, parapet: Parapet, tell: object) -> Studied:
        found.append(parapet.name)
        key = key_of(work.project, parapet, work.practice, work.years).key
        return Studied(parapet.name, RAN, replace(result_of(parapet.name, key=key), years=work.years))

    monkeypatch.setattr("specgen.design.hourly_kept.key_now", key_of)
    monkeypatch.setattr("specgen.work.hourly._Work.studied", study)
    monkeypatch.setattr("os.cpu_count", lambda: 1)
    return found


def test_the_walls_that_are_proposed_are_run_when_asked(facts: Path, ran: list[str], tmp_path: Path) -> None:
    done = run("propose", facts, "-o", tmp_path / "out", "--hourly", "--format", "json")
    made = json.loads(done.out)
    walls = [one["name"] for one in made["walls"]]
    assert walls and list(made["hours"]) == walls
    assert len(ran) == sum(len(one) for one in made["hours"].values())
    for name in walls:
        assert set(load_hourly(tmp_path / "out" / name)) == {one["parapet"] for one in made["hours"][name]}
        assert run("check", tmp_path / "out" / name, "--code", "HM01").status == 0


def test_without_being_asked_nothing_is_run_and_no_result_of_the_facts_is_read(
    facts: Path, ran: list[str], tmp_path: Path
) -> None:
    done = run("propose", facts, "-o", tmp_path / "out", "--format", "json")
    made = json.loads(done.out)
    assert made["walls"] and made["hours"] == {} and ran == []
    assert not any("HM01" in words for wall in made["walls"] for words in wall["questions"])
