"""The page of an audit in headless Chromium, under the accessibility rules of axe-core, and its filters without script.

Source: axe-core 4.14.1 (WCAG 2 rules and best practices), run by playwright-core in Debian's Chromium. Obtained:
run here. Needs Node, ``npm install`` in tests/browser, and Chromium.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from specgen.audit.engine import Job
from specgen.audit.folders import find_projects
from specgen.audit.totals import Audit, audit_of
from specgen.commands.audit_job import audit_job
from specgen.model.bad import BadProduct
from specgen.render.audit import audit_page
from tests.audit.portfolio import portfolio

BROWSER = Path(__file__).parent.parent / "browser"
CHROMIUM = ("chromium", "chromium-browser", "google-chrome")


@pytest.fixture(scope="module")
def audit(tmp_path_factory: pytest.TempPathFactory) -> Audit:
    """Twelve projects, one of them broken, some with accepted papers."""
    root = portfolio(tmp_path_factory.mktemp("portfolio"), 12)
    paths = find_projects(root, root / "out").projects
    lines = [json.loads(audit_job(Job(str(root), path, "", ""))) for path in paths]
    return audit_of("twelve", lines, [BadProduct("Wrap W", "", "", (), "Wrap W", "tears")])


def browser() -> str:
    chromium = next(filter(None, map(shutil.which, CHROMIUM)), None)
    if shutil.which("node") is None or chromium is None:
        pytest.skip("the audit page not looked at: Node or Chromium is not installed")
    if not (BROWSER / "node_modules" / "axe-core").exists():
        pytest.skip("the audit page not looked at: run npm install in tests/browser")
    return chromium


@pytest.fixture(scope="module")
def page(audit: Audit, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page as a file."""
    path = tmp_path_factory.mktemp("audit") / "audit.html"
    path.write_bytes(audit_page(audit))
    return path


@pytest.fixture(scope="module")
def seen(page: Path) -> dict[str, Any]:
    """What the browser saw, in light and dark, and with each filter pressed."""
    chromium = browser()
    found: dict[str, Any] = {}
    for script in ("look.mjs", "filters.mjs"):
        done = subprocess.run(
            ["node", BROWSER / script, page, chromium], capture_output=True, text=True, timeout=240
        )
        assert done.returncode == 0, done.stderr
        found |= json.loads(done.stdout)
    return found


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(seen: dict[str, Any], scheme: str) -> None:
    assert seen["violations"][scheme] == []


def test_nothing_is_fetched_and_nothing_fails(seen: dict[str, Any]) -> None:
    assert seen["requests"] == [] and seen["errors"] == []


def test_it_is_no_wider_than_a_small_telephone(seen: dict[str, Any]) -> None:
    assert seen["overflow"] <= 360


def test_every_filter_leaves_its_rows_alone_with_script_off(seen: dict[str, Any], audit: Audit) -> None:
    assert len(seen["all"]) == len(audit.projects)
    for words, shown in seen["filtered"].items():
        kind, _, value = words.partition(": ")
        wanted = {
            "Climate zone": lambda one, value=value: one.climate == value,
            "Building use": lambda one, value=value: one.use == value,
            "Rule": lambda one, value=value: value in one.codes,
        }.get(kind)
        if wanted:
            assert shown == [one.path for one in audit.projects if wanted(one)], words
    broken = [one.path for one in audit.projects if one.problems]
    assert seen["filtered"]["Worst finding, as accepted: cannot be used"] == broken
    bad = [one.path for one in audit.projects if one.bad]
    assert bad and seen["filtered"]["Accepted: bad products"] == bad


def test_two_filters_together_show_what_passes_both(seen: dict[str, Any], audit: Audit) -> None:
    climate, use = seen["both"]["climate"], seen["both"]["use"]
    wanted = [one.path for one in audit.projects if (one.climate, one.use) == (climate, use)]
    assert seen["both"]["shown"] == wanted


def test_the_reset_button_shows_all_again(seen: dict[str, Any]) -> None:
    assert seen["again"] == seen["all"]


def test_there_is_no_script_and_every_project_stands_in_the_text(page: Path, audit: Audit) -> None:
    text = page.read_text("utf-8")
    assert "<script" not in text and not re.search(r"\son\w+=", text)
    assert all(one.path in text for one in audit.projects)
