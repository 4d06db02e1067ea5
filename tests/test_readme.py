"""README.md: the tour runs as written, and its pasted output is the real one."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests import readme_tour


@pytest.mark.skipif(
    shutil.which("sh") is None, reason="the README tour is written for a POSIX shell: no `sh` here"
)
def test_tour_prints_what_the_readme_says(tmp_path: Path) -> None:
    text = readme_tour.README.read_text(encoding="utf-8")
    assert len(readme_tour.blocks(text)) >= 4
    readme_tour.prepare(tmp_path)
    assert readme_tour.replayed(text, tmp_path) == text


def test_tour_uses_every_command() -> None:
    text = readme_tour.README.read_text(encoding="utf-8")
    played = " ".join(
        command for block in readme_tour.blocks(text) for command in readme_tour.commands(block)
    )
    for name in ("new", "check", "calc", "write", "review", "rules"):
        assert f"specgen {name}" in played
