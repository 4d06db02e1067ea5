"""A count and what is counted, in words."""

from __future__ import annotations


def many(count: int, one: str) -> str:
    """A count with its noun, in the singular for one and in the plural for any other.

    >>> many(0, "row"), many(1, "checklist row"), many(2, "query")
    ('0 rows', '1 checklist row', '2 queries')
    """
    if count == 1:
        return f"1 {one}"
    vowel = one[-2:-1] in ("a", "e", "o", "u")
    return f"{count} {one[:-1]}ies" if one.endswith("y") and not vowel else f"{count} {one}s"
