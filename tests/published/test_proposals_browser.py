"""The page that compares proposed walls in headless Chromium, under the accessibility rules of axe-core.

Source: axe-core 4.14.1 (WCAG 2 rules and best practices), run by playwright-core in Debian's Chromium. Obtained:
run here. Needs Node, ``npm install`` in tests/browser, and Chromium.
"""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from specgen.work.inputs import read_inputs
from specgen.work.proposals import propose, write_proposals
from tests.propose.sets import FOLDER
from tests.published.test_basis_browser import BROWSER, CHROMIUM


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What the browser saw of the page of a standing wall, in light and dark."""
    chromium = next(filter(None, map(shutil.which, CHROMIUM)), None)
    if shutil.which("node") is None or chromium is None:
        pytest.skip("accessibility not checked: Node or Chromium is not installed")
    if not (BROWSER / "node_modules" / "axe-core").exists():
        pytest.skip("accessibility not checked: run npm install in tests/browser")
    facts, folder = FOLDER / "standing-cmu-sbs-4a.yaml", tmp_path_factory.mktemp("proposals")
    inputs = read_inputs(facts, None, False)
    write_proposals(propose(inputs), inputs, folder, force=False, other_project=False)
    done = subprocess.run(
        ["node", BROWSER / "look.mjs", Path(folder) / "comparison.html", chromium],
        capture_output=True,
        text=True,
        timeout=240,
    )
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(seen: dict[str, Any], scheme: str) -> None:
    assert seen["violations"][scheme] == []


def test_nothing_is_fetched_and_nothing_fails(seen: dict[str, Any]) -> None:
    assert seen["requests"] == [] and seen["errors"] == []


def test_it_is_no_wider_than_a_small_telephone(seen: dict[str, Any]) -> None:
    assert seen["overflow"] <= 360


def test_the_keyboard_reaches_contents_and_tables(seen: dict[str, Any]) -> None:
    assert seen["focus"][0] == "Skip to the summary"
    assert "Openings first" in seen["focus"]
