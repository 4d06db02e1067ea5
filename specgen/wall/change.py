"""The changes that a trial, a remedy, a product or a proposal makes of a wall: each has one way, here.

Nothing is written: every function returns a copy. A value that is set stands as meant. What belongs to another kind
of product is left out by one rule, and told.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from specgen.files.marks import Mark
from specgen.model.project import Component, Parapet, Project, Record, Value
from specgen.practice.entries import Practice
from specgen.wall.plausible import sifted

KIND = "kind"
AnyRecord = TypeVar("AnyRecord", bound=Record)


class TriedMark(Mark):
    """Stands where a value has no place in a file."""

    def __str__(self) -> str:
        return "tried value"


TRIED = TriedMark("", 1, 1)


def with_values(record: AnyRecord, values: dict[str, Value], meant: str = str(TRIED)) -> AnyRecord:
    """A record that states these values, with the reason why they are meant."""
    changed = replace(
        record, values={**record.values, **values}, marks={**record.marks, **dict.fromkeys(values, TRIED)}
    )
    doubted = {name: value for name, value in changed.doubted.items() if name not in values}
    bounds = {name: bound for name, bound in changed.bounds.items() if name not in values}
    reasons = {name: why for name, why in changed.meant.items() if name not in values}
    reasons |= dict.fromkeys(values, meant) if meant else {}
    unknown = {name: mark for name, mark in changed.unknown.items() if name not in values}
    apart = {name: why for name, why in changed.inapplicable.items() if name not in values}
    changed = replace(changed, doubted=doubted, meant=reasons, bounds=bounds)
    return replace(changed, unknown=unknown, inapplicable=apart)


def of_kind(part: Component, kind: str, practice: Practice, keep: bool = False) -> Component:
    """A component of another kind, without what belongs to a product of the former.

    ``keep``: as a file has it where its kind alone is changed by hand, with what the new kind is expected to have.
    """
    if kind == part.kind:
        return part
    lost = frozenset[str]() if keep else foreign(part, kind, practice)
    values = {name: value for name, value in part.values.items() if name not in lost}
    bounds = {name: bound for name, bound in part.bounds.items() if name not in lost}
    return sifted(
        replace(
            part, kind=kind, values=values, bounds=bounds, doubted={}, meant={}, because={}, inapplicable={}
        ),
        practice,
    )


def foreign(part: Component, kind: str, practice: Practice, family: str = "") -> frozenset[str]:
    """The values of a component that belong to another product than one of this kind and family.

    What was measured on a product belongs to it, and so does its material where the kind tells none; a letter written
    for one material says nothing of another.
    """
    fields = practice.vocabulary.roles[part.role].fields
    lost = {name for name in (*part.values, *part.bounds) if fields[name].method}
    of_kind = practice.kind(part.role, kind).family
    if kind != part.kind or not of_kind:
        lost.add("family")
    made_of = family or of_kind
    if made_of and made_of != (part.word("family") or practice.kind(part.role, part.kind).family):
        lost.add("substrate_approved")
    return frozenset(name for name in lost if name in fields and not fields[name].project_only)


def left_out(before: Component, after: Component) -> str:
    """What a change of a component leaves out, in words; "" where it keeps every value."""
    lost = [
        f"`{name}` {getattr(value, 'text', value)}"
        for name, value in before.values.items()
        if name not in after.values
    ]
    return f"left out, as it belongs to the {before.kind}: {', '.join(lost)}" if lost else ""


def kept(part: Component, practice: Practice) -> str:
    """What stays of the measured values of a component whose kind was changed, in words; "" where none does."""
    fields = practice.vocabulary.roles[part.role].fields
    stays = [
        f"`{name}` {getattr(value, 'text', value)}"
        for name, field in fields.items()
        if field.method and part.states(name) and (value := part.values.get(name)) is not None
    ]
    return f"{', '.join(stays)} as stated" if stays else ""


def with_parts(parapet: Parapet, changed: Callable[[Component], Component]) -> Parapet:
    """A parapet with each of its components changed."""
    build_up, top = (tuple(changed(part) for part in parts) for parts in (parapet.build_up, parapet.top))
    return replace(parapet, build_up=build_up, top=top)


def with_parapets(project: Project, changed: Callable[[Parapet], Parapet], names: tuple[str, ...]) -> Project:
    """A project with its parapets of these names changed."""
    parapets = tuple(changed(one) if one.name in names else one for one in project.parapets)
    return replace(project, parapets=parapets)


def inserted(parapet: Parapet, part: Component, before: tuple[str, ...], practice: Practice) -> Parapet:
    """A parapet with one more component, in front of the first that has one of these roles, else at the end."""
    top = practice.vocabulary.roles[part.role].where == "top"
    parts = parapet.top if top else parapet.build_up
    at = next((i for role in before for i, old in enumerate(parts) if old.role == role), len(parts))
    return put_in(parapet, part, at, top)


def put_in(parapet: Parapet, part: Component, at: int, top: bool) -> Parapet:
    """A parapet with one more component at a place of its top, or of its build-up; its role is absent no longer."""
    parts = parapet.top if top else parapet.build_up
    parts = (*parts[:at], part, *parts[at:])
    absent = tuple(one for one in parapet.absent if one.role != part.role)
    parapet = replace(parapet, absent=absent) if absent != parapet.absent else parapet
    return replace(parapet, top=parts) if top else replace(parapet, build_up=parts)
