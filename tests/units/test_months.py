"""Twelve values in a line: what is read, and what is refused with the fix."""

from __future__ import annotations

import pytest

from specgen.units.months import FIX, months
from specgen.units.quantity import QuantityError

TWELVE = ["30", "34", "42", "53", "62", "71", "76", "74", "67", "55", "45", "-3.5"]


@pytest.mark.parametrize(
    "text", [", ".join(TWELVE) + " degF", "  " + " ".join(TWELVE) + "degF", ",".join(TWELVE) + ", degF"]
)
def test_twelve_numbers_and_their_unit(text: str) -> None:
    found = months(text, "temperature")
    assert [one.number for one in found] == [float(one) for one in TWELVE]
    assert {one.unit for one in found} == {"degF"}


@pytest.mark.parametrize(
    ("text", "count"),
    [
        (", ".join(TWELVE[:11]) + " degF", 11),
        (", ".join([*TWELVE, "1"]) + " degF", 13),
        (", ".join(TWELVE), 0),
        ("warm", 0),
        (", ".join(TWELVE) + " degF, 3 degF", 0),
    ],
)
def test_another_count_is_refused(text: str, count: int) -> None:
    with pytest.raises(QuantityError) as caught:
        months(text, "temperature")
    assert caught.value.message == f"{count} numbers before a unit, twelve are wanted"
    assert caught.value.fix == FIX and FIX.startswith(
        "write twelve numbers and a unit, January first: 30, 34"
    )


def test_another_dimension_is_refused() -> None:
    with pytest.raises(QuantityError, match="is a length"):
        months(", ".join(TWELVE) + " in", "temperature")
