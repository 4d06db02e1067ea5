"""The engine of a Dask cluster gives the very lines of this machine's engine, also when a worker is killed."""

from __future__ import annotations

import importlib.util
import json
import os
import subprocess
import sys

import pytest

from specgen.audit.cluster import NoClusterError, dask
from specgen.audit.engine import Job
from specgen.audit.keys import program
from specgen.audit.state import State
from tests.audit.works import told
from tests.chain.runs import REPO, run
from tests.conftest import LONG

WITHOUT = (
    "the Dask engine not tested: the library distributed is not installed (pip install 'specgen[portfolio]')"
)
needs_dask = pytest.mark.skipif(importlib.util.find_spec("distributed") is None, reason=WITHOUT)


@needs_dask
def test_the_same_lines_with_a_worker_killed_during_the_run(projects, audited, tmp_path):
    out, _ = audited
    with State(out) as state:
        paths = sorted(state.paths)[: None if LONG else 8]
        local = {path: state.line(path) for path in paths}
    command = [
        sys.executable,
        "-m",
        "tests.audit.on_dask",
        projects,
        program(),
        tmp_path / "lines.json",
        *paths,
    ]
    done = subprocess.run(
        command,
        cwd=REPO,
        capture_output=True,
        text=True,
        timeout=600,
        env={**os.environ, "PYTHONPATH": str(REPO)},
    )
    assert done.returncode == 0, done.stderr
    found = json.loads((tmp_path / "lines.json").read_text("utf-8"))
    assert found["lines"] == local
    assert found["victim"] not in found["alive"]  # it was killed, and another took its place


@needs_dask
def test_nobody_at_the_address_is_told_in_one_line(monkeypatch):
    monkeypatch.setattr("specgen.audit.cluster.CONNECT", "0.2s")
    with pytest.raises(NoClusterError, match="no Dask scheduler answers at"):
        next(dask(told, [Job("", "a", "", "")], "tcp://127.0.0.1:9"))


def test_without_the_library_the_message_says_what_to_install(monkeypatch, tmp_path):
    monkeypatch.setitem(sys.modules, "distributed", None)
    (tmp_path / "p").mkdir()
    (tmp_path / "p" / "project.yaml").touch()
    words = ("--engine", "dask", "--scheduler", "tcp://127.0.0.1:8786")
    done = run("audit", tmp_path, "-o", tmp_path / "out", *words)
    assert done.status == 2
    assert "pip install 'specgen[portfolio]'" in done.err
