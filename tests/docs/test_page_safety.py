"""Every attack of ``page-safety.md``, and all that ``windows.md`` and ``conventions.md`` say was tried, has a test."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

REPO = Path(__file__).parents[2]


@pytest.mark.parametrize(
    ("page", "least"), [("page-safety.md", 20), ("windows.md", 11), ("conventions.md", 25)]
)
def test_each_row_names_a_test_that_is_there(page: str, least: int) -> None:
    rows = re.findall(r"`(tests/[\w/]+\.py)::(\w+)`", (REPO / "docs" / page).read_text("utf-8"))
    assert len(rows) >= least
    for file, name in rows:
        tree = ast.parse((REPO / file).read_text("utf-8"))
        assert name in {one.name for one in tree.body if isinstance(one, ast.FunctionDef)}, (file, name)
