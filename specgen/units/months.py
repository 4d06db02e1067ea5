"""Twelve values and their one unit in a line, January first."""

from __future__ import annotations

import re

from specgen.units.counted import many
from specgen.units.quantity import Quantity, QuantityError, parse

MONTHS = 12
MONTH_NAMES = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
FIX = "write twelve numbers and a unit, January first: 30, 34, 42, 53, 62, 71, 76, 74, 67, 55, 45, 35 degF"


def months(text: str, dimension: str) -> tuple[Quantity, ...]:
    """The values of twelve months.

    Args:
        text: twelve numbers, parted by commas or spaces, and a unit.
        dimension: of the values.

    Returns:
        Twelve quantities.

    Raises:
        QuantityError: there are not twelve numbers, or the unit is not of the dimension.

    >>> [one.text for one in months("1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12 %", "ratio")][-1]
    '12 %'
    """
    match = re.fullmatch(r"\s*([-+0-9., ]+?)\s*([^-+0-9., ][^,]*)", text)
    numbers = re.split(r"[,\s]+", match[1].strip(" ,")) if match else []
    if match is None or len(numbers) != MONTHS:
        raise QuantityError(f"{many(len(numbers), 'number')} before a unit, twelve are wanted", FIX)
    return tuple(parse(f"{number} {match[2]}", {dimension}) for number in numbers)
