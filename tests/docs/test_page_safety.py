"""Every attack that ``docs/page-safety.md`` lists stands beside a test that is there."""

from __future__ import annotations

import ast
import re
from pathlib import Path

REPO = Path(__file__).parents[2]


def test_each_row_names_a_test_that_is_there() -> None:
    rows = re.findall(r"`(tests/[\w/]+\.py)::(\w+)`", (REPO / "docs" / "page-safety.md").read_text("utf-8"))
    assert len(rows) >= 20
    for file, name in rows:
        tree = ast.parse((REPO / file).read_text("utf-8"))
        assert name in {one.name for one in tree.body if isinstance(one, ast.FunctionDef)}, (file, name)
