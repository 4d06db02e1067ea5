"""The engine of this machine: every job comes back once, and a worker that ends takes no other project with it."""

from __future__ import annotations

import pytest

from specgen.audit.engine import Job, local
from tests.audit.works import deadly, deadly_once, line_of_job


def jobs(*paths: str, root: str = "") -> list[Job]:
    return [Job(root, path, "", "") for path in paths]


@pytest.mark.parametrize("workers", [1, 2])
def test_every_job_comes_back_once(workers):
    names = [f"p{number}" for number in range(40)]
    found = {one.job.path: one.line for one in local(line_of_job, jobs(*names), workers)}
    assert found == {name: name.upper() for name in names}


def test_a_project_that_ends_its_worker_is_lost_alone():
    names = ["a", "b", "deadly", "c", "d", "e", "f", "g"]
    results = list(local(deadly, jobs(*names), 2))
    assert sorted(one.job.path for one in results) == sorted(names)
    assert {one.job.path: one.line for one in results} == {
        name: "" if name == "deadly" else name.upper() for name in names
    }


def test_a_worker_that_somebody_kills_loses_nothing(tmp_path):
    names = ["a", "deadly", "b", "c"]
    results = list(local(deadly_once, jobs(*names, root=str(tmp_path)), 1))
    assert {one.job.path: one.line for one in results} == {name: name.upper() for name in names}
    assert (tmp_path / "tried").exists()
