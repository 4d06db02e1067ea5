"""The examples in the docstrings of the commands and of the files they write."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import specgen.commands

MODULES = [found.name for found in pkgutil.iter_modules(specgen.commands.__path__, "specgen.commands.")]


@pytest.mark.parametrize("name", [*MODULES, "specgen.render.files", "specgen.render.replies"])
def test_examples(name):
    assert doctest.testmod(importlib.import_module(name)).failed == 0
