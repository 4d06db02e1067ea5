"""Findings, calculations and comparisons in a real browser: by script, by keyboard, under the rules of axe-core."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import LONG, sampled
from tests.page.served import served
from tests.published.browser import BROWSER, chromium

PROJECTS = Path(__file__).parents[2] / "projects"

FULL = pytest.mark.skipif(not LONG, reason="some ten seconds in a browser: tried by make test-long")


def copied(tmp_path: Path) -> Path:
    job = Path(shutil.copytree(PROJECTS / "faulty-parapet", tmp_path / "job"))
    shutil.copytree(PROJECTS / "mixed-humid-midrise", job / "earlier")
    return job


def seen_of(*words: str | Path) -> dict[str, Any]:
    done = subprocess.run(["node", *words], capture_output=True, text=True, timeout=400, check=False)
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


@FULL
def test_a_person_understands_and_mends_by_keyboard(tmp_path: Path) -> None:
    browser, job = chromium(), copied(tmp_path)
    before = (job / "project.yaml").read_bytes()
    with served(job) as page:
        seen = seen_of(BROWSER / "understand.mjs", browser, page.address)
    assert seen["console"] == []
    every, risks, asked = seen["filtered"]
    assert every > risks > 0 and "severity=risk" in asked
    assert seen["remedies"] == 2
    assert "Findings: 1 closed" in seen["applied"][0] and "gone" in seen["applied"][1]
    assert seen["back"] == every
    assert seen["slid"][0] == "39.6" and "change." in seen["slid"][1]
    assert seen["slid"][2] == "range"
    assert seen["typed"][0] == "3 ft 2 in" and "3 ft 2 in" in seen["typed"][1]
    assert "is no height above the finished roof" in str(seen["wrong"])
    assert seen["ran"][0] >= 2
    assert (job / "project.yaml").read_bytes() == before


@FULL
def test_every_view_is_clean_in_each_width(tmp_path: Path) -> None:
    browser, job = chromium(), copied(tmp_path)
    with served(job) as page:
        names = re.findall(r'findings/([A-Z]{2}\d\d-\w+)"', page.get("findings").text)
        views = [
            "findings",
            f"findings/{names[0]}",
            f"findings/{names[-1]}?tried=yes",
            "questions",
            "calculations",
            "calculations/P-1/vapor%20drive",
            "calculations/P-1/coping%20wind?was-1=115&try-1=150",
            "calculations/P-1/hourly%20moisture",
            "compare?folder=earlier",
            "jobs",
        ]
        views = sampled("views looked at in a browser", views, "understand")
        seen = seen_of(BROWSER / "views.mjs", browser, page.address, "-", *views)
    assert list(seen) == views
    for view, one in seen.items():
        assert one["status"] == 200, view
        assert one["violations"] == {"light": [], "dark": []}, view
        assert set(one["overflow"].values()) == {0}, (view, one["overflow"])
        assert one["console"] == [] and one["elsewhere"] == [], view
