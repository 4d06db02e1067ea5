"""Holding what the project states against the requirement: the step most rules consist of."""

from __future__ import annotations

from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component, Record, Stated, Transition, Value
from specgen.model.requirement import Limit, Requirement
from specgen.requirements.judge import Standing, judge
from specgen.rules.rule import RuleResult, fail, not_applicable, ok, specified, unknown
from specgen.rules.wall import Wall
from specgen.units.quantity import Quantity
from specgen.units.show import show_beside
from specgen.wall.specified import specifiable


def words(value: Value | Stated) -> str:
    """A value or statement as a reader sees it: a quantity as it was written, a flag as yes or no.

    >>> words(("A", "C")), words(True)
    ('A, C', 'yes')
    """
    if isinstance(value, Stated):
        return value.text if value.sense else words(value.value)
    if isinstance(value, Quantity):
        return value.text
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ", ".join(value) if isinstance(value, tuple) else str(value)


def asked(limit: Limit, system: str, value: Value | None = None) -> str:
    """The limit in words, in one language of units; with what is held against it, so that no number reads otherwise.

    >>> asked(Limit("is", "roof"), "SI")
    'roof'
    >>> asked(Limit("one of", ("fully adhered", "fluid-applied")), "SI")
    'one of: fully adhered, fluid-applied'
    """
    single = isinstance(limit.value, tuple) and len(limit.value) == 1 and limit.comparison == "one of"
    if limit.comparison == "is" or single:
        return words(limit.value)
    if isinstance(limit.stated, Quantity):
        of = value if isinstance(value, Quantity) else limit.stated
        return f"{limit.comparison} {show_beside(of, limit.comparison, limit.stated, system)[1]}"
    return f"{limit.comparison}{':' if limit.comparison == 'one of' else ''} {words(limit.value)}"


def hold(
    wall: Wall,
    name: str,
    part: Component,
    wrong: str = "",
    severity: Severity | None = None,
    because: tuple[str, ...] = (),
    what: str = "",
) -> RuleResult:
    """One stated value of a component against its requirement.

    Args:
        wall: the parapet.
        name: catalogue name of the requirement.
        part: the component that states the value.
        wrong: the message of a failure; without it, value and limit are named.
        severity: of a failure; the rule's own if not given.
        because: facts that switched the rule on.
        what: names the value in the message where "title of the role" does not read well.
    """
    requirement = wall.requirement(name, part)
    if requirement is None:
        return not_applicable(f"`{name}` does not apply here")
    return hold_value(wall, requirement, part, requirement.attribute, part.id, wrong, severity, because, what)


def hold_value(
    wall: Wall,
    requirement: Requirement,
    record: Record,
    attribute: str,
    layer: str,
    wrong: str = "",
    severity: Severity | None = None,
    because: tuple[str, ...] = (),
    what: str = "",
) -> RuleResult:
    """One value of a record against a requirement; a value not stated is specified where it can be, else unknown.

    ``what`` names the value in the message where "attribute of the role" does not read well.
    """
    result = _held(wall, requirement, record, attribute, layer, wrong, severity, because, what)
    return replace(result, requirement=requirement.id, attribute=attribute)


def _held(
    wall: Wall,
    requirement: Requirement,
    record: Record,
    attribute: str,
    layer: str,
    wrong: str,
    severity: Severity | None,
    because: tuple[str, ...],
    what: str,
) -> RuleResult:
    what = what or f"{requirement.title} of the {requirement.role}"
    stated = record.stated(attribute)
    mark = record.at(attribute)
    basis = (requirement.origin.key,) if requirement.origin.kind == "practice" else ()
    place = (mark, layer, because, basis)
    if left_to_sections(wall, requirement, record, attribute):
        limit = asked(requirement.limit, wall.project.system)
        message = f"{what} is left to Section {requirement.section}, which asks for: {limit}"
        return specified(ok(message, *place), message)
    if stated is None:
        return not_stated(what, record, attribute, layer, because)
    limit = asked(requirement.limit, wall.project.system, stated.value)
    is_stated = f"{what} is {words(stated)}"
    judgement = judge(requirement, stated, wall.practice)
    if judgement.standing is Standing.MISSED and requirement.origin.kind == "choice" and requirement.floor:
        # The project's choice for one part of a role binds no other part of it.
        least = judge(replace(requirement, limit=requirement.floor), stated, wall.practice)
        judgement, limit = least, asked(requirement.floor, wall.project.system, stated.value)
    match judgement.standing:
        case Standing.MET:
            return ok(f"{is_stated}; asked for: {limit}", *place)
        case Standing.MISSED:
            message = wrong or f"{is_stated}; asked for: {limit}"
            return fail(message, mark, layer, severity, because, basis)
        case Standing.OPEN:
            missing = f"{_name(record, layer)}: give the value of `{attribute}`"
            return unknown(f"{is_stated}, which leaves open: {limit}", missing, *place)
        case _:
            message = f"{is_stated}; it is asked for at {requirement.condition}"
            missing = f"{_name(record, layer)}: give `{attribute}` at {requirement.condition}"
            return unknown(message, missing, *place)


def left_to_sections(wall: Wall, requirement: Requirement, record: Record, attribute: str) -> bool:
    """Whether the requirement stands for a value that nobody has stated, whether or not its limit could be put in."""
    at = (wall.project, wall.parapet, wall.practice, record, attribute)
    return attribute in record.specified or specifiable(*at, requirement.limit.value)


def not_stated(
    what: str, record: Record, attribute: str, layer: str, because: tuple[str, ...] = ()
) -> RuleResult:
    """The outcome for a value the project does not give."""
    doubted, bound = record.doubted.get(attribute), record.bounds.get(attribute)
    stated = "not stated" if doubted is None else f"set aside until it is confirmed: {words(doubted)}"
    missing = f"{_name(record, layer)}: add `{attribute if doubted is None else 'meant'}`"
    if bound is not None:
        stated, missing = bound.text, f"{_name(record, layer)}: give the value of `{attribute}`"
    if attribute in record.unknown:
        stated, missing = "not known", f"{_name(record, layer)}: find out `{attribute}`"
    result = unknown(f"{what} is {stated}", missing, record.at(attribute), layer, because)
    return replace(result, attribute=attribute)


def _name(record: Record, layer: str) -> str:
    if isinstance(record, Transition):
        return f"transition between `{record.first}` and `{record.second}`"
    return f"layer `{layer}`" if layer else record.what
