"""Every example in a docstring of the physics room runs and prints what it says."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import specgen.physics

MODULES = sorted(module.name for module in pkgutil.iter_modules(specgen.physics.__path__))


@pytest.mark.parametrize("name", MODULES)
def test_docstring_examples(name: str) -> None:
    result = doctest.testmod(importlib.import_module(f"specgen.physics.{name}"))
    assert result.failed == 0
