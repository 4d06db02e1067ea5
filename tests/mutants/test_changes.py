"""The wrong changes that the tests are tried on: which are made, and that each row of ``rooms.yaml`` is one of them."""

from __future__ import annotations

import ast
import os
import subprocess
import sys

import pytest

from tests.mutants.changes import changes
from tests.mutants.run import ROOT, rooms, source, tree_of

ROOMS = rooms()


def made(text: str) -> list[str]:
    """The changed texts of a module."""
    found = []
    for number in range(len(list(changes(ast.parse(text))))):
        tree = ast.parse(text)
        list(changes(tree))[number].made()
        found.append(ast.unparse(ast.fix_missing_locations(tree)))
    return found


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("x = a < b", ["x = a <= b"]),
        ("x = a and b", ["x = b", "x = a"]),
        ("x = not a", ["x = a"]),
        ("x = a + b * c", ["x = a - b * c", "x = a + b / c"]),
        ("x = -a", ["x = a"]),
        ("x = 2", ["x = 3"]),
        ("x = True", ["x = False"]),
        ("x = 'yes'", ["x = 'XXyesXX'"]),
        ("x = a.strip('0')", ["x = a.strip('X')"]),
        ("x = b if a else c", ["x = b if not a else c"]),
        ("f(a, k=b)", ["pass", "f(a)"]),
        ("x = min(a, b)", ["x = max(a, b)"]),
        ("x = a[1:]", ["x = a[:]", "x = a[2:]"]),
        ("x = [a for a in b if a]", ["x = [a for a in b]"]),
        ("x = (a, b, c)", ["x = (b, c)", "x = (a, c)", "x = (a, b)"]),
        ("x = {a: b}", ["x = {}"]),
        ("x += a", ["x -= a", "x = a"]),
        ("def f(a: int = 1) -> int:\n    'Words.'\n    return a", ["return None", "a: int=2"]),
        ("x: Literal['a'] = y\nassert a == b\nimport c", []),
    ],
)
def test_which_changes_are_made(text: str, expected: list[str]) -> None:
    found = made(text)
    assert len(found) == len(expected)
    assert all(any(one in text for text in found) for one in expected)


@pytest.mark.parametrize("module", ROOMS["modules"])
def test_what_is_equivalent_is_a_change_with_its_reason(module: str) -> None:
    every = {(one.where, one.text) for one in changes(tree_of(module))}
    for row in ROOMS["equivalent"]:
        if row["module"] == module:
            assert row["reason"]
            assert (row["in"], row["change"]) in every, f"{source(module)}: no such change: {row['change']}"


LONG = os.environ.get("SPECGEN_LONG") == "1"


def test_the_tests_notice_the_changes() -> None:
    """The changes of one function; with ``SPECGEN_LONG=1`` those of every module."""
    words = [] if LONG else ["units.compare", "keeps"]
    done = subprocess.run(
        [sys.executable, "-m", "tests.mutants.run", *words],
        cwd=ROOT, capture_output=True, text=True, env={**os.environ, "SPECGEN_LONG": ""},
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    assert LONG or "units.compare: 10 changes, 10 killed" in done.stdout
