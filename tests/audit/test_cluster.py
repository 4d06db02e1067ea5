"""The engine of a Dask cluster gives the very lines of this machine's engine, also when a worker is killed."""

from __future__ import annotations

import importlib.util
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from specgen.audit.cluster import NoClusterError, dask
from specgen.audit.engine import Job
from specgen.audit.keys import program
from specgen.audit.state import State
from tests.audit.works import line_of_job
from tests.chain.runs import REPO, run
from tests.conftest import LONG

WITHOUT = "the Dask engine not tested: the library distributed is not installed (pip install distributed)"
needs_dask = pytest.mark.skipif(importlib.util.find_spec("distributed") is None, reason=WITHOUT)


def on_dask(root: Path, asking: str, out: Path, *paths: str) -> dict:
    """What the cluster of the helper gave, from a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.audit.on_dask", root, asking, out, *paths],
        cwd=REPO,
        capture_output=True,
        text=True,
        timeout=600,
        env={**os.environ, "PYTHONPATH": str(REPO)},
    )
    assert done.returncode == 0, done.stderr
    found: dict = json.loads(out.read_text("utf-8"))
    return found


@needs_dask
@pytest.mark.skipif(
    not LONG, reason="a Dask worker killed during a run: tried by make test-long, it takes a minute"
)
def test_the_same_lines_with_a_worker_killed_during_the_run(projects, audited, tmp_path):
    out, _ = audited
    with State(out) as state:
        paths = sorted(state.paths)[: None if LONG else 6]
        local = {path: state.line(path) for path in paths}
    found = on_dask(projects, program(), tmp_path / "lines.json", *paths)
    assert found["lines"] == local
    assert found["victim"] not in found["alive"]  # it was killed, and another took its place


@needs_dask
@pytest.mark.skipif(
    not LONG, reason="a project that ends every Dask worker: tried by make test-long, it takes a minute"
)
def test_a_project_that_ends_its_workers_is_lost_alone(tmp_path):
    names = ["a", "b", "deadly", "c", "d", "e"]
    found = on_dask(tmp_path, "", tmp_path / "lines.json", *names)
    assert found["lines"] == {name: "" if name == "deadly" else name.upper() for name in names}


@needs_dask
def test_nobody_at_the_address_is_told_in_one_line(monkeypatch):
    monkeypatch.setattr("specgen.audit.cluster.CONNECT", "0.2s")
    with pytest.raises(NoClusterError, match="no Dask scheduler answers at"):
        next(dask(line_of_job, [Job("", "a", "", "")], "tcp://127.0.0.1:9"))


def test_without_the_library_the_message_says_what_to_install(monkeypatch, tmp_path):
    monkeypatch.setitem(sys.modules, "distributed", None)
    (tmp_path / "p").mkdir()
    (tmp_path / "p" / "project.yaml").touch()
    words = ("--engine", "dask", "--scheduler", "tcp://127.0.0.1:8786")
    done = run("audit", tmp_path, "-o", tmp_path / "out", *words)
    assert done.status == 2
    assert "pip install distributed" in done.err
