"""Trying a value without touching the file: the place a path names, and the project with another value there.

A path is written as the project file is built: ``site.wind_speed``, ``P-1.height``, ``P-1.drainage layer.kind``;
``parapet.height`` and ``drainage layer.kind`` mean every parapet. ``practice.KEY`` is a number of the trade.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from specgen.files.marks import Mark, suggestion
from specgen.model.project import Component, Parapet, Project, Record, Value
from specgen.practice.entries import Field, Practice
from specgen.units.quantity import Quantity

SECTIONS = ("site", "building")
PRACTICE = "practice"
KIND = "kind"


class PathError(ValueError):
    """A path that names nothing; the message ends with the nearest name or the known ones."""


class TriedMark(Mark):
    """Stands where a value has no place in a file."""

    def __str__(self) -> str:
        return "tried value"


TRIED = TriedMark("", 1, 1)


@dataclass(frozen=True)
class Spot:
    """What a path names: its field, and where: a section, parapets, or components of parapets.

    ``parapets`` are names; ``component`` is an id or a role, and empty for a value of the parapet itself;
    ``section`` is empty but for site, building and practice. ``kind`` has the kinds of the role as choices.
    """

    section: str
    parapets: tuple[str, ...]
    component: str
    field: Field


def find(project: Project, practice: Practice, path: str) -> Spot:
    """The place that a path names.

    Raises:
        PathError: there is no such place.
    """
    head, _, rest = path.partition(".")
    if head == PRACTICE:
        return _practice_spot(practice, rest)
    if head in SECTIONS:
        return Spot(head, (), "", _field(practice.vocabulary.records[head].fields, rest, head))
    named = [parapet.name for parapet in project.parapets if path.startswith(f"{parapet.name}.")]
    if named:
        name = max(named, key=len)
        return _in_parapets(project, practice, path.removeprefix(f"{name}."), (name,))
    if path.startswith("parapet."):
        path = path.removeprefix("parapet.")
    return _in_parapets(project, practice, path, tuple(parapet.name for parapet in project.parapets))


def _practice_spot(practice: Practice, key: str) -> Spot:
    entry = practice.entries.get(key)
    if entry is None:
        raise PathError(f"no practice value `{key}`; {_hint(key, practice.entries)}")
    if not isinstance(entry.value, Quantity):
        raise PathError(f"practice value `{key}` is no number; only numbers can be tried")
    # A temperature of the trade may lie below zero, and a difference may.
    return Spot(PRACTICE, (), "", Field(key, entry.title, entry.value.dimension, signed=True))


def _in_parapets(project: Project, practice: Practice, path: str, names: tuple[str, ...]) -> Spot:
    parapets = [parapet for parapet in project.parapets if parapet.name in names]
    component, _, name = path.rpartition(".")
    if not component:
        return Spot("", names, "", _field(practice.vocabulary.records["parapet"].fields, name, "parapet"))
    holding = {parapet.name: _matching(parapet, component) for parapet in parapets}
    parts = [part for found in holding.values() for part in found]
    if not parts:
        known = dict.fromkeys(
            [*(part.id for parapet in parapets for part in parapet.components()), *SECTIONS, PRACTICE]
            + [parapet.name for parapet in project.parapets]
        )
        raise PathError(f"no component `{component}`; {_hint(component, known)}")
    role = practice.vocabulary.roles[parts[0].role]
    kinds = Field(KIND, f"kind of {role.title}", "word", choices=tuple(role.kinds))
    field = _field({KIND: kinds, **role.fields}, name, role.name)
    return Spot("", tuple(name for name, found in holding.items() if found), component, field)


def _matching(parapet: Parapet, component: str) -> tuple[Component, ...]:
    """The component with this id, else those of this role."""
    one = parapet.by_id(component)
    return (one,) if one is not None else parapet.all_of(component)


def _field(fields: Mapping[str, Field], name: str, where: str) -> Field:
    if name not in fields:
        raise PathError(f"no `{name}` in {where}; {_hint(name, fields)}")
    return fields[name]


def _hint(word: str, known: Iterable[str]) -> str:
    return suggestion(word, list(known), f"known: {', '.join(known)}")


def with_value(project: Project, practice: Practice, path: str, value: Value) -> Project:
    """The project with another value at a path.

    A component of another kind loses the tested values of the former kind: they were measured on another product.

    Args:
        project: the project.
        practice: its vocabulary tells what the path names.
        path: as in the head of this module, but no practice value.
        value: of the type of the field; the caller has converted it.

    Returns:
        A new project.

    Raises:
        PathError: there is no such place.
    """
    spot = find(project, practice, path)
    name = spot.field.name
    if spot.section in SECTIONS:
        record: Record = getattr(project, spot.section)
        changed = _with(record, name, value)
        if spot.section == "site":
            return replace(project, site=changed)
        return replace(project, building=changed)
    parapets = tuple(
        _in_parapet(parapet, practice, spot, value) if parapet.name in spot.parapets else parapet
        for parapet in project.parapets
    )
    return replace(project, parapets=parapets)


def _with(record: Record, name: str, value: Value) -> Record:
    values, marks = {**record.values, name: value}, {**record.marks, name: TRIED}
    return replace(record, values=values, marks=marks)


def _in_parapet(parapet: Parapet, practice: Practice, spot: Spot, value: Value) -> Parapet:
    name = spot.field.name
    if not spot.component:
        values, marks = {**parapet.values, name: value}, {**parapet.marks, name: TRIED}
        return replace(parapet, values=values, marks=marks)
    wanted = {part.id for part in _matching(parapet, spot.component)}

    def changed(part: Component) -> Component:
        if part.id not in wanted:
            return part
        if name != KIND:
            values, marks = {**part.values, name: value}, {**part.marks, name: TRIED}
            return replace(part, values=values, marks=marks)
        dropped = set(tested(part, practice)) if value != part.kind else set()
        kept = {key: old for key, old in part.values.items() if key not in dropped}
        return replace(part, kind=str(value), values=kept)

    build_up, top = (tuple(changed(part) for part in parts) for parts in (parapet.build_up, parapet.top))
    return replace(parapet, build_up=build_up, top=top)


def tested(part: Component, practice: Practice) -> tuple[str, ...]:
    """The values of a component that a test method found: they belong to one product."""
    fields = practice.vocabulary.roles[part.role].fields
    return tuple(name for name in part.values if fields[name].method)


def with_practice(practice: Practice, key: str, value: Quantity) -> Practice:
    """The practice values with another number at a key.

    Raises:
        PathError: there is no such key.
    """
    _practice_spot(practice, key)
    return replace(practice, entries={**practice.entries, key: replace(practice.entry(key), value=value)})


def value_at(project: Project, practice: Practice, path: str, parapet: str) -> Value | None:
    """The value that a path names, seen from one parapet; None where the project does not give it.

    Raises:
        PathError: there is no such place.
    """
    spot = find(project, practice, path)
    if spot.section == PRACTICE:
        return practice.entry(spot.field.name).value
    if spot.section:
        record: Record = getattr(project, spot.section)
        return record.values.get(spot.field.name)
    (here,) = (one for one in project.parapets if one.name == parapet)
    if not spot.component:
        return here.values.get(spot.field.name)
    parts = _matching(here, spot.component)
    if spot.field.name == KIND:
        return parts[0].kind if parts else None
    return parts[0].values.get(spot.field.name) if parts else None
