"""The basis report in headless Chromium, under the accessibility rules of axe-core.

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

from specgen.design.run import everyday
from specgen.render.basis import basis_bytes
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from tests.chain.runs import FAULTY

BROWSER = Path(__file__).parent.parent / "browser"
CHROMIUM = ("chromium", "chromium-browser", "google-chrome")


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What the browser saw of the report of the faulty project, in light and dark."""
    chromium = next(filter(None, map(shutil.which, CHROMIUM)), None)
    if shutil.which("node") is None or chromium is None:
        pytest.skip("accessibility not checked: Node or Chromium is not installed")
    if not (BROWSER / "node_modules" / "axe-core").exists():
        pytest.skip("accessibility not checked: run npm install in tests/browser")
    spec = specify(read_inputs(FAULTY, None, False).assessed())
    path = tmp_path_factory.mktemp("basis") / "basis.html"
    path.write_bytes(basis_bytes(spec, everyday()))
    done = subprocess.run(
        ["node", BROWSER / "look.mjs", path, chromium], capture_output=True, text=True, timeout=240
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
    assert "Findings" in seen["focus"]
    assert any(words.startswith("Project, site, and building") for words in seen["focus"])
