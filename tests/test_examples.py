"""Every example in a docstring of the house runs and prints what it says."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path

import pytest

import specgen

ROOT = Path(specgen.__file__).parent
MODULES = sorted(
    ".".join(path.relative_to(ROOT.parent).with_suffix("").parts)
    for path in ROOT.rglob("*.py")
    if ">>> " in path.read_text(encoding="utf-8")
)


@pytest.mark.parametrize("name", MODULES)
def test_examples(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT.parent)  # some read a worked example
    result = doctest.testmod(importlib.import_module(name))
    assert result.attempted > 0
    assert result.failed == 0
