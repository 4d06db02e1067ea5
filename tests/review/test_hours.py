"""A request that changes a wall of which an hourly result is kept: it is told that it holds no longer, or run again."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from specgen.model.hourly import HourlyResult
from specgen.work.hourly import OPEN, RAN, Studied, _Work
from specgen.work.hourly_file import keep
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING, Done, copied, run
from tests.commands.test_hourly import key_of
from tests.hourly_results import cut_of, result_of, run_of

HEAD = "format: 2\nrequest:\n  number: S-9\n  project: '2601'\nchanges:\n"
TIGHT = f"{HEAD}  - {{set: P-1.barrier.vapor_permeance, to: 12 perm}}\n"
COLOR = f"{HEAD}  - {{set: P-1.coping.color, to: light}}\n"


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The project with a result of its first wall that holds."""
    monkeypatch.setattr("specgen.design.hourly_kept.key_now", key_of)
    made = copied(CONFORMING, tmp_path / "job")
    stage = read_inputs(made, None, False).assessed().stages[-1].memo.project
    key = key_of(stage, stage.parapets[0], None, 10).key  # type: ignore[arg-type]
    keep(made, [result_of("P-1", key=key)])
    return made


def substituted(job: Path, text: str, *words: str) -> Done:
    path = job / "request.yaml"
    path.write_text(text, "utf-8")
    return run("substitute", job, path, "-o", job.parent / "out", *words)


def test_a_change_that_the_key_reads_ends_the_result(job: Path) -> None:
    done = substituted(job, TIGHT)
    assert "P-1: the kept hourly result no longer holds" in done.out
    made = json.loads((job.parent / "out" / "substitution-s-9.json").read_text("utf-8"))
    assert [(one["parapet"], one["after"], one["open"]) for one in made["hours"]] == [("P-1", None, True)]
    assert any("the hours of its wall calculated anew" in one for one in made["to_show"])


def test_a_change_that_it_does_not_read_leaves_it(job: Path) -> None:
    done = substituted(job, COLOR)
    assert done.status != 2 and "hourly" not in done.out


def test_with_hourly_the_wall_as_proposed_is_run_and_compared(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def wet(work: _Work, parapet: object, tell: object) -> Studied:
        project = work.project
        key = key_of(project, project.parapets[0], work.practice, work.years).key
        fails = cut_of([run_of(0.0, holds=False)], forgiven=None)
        return Studied("P-1", RAN, replace(result_of("P-1", fails, key=key), years=work.years))

    monkeypatch.setattr("specgen.work.hourly._Work.studied", wet)
    done = substituted(job, TIGHT, "--hourly")
    assert (
        "P-1: the kept hourly result no longer holds; with the proposal the criterion fails in parapet at"
        in done.out
    )
    assert (
        "parapet P-1, parapet at mid-height: criterion holds; mold index 0.30; forgives 3.2 % of the rain -> "
        "criterion fails; mold index 0.30; forgives nothing of the rain" in done.out
    )
    assert done.status == 1
    kept = json.loads((job / "hourly-moisture.json").read_text("utf-8"))
    assert kept["results"][0]["cuts"][0]["forgiven"] == 0.032  # that of the wall as specified stays


def test_a_wall_as_proposed_that_cannot_be_run_is_told(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    unsolved = Studied("P-1", OPEN, why="plaster: the wall cannot be solved at hour 7")
    monkeypatch.setattr("specgen.work.hourly._Work.studied", lambda *_: unsolved)
    done = substituted(job, TIGHT, "--hourly")
    assert (
        "P-1: the kept hourly result no longer holds: plaster: the wall cannot be solved at hour 7"
        in done.out
    )


def test_without_a_kept_result_nothing_is_run(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (job / "hourly-moisture.json").unlink()

    def never(*_: object) -> HourlyResult:
        raise AssertionError("nothing is kept")

    monkeypatch.setattr("specgen.work.hourly._Work.studied", never)
    done = substituted(job, TIGHT, "--hourly")
    assert done.status != 2 and "hourly" not in done.out
