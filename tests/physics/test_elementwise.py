"""One number through Python, arrays through NumPy: the same values."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.physics.elementwise import between, choose, exp, larger

NUMBERS = st.floats(-300.0, 300.0)
PLACES = st.integers(-900, 900).map(lambda number: number / 7)


@given(NUMBERS, NUMBERS)
def test_one_number_equals_an_array_of_one(one: float, other: float) -> None:
    """Exponential, larger and choice."""
    assert exp(one) == pytest.approx(exp(np.array([one]))[0], rel=1e-15)
    assert larger(one, other) == larger(np.array([one]), other)[0]
    assert choose(one < other, one, other) == choose(np.array([one]) < other, one, other)[0]


@given(st.lists(PLACES, min_size=1, max_size=6, unique=True), st.data())
def test_between_is_the_interpolation_of_numpy(places: list[float], data: st.DataObject) -> None:
    """At the places, between them and beyond them."""
    places = sorted(places)
    values = [data.draw(NUMBERS) for _ in places]
    for at in [*places, *(p + 0.37 for p in places), places[0] - 1.0]:
        assert between(at, places, values) == pytest.approx(
            float(np.interp(at, places, values)), rel=1e-9, abs=1e-9
        )
