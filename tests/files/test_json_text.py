"""JSON with indents: byte for byte what the library writes, and refused where it refuses."""

from __future__ import annotations

import json
from enum import StrEnum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.files.json_text import json_text

KEYS = st.one_of(st.text(), st.integers(), st.booleans(), st.none(), st.floats(allow_nan=False))
LEAVES = st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text())
TREES = st.recursive(
    LEAVES,
    lambda node: st.one_of(st.lists(node), st.tuples(node, node), st.dictionaries(KEYS, node)),
    max_leaves=30,
)


class Word(StrEnum):
    ONE = "one"


@given(TREES, st.integers(0, 3))
def test_it_is_what_the_library_writes(tree: object, indent: int) -> None:
    assert json_text(tree, indent) == json.dumps(tree, indent=indent, ensure_ascii=False)


def test_words_of_an_enumeration_are_words() -> None:
    tree = {Word.ONE: [Word.ONE, 'a "b"\n\\ \x00 é ☃ 𝄞']}
    assert json_text(tree) == json.dumps(tree, indent=2, ensure_ascii=False)


@pytest.mark.parametrize("no_json", [{1, 2}, object(), {"key": b"bytes"}, {("a", "b"): 1}])
def test_what_is_no_json_is_refused(no_json: object) -> None:
    with pytest.raises(TypeError):
        json.dumps(no_json, indent=2)
    with pytest.raises(TypeError):
        json_text(no_json)
