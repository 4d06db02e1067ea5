"""A project with the limits of its requirements in place of what nobody has stated: what calculations and drawings take.

Requirements hang on one another: the cleat is one step heavier than a coping that is itself left open. So limits are
put in and derived again until nothing changes any more; a value that never settles is left out, and stays a question.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from specgen.model.project import Component, Parapet, Project, Record, Transition, Value
from specgen.model.requirement import Limit, Requirement, RequirementSet
from specgen.practice.entries import Practice
from specgen.units.quantity import Quantity
from specgen.wall.change import with_parapets, with_parts
from specgen.wall.settled import settled_at_joints
from specgen.wall.specified import specifiable

LAPS = {
    "flashing.lap_barrier": "barrier",
    "flashing.lap_turnup": "roof turn-up",
    "barrier.lap_weep": "weep screed",
}  # requirement: what its role laps over
Address = tuple[str, str, str]  # parapet, component or joint, value
Member = TypeVar("Member", Component, Transition)


@dataclass(frozen=True)
class Filled:
    """A limit that stands for a value, and what sets it: the id of a requirement."""

    value: Value
    requirement: str  # or the practice entry whose paragraph settles it


Limits = Mapping[tuple[str, str], Filled]  # of one parapet, by component or joint, and value
Fills = Mapping[str, Limits]  # by parapet
Known = Mapping[str, tuple[Parapet, Limits, Parapet]]  # by name: as stated, what was put in, and with it


def fills(
    project: Project, requirements: RequirementSet, practice: Practice, leave: frozenset[Address]
) -> dict[str, Limits]:
    """Every value that a requirement may stand for, with its limit; a parapet without any is left out.

    Args:
        project: as the file states it.
        requirements: what is asked for.
        practice: the trade's values.
        leave: what is not put in, because it never settled.
    """
    found = {one.name: dict(_limits(project, one, requirements, practice, leave)) for one in project.parapets}
    return {name: limits for name, limits in found.items() if limits}


def _limits(
    project: Project,
    parapet: Parapet,
    requirements: RequirementSet,
    practice: Practice,
    leave: frozenset[Address],
) -> Iterator[tuple[tuple[str, str], Filled]]:
    for record, name, filled in _stand_in(parapet, requirements, practice):
        at = (_place(record), name)
        if filled is None or (parapet.name, *at) in leave:
            continue
        if specifiable(project, parapet, practice, record, name, filled.value):
            yield at, _counted(filled, record, name, practice)


def _stand_in(
    parapet: Parapet, requirements: RequirementSet, practice: Practice
) -> Iterator[tuple[Component | Transition, str, Filled | None]]:
    for record, name, asked in _asked(parapet, requirements, practice):
        yield record, name, _strictest(asked)
    for joint, name, value, key in settled_at_joints(parapet, practice):
        yield joint, name, Filled(value, key)


def _counted(filled: Filled, record: Record, name: str, practice: Practice) -> Filled:
    """A limit on a count as the whole number that a file states."""
    field = practice.vocabulary.field(record.what, name)
    if field is None or field.type != "count" or not isinstance(filled.value, Quantity):
        return filled
    return replace(filled, value=int(filled.value.number))


def completed(project: Project, put_in: Fills, known: Known) -> Project:
    """The project with these limits.

    A parapet that none concerns stays the same object; one that is known with the same limits is the one that is known.
    """

    def filled_in(parapet: Parapet) -> Parapet:
        limits = put_in[parapet.name]
        stated, same, with_them = known.get(parapet.name, (None, None, parapet))
        if stated is parapet and same == limits:
            return with_them
        by_place: dict[str, dict[str, Filled]] = {}
        for (place, value), filled in limits.items():
            by_place.setdefault(place, {})[value] = filled

        def with_limits(record: Member) -> Member:
            own = by_place.get(_place(record))
            return _with(record, own) if own else record

        transitions = tuple(map(with_limits, parapet.transitions))
        return replace(with_parts(parapet, with_limits), transitions=transitions)

    return with_parapets(project, filled_in, tuple(put_in)) if put_in else project


def _with(record: Member, put_in: Mapping[str, Filled]) -> Member:
    values = {name: one.value for name, one in put_in.items()}
    specified = {name: one.requirement for name, one in put_in.items()}
    return replace(record, values={**record.values, **values}, specified=specified)


def _place(record: Component | Transition) -> str:
    if isinstance(record, Component):
        return record.id
    return f"{record.first} to {record.second}, {record.mark.line}:{record.mark.column}"


def _asked(
    parapet: Parapet, requirements: RequirementSet, practice: Practice
) -> Iterator[tuple[Component | Transition, str, tuple[Requirement, ...]]]:
    """Each component and joint with the requirements on one of its values that nothing is said of."""
    by_role: dict[str, list[Requirement]] = {}
    for one in requirements.at_parapet(parapet.name):
        by_role.setdefault(one.role, []).append(one)
    for part in parapet.components():
        by_name: dict[str, list[Requirement]] = {}
        fields = practice.vocabulary.roles[part.role].fields
        for one in by_role.get(part.role, ()):
            asks = one.attribute in fields and part.open_to_requirements(one.attribute)
            if asks and one.holds_at(parapet.name, part.id):
                by_name.setdefault(one.attribute, []).append(one)
        yield from ((part, name, tuple(asked)) for name, asked in by_name.items())
    for name, role in LAPS.items():
        for lap in (one for one in requirements.at_parapet(parapet.name) if one.name == name):
            upper = (part for part in parapet.all_of(lap.role) if lap.holds_at(parapet.name, part.id))
            pairs = ((part, other) for part in upper for other in parapet.all_of(role))
            yield from ((joint, "lap", (lap,)) for pair in pairs for joint in parapet.between(*pair))


def _strictest(asked: Iterable[Requirement]) -> Filled | None:
    """The limit that meets every requirement on a value; None where they leave a choice or ask for opposite ends."""
    every = tuple(asked)
    if any(one.origin.kind == "calculation" and one.method for one in every):
        return None  # a load that a test must show: calculated with, it would prove itself
    settled = [(value, one) for one in every if (value := _exact(one.limit)) is not None]
    if len(settled) < len(every):
        return None
    senses = {one.limit.comparison for one in every}
    if len(senses) > 1:
        return None
    if senses <= {"at least", "at most"}:
        pick = max if senses == {"at least"} else min
        value, one = pick(settled, key=lambda pair: pair[0].exact if isinstance(pair[0], Quantity) else 0)
        return Filled(value, one.id)
    value, one = settled[0]
    return Filled(value, one.id) if all(other == value for other, _ in settled) else None


def _exact(limit: Limit) -> Value | None:
    """The one value that a limit leaves, at its end; None where words leave a choice."""
    if limit.comparison == "one of":
        return limit.value[0] if isinstance(limit.value, tuple) and len(limit.value) == 1 else None
    return limit.value
