"""Limits in words: the printed number is the limit's own."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.model.requirement import Limit
from specgen.practice.load import load_practice
from specgen.sections.words import joined, limit_words, parapets_in_words, without_keys
from specgen.units.quantity import parse, quantity


@pytest.mark.parametrize(
    ("limit", "system", "words"),
    [
        (Limit("at least", parse("3/16 in")), "inch-pound", "at least 3/16 in"),
        (Limit("at most", parse("0.1 perm")), "both", "not more than 0.1 perm (5.7 ng/(Pa·s·m²))"),
        (Limit("is", "TPO"), "both", "TPO"),
        (Limit("one of", ("fully adhered", "fluid-applied")), "SI", "fully adhered or fluid-applied"),
        (Limit("includes", ("TPO", "butyl")), "SI", "TPO and butyl"),
        (Limit("is", True), "SI", "yes"),
        (Limit("is", False), "SI", "no"),
        (Limit("at most", parse(2.5)), "both", "not more than 2.5"),
    ],
)
def test_words(limit, system, words):
    assert limit_words(limit, system) == words


@given(st.integers(1, 4000), st.sampled_from(["at least", "at most"]))
def test_the_second_unit_is_never_weaker(sixteenths, comparison):
    value = quantity(sixteenths / 16, "in")
    words = limit_words(Limit(comparison, value), "both")
    assert value.text in words
    second = parse(words[words.index("(") + 1 : -1])
    if comparison == "at least":
        assert second.value >= value.value * (1 - 1e-9)
    else:
        assert second.value <= value.value * (1 + 1e-9)


def test_lists():
    assert joined([], "and") == ""
    assert parapets_in_words(("P-1", "P-2")) == "at parapets P-1 and P-2"


@pytest.mark.parametrize(
    ("message", "printed"),
    [
        ("`building.guard` is not stated", "how people near the roof's edge are guarded is not stated"),
        ("no record of `fire_treatment`", "no record of fire-retardant treatment"),
        ("layer `wrb` is loose", "layer wrb is loose"),
        ("plain words", "plain words"),
    ],
)
def test_a_key_of_the_file_is_told_by_its_title(message: str, printed: str) -> None:
    assert without_keys(message, load_practice().vocabulary) == printed
