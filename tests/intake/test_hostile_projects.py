"""Random damage to sound project files: the loader succeeds or raises InputError, nothing else."""

from __future__ import annotations

import re
import tempfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.practice.load import load_practice

DEMOS = sorted(Path(__file__).parents[2].glob("tests/stated/*/project.yaml"))
TEXTS = [path.read_text() for path in DEMOS]
YAML_SIGNS = [*"[]{}#|'\"\t\x00", "- ", ": ", "&a", "*a", "!!x", "", "~", "[a, b]", "{a: b}"]
VALUES = ["yes", "-1", "3 in", "1e9 in", "10 perm", "22 ga", "2026-11-02", "ä", "coping", "between", "P-1"]


@st.composite
def damaged(draw: st.DrawFn) -> str:
    text = draw(st.sampled_from(TEXTS))
    for _ in range(draw(st.integers(1, 4))):
        by_line = draw(st.booleans())
        parts = text.splitlines(keepends=True) if by_line else re.split(r"(\W+)", text)
        at = draw(st.integers(0, len(parts) - 1))
        match draw(st.sampled_from(["delete", "double", "replace", "swap", "insert"])):
            case "delete":
                del parts[at]
            case "double":
                parts.insert(at, parts[at])
            case "replace":
                parts[at] = draw(st.sampled_from(YAML_SIGNS + VALUES))
            case "insert":
                parts.insert(at, draw(st.sampled_from(YAML_SIGNS + VALUES)))
            case _:
                other = draw(st.integers(0, len(parts) - 1))
                parts[at], parts[other] = parts[other], parts[at]
        text = "".join(parts)
    return text


def loads_or_explains(data: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "project.yaml"
        path.write_bytes(data)
        try:
            load_project(path, load_practice())
        except InputError as error:
            marks = [problem.mark for problem in error.problems]
            assert marks == sorted(marks)
            assert all("\n" not in problem.message + problem.fix for problem in error.problems)


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.parent.name)
def test_the_demo_projects_load(path: Path) -> None:
    assert load_project(path, load_practice()).parapets


@given(damaged())
def test_damaged_projects(text: str) -> None:
    loads_or_explains(text.encode("utf-8", "surrogatepass"))


@given(st.sampled_from(TEXTS), st.data())
def test_cut_off_projects(text: str, data: st.DataObject) -> None:
    raw = text.encode()
    loads_or_explains(raw[: data.draw(st.integers(0, len(raw)))])
