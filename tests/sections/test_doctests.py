"""The examples in the docstrings of the room."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import specgen.sections

MODULES = [found.name for found in pkgutil.iter_modules(specgen.sections.__path__, "specgen.sections.")]


@pytest.mark.parametrize("name", MODULES)
def test_examples(name):
    assert doctest.testmod(importlib.import_module(name)).failed == 0
