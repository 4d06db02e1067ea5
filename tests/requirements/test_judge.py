"""When a value meets a limit: at the boundary, in mixed units, for words and lists, and for values of another kind."""

from __future__ import annotations

import math
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.requirements.judge import meets
from specgen.units.compare import at_least, at_most
from specgen.units.quantity import from_si, parse, to_unit


@pytest.mark.parametrize(
    ("comparison", "limit", "value", "met"),
    [
        ("at least", "8 in", "8 in", True),
        ("at least", "8 in", "203.2 mm", True),
        ("at least", "203.2 mm", "8 in", True),
        ("at least", "8 in", "203.1999 mm", False),
        ("at least", "3/16 in", "4.7625 mm", True),
        ("at least", "3/16 in", "4.762 mm", False),
        ("at least", "3/16 in", "0.1875 in", True),
        ("at least", "1 ft", "12 in", True),
        ("at least", "18 ft", "6 yd", True),
        ("at least", "240 degF", "115.5555555556 degC", True),
        ("at least", "240 degF", "115 degC", False),
        ("at least", "-40 degF", "-40 degC", True),
        ("at least", "16 psi", "110.3161 kPa", False),
        ("at least", "16 psi", "110.4 kPa", True),
        ("at least", "90 %", "0.9", True),
        ("at least", "90 %", "89.999 %", False),
        ("at least", "1/4 in/ft", "1:48", True),
        ("at least", "1/4 in/ft", "2 %", False),  # 2 % is less than 1/4 in 12
        ("at most", "0.004 cfm/ft2 @ 75 Pa", "0.004 cfm/ft2", True),  # the condition is judged apart
        ("at most", "0.004 cfm/ft2", "0.02032 L/(s·m2)", True),
        ("at most", "0.004 cfm/ft2", "0.0204 L/(s·m2)", False),
        ("at most", "0.1 perm", "0.1 perm", True),
        ("at most", "0.1 perm", "5.7213 ng/(Pa·s·m2)", True),
        ("at most", "0.1 perm", "5.73 ng/(Pa·s·m2)", False),
        ("at most", "144 ft2", "13.378 m2", True),
        ("at most", "144 ft2", "13.38 m2", False),
        ("at most", "240 degF", "115.5555555556 degC", False),  # a third of a degree has no last digit
        ("at most", "1/4 in/ft", "1:48", True),
        ("at least", "1/3 ft", "4 in", True),
        ("is", "1/3 ft", "4 in", True),
        ("at most", "240 degF", "115.556 degC", False),
        ("at most", "2.5", "2.5", True),
        ("at most", "2.5", "2.51", False),
        ("is", "2", "2", True),
        ("is", "1 in", "25.4 mm", True),
        ("is", "1 in", "25.41 mm", False),
        ("at least", "0 in", "0 in", True),
        ("at most", "0 in", "0.001 in", False),
    ],
)
def test_quantities(comparison: Any, limit: str, value: str, met: bool) -> None:
    held = parse(limit)
    assert meets(parse(value, {held.dimension}), comparison, held) is met


@pytest.mark.parametrize(
    ("comparison", "limit", "value", "met"),
    [
        ("is", "copper", "copper", True),
        ("is", "copper", "Copper", False),
        ("is", True, True, True),
        ("is", True, False, False),
        ("is", True, 1, False),
        ("is", 1, True, False),
        ("is", 2, 2, True),
        ("one of", ("fully adhered", "fluid-applied"), "fluid-applied", True),
        ("one of", ("fully adhered", "fluid-applied"), "loose", False),
        ("one of", ("fully adhered",), "fully", False),
        ("includes", ("TPO", "butyl"), ("butyl", "TPO"), True),
        ("includes", ("TPO", "butyl"), ("EPDM", "TPO", "butyl"), True),
        ("includes", ("TPO", "butyl"), ("TPO",), False),
        ("includes", ("TPO",), "TPO", False),
        ("includes", (), (), True),
    ],
)
def test_words_and_lists(comparison: Any, limit: Any, value: Any, met: bool) -> None:
    assert meets(value, comparison, limit) is met


@pytest.mark.parametrize("value", [parse("10 perm"), parse("22 ga"), 8, 8.0, "8 in", True, ("8 in",)])
def test_a_value_of_another_kind_is_an_error_and_not_a_failure(value: Any) -> None:
    with pytest.raises(TypeError, match="cannot be held against 8 in"):
        meets(value, "at least", parse("8 in"))


sizes = st.floats(1e-6, 1e6)
units = st.sampled_from(["in", "ft", "mil", "mm", "m"])


@given(sizes, sizes)
def test_at_least_and_at_most_are_opposite_sides(limit: float, value: float) -> None:
    held, found = from_si(limit, "length"), from_si(value, "length", "mm")
    low, high = at_least(found, held), at_most(found, held)
    assert low or high
    if not math.isclose(limit, value, rel_tol=1e-8):
        assert (low, high) == (value > limit, value < limit)


@given(st.decimals(0, 1000, places=4), units, units)
def test_the_limit_itself_meets_it_in_any_unit(number: Decimal, one: str, other: str) -> None:
    limit = parse(f"{number} {one}")
    same = parse(f"{to_unit(limit, other):.12g} {other}")
    if same.exact == limit.exact:
        assert all(meets(same, comparison, limit) for comparison in ("at least", "at most", "is"))
    else:
        assert meets(same, "at least", limit) is not meets(same, "at most", limit)
    assert meets(limit, "is", limit)


@pytest.mark.parametrize(("count", "met"), [(2, False), (3, True), (4, True)])
def test_a_count_is_held_against_a_number(count: int, met: bool) -> None:
    assert meets(count, "at least", parse("3")) is met
