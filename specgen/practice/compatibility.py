"""May two material families touch? A pair nobody listed is for the makers to confirm, never fine."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.model.source import Source
from specgen.practice.entries import Practice


@dataclass(frozen=True)
class Judgement:
    """What is known of a pair: ``allowed``, ``not allowed`` or ``confirm``, and why."""

    answer: str
    mechanism: str
    source: Source


def may_touch(practice: Practice, one: str, other: str) -> Judgement:
    """What is known of two material families in contact; the order does not matter."""
    table = practice.table("compatibility")
    for first, second in ((one, other), (other, one)):
        for row in table.where(one=first, other=second):
            return Judgement(str(row["judgement"]), str(row["mechanism"]), table.source)
    unlisted = f"no entry for {one} and {other}: ask both makers in writing"
    return Judgement("confirm", unlisted, table.source)
