"""The commands where a system has fewer calls, as Windows: the same words and files, and processes that are spawned."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.chain.runs import CONFORMING, FAULTY, REPO, SUBMITTAL, contents, copied, run
from tests.conftest import LONG


def there(folder: Path, *lines: tuple[object, ...]) -> list[dict[str, Any]]:
    """What became of command lines on such a system."""
    folder.mkdir(exist_ok=True)
    (folder / "lines.json").write_text(json.dumps([[str(one) for one in line] for line in lines]), "utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "tests.commands.few_calls", folder],
        cwd=REPO,
        env={**os.environ, "PYTHONPATH": str(REPO), "PYTHONWARNDEFAULTENCODING": "1"},
        capture_output=True,
        text=True,
        timeout=900,
    )
    assert done.returncode == 0, done.stderr
    found: list[dict[str, Any]] = json.loads((folder / "done.json").read_text("utf-8"))
    assert [one["trace"] for one in found] == [""] * len(lines)
    return found


def test_checks_issues_and_reviews_are_the_same_there(tmp_path):
    lines: list[tuple[object, ...]] = [("check", FAULTY)]
    if LONG:
        lines += [
            ("review", CONFORMING, SUBMITTAL, "-o", tmp_path / "out"),
            ("write", CONFORMING, "-o", tmp_path / "issue"),
            ("register", CONFORMING, "-o", tmp_path / "register", "--as-of", "2026-12-01"),
        ]
    found = there(tmp_path / "there", *lines)
    written = contents(tmp_path)
    for line, one in zip(lines, found, strict=True):
        here = run(*line)
        assert (one["status"], one["out"]) == (here.status, here.out), (line, one["err"])
    assert _papers(contents(tmp_path)) == _papers(written)
    assert not list(tmp_path.rglob(".specgen-*"))


def _papers(found: dict[str, bytes]) -> dict[str, bytes]:
    """Without the register and its states, which bear the time."""
    return {name: data for name, data in found.items() if not name.startswith("register/")}


@pytest.mark.skipif(
    not LONG, reason="processes that are spawned: tried by make test-long, they take a minute"
)
def test_work_in_several_processes_is_done_there(tmp_path):
    for name in ("a", "b", "c"):
        copied(CONFORMING if name != "b" else FAULTY, tmp_path / "jobs" / name)
    audit, read = there(
        tmp_path / "there",
        ("audit", tmp_path / "jobs", "-o", tmp_path / "audit", "--jobs", "2", "--format", "json"),
        ("read", tmp_path / "sheet.csv", "--role", "barrier", "-o", tmp_path / "sheet.yaml"),
    )
    assert audit["status"] in (0, 1, 3), audit["err"]
    assert len(json.loads(audit["out"])["projects"]) == 3
    assert read["status"] == 2 and "sheet.csv" in read["err"]
