"""Typing into the wall in a real browser: quickly, by keyboard alone, wrongly, and with the script off."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

from tests.page.served import served
from tests.published.browser import BROWSER, chromium

PROJECTS = Path(__file__).parents[2] / "projects"


def test_a_quick_person_loses_nothing(tmp_path: Path) -> None:
    browser = chromium()
    job = shutil.copytree(PROJECTS / "mixed-humid-midrise", tmp_path / "job")
    with served(Path(job)) as page:
        words = ["node", BROWSER / "typing.mjs", browser, page.address]
        done = subprocess.run(words, capture_output=True, text=True, timeout=240, check=False)
    assert done.returncode == 0, done.stderr
    seen = json.loads(done.stdout)
    assert seen["console"] == []
    assert seen["focusLeft"] and seen["focusKept"]
    assert "slope" in seen["says"].lower() and "Findings" in seen["says"]
    assert seen["echo"].startswith("3/8 in/ft =")
    assert seen["otherKept"] == "7 in" and seen["movedOn"]
    assert seen["twice"] == "5/16 in/ft"
    assert seen["wrong"][0] == "steep" and seen["wrong"][1]
    assert seen["mended"] == 0
    assert seen["undone"] == "1/4 in/ft"
    assert seen["chosen"].lower().startswith("drainage layer")
    assert seen["plain"][0] == "1/2 in/ft" and "slope" in seen["plain"][1].lower()
    text = (Path(job) / "project.yaml").read_text("utf-8")
    assert "slope: 1/2 in/ft" in text and "outer_face_height: 7 in" in text
