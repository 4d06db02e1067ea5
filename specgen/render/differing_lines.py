"""Two states of a text side by side, line by line: what a person must see before one takes the place of the other."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from dataclasses import dataclass

AROUND = 2  # lines alike that are shown on each side of a change
MOST_LINES = 20_000  # of each text; longer ones are compared as wholes


@dataclass(frozen=True)
class LineRow:
    """One line on both sides; None where a side has none. ``sort``: same, changed, gone, new, or skipped between."""

    sort: str
    number_before: int | None
    before: str
    number_after: int | None
    after: str


def differing_lines(before: str, after: str) -> tuple[LineRow, ...]:
    """The lines that differ, with a few around them.

    >>> [(row.sort, row.before, row.after) for row in differing_lines("a\\nb\\n", "a\\nc\\n")]
    [('same', 'a', 'a'), ('changed', 'b', 'c')]
    """
    old, new = before.splitlines()[:MOST_LINES], after.splitlines()[:MOST_LINES]
    matcher = difflib.SequenceMatcher(None, old, new, autojunk=len(old) + len(new) > MOST_LINES // 10)
    rows: list[LineRow] = []
    for place, group in enumerate(matcher.get_grouped_opcodes(AROUND)):
        if place:
            rows.append(LineRow("skipped", None, "", None, ""))
        for sort, i1, i2, j1, j2 in group:
            rows += _rows(sort, old, new, (i1, i2, j1, j2))
    return tuple(rows)


_SORTS = {"equal": "same", "replace": "changed", "delete": "gone", "insert": "new"}


def _rows(sort: str, old: list[str], new: list[str], span: tuple[int, int, int, int]) -> Iterator[LineRow]:
    i1, i2, j1, j2 = span
    for k in range(max(i2 - i1, j2 - j1)):
        i, j = i1 + k, j1 + k
        left, right = i < i2, j < j2
        word = _SORTS[sort] if left and right else "gone" if left else "new"
        yield LineRow(
            word,
            i + 1 if left else None,
            old[i] if left else "",
            j + 1 if right else None,
            new[j] if right else "",
        )
