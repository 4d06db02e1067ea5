"""specgen hourly: what is kept is not run again, each wall is kept when it is done, and the status follows the criterion.

The walls are not run here: a study of a few words stands in for the minutes of work, under a key of the wall's barrier.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from specgen.audit import engine as audit_engine
from specgen.audit.engine import Job
from specgen.commands.hourly_job import hourly_job
from specgen.design.hourly_kept import KeyNow
from specgen.files.extras import missing
from specgen.intake.hourly import FILE_NAME, load_hourly
from specgen.model.hourly import BELOW, HourlyResult
from specgen.model.project import Parapet, Project
from specgen.physics.errors import PhysicsError
from specgen.practice.entries import Practice
from specgen.work.hourly import KEPT, OPEN, RAN, Studied, _Work
from specgen.work.hourly_file import keep
from tests.chain.runs import CONFORMING, Done, copied, run
from tests.conftest import LONG
from tests.hourly_results import cut_of, result_of, run_of


def key_of(project: Project, parapet: Parapet, practice: Practice, years: int) -> KeyNow:
    """A key that changes with the barrier, the weather, and the years."""
    barrier = parapet.part("barrier")
    if barrier is None:
        return KeyNow("", ("barrier.vapor_permeance: vapor permeance",))
    rests = (
        barrier.kind,
        barrier.values.get("vapor_permeance"),
        project.weather and project.weather.sha256,
        years,
    )
    return KeyNow(hashlib.sha256(repr(rests).encode()).hexdigest())


class Study:
    """What stands in for the runs: it counts them, and does at each wall what a test wants of it."""

    def __init__(self) -> None:
        self.ran: list[str] = []
        self.makes: dict[str, Callable[[], HourlyResult]] = {}

    def __call__(self, work: _Work, parapet: Parapet, tell: Callable[[float], None]) -> Studied:
        self.ran.append(parapet.name)
        tell(0.5)
        made = self.makes.get(parapet.name, lambda: result_of(parapet.name))()
        key = key_of(work.project, parapet, work.practice, work.years).key
        return Studied(parapet.name, RAN, HourlyResult(**{**vars(made), "key": key, "years": work.years}))


@pytest.fixture
def study(monkeypatch: pytest.MonkeyPatch) -> Study:
    made = Study()
    monkeypatch.setattr("specgen.design.hourly_kept.key_now", key_of)
    monkeypatch.setattr(
        "specgen.work.hourly._Work.studied", lambda work, parapet, tell: made(work, parapet, tell)
    )
    return made


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return copied(CONFORMING, tmp_path / "job")


def hourly(job: Path, *words: object) -> Done:
    return run("hourly", job, "--cores", "1", *words)


def states(done: Done) -> dict[str, str]:
    """What became of each wall, as printed for programs."""
    return {one["parapet"]: one["state"] for one in json.loads(done.out)["parapets"]}


def test_every_wall_is_run_once_and_kept(study: Study, job: Path) -> None:
    done = hourly(job, "--format", "json")
    assert done.status == 0, done
    names = list(states(done))
    assert names and set(states(done).values()) == {RAN}
    assert study.ran == names == list(load_hourly(job))
    before = (job / FILE_NAME).read_bytes()
    again = hourly(job, "--format", "json")
    assert set(states(again).values()) == {KEPT} and study.ran == names
    assert (job / FILE_NAME).read_bytes() == before


def test_what_is_printed_says_what_the_hours_did(study: Study, job: Path) -> None:
    done = hourly(job, "--parapet", "P-1")
    assert done.out.splitlines() == [
        "P-1 (run now; weather weather.epw, rain: as the file has it)",
        "    parapet at mid-height: the criterion holds (3 years)",
        "        mold index 0.30: back of the sheathing, worst in February",
        "        wood at most 14.0 % water by mass: back of the sheathing, worst in February",
        "        forgives 3.2 % of the rain driven onto the plaster, past the barrier into the sheathing",
        "        half of a wetting dries in 21 days",
    ]


def test_a_wall_that_changed_is_run_again_and_others_stay(study: Study, job: Path) -> None:
    names = list(states(hourly(job, "--format", "json")))
    assert hourly(job, "--years", "12", "--format", "json").status == 0
    assert study.ran == names * 2
    assert {one.years for one in load_hourly(job).values()} == {12}
    assert set(states(hourly(job, "--format", "json")).values()) == {
        KEPT
    }  # 12 years hold where none are asked for
    assert set(states(hourly(job, "--again", "--format", "json")).values()) == {RAN}


def test_a_wall_is_kept_before_the_next_is_run(study: Study, job: Path) -> None:
    names = list(states(hourly(job, "--format", "json")))
    assert len(names) > 1
    (job / FILE_NAME).unlink()

    def stopped() -> HourlyResult:
        raise KeyboardInterrupt

    study.makes[names[1]] = stopped
    assert hourly(job).status == 1
    assert list(load_hourly(job)) == names[:1]
    del study.makes[names[1]]
    assert states(hourly(job, "--format", "json")) == {names[0]: KEPT, **dict.fromkeys(names[1:], RAN)}


def test_the_status_follows_the_criterion(study: Study, job: Path) -> None:
    fails = cut_of([run_of(0.0, holds=False)], forgiven=None, half_days=None)
    study.makes["P-1"] = lambda: result_of("P-1", cut_of(), replace(fails, cut=BELOW))
    done = hourly(job)
    assert done.status == 1
    assert "    wall below the roof: the criterion FAILS (3 years)" in done.out
    assert "forgives nothing: the criterion fails before any rain passes the barrier" in done.out
    assert "half of a wetting does not dry within a year" in done.out


def test_a_wall_without_a_run_at_the_leak_of_the_criterion_is_unknown() -> None:
    one = Studied("P-1", RAN, result_of("P-1", cut_of([run_of(0.02)])))
    assert (one.open, one.failed, one.holds) == (True, False, None)


def test_what_is_missing_for_a_run_is_told(study: Study, job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lacks = KeyNow("", ("site.weather: a weather file of hours",))
    monkeypatch.setattr("specgen.design.hourly_kept.key_now", lambda *_: lacks)
    done = hourly(job, "--parapet", "P-1")
    assert (done.status, done.out) == (3, "P-1: unknown: site.weather: a weather file of hours\n")
    assert study.ran == [] and not (job / FILE_NAME).exists()


def test_results_of_walls_that_are_gone_are_told_and_stay(study: Study, job: Path) -> None:
    keep(job, [result_of("P-99")])
    done = hourly(job)
    assert (
        "holds a result of parapet P-99, which the project no longer has: it stays; --drop takes it out"
        in done.err
    )
    assert "P-99" in load_hourly(job)
    dropped = hourly(job, "--drop", "--format", "json")
    assert json.loads(dropped.out)["gone"] == ["P-99"] and "it was taken out" in dropped.err
    assert "P-99" not in load_hourly(job) and "P-1" in load_hourly(job)


def test_a_wall_that_cannot_be_solved_is_told_with_layer_and_hour(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def unsolved(*_: object, **__: object) -> HourlyResult:
        raise PhysicsError("plaster: the wall cannot be solved at hour 2845")

    monkeypatch.setattr("specgen.design.hourly_kept.key_now", key_of)
    monkeypatch.setattr("specgen.design.hourly_study.study", unsolved)
    done = hourly(job, "--parapet", "P-1", "--format", "json")
    assert done.status == 3
    (one,) = json.loads(done.out)["parapets"]
    assert (one["state"], one["why"]) == (OPEN, "plaster: the wall cannot be solved at hour 2845")


def test_no_such_parapet_is_told(study: Study, job: Path) -> None:
    done = hourly(job, "--parapet", "P-99")
    assert done.status == 2 and "no parapet `P-99`" in done.err and study.ran == []


def test_without_numba_it_is_told_first_how_to_get_it(
    study: Study, job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("specgen.files.extras.find_spec", lambda name: None)
    done = hourly(job, "--parapet", "P-1")
    assert done.status == 0 and done.err.startswith(missing("hourly"))


def test_check_reads_what_was_kept_and_asks_for_it_again_where_the_wall_changed(
    study: Study, job: Path
) -> None:
    path = job / "project.yaml"
    text = path.read_text("utf-8")
    path.write_text(text.replace("site:\n", "site:\n  hourly: required\n", 1), "utf-8")
    asked = run("check", job, "--code", "HM01")
    assert asked.status == 3 and "an hourly result is required, and none is kept" in asked.out
    assert hourly(job).status == 0
    assert run("check", job, "--code", "HM01").status == 0
    text = path.read_text("utf-8")
    path.write_text(text.replace("vapor_permeance: 14 perm", "vapor_permeance: 15 perm"), "utf-8")
    stale = run("check", job, "--code", "HM01")
    assert (
        stale.status == 3
        and "the kept hourly result was made of another wall, weather, or program" in stale.out
    )


def test_a_worker_of_a_cluster_keeps_its_own_result(study: Study, job: Path) -> None:
    line = json.loads(hourly_job(Job(str(job), "", "", "", "P-1"), years=3, allow_code=False))
    assert line == {"state": RAN, "why": ""}
    assert list(load_hourly(job)) == ["P-1"]
    lost = json.loads(hourly_job(Job(str(job / "none"), "", "", "", "P-1"), years=3, allow_code=False))
    assert lost["state"] == OPEN and "none" in lost["why"]


def test_a_cluster_runs_what_is_not_kept(study: Study, job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The engine in place of Dask: jobs go through the same function, and what ended its workers is unknown."""
    asked: list[Job] = []

    def engine(work: Callable[[Job], str], jobs: Sequence[Job], address: str) -> Iterator[audit_engine.Done]:
        assert address == "tcp://host:8786"
        for one in jobs:
            asked.append(one)
            yield audit_engine.Done(one, "" if one.part == "P-2" else work(one))

    monkeypatch.setattr("specgen.commands.hourly_job.dask", engine)
    hourly(job, "--parapet", "P-1")
    done = run("hourly", job, "--scheduler", "tcp://host:8786", "--format", "json")
    assert [one.part for one in asked] == [name for name in states(done) if name != "P-1"]
    assert states(done)["P-1"] == KEPT and states(done)["P-2"] == OPEN
    assert done.status == 3
    odd = run("hourly", job, "--scheduler", "tcp://host:8786", "--cores", "2")
    assert odd.status == 2 and "--scheduler takes" in odd.err


def test_nobody_at_the_scheduler_is_told_in_one_line(
    study: Study, job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("specgen.audit.cluster.CONNECT", "0.2s")
    done = run("hourly", job, "--scheduler", "tcp://127.0.0.1:9")
    assert done.status == 2 and "no Dask scheduler answers" in done.err
    assert not (job / FILE_NAME).exists()


@pytest.mark.skipif(
    not LONG, reason="hours on a real Dask cluster: tried by make test-long, it takes a minute"
)
def test_hours_on_a_real_cluster(tmp_path: Path) -> None:
    from distributed import LocalCluster

    from tests.intake.weather_files import MIXED_HUMID

    job = copied(CONFORMING, tmp_path / "job")
    file = job / "project.yaml"
    file.write_text(file.read_text().replace("site:\n", "site:\n  weather: year.csv\n"))
    (job / "year.csv").write_bytes(MIXED_HUMID.read_bytes())
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=":0", silence_logs=50) as cluster:
        two = ("--parapet", "P-1", "--parapet", "P-2", "--years", "3", "--format", "json")
        done = run("hourly", job, "--scheduler", cluster.scheduler_address, *two)
    assert set(states(done).values()) == {RAN}, done
    there = load_hourly(job)
    (job / FILE_NAME).unlink()
    assert set(states(run("hourly", job, *two)).values()) == {RAN}
    assert load_hourly(job) == there
