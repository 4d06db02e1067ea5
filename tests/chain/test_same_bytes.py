"""The same project gives the same bytes: in any folder, process, time zone, language and hash order."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.chain.runs import CONFORMING, REPO, SUBMITTAL, contents, run

WORLDS = (
    {"PYTHONHASHSEED": "1", "TZ": "Pacific/Kiritimati", "LC_ALL": "C.UTF-8", "COLUMNS": "60"},
    {"PYTHONHASHSEED": "2", "TZ": "America/St_Johns", "LC_ALL": "C", "PYTHONUTF8": "0", "COLUMNS": "200"},
)


def command(world: dict[str, str], cwd: Path, *words: object) -> str:
    """Run specgen in a process of its own, told where the package is and nothing else of this one."""
    keep = {key: os.environ[key] for key in ("PATH", "HOME", "SYSTEMROOT") if key in os.environ}
    done = subprocess.run(
        [sys.executable, "-m", "specgen", *map(str, words)],
        cwd=cwd,
        env={**keep, **world, "PYTHONPATH": str(REPO), "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        timeout=120,
    )
    assert done.returncode in (0, 1), done.stderr.decode("utf-8", "replace")
    return done.stdout.decode("utf-8", "replace")


def test_write_and_review_give_the_same_bytes_everywhere(tmp_path, written):
    near, far = tmp_path / "near", tmp_path / "far" / "a b" / "Büro"
    for place in (near, far):
        place.mkdir(parents=True)
        shutil.copytree(CONFORMING, place / "job")
    command(WORLDS[0], near, "write", "job", "-o", "out")
    command(WORLDS[1], tmp_path, "write", far / "job" / "project.yaml", "-o", far / "out")
    first, second = contents(near / "out"), contents(far / "out")
    assert first == second
    assert set(first) == {"manifest.json", *json.loads(first["manifest.json"])["files"]}
    # Nor does it matter that the test wrote it in its own process, from the checkout.
    assert first == contents(written)

    command(WORLDS[0], near, "review", "job", f"job/submittals/{SUBMITTAL.name}", "-o", "letters")
    sheet = far / "job" / "submittals" / SUBMITTAL.name
    command(WORLDS[1], tmp_path, "review", far / "job", sheet, "-o", far / "letters")
    letters = contents(near / "letters")
    assert letters == contents(far / "letters")
    assert len(letters) == 3


@pytest.mark.parametrize("folder", ["written", "reviewed"])
def test_no_file_names_a_folder_of_this_machine(folder, request):
    for name, content in contents(request.getfixturevalue(folder)).items():
        if name.endswith(".json"):
            assert b"projects/" not in content and str(REPO).encode() not in content, name


def test_a_second_run_touches_nothing(tmp_path):
    out = tmp_path / "out"
    run("write", CONFORMING, "-o", out)
    before = {path: path.stat().st_mtime_ns for path in out.rglob("*")}
    run("write", CONFORMING, "-o", out)
    assert {path: path.stat().st_mtime_ns for path in out.rglob("*")} == before
