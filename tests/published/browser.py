"""What headless Chromium sees of a page: one helper for every test that opens one."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

BROWSER = Path(__file__).parent.parent / "browser"
CHROMIUM = ("chromium", "chromium-browser", "google-chrome")
SMALL = 360  # [px] a small telephone
PAPER = 703  # [px] between the margins of a letter sheet


def chromium() -> str:
    """The browser; the test is skipped where it, Node or the accessibility rules are not installed."""
    found = next(filter(None, map(shutil.which, CHROMIUM)), None)
    if shutil.which("node") is None or found is None:
        pytest.skip("no page looked at: Node or Chromium is not installed")
    if not (BROWSER / "node_modules" / "axe-core").exists():
        pytest.skip("no page looked at: run npm install in tests/browser")
    return found


def seen_of(page: Path, *scripts: str) -> dict[str, Any]:
    """What the scripts of ``tests/browser`` saw of a page."""
    found: dict[str, Any] = {}
    for script in scripts:
        done = subprocess.run(
            ["node", BROWSER / script, page, chromium()], capture_output=True, text=True, timeout=240
        )
        assert done.returncode == 0, done.stderr
        found |= json.loads(done.stdout)
    return found


def hold_clean(seen: dict[str, Any]) -> None:
    """Every rule of accessibility held, nothing fetched, and no wider than a small telephone or a sheet of paper."""
    assert seen["violations"] == {"light": [], "dark": []}
    assert seen["requests"] == [] and seen["errors"] == []
    assert seen["overflow"] <= SMALL and seen["printed"] <= PAPER
    assert seen["focus"][0].startswith("Skip to the ")
