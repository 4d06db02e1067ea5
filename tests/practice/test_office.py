"""Weaker and stronger limits, and the overlay of an office's standards."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.files.marks import Mark
from specgen.model.source import Source, Status
from specgen.practice.load import load_practice
from specgen.practice.office import Office, change_of, is_weaker, overlay
from specgen.units.quantity import parse, quantity

PRACTICE = load_practice()
HOUSE = Source("Wall Standards", "2026", "item 1", Status.OFFICE, "Sample Office")
MARK = Mark("office.yaml", 2, 3)


@pytest.mark.parametrize(
    ("old", "new", "direction", "weaker"),
    [
        ("3/16 in", "3/8 in", "at least", False),
        ("3/16 in", "1/8 in", "at least", True),
        ("3/16 in", "4.7625 mm", "at least", False),  # the same size in another unit
        ("10 ft", "8 ft", "at most", False),
        ("10 ft", "12 ft", "at most", True),
        ("10 ft", "8 ft", "", True),  # nobody knows the direction
        ("10 ft", "120 in", "", False),
    ],
)
def test_weaker_by_direction(old: str, new: str, direction: str, weaker: bool) -> None:
    assert is_weaker(parse(old), parse(new), direction) is weaker


def test_fewer_words_to_choose_from_are_not_weaker() -> None:
    assert not is_weaker(("a", "b"), ("a",), "one of")
    assert is_weaker(("a",), ("a", "b"), "one of")


@given(st.floats(0.01, 100), st.floats(0.01, 100), st.sampled_from(["at least", "at most"]))
def test_of_two_different_limits_one_is_weaker(one: float, other: float, direction: str) -> None:
    a, b = quantity(one, "in"), quantity(other, "in")
    differ = abs(one - other) > 1e-6 * max(one, other)
    if differ:
        assert is_weaker(a, b, direction) != is_weaker(b, a, direction)


def changed(key: str, text: str, direction: str):
    original = PRACTICE.entry(key)
    entry = replace(original, value=parse(text), source=replace(HOUSE, instead_of=original.source))
    return change_of(original, entry, direction, MARK)


def test_the_overlay_is_a_new_practice() -> None:
    office = Office("Sample Office", "office.yaml", (changed("drainage.depth", "3/8 in", "at least"),))
    over = overlay(PRACTICE, office)
    assert over.quantity("drainage.depth").text == "3/8 in"
    assert over.source("drainage.depth").instead_of == PRACTICE.source("drainage.depth")
    assert PRACTICE.quantity("drainage.depth").text == "3/16 in"
    assert over.tables is PRACTICE.tables and over.vocabulary is PRACTICE.vocabulary


def test_a_limit_below_the_code_needs_a_waiver() -> None:
    office = Office("Sample Office", "office.yaml", (changed("drainage.depth", "1/8 in", "at least"),))
    assert overlay(PRACTICE, office).quantity("drainage.depth").text == "3/16 in"
    assert overlay(PRACTICE, office, {"drainage.depth"}).quantity("drainage.depth").text == "1/8 in"
    assert overlay(PRACTICE, office, {"outlet.flange"}).quantity("drainage.depth").text == "3/16 in"


def test_a_limit_of_practice_may_go_either_way() -> None:
    office = Office("Sample Office", "office.yaml", (changed("turnup.height", "6 in", "at least"),))
    assert overlay(PRACTICE, office).quantity("turnup.height").text == "6 in"
