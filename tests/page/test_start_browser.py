"""A project is started in a real browser, with the script and without it; each of these views is clean for everyone."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from tests.conftest import LONG, sampled
from tests.page.served import served
from tests.published.browser import BROWSER, chromium

FULL = pytest.mark.skipif(not LONG, reason="some twenty seconds in a browser: tried by make test-long")
PROJECTS = Path(__file__).parents[2] / "projects"


def seen(*words: object) -> Any:
    done = subprocess.run(
        ["node", *map(str, words)], capture_output=True, text=True, timeout=400, check=False
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@pytest.mark.slow
@FULL
@pytest.mark.parametrize("script", [(), ("plain",)], ids=["live", "script off"])
def test_from_an_empty_folder_to_a_wall_that_was_proposed(tmp_path: Path, script: tuple[str, ...]) -> None:
    browser = chromium()
    with served(tmp_path) as page:
        found = seen(BROWSER / "start.mjs", browser, page.address, *script)
    assert found["console"] == []
    assert "Mean roof height" in found["refused"] and "did you mean “ft”" in found["refused"]
    assert found["kept"] == ["Mill Yard", "76 fet", True, "4A"]
    assert found["still"] == "76 fet"  # a link within the view loads nothing anew
    if not script:
        assert "did you mean “ft”" in found["wrong"] and found["echo"] == "76 ft = 23.2 m"
        assert found["focus"] == "height-value" and found["stopHeld"] == "Stop the search"
    assert found["walls"] >= 1 and found["drawn"] == found["walls"]
    assert "What to do next" in found["overview"] and found["facts"] > 60
    project = load_project(tmp_path, load_practice())
    assert project.building.values["height"].text == "76 ft"
    assert project.parapets[0].part("coping") is not None


@pytest.mark.parametrize("example", ["", "faulty-parapet"])
def test_each_view_is_clean_for_everyone(tmp_path: Path, example: str) -> None:
    browser = chromium()
    views = ["", "facts", "start", "start/proposals"] if example else ["", "start/facts", "start/example"]
    views = sampled("views looked at in a browser", views, f"start {example}")
    if example:
        shutil.copytree(PROJECTS / example, tmp_path / "job")
    else:
        (tmp_path / "job").mkdir()
    with served(tmp_path / "job") as page:
        found = seen(BROWSER / "views.mjs", browser, page.address, "-", *views)
    for view in views:
        one = found[view]
        assert one["status"] == 200 and one["console"] == [] and one["elsewhere"] == [], view
        assert one["violations"] == {"light": [], "dark": []}, view
        assert {width: over for width, over in one["overflow"].items() if over > 0} == {}, view
        assert one["focus"][0].startswith("Skip to the ")
