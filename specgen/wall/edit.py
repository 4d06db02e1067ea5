"""Trying a value without touching the file: the place a path names, and the project with another value there.

A path is written as the project file is built: ``site.wind_speed``, ``P-1.height``, ``P-1.drainage layer.kind``;
``parapet.height`` and ``drainage layer.kind`` mean every parapet. ``practice.KEY`` is a number of the trade.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from specgen.model.project import Component, Parapet, Project, Record, Value
from specgen.practice.entries import Field, Practice
from specgen.practice.trade_names import hint
from specgen.units.quantity import Quantity
from specgen.wall.change import KIND, TRIED, kept, left_out, of_kind, with_parapets, with_parts, with_values
from specgen.wall.plausible import AnyRecord, doubt, sifted

SECTIONS = ("site", "building")
PRACTICE = "practice"


class PathError(ValueError):
    """A path that names nothing; the message ends with the nearest name or the known ones."""


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
    return hint(word, list(known), f"known: {', '.join(known)}")


def with_value(
    project: Project,
    practice: Practice,
    path: str,
    value: Value,
    keep: bool = False,
    meant: str = str(TRIED),
) -> Project:
    """The project with another value at a path.

    A kind is that of another product; with ``keep`` it is changed as by hand: :mod:`specgen.wall.change`.

    Args:
        project: the project.
        practice: its vocabulary tells what the path names.
        path: as in the head of this module, but no practice value.
        value: of the type of the field; the caller has converted it.
        keep: whether a change of kind keeps what was measured, where the new kind is expected to have it.
        meant: why the value is meant; without a reason, one that is not expected is set aside.

    Returns:
        A new project.

    Raises:
        PathError: there is no such place.
    """
    spot = find(project, practice, path)
    name = spot.field.name

    def stating(record: AnyRecord) -> AnyRecord:
        made = with_values(record, {name: value}, meant)
        return made if meant else sifted(made, practice)

    def in_parapet(parapet: Parapet) -> Parapet:
        if not spot.component:
            return stating(parapet)
        wanted = {part.id for part in _matching(parapet, spot.component)}

        def changed(part: Component) -> Component:
            if part.id not in wanted:
                return part
            return of_kind(part, str(value), practice, keep) if name == KIND else stating(part)

        return with_parts(parapet, changed)

    if spot.section:
        return replace(project, **{spot.section: stating(getattr(project, spot.section))})
    return with_parapets(project, in_parapet, spot.parapets)


def remarks(before: Project, after: Project, practice: Practice, path: str) -> Iterator[str]:
    """What is to be told of a value tried at a path: what its kind is not expected to have, and what is set aside."""
    spot = find(before, practice, path)
    for was, now in zip(before.parapets, after.parapets, strict=True):
        if now.name in spot.parapets and spot.component:
            for part in _matching(now, spot.component):
                before_it = was.by_id(part.id) or part
                lost, stays = left_out(before_it, part), kept(part, practice)
                if lost:
                    yield lost
                if stays and part.kind != before_it.kind:
                    yield f"kept, as the file would keep it: {stays} of the {before_it.kind}"
                value = part.values.get(spot.field.name)
                why = "" if value is None else doubt(practice, part, spot.field.name, value)
                if why:
                    yield f"calculated with as tried, {why}"


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
