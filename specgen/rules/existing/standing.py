"""Checks that are made of a standing wall alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import wraps

from specgen.model.project import Existing
from specgen.rules.hold import not_stated
from specgen.rules.rule import RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall

NOT_EVALUATED = "not evaluated"
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


def answered(existing: Existing, key: str, matter: str, basis: tuple[str, ...] = ()) -> RuleResult:
    """What the structural engineer of record answers on a matter that the existing-building code asks for.

    Args:
        existing: what is known of the parapet as it stands.
        key: where the answer is stated.
        matter: what is asked, with what asks for it.
        basis: practice keys that ask for it; empty: those of the rule.
    """
    answer = existing.word(key)
    if answer is None:
        return not_stated(f"the structural engineer's answer on {matter},", existing, key, "")
    if answer == NOT_EVALUATED:
        return fail(f"{matter}, is not evaluated", existing.at(key), basis=basis)
    return ok(f"{matter}: {answer}", existing.at(key), basis=basis)
