"""Random trees and random text, through both of PyYAML's parsers."""

import contextlib
import re
from collections.abc import Iterator
from typing import Any
from unittest import mock

import pytest
import yaml
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from specgen.files.marks import InputError, Mark
from specgen.files.yaml_reader import MarkedList, MarkedMap, read_yaml_text
from specgen.files.yaml_scalars import bad_characters

_LINE_END = re.compile("\r\n|[\r\n\x85\u2028\u2029]")


words = st.text(max_size=12).filter(lambda word: not bad_characters(word))
leaves = words | st.integers(-(10**9), 10**9) | st.booleans() | st.none() | st.dates()
trees = st.recursive(
    leaves, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(words, inner, max_size=4)
)
tops = st.lists(trees, max_size=5) | st.dictionaries(words, trees, max_size=5)


@contextlib.contextmanager
def pure() -> Iterator[None]:
    with mock.patch.object(yaml, "__with_libyaml__", False):
        yield


def outcome(text: str) -> object:
    try:
        read = read_yaml_text(text, "p.yaml")
    except InputError as error:
        return str(error)
    # The two parsers place an empty value differently after a '? ' key.
    return read, [(value, mark) for value, mark in marks(read) if value is not None]


def marks(node: Any) -> Iterator[tuple[Any, Mark]]:
    if isinstance(node, MarkedMap):
        for key, value in node.items():
            yield key, node.keys_at[key]
            yield value, node.values_at[key]
            yield from marks(value)
    elif isinstance(node, MarkedList):
        for value, mark in zip(node, node.items_at, strict=True):
            yield value, mark
            yield from marks(value)


@settings(max_examples=150, deadline=None)
@given(tops, st.sampled_from([None, True, False]), st.booleans())
def test_dumped_trees_read_back_equal_with_marks_at_the_first_character(
    tree: Any, flow: bool | None, unicode: bool
) -> None:
    if unicode:
        # PyYAML writes these line breaks bare into quotes, where reading folds them into a space.
        assume(
            not re.search("[\x85\u2028\u2029]", str(tree)) and not re.search(r"\\x85|\\u202[89]", repr(tree))
        )
    text = yaml.safe_dump(tree, default_flow_style=flow, allow_unicode=unicode, sort_keys=False)
    read = read_yaml_text(text, "p.yaml")
    assert read == tree
    lines = _LINE_END.split(text)
    for value, mark in marks(read):
        rest = lines[mark.line - 1][mark.column - 1 :]
        if isinstance(value, dict | list) or value is None:
            continue
        if isinstance(value, bool):
            assert rest.startswith(str(value).lower())
        elif isinstance(value, str):
            first = rest[:1]
            assert first in ("'", '"', "?", "|", ">") or rest.startswith(value[:1]), (value, rest)
        else:
            assert rest.startswith(str(value))


@settings(max_examples=150, deadline=None)
@given(tops)
def test_both_parsers_give_one_tree(tree: Any) -> None:
    text = yaml.safe_dump(tree, sort_keys=False)
    fast = outcome(text)
    with pure():
        assert outcome(text) == fast


PIECES = [
    "a", "b", "12", "yes", "~", "<<", "2026-13-40", ": ", ":", "- ", "-", "? ", "?", "[", "]", "{", "}", ", ",
    ",", "\n",    "\n  ", "\n    ", "\r\n", "\t", " ", "#", " # c", "'", '"', "|", ">", "|\n", "&x ", "*x", "*x ",
    "!", "!t ", "!!str ",    "%", "@", "`", "---\n", "...\n", "\\", "\u2028", "é", "a: b\n", "- c\n", "|2-\n", "\n\n",
]  # fmt: skip


@settings(max_examples=400, deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=14).map("".join))
def test_any_text_is_read_or_refused_alike_by_both_parsers(text: str) -> None:
    fast = outcome(text)
    with pure():
        assert outcome(text) == fast


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=60))
def test_any_text_ends_in_a_tree_or_a_marked_problem(text: str) -> None:
    try:
        read_yaml_text(text, "p.yaml")
    except InputError as error:
        lines = len(_LINE_END.split(text))
        assert all(
            1 <= problem.mark.line <= lines + 1 and problem.mark.column >= 1 for problem in error.problems
        )


def test_a_sound_file_is_read_by_the_fast_parser_and_by_the_pure_one_if_that_is_missing() -> None:
    if not yaml.__with_libyaml__:
        pytest.skip("PyYAML was built without its C parser")
    with mock.patch.object(yaml, "SafeLoader", None):
        assert read_yaml_text("a: [b, 'c?'] # d\n", "p.yaml") == {"a": ["b", "c?"]}
    with pure(), mock.patch.object(yaml, "CSafeLoader", None):
        assert read_yaml_text("a: [b, 'c?'] # d\n", "p.yaml") == {"a": ["b", "c?"]}
