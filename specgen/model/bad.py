"""A product now known to be bad, by its name or by generic attributes."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.model.project import Value
from specgen.units.quantity import Quantity


@dataclass(frozen=True)
class BadProduct:
    """What to look for in every wall. What is empty is not asked for; ``values`` are compared as tokens."""

    name: str
    role: str
    kind: str
    values: tuple[tuple[str, str], ...]
    words: str  # as a reader is told
    reason: str


def token(value: Value) -> str:
    """A value as plain words that are equal for equal values, however they were written.

    >>> from specgen.units.quantity import parse
    >>> token(parse("1 in", {"length"})) == token(parse("25.4 mm", {"length"})), token(True)
    (True, 'yes')
    """
    match value:
        case Quantity():
            return f"{value.value:.6g} {value.dimension}"
        case bool():
            return "yes" if value else "no"
        case tuple():
            return ", ".join(value)
        case _:
            return str(value)


def plain_name(name: str) -> str:
    """A product's name as it is compared: case and spaces do not count.

    >>> plain_name(" Wrap  W ") == plain_name("wrap w")
    True
    """
    return " ".join(name.split()).casefold()
