"""The arithmetic of the judge: both sides of every limit, nominal values, computed numbers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specgen.units.compare import (
    at_least,
    at_most,
    computed_at_least,
    computed_at_most,
    deciding,
    keeps,
    same_computed,
    whole_steps,
)
from specgen.units.quantity import Quantity, parse

LESS, EQUAL, MORE = parse("203.1 mm"), parse("203.2 mm"), parse("8.01 in")
LIMIT = parse("8 in")


@pytest.mark.parametrize(
    ("comparison", "kept"),
    [("at least", (False, True, True)), ("at most", (True, True, False)), ("is", (False, True, False))],
)
def test_below_at_and_above_a_limit(comparison: str, kept: tuple[bool, ...]) -> None:
    values = (LESS, EQUAL, MORE)
    assert tuple(keeps(value, comparison, LIMIT) for value in values) == kept
    assert tuple(deciding(value, comparison, LIMIT) is LIMIT for value in values) == kept
    assert [deciding(value, comparison, LIMIT) for value in values].count(None) == kept.count(False)


def test_at_least_and_at_most() -> None:
    assert [at_least(value, LIMIT) for value in (LESS, EQUAL, MORE)] == [False, True, True]
    assert [at_most(value, LIMIT) for value in (LESS, EQUAL, MORE)] == [True, True, False]


def test_another_dimension_is_an_error() -> None:
    with pytest.raises(TypeError, match=r"^10 perm cannot be held against 8 in$"):
        deciding(parse("10 perm"), "at least", LIMIT)


def nominal(limit: str, *twins: str) -> Quantity:
    return replace(parse(limit), nominal=tuple(map(parse, twins)))


@pytest.mark.parametrize(
    ("value", "comparison", "limit", "met"),
    [
        # In the language of the nominal value, it is the limit.
        ("299 mm", "at least", nominal("12 in", "300 mm"), None),
        ("300 mm", "at least", nominal("12 in", "300 mm"), "300 mm"),
        ("301 mm", "at least", nominal("12 in", "300 mm"), "300 mm"),
        ("304.8 mm", "at least", nominal("12 in", "300 mm"), "12 in"),
        ("205 mm", "at most", nominal("8 in", "205 mm"), "205 mm"),
        ("204 mm", "at most", nominal("8 in", "205 mm"), "205 mm"),
        ("206 mm", "at most", nominal("8 in", "205 mm"), None),
        ("300 mm", "is", nominal("12 in", "300 mm"), "300 mm"),
        ("301 mm", "is", nominal("12 in", "300 mm"), None),
        # In the limit's own language the limit stands as it was set, but for the nominal value itself.
        ("11.9 in", "at least", nominal("12 in", "300 mm"), None),
        ("8.05 in", "at most", nominal("8 in", "205 mm"), None),
        ("1500/127 in", "at least", nominal("12 in", "300 mm"), "300 mm"),
        # A nominal value in the limit's own language is met by itself alone.
        ("11.95 in", "at least", nominal("12 in", "11.9 in"), None),
        ("11.9 in", "at least", nominal("12 in", "11.9 in"), "11.9 in"),
        # A unit of neither language is not of the other one.
        ("0.95", "at least", nominal("100 %", "90 %"), None),
        # The first that is met, of several.
        ("300 mm", "at least", nominal("12 in", "302 mm", "300 mm"), "300 mm"),
        ("303 mm", "at least", nominal("12 in", "302 mm", "300 mm"), "302 mm"),
    ],
)
def test_nominal_values(value: str, comparison: str, limit: Quantity, met: str | None) -> None:
    found = deciding(parse(value, {limit.dimension}), comparison, limit)
    assert (found and found.text) == met


LITTLE, TOO_MUCH = 1 + 5e-10, 1 + 2e-9


def test_a_computed_number_may_lie_off_by_its_last_digits_and_no_more() -> None:
    assert same_computed(LITTLE, 1.0) and same_computed(1.0, LITTLE)
    assert not same_computed(TOO_MUCH, 1.0) and not same_computed(1.0, TOO_MUCH)
    assert (
        computed_at_most(LITTLE, 1.0) and computed_at_most(0.5, 1.0) and not computed_at_most(TOO_MUCH, 1.0)
    )
    assert (
        computed_at_least(1.0, LITTLE)
        and computed_at_least(1.0, 0.5)
        and not computed_at_least(1.0, TOO_MUCH)
    )


def test_a_difference_is_as_inexact_as_the_greatest_number_in_it() -> None:
    assert same_computed(0.0, 5e-10, of=1.0) and same_computed(0.0, 5e-9, of=-10.0)
    assert not same_computed(0.0, 5e-9, of=1.0) and not same_computed(0.0, 5e-10)
    assert computed_at_most(5e-10, 0.0, of=1.0) and not computed_at_most(5e-10, 0.0)
    assert computed_at_least(0.0, 5e-10, of=1.0) and not computed_at_least(0.0, 5e-10)


def test_whole_steps() -> None:
    numbers = (0.0, 1.0, LITTLE, 2 - 5e-10, 1.001, 1.9)
    assert [whole_steps(one) for one in numbers] == [0, 1, 1, 2, 2, 2]
