"""What passes on the limits of requirements alone is left to the sections, and no pass.

A calculation or a rule may take the limit of a requirement for a value that nobody has stated. What comes of it holds
for every product that meets the sections; it tells nothing of what is built.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from specgen.model.calculation import Calculation
from specgen.model.finding import Outcome
from specgen.model.reading import READER, Reader
from specgen.rules.rule import RuleResult, specified
from specgen.rules.wall import Wall

AT_LIMITS = "at the limits that the sections ask for"


def on_limits(results: Iterator[RuleResult], wall: Wall) -> Iterator[RuleResult]:
    """The results of a check; a pass for which a limit was read, or was calculated with, is specified.

    What one stated value decides that is held against its requirement stays as it is. Each result is told by what
    was read since the one before it.
    """
    reader = READER.get()
    if reader is None:
        yield from results
        return
    while True:
        before, asked = reader.reads, len(reader.asked)
        reader.reads = set()
        try:
            result = next(results, None)
            limits = _limits_read(reader, wall) or _calculated(reader, asked)
        finally:
            reader.reads |= before
        if result is None:
            return
        if limits and result.outcome is Outcome.PASS and not result.requirement:
            result = specified(result, f"{result.message}, {AT_LIMITS}")
        yield result


def _limits_read(reader: Reader, wall: Wall) -> bool:
    """Whether a value that was read is the limit of a requirement; whether it is one is then read as well."""
    holders, found = wall.holders, False
    for held, name in tuple(reader.reads):
        specified = holders.get(held)
        if specified is not None and isinstance(name, str):
            found = (name in specified) or found
    return found


def _calculated(reader: Reader, before: int) -> bool:
    """Whether one of the results that were asked for since, behind so many others, was made with a limit."""
    asked = islice(reader.asked.values(), before, None)
    return any(isinstance(one, Calculation) and one.on_limits for one in asked)
