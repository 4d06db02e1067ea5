"""One parapet with what has been calculated for it, and its parts by role."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Self

from specgen.model.calculation import Calculation
from specgen.model.project import Component, Parapet, Project, Record, Transition
from specgen.practice.entries import Kind, Practice

_LISTED = {  # by condition: the list of the parapet
    "outside corner": "corners",
    "inside corner": "corners",
    "end at a rising wall": "ends",
    "step in height": "steps",
    "building joint": "joints",
    "penetration": "penetrations",
}


@dataclass(frozen=True)
class Place:
    """One parapet with what has been calculated for it.

    ``layer`` is the id of the component that is looked at where the parapet has several of its role; "" for none.
    """

    project: Project
    parapet: Parapet
    practice: Practice
    calculations: Mapping[str, Calculation]  # by subject
    layer: str = field(default="", kw_only=True)

    def part(self, role: str) -> Component | None:
        """The component with this role: the one looked at, else the bonded one, else the outermost."""
        every = self.parapet.all_of(role)
        if len(every) < 2:
            return every[0] if every else None
        own = (one for one in every if one.id == self.layer)
        bonded = (one for one in every if self.kind(one).bonded)
        return next(own, None) or next(bonded, every[0])

    def kind(self, part: Component) -> Kind:
        """What is known of the generic kind of a component."""
        return self.practice.kind(part.role, part.kind)

    def kind_of(self, role: str) -> Kind | None:
        """What is known of the generic kind of the component with this role."""
        part = self.part(role)
        return self.kind(part) if part else None

    def family(self, part: Component) -> str | None:
        """The material family of a component, or None if it is not known."""
        return family(self.practice, part)

    def has(self, role: str, name: str) -> bool:
        """Whether the component with this role gives this value."""
        part = self.part(role)
        return part is not None and part.has(name)

    def at(self, part: Component) -> Self:
        """This place with one component looked at."""
        return replace(self, layer=part.id)


def family(practice: Practice, part: Component) -> str | None:
    """The material family of a component: its own, or that of its generic kind; None if neither is known."""
    return part.word("family") if part.has("family") else practice.kind(part.role, part.kind).family or None


def parts_of(parapet: Parapet, role: str) -> tuple[Component, ...]:
    """The components with a role; for what is no layer of its own, the place or the joint that stands for it."""
    listed = parapet.all_of(role)
    if listed:
        return listed
    match role:
        case "scupper":
            return tuple(_stands_for(role, one, "flanged sleeve") for one in parapet.scuppers[:1])
        case "penetration flashing":
            return tuple(_stands_for(role, one, "penetration flashing") for one in parapet.penetrations[:1])
        case "primer":
            kinds = dict.fromkeys(kind for one in parapet.transitions if (kind := primer_of(one)))
            return tuple(Component(role, {}, {}, parapet.mark, kind, kind) for kind in kinds)
        case "joint sealant" if parapet.part("coping") or parapet.part("plaster"):
            return (Component(role, {}, {}, parapet.mark, role, "elastomeric"),)
    return ()


def part_of(parapet: Parapet, role: str) -> Component | None:
    """The first of :func:`parts_of`."""
    return next(iter(parts_of(parapet, role)), None)


def stated_for(parapet: Parapet, part: Component) -> tuple[Record, ...]:
    """Where the project states values of a part: in itself, or in every place that it stands for."""
    if parapet.part(part.role):
        return (part,)
    match part.role:
        case "scupper":
            return parapet.scuppers
        case "penetration flashing":
            return parapet.penetrations
        case "primer":
            return tuple(one for one in parapet.transitions if primer_of(one) == part.kind)
    return (part,)


def primer_of(joint: Transition) -> str:
    """The generic kind of the primer at a lap; "" where there is none, or none is stated."""
    kind = joint.word("primer_kind")
    return "" if kind in (None, "none") else str(kind)


def _stands_for(role: str, record: Record, kind: str) -> Component:
    return Component(role, record.values, record.marks, record.mark, record.word("name") or role, kind)


def of_condition(parapet: Parapet, condition: str) -> tuple[Record, ...]:
    """The places of a parapet that are of a condition, as `building.conditions` names it; () of a straight length."""
    listed = _LISTED.get(condition)
    places: tuple[Record, ...] = getattr(parapet, listed) if listed else ()
    turn = condition.partition(" ")[0]
    return tuple(one for one in places if one.what != "corner" or one.word("turn") == turn)
