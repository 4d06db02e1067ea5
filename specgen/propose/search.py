"""Backtracking over the choices: options that fall together take every wall below them along, counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import pairwise, product
from math import prod

from specgen.propose.build import Wall
from specgen.propose.choices import Choice, Option
from specgen.propose.constraints import Constraint

MORE_LETTERS = "letters: more of them than another wall needs"


@dataclass
class Count:
    """How many walls there are, how many each reason removed, and how many options were looked at."""

    walls: int
    fallen: Counter[str] = field(default_factory=Counter)
    looked_at: int = 0


@dataclass(frozen=True)
class Left:
    """A wall that no constraint excludes, and the letters of manufacturers that it asks for."""

    wall: Wall
    letters: int


def search(
    choices: Sequence[Choice], found: Sequence[Constraint], most_letters: int, count: Count
) -> Iterator[Left]:
    """Every wall that no constraint excludes, in the order of preference.

    Args:
        choices: in the order in which they are made.
        found: what excludes options together.
        most_letters: walls that ask for more letters fall.
        count: is added to.
    """
    below = [prod(len(choice.options) for choice in choices[place + 1 :]) for place in range(len(choices))]
    asked: list[list[Constraint]] = [[] for _ in choices]
    for one in found:
        asked[max(one.scope)].append(one)
    for group in asked:
        group.sort(key=lambda one: len(one.scope))
    made: list[Option] = []

    def at(place: int, letters: int) -> Iterator[Left]:
        if place == len(choices):
            yield Left(tuple(made), letters)
            return
        for option in choices[place].options:
            made.append(option)
            count.looked_at += 1
            more, reason = letters, ""
            for one in asked[place]:
                verdict = one.verdict(tuple(made[index] for index in one.scope))
                more += verdict.letters
                reason = verdict.falls or (MORE_LETTERS if more > most_letters else "")
                if reason:
                    break
            if reason:
                count.fallen[reason] += below[place]
            else:
                yield from at(place + 1, more)
            made.pop()

    yield from at(0, 0)


@dataclass(frozen=True)
class Leftover:
    """The walls that are left: one of each block in every combination, as nothing excludes options of two blocks.

    The first block holds most of the choices, and all letters.
    """

    blocks: tuple[tuple[Left, ...], ...]

    def __len__(self) -> int:
        return prod(map(len, self.blocks))

    def walls(self) -> Iterator[Left]:
        """Every wall, in the order of preference."""
        for parts in product(*self.blocks):
            yield joined(parts)

    @cached_property
    def _known(self) -> list[tuple[int, set[Wall]]]:
        return [(len(block[0].wall), {one.wall for one in block}) for block in self.blocks if block]

    def holds(self, wall: Wall) -> bool:
        """Whether a wall is left."""
        start = 0
        for size, walls in self._known:
            if wall[start : start + size] not in walls:
                return False
            start += size
        return len(self) > 0


def joined(parts: Sequence[Left]) -> Left:
    """A wall of one part of each block."""
    return Left(tuple(option for one in parts for option in one.wall), sum(one.letters for one in parts))


def search_blocks(
    choices: Sequence[Choice], found: Sequence[Constraint], most_letters: int, count: Count, most: int
) -> Leftover:
    """What :func:`search` finds, each block of choices that no constraint joins to others searched by itself.

    Args:
        choices: in the order in which they are made.
        found: what excludes options together.
        most_letters: walls that ask for more letters fall.
        count: is added to; a wall that falls in several blocks counts at the first.
        most: stop where a block has more left.

    Raises:
        TooManyLeftError: a block has more left.
    """
    cuts = [
        k for k in range(1, len(choices)) if not any(min(one.scope) < k <= max(one.scope) for one in found)
    ]
    edges = [0, *cuts, len(choices)]
    blocks: list[tuple[Left, ...]] = []
    for start, end in pairwise(edges):
        own = [
            replace(one, scope=tuple(place - start for place in one.scope))
            for one in found
            if start <= min(one.scope) < end
        ]
        here = Count(walls_in(choices[start:end]))
        left = []
        for one in search(choices[start:end], own, most_letters, here):
            left.append(one)
            if len(left) > most:
                raise TooManyLeftError
        others = prod(map(len, blocks)) * walls_in(choices[end:])
        count.looked_at += here.looked_at
        for reason, walls in here.fallen.items():
            count.fallen[reason] += walls * others
        blocks.append(tuple(left))
    count.fallen = Counter({reason: walls for reason, walls in count.fallen.items() if walls})
    return Leftover(tuple(blocks))


class TooManyLeftError(Exception):
    """More walls are left than can be kept."""


def walls_in(choices: Sequence[Choice]) -> int:
    """How many walls the choices make."""
    return prod(len(choice.options) for choice in choices)
