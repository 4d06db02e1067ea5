"""The examples in the docstrings of the room."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import specgen.agreement

MODULES = [found.name for found in pkgutil.iter_modules(specgen.agreement.__path__, "specgen.agreement.")]


@pytest.mark.parametrize("name", MODULES)
def test_examples(name):
    assert doctest.testmod(importlib.import_module(name)).failed == 0
