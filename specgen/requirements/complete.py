"""A project with the limits of its requirements in place of what nobody has stated: what calculations and drawings take.

Requirements hang on one another: the cleat is one step heavier than a coping that is itself left open. So limits are
put in and derived again until nothing changes any more; a value that never settles is left out, and stays a question.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from specgen.files.marks import Mark
from specgen.model.project import Component, Parapet, Project, Record, Transition, Value
from specgen.model.requirement import Limit, Requirement, RequirementSet
from specgen.practice.entries import Practice
from specgen.units.quantity import Quantity
from specgen.wall.change import AnyRecord
from specgen.wall.specified import specifiable

LAPS = {
    "flashing.lap_barrier": "barrier",
    "flashing.lap_turnup": "roof turn-up",
}  # requirement: what is lapped
Address = tuple[str, str, str]  # parapet, component or joint, value


@dataclass(frozen=True)
class Filled:
    """A limit that stands for a value, and the id of the requirement that sets it."""

    value: Value
    requirement: str


Fills = Mapping[Address, Filled]


def fills(
    project: Project, requirements: RequirementSet, practice: Practice, leave: frozenset[Address]
) -> dict[Address, Filled]:
    """Every value that a requirement may stand for, with its limit.

    Args:
        project: as the file states it.
        requirements: what is asked for.
        practice: the trade's values.
        leave: what is not put in, because it never settled.
    """
    found: dict[Address, Filled] = {}
    for parapet in project.parapets:
        for record, name, asked in _asked(parapet, requirements, practice):
            at = (parapet.name, _place(record), name)
            filled = _strictest(asked)
            if filled is None or at in leave:
                continue
            if specifiable(project, parapet, practice, record, name, filled.value):
                found[at] = _counted(filled, record, name, practice)
    return found


def _counted(filled: Filled, record: Record, name: str, practice: Practice) -> Filled:
    """A limit on a count as the whole number that a file states."""
    role = practice.vocabulary.roles.get(record.what)
    if role is None or role.fields[name].type != "count" or not isinstance(filled.value, Quantity):
        return filled
    return replace(filled, value=int(filled.value.number))


def completed(project: Project, put_in: Fills) -> Project:
    """The project with these limits; records that none concerns stay the same objects."""
    if not put_in:
        return project
    by_parapet: dict[str, dict[str, dict[str, Filled]]] = {}
    for (parapet, place, name), filled in put_in.items():
        by_parapet.setdefault(parapet, {}).setdefault(place, {})[name] = filled
    parapets = tuple(
        _parapet(one, by_parapet[one.name]) if one.name in by_parapet else one for one in project.parapets
    )
    return replace(project, parapets=parapets)


def _parapet(parapet: Parapet, put_in: Mapping[str, Mapping[str, Filled]]) -> Parapet:
    build_up, top = (
        tuple(_with(one, put_in.get(_place(one), {})) for one in parts)
        for parts in (parapet.build_up, parapet.top)
    )
    transitions = tuple(_with(one, put_in.get(_place(one), {})) for one in parapet.transitions)
    return replace(parapet, build_up=build_up, top=top, transitions=transitions)


def _with(record: AnyRecord, put_in: Mapping[str, Filled]) -> AnyRecord:
    if not put_in:
        return record
    values = {name: one.value for name, one in put_in.items()}
    specified = {name: one.requirement for name, one in put_in.items()}
    return replace(record, values={**record.values, **values}, specified=specified)


def _place(record: Record) -> str:
    if isinstance(record, Transition):
        return f"{record.first} to {record.second}, {_line(record.mark)}"
    return record.id if isinstance(record, Component) else record.what


def _line(mark: Mark) -> str:
    return f"{mark.line}:{mark.column}"


def _asked(
    parapet: Parapet, requirements: RequirementSet, practice: Practice
) -> Iterator[tuple[Record, str, tuple[Requirement, ...]]]:
    """Each component and joint with the requirements on one of its values."""
    for part in parapet.components():
        by_name: dict[str, list[Requirement]] = {}
        fields = practice.vocabulary.roles[part.role].fields
        for one in requirements.at_role(part.role, parapet.name):
            if one.attribute in fields and one.holds_at(parapet.name, part.id):
                by_name.setdefault(one.attribute, []).append(one)
        yield from ((part, name, tuple(asked)) for name, asked in by_name.items())
    flashing = parapet.part("top flashing")
    for name, role in LAPS.items() if flashing else ():
        lap = requirements.at(name, parapet.name)
        assert flashing is not None
        for other in parapet.all_of(role) if lap else ():
            assert lap is not None
            yield from ((joint, "lap", (lap,)) for joint in parapet.between(flashing, other))


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
