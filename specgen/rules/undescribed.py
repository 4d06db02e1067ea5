"""A role or a lap of which nothing is described yet is not known to be absent.

``kind: none`` says that there is none of a role, ``lap: 0 in`` that two components do not lap.
"""

from __future__ import annotations

from dataclasses import replace

from specgen.model.finding import Outcome
from specgen.model.project import Component
from specgen.rules.rule import RuleResult, not_applicable, unknown
from specgen.rules.wall import Wall


def absent(wall: Wall, role: str) -> RuleResult:
    """The outcome where a component the rule looks at is not described, or is none."""
    if not wall.parapet.undescribed(role):
        return not_applicable(f"the parapet has no {role}")
    part = _undecided(wall, role)
    return unknown(*_words(wall, role, part), part.at("kind") if part else None)


def settled(result: RuleResult, wall: Wall) -> RuleResult:
    """A failure for want of a role is unknown while nothing is said of it, and stands where the file says there is none.

    >>> from specgen.rules.rule import fail
    >>> fail("no cleat holds the coping", without=("cleat",)).without
    ('cleat',)
    """
    if result.outcome is not Outcome.FAIL or not result.without:
        return result
    role = next((one for one in result.without if wall.parapet.undescribed(one)), None)
    if role is None:
        stated = next((one for one in wall.parapet.absent if one.role in result.without), None)
        return replace(result, mark=stated.mark) if stated and result.mark is None else result
    part = _undecided(wall, role)
    message, missing = _words(wall, role, part)
    mark = part.at("kind") if part else result.mark
    return replace(
        unknown(f"{message}; without one: {result.message}", missing, mark, result.layer, result.because),
        basis=result.basis,
        sources=result.sources,
    )


def undescribed_lap(
    wall: Wall, one: Component, other: Component, what: str, basis: tuple[str, ...] = ()
) -> RuleResult:
    """The outcome where two components are described and nothing is said of how one laps over the other."""
    missing = f"parapet `{wall.parapet.name}`: add to `transitions`: `between: [{one.id}, {other.id}]`"
    return unknown(f"the {what} is not described", missing, one.mark, one.id, basis=basis)


def _undecided(wall: Wall, role: str) -> Component | None:
    return next((one for one in wall.parapet.undecided if one.role == role), None)


def _words(wall: Wall, role: str, part: Component | None) -> tuple[str, str]:
    """What is not known of a role, and what to add."""
    if part is not None:
        return f"the kind of the {role} is not known", f"layer `{part.id}`: find out `kind`"
    where = "top" if wall.practice.vocabulary.roles[role].where == "top" else "build_up"
    add = f"add a component with `role: {role}` to `{where}`, with `kind: none` if there is none"
    return f"the {role} is not described", f"parapet `{wall.parapet.name}`: {add}"
