"""Checks that are made of a standing wall alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import wraps

from specgen.model.project import Existing
from specgen.rules.rule import RuleResult, not_applicable
from specgen.rules.wall import Wall

StandingCheck = Callable[[Wall, Existing], Iterator[RuleResult]]


def standing(check: StandingCheck) -> Callable[[Wall], Iterator[RuleResult]]:
    """A check of a wall and of what is known of it as existing; a new wall has nothing to check."""

    @wraps(check)
    def of_any(wall: Wall) -> Iterator[RuleResult]:
        existing = wall.parapet.existing
        if existing is not None:
            return check(wall, existing)
        return iter((not_applicable("the project does not describe the parapet as existing"),))

    return of_any
