"""Sections, papers, comments in a real browser: clean for everyone; a number opens its source; a round made by hand."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from specgen.intake.comments import comments_beside
from specgen.practice.load import load_practice
from tests.chain.runs import run
from tests.conftest import LONG, sampled
from tests.page.served import served
from tests.published.browser import BROWSER, chromium

FULL = pytest.mark.skipif(not LONG, reason="some twenty seconds in a browser: tried by make test-long")
PROJECTS = Path(__file__).parents[2] / "projects"
WIND = ("--value", "wind_speed", "--of", "site")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return Path(shutil.copytree(PROJECTS / "faulty-parapet", tmp_path / "job"))


def seen(script: str, *words: object) -> Any:
    """What a script of ``tests/browser`` saw."""
    command = ["node", str(BROWSER / script), chromium(), *map(str, words)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=400, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@FULL
def test_each_view_is_clean_for_everyone(job: Path) -> None:
    chromium()
    run("comment", job, "--add", "Who gives this speed?", "--by", "A. B.", *WIND)
    run("write", job, "-o", job / "issue")
    views = [
        "sections",
        "drawings",
        "sections/07-71-00",
        "sections/submittal-checklist",
        "file",
        "comments",
        "comments/new?value=wind_speed&of=site",
        "issued/issue",
    ]
    views = sampled("views looked at in a browser", views, "print")
    with served(job) as page:
        found = seen("views.mjs", page.address, "-", *views)
    for view in views:
        one = found[view]
        assert one["status"] == 200 and one["console"] == [] and one["elsewhere"] == [], view
        assert one["violations"] == {"light": [], "dark": []}, view
        assert {width: over for width, over in one["overflow"].items() if over > 0} == {}, view


@FULL
@pytest.mark.parametrize("script", ["live", "plain"])
def test_a_number_opens_its_source_and_a_comment_and_an_issue_are_made_by_hand(
    job: Path, script: str
) -> None:
    chromium()
    with served(job) as page:
        found = seen("paper.mjs", page.address, script)
    assert found["console"] == []
    assert found["hidden"] is False
    assert found["shown"] is True, "the panel of the number that was pressed is open"
    assert found["number"] in found["panel"] and "Status: " in found["panel"]
    (one,) = comments_beside(job / "project.yaml", load_practice())
    assert (one.name, one.text, one.answered) == ("B. Builder", "Is this meant?", True)
    assert [each.text for each in one.answers] == ["It is."]
    assert (job / "out" / "issue.json").is_file() and "written" in found["issued"]
    assert found["archive"].endswith(".zip")
    assert found["pages"] > 0 and found["folio"]
    assert found["frame"] == [] and found["sheet"] is True, (
        "on paper stands the section, and nothing of the page"
    )
