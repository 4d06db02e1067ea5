"""Backtracking over the choices: options that fall together take every wall below them along, counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
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


def walls_in(choices: Sequence[Choice]) -> int:
    """How many walls the choices make."""
    return prod(len(choice.options) for choice in choices)
