"""One version: of the package, of the changelog, of the tag; and the fragments that make the changelog."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import specgen

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
VERSION = PROJECT["project"]["version"]
CHANGELOG = (ROOT / "CHANGELOG.md").read_text("utf-8")
FRAGMENTS = sorted(path for path in (ROOT / "docs" / "changes").iterdir() if path.name != "template.jinja")
HEADING = re.compile(r"^## (?:Unreleased|([0-9.]+) \(([0-9]{4}-[0-9]{2}-[0-9]{2})\))$", re.MULTILINE)


def released() -> str:
    """The version at the top of the changelog; "" while what follows the last one is not released."""
    first = HEADING.search(CHANGELOG)
    assert first is not None
    return first[1] or ""


def test_package_and_changelog_are_of_one_version() -> None:
    assert re.fullmatch(r"[0-9]+\.[0-9]+\.[0-9]+", VERSION)
    assert specgen.__version__ == VERSION
    assert released() in ("", VERSION)
    assert not (FRAGMENTS and released()), "a release takes the fragments in: make changelog"


def test_a_tag_is_the_version_that_it_stands_on() -> None:
    done = subprocess.run(
        ["git", "tag", "--points-at", "HEAD", "--list", "v*"], cwd=ROOT, capture_output=True, text=True
    )
    for tag in done.stdout.split():
        assert tag == f"v{VERSION}" and released() == VERSION


def test_every_heading_of_the_changelog_is_a_version_once() -> None:
    headings = re.findall(r"^## .*$", CHANGELOG, re.MULTILINE)
    assert headings and all(HEADING.fullmatch(one) for one in headings)
    assert len(set(headings)) == len(headings)
    assert not re.search(r"^(?:<{7}|={7}|>{7})", CHANGELOG, re.MULTILINE)  # of a merge that nobody ended


@pytest.mark.parametrize("path", FRAGMENTS, ids=lambda path: path.name)
def test_a_fragment_is_one_line_of_the_changelog(path: Path) -> None:
    assert re.fullmatch(r"\+[a-z0-9-]+\.change\.md", path.name)
    assert re.fullmatch(r"[A-Z`].*\.\n", path.read_text("utf-8"))


def test_the_fragments_become_a_section(tmp_path: Path) -> None:
    pytest.importorskip("towncrier", reason="the changelog is made by towncrier: install the extra `test`")
    for name in ("pyproject.toml", "CHANGELOG.md"):
        shutil.copy(ROOT / name, tmp_path)
    shutil.copytree(ROOT / "docs" / "changes", tmp_path / "docs" / "changes")
    (tmp_path / "docs" / "changes" / "+sample.change.md").write_text("A sample of a change.\n", "utf-8")
    words = ["build", "--yes", "--version", "9.9.9", "--date", "2027-01-02", "--dir", str(tmp_path)]
    done = subprocess.run([sys.executable, "-m", "towncrier", *words], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    made = (tmp_path / "CHANGELOG.md").read_text("utf-8")
    first = HEADING.search(made)
    assert first is not None and first[1] == "9.9.9"
    head = made.partition("## Unreleased")[0]
    assert head.count("\n- ") == len(FRAGMENTS) + 1 and "\n- A sample of a change.\n" in head
    assert made.endswith(CHANGELOG.partition("<!-- newest first -->\n")[2].lstrip("\n"))
