"""The rounds of a submittal, counted as the submittal counts them: the first is 1."""

from __future__ import annotations

import re

from specgen.model.sheet import Cell

FIRST_ROUND = "1"
_REVISION = re.compile(r"[Rr]([0-9]{1,6})((?: \([0-9]+\))?)")  # R0, as registers counted before: the first
_PLAIN = re.compile("[0-9]{1,6}")


def round_of(written: Cell) -> str | None:
    """The name of a round as it stands in a cell or a record; None where nothing stands.

    >>> round_of(2), round_of("R0"), round_of("R1 (2)"), round_of("A"), round_of(None)
    ('2', '1', '2 (2)', 'A', None)
    """
    words = "" if written is None else str(written).strip()
    revision = _REVISION.fullmatch(words)
    return f"{int(revision[1]) + 1}{revision[2]}" if revision else words or None


def round_cell(name: Cell) -> Cell:
    """The cell that shows a round: a number where its name is one.

    >>> round_cell("2"), round_cell("2 (2)"), round_cell(None)
    (2, '2 (2)', None)
    """
    return int(name) if isinstance(name, str) and _PLAIN.fullmatch(name) else name


def round_after(name: str) -> str:
    """The name of the round after one; after a name that is no number it is the second.

    >>> round_after("1"), round_after("2 (2)"), round_after("A")
    ('2', '3', '2')
    """
    number = _PLAIN.fullmatch(name.split(" ")[0])
    return str(int(number[0]) + 1 if number else 2)
