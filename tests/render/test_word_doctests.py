"""The examples in the docstrings of the Word writer."""

from __future__ import annotations

import doctest
from types import ModuleType

import pytest

from specgen.render import word_blocks, word_references, word_xml


@pytest.mark.parametrize(
    "module", [word_blocks, word_references, word_xml], ids=lambda module: module.__name__
)
def test_examples_hold(module: ModuleType) -> None:
    found = doctest.testmod(module)
    assert found.attempted > 0
    assert found.failed == 0
