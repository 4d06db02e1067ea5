"""README.md: the tour runs as written, and its pasted output is the real one."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from tests import readme_tour


@pytest.mark.skipif(
    shutil.which("sh") is None, reason="the README tour is written for a POSIX shell: no `sh` here"
)
@pytest.mark.always
def test_tour_prints_what_the_readme_says(tmp_path: Path) -> None:
    text = readme_tour.README.read_text(encoding="utf-8")
    readme_tour.prepare(tmp_path)
    statuses: dict[str, int] = {}
    assert readme_tour.replayed(text, tmp_path, statuses) == text
    assert len(statuses) >= 6 and readme_tour.refused(statuses) == []


def test_readme_is_read_in_a_minute() -> None:
    """About 200 words a minute; the tour and the commands are looked at, not read."""
    text = readme_tour.README.read_text(encoding="utf-8")
    before = text.partition("## Where to go")[0]
    prose = re.sub(r"^(```.*?^```|    .*?)$", "", before, flags=re.DOTALL | re.MULTILINE)
    assert len(prose.split()) <= 260
    assert len(text.splitlines()) <= 110
    assert all((readme_tour.ROOT / link).exists() for link in re.findall(r"\]\(([^)#]+)", text))
