"""Jobs in real processes: shares, answers, errors in words, the queue, cancel, and the end of the server."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from specgen.intake.hourly import load_hourly
from specgen.intake.project import load_project
from specgen.model.calculation import Calculation
from specgen.page import job_kinds
from specgen.page.jobs import CANCELED, DONE, FAILED, KEPT, LOST, RUNNING, WAITING, Job, Jobs
from specgen.practice.load import load_practice
from tests.chain.runs import CONFORMING
from tests.page.conftest import Open, Page

WORK = "tests.page.work_of_jobs"
LONG = 60.0  # s, for a machine that does much else


@pytest.fixture
def jobs() -> Iterator[Jobs]:
    made = Jobs()
    yield made
    made.close()


def waited(true: Callable[[], object]) -> bool:
    end = time.monotonic() + LONG
    while not true():
        if time.monotonic() > end:
            return False
        time.sleep(0.01)
    return True


def ended(job: Job) -> Job:
    assert waited(lambda: job.over), job
    return job


def alive(pid: int) -> bool:
    """Whether a process runs; one that ended and waits to be taken note of does not."""
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


def test_a_job_runs_elsewhere_and_answers(jobs: Jobs) -> None:
    job = ended(jobs.start("find", f"{WORK}:answer", {"words": "Found at last."}))
    assert (job.state, job.words, job.link, job.percent) == (DONE, "Found at last.", "calculations", 100)
    assert isinstance(job.result, dict) and job.result["process"] != os.getpid()
    assert not job.kwargs


def test_its_share_is_heard_while_it_runs(jobs: Jobs, tmp_path: Path) -> None:
    job = jobs.start("wait", f"{WORK}:until", {"gate": str(tmp_path / "gate")}, "state 1")
    assert waited(lambda: job.share == 0.5)
    assert (job.state, job.percent) == (RUNNING, 50)
    assert not job.outdated("state 1") and job.outdated("state 2")
    (tmp_path / "gate").touch()
    assert ended(job).words == "The gate opened."


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("unusable", "project.yaml:3:1: error: the wall is not described"),
        ("unwritable", "out/report.html cannot be written"),
        ("faulty", "fault: tests/page/work_of_jobs.py"),
        ("killed", LOST),
        ("nowhere", "fault: "),
    ],
)
def test_what_goes_wrong_is_in_words(
    jobs: Jobs, name: str, words: str, capfd: pytest.CaptureFixture[str]
) -> None:
    job = ended(jobs.start(name, f"{WORK}:{name}", {}))
    assert job.state == FAILED
    assert job.words.startswith(words.replace("tests/page/", "")) or job.words.startswith(words)
    assert "Traceback" not in job.words + capfd.readouterr().err


def test_two_at_a_time_and_the_third_when_one_is_done(jobs: Jobs, tmp_path: Path) -> None:
    gates = [tmp_path / name for name in "abc"]
    made = [jobs.start(gate.name, f"{WORK}:until", {"gate": str(gate)}) for gate in gates]
    assert [one.state for one in made] == [RUNNING, RUNNING, WAITING]
    assert [one.number for one in jobs.every] == [3, 2, 1]
    gates[1].touch()
    ended(made[1])
    assert waited(lambda: made[2].state == RUNNING)
    assert made[0].state == RUNNING


def test_the_same_on_the_same_state_is_one_job(jobs: Jobs, tmp_path: Path) -> None:
    kwargs = {"gate": str(tmp_path / "gate")}
    first = jobs.start("hours", f"{WORK}:until", kwargs, "state 1")
    assert jobs.start("hours", f"{WORK}:until", kwargs, "state 1") is first
    other = jobs.start("hours", f"{WORK}:until", kwargs, "state 2")
    assert other is not first and jobs.latest(f"{WORK}:until", "hours") is other


def test_canceled_with_everything_it_started(jobs: Jobs, tmp_path: Path) -> None:
    numbers = tmp_path / "numbers"
    job = jobs.start("with a child", f"{WORK}:with_child", {"numbers": str(numbers)})
    assert waited(numbers.exists)
    pids = [int(one) for one in numbers.read_text().split()]
    assert all(map(alive, pids))
    jobs.cancel(job.number)
    assert (job.state, job.words) == (CANCELED, "Canceled.")
    assert waited(lambda: not any(map(alive, pids)))
    jobs.cancel(job.number)  # over: nothing happens
    jobs.cancel(99)
    assert job.state == CANCELED and jobs.get(99) is None


def test_one_that_waits_is_canceled_without_a_process(tmp_path: Path) -> None:
    jobs = Jobs(at_a_time=1)
    try:
        first = jobs.start("first", f"{WORK}:until", {"gate": str(tmp_path / "gate")})
        second = jobs.start("second", f"{WORK}:until", {"gate": "", "started": str(tmp_path / "started")})
        jobs.cancel(second.number)
        (tmp_path / "gate").touch()
        assert ended(first).state == DONE
        assert second.state == CANCELED and not (tmp_path / "started").exists()
    finally:
        jobs.close()


def test_after_the_end_nothing_starts(jobs: Jobs, tmp_path: Path) -> None:
    job = jobs.start("wait", f"{WORK}:until", {"gate": str(tmp_path / "gate")})
    jobs.close()
    late = jobs.start("late", f"{WORK}:answer", {})
    assert job.state == CANCELED and late.state == WAITING


def test_few_of_those_that_are_over_are_kept() -> None:
    jobs = Jobs(at_a_time=0)
    for number in range(KEPT + 5):
        jobs.cancel(jobs.start(str(number), f"{WORK}:answer", {}).number)
    assert len(jobs.every) == KEPT and jobs.get(1) is None and jobs.get(KEPT + 5) is not None


@pytest.mark.skipif(os.name != "posix", reason="kills as this system does")
def test_processes_end_with_a_server_that_is_killed(tmp_path: Path) -> None:
    numbers = tmp_path / "numbers"
    server = subprocess.Popen([sys.executable, "-m", WORK, str(numbers)])
    try:
        assert waited(numbers.exists)
        pids = [int(one) for one in numbers.read_text().split()]
        assert all(map(alive, pids))
        server.send_signal(signal.SIGKILL)
        server.wait()
        assert waited(lambda: not any(map(alive, pids)))
    finally:
        server.kill()
        server.wait()


def test_a_study_that_runs_on_request_is_made_in_a_job(jobs: Jobs) -> None:
    practice = load_practice()
    project = load_project(CONFORMING, practice)
    name = project.parapets[0].name
    kwargs = {
        "project": project,
        "practice": practice,
        "subject": "uncertainty",
        "parapet": name,
        "link": "x",
    }
    job = ended(jobs.start("spread", job_kinds.SHEET, kwargs))
    assert job.state == DONE, job.words
    assert isinstance(job.result, Calculation) and job.result.done and job.result.parapet == name


def test_hours_that_cannot_be_run_say_what_is_missing(jobs: Jobs, tmp_path: Path) -> None:
    practice = load_practice()
    project = load_project(CONFORMING, practice)
    bare = replace(project.parapets[0], build_up=())
    project = replace(project, path=str(tmp_path / "project.yaml"), parapets=(bare,))
    kwargs = {"project": project, "practice": practice, "parapets": (bare.name,), "link": "calculations"}
    job = ended(jobs.start("hours", job_kinds.HOURS, kwargs))
    assert job.state == DONE, job.words
    assert job.words.startswith(f"{bare.name}: the hours are unknown: ")
    assert not load_hourly(tmp_path)


def running(page: Page, **kwargs: str) -> Job:
    jobs: Jobs = page.client.app.state.jobs  # type: ignore[attr-defined]
    return jobs.start("The hours of P-1", f"{WORK}:until", kwargs, page.desk.digest)


def test_a_running_job_is_looked_at_until_it_is_over(opened: Open, tmp_path: Path) -> None:
    page = opened()
    job = running(page, gate=str(tmp_path / "gate"))
    assert waited(lambda: job.percent == 50)
    whole = page.get(f"jobs/{job.number}").text
    assert 'hx-trigger="every 1s"' in whole and "50 % done" in whole and "Look again" in whole
    part = page.get(f"jobs/{job.number}", headers={"HX-Request": "true"}).text
    assert part.lstrip().startswith("<section") and "earlier state" not in part
    (tmp_path / "gate").touch()
    ended(job)
    part = page.get(f"jobs/{job.number}", headers={"HX-Request": "true"}).text
    assert "hx-trigger" not in part and "The gate opened." in part
    assert "The hours of P-1" in page.get("jobs").text


def test_a_job_on_a_state_that_is_gone_is_marked(opened: Open, tmp_path: Path) -> None:
    page = opened()
    job = running(page, gate=str(tmp_path / "gate"))
    page.desk.change(lambda text: f"{text}# a line\n", "a line")
    assert "The project has changed since this was started." in page.get(f"jobs/{job.number}").text
    page.client.app.state.jobs.close()  # type: ignore[attr-defined]


def test_cancel_from_the_page(opened: Open, tmp_path: Path) -> None:
    page = opened()
    job = running(page, gate=str(tmp_path / "gate"))
    answer = page.post(f"jobs/{job.number}/cancel")
    assert answer.status_code == 303 and job.state == CANCELED
    assert "Canceled." in page.post(f"jobs/{job.number}/cancel", live=True).text
    assert "no longer kept" in page.get("jobs/99").text and page.get("jobs/99").status_code == 422
