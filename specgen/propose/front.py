"""The walls that nothing beats in everything: a wall falls behind one that is nowhere worse and somewhere better."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Protocol, TypeVar

from specgen.propose.measure import Measure


class Measured(Protocol):
    """Whatever is compared."""

    @property
    def measures(self) -> tuple[Measure, ...]:
        """What is compared, the same titles in the same order for all."""


T = TypeVar("T", bound=Measured)


def front(walls: Iterable[T]) -> tuple[T, ...]:
    """The walls that no other beats, in their order; of walls equal in everything the first.

    A measure without a result in one of two walls tells nothing between them.
    """
    kept: list[T] = []
    for wall in _one_of_equals(walls):
        if any(beats(other, wall) for other in kept):
            continue
        kept = [other for other in kept if not beats(wall, other)]
        kept.append(wall)
    return tuple(kept)


def beats(one: Measured, other: Measured) -> bool:
    """Whether a wall is nowhere worse than another and somewhere better."""
    better = False
    for mine, yours in zip(one.measures, other.measures, strict=True):
        if mine.amount is None or yours.amount is None or mine.amount == yours.amount:
            continue
        if (mine.amount < yours.amount) != (mine.better == "less"):
            return False
        better = True
    return better


def equals(wall: T, walls: Sequence[T]) -> tuple[T, ...]:
    """The other walls that are equal to one in everything."""
    return tuple(other for other in walls if other is not wall and _key(other) == _key(wall))


def _one_of_equals(walls: Iterable[T]) -> list[T]:
    found: dict[tuple[float | None, ...], T] = {}
    for wall in walls:
        found.setdefault(_key(wall), wall)
    return list(found.values())


def _key(wall: Measured) -> tuple[float | None, ...]:
    return tuple(one.amount for one in wall.measures)


def differing(walls: Sequence[Measured]) -> tuple[str, ...]:
    """The titles of the measures in which some of the walls differ."""
    if not walls:
        return ()
    titles = [one.title for one in walls[0].measures]
    return tuple(
        title for place, title in enumerate(titles) if len({wall.measures[place].text for wall in walls}) > 1
    )
