"""One written value to one typed value; what is said of every value that does not fit its field."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.intake.values import UnusableValueError, convert
from specgen.practice.entries import Field
from specgen.practice.load import load_practice
from specgen.units.quantity import Quantity

VOCABULARY = load_practice().vocabulary
FIELDS = [
    field
    for part in (*VOCABULARY.records.values(), *VOCABULARY.roles.values())
    for field in part.fields.values()
]


@pytest.mark.parametrize(
    ("kind", "written", "value"),
    [
        ("text", "  two   words ", "two words"),
        ("text", 12, "12"),
        ("yes or no", False, False),
        ("date", date(2026, 11, 2), date(2026, 11, 2)),
        ("count", 0, 0),
        ("count", 10_000, 10_000),
        ("family", "TPO", "TPO"),
        ("families", ["TPO", "butyl"], ("TPO", "butyl")),
        ("families", [], ()),
    ],
)
def test_values_that_fit(kind: str, written: Any, value: Any) -> None:
    assert convert(Field("f", "f", kind), written, VOCABULARY) == value


@pytest.mark.parametrize(
    ("kind", "written"),
    [
        ("count", -1),
        ("count", 10_001),
        ("count", True),
        ("date", "2026-11-02"),
        ("yes or no", 1),
        ("family", 7),
        ("families", "TPO"),
        ("families", [["TPO"]]),
        ("length", date(2026, 1, 1)),
        ("length", {"a": 1}),
        ("number", "3 in"),
        ("sheet thickness", "3 perm"),
        ("text", 1.5),
    ],
)
def test_values_that_do_not_fit(kind: str, written: Any) -> None:
    with pytest.raises(UnusableValueError) as caught:
        convert(Field("f", "f", kind), written, VOCABULARY)
    assert caught.value.message.startswith("`f`") and caught.value.fix


def test_a_temperature_may_lie_below_zero() -> None:
    assert convert(Field("f", "f", "temperature"), "-4 degF", VOCABULARY).value == pytest.approx(-20)


def test_a_word_that_looks_like_a_number_is_found_among_the_choices() -> None:
    assert convert(VOCABULARY.records["site"].fields["climate_zone"], 7, VOCABULARY) == "7"


anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=40) | st.dates(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=2),
    max_leaves=5,
)


@given(st.sampled_from(FIELDS), anything)
def test_any_value_is_converted_or_refused_in_one_line(field: Field, written: Any) -> None:
    try:
        value = convert(field, written, VOCABULARY)
    except UnusableValueError as error:
        assert "\n" not in error.message + error.fix
        assert len(error.message) < 300
    else:
        assert isinstance(value, Quantity | str | bool | int | date | tuple)
