"""The requirement: one attribute of one role, with its limit, method, reason and origin."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from specgen.model.project import Value
from specgen.model.reading import tell, tells
from specgen.model.source import Source

Comparison = Literal["at least", "at most", "is", "one of", "includes"]
Stage = Literal["product", "installation"]
OriginKind = Literal["choice", "practice", "calculation"]


@dataclass(frozen=True)
class Limit:
    """What a value is held against. ``one of`` and ``includes`` take a tuple of words.

    ``value`` is as the documents print it, in the project's language of units. ``source`` is as it was set, with the
    nominal values the trade writes for it: what a value is held against in every language of units.
    """

    comparison: Comparison
    value: Value
    source: Value | None = None

    @property
    def stated(self) -> Value:
        """The limit as it was set."""
        return self.value if self.source is None else self.source


@dataclass(frozen=True)
class Origin:
    """What set the limit: a choice in the project file, a practice entry, or a calculation's result."""

    kind: OriginKind
    key: str  # "project.yaml:41:9", a practice key, or "subject.result"
    source: Source


@dataclass(frozen=True)
class Weighed:
    """One limit or result that was weighed for a requirement."""

    kind: OriginKind
    key: str
    what: str  # "rule of thumb", "standard", "code", "calculation", "stated in"
    statement: str  # "at most 12 in"; what is missing where a calculation has no result
    source: Source


@dataclass(frozen=True)
class Weighing:
    """A rule and a calculation on one matter at some parapets: what each says, and which governs."""

    parapets: tuple[str, ...]
    parts: tuple[Weighed, ...]
    governs: str  # a sentence without its full stop

    def __str__(self) -> str:
        statements = [f"{part.what} {part.key}: {part.statement}" for part in self.parts]
        return "; ".join([*statements, self.governs])


@dataclass(frozen=True)
class LayerAt:
    """One of several layers of a role at a parapet."""

    parapet: str
    id: str
    kind: str


@dataclass(frozen=True)
class Requirement:
    """One requirement. The paragraph, the checklist row and the verdict are readings of this object."""

    id: str  # "coping.thickness", with "@P-2" behind it where parapets differ
    name: str  # the catalogue entry: "coping.thickness"
    role: str
    attribute: str
    title: str  # "metal thickness"
    limit: Limit
    method: str  # test method; "" where none applies
    condition: str  # "at 75 Pa"; "" where none applies
    reason: str
    stage: Stage
    evidence: str  # the document that proves it: "product data", "test report" …
    section: str  # "07 71 00"
    parapets: tuple[str, ...]
    everywhere: bool  # holds at every parapet of the project that has this role
    origin: Origin
    because: str = ""  # the calculation that asks for this requirement, where its limit is a practice value
    floor: Limit | None = (
        None  # without the project's own choice: what another part of the role is held against
    )
    measured_before: bool = False  # at the wall, before the part goes on
    identity: bool = False  # a product that fails it is another kind of product, not a weaker one
    weighings: tuple[Weighing, ...] = ()  # where a calculation stands beside a rule
    layers: tuple[LayerAt, ...] = ()  # where it holds for some only of several layers of its role: for these
    spared: tuple[LayerAt, ...] = ()  # and not for these

    @property
    def where(self) -> tuple[str, ...]:
        """The parapets where it holds, with the layer where it spares others of its role: ``P-1 (layer wrap)``."""
        if not self.layers:
            return self.parapets
        return tuple(f"{one.parapet} (layer {one.id})" for one in self.layers)

    def holds_at(self, parapet: str, layer: str = "") -> bool:
        """Whether it holds at a parapet; with the id of a component, for this one."""
        if not self.layers or not layer:
            return parapet in self.parapets
        return any((one.parapet, one.id) == (parapet, layer) for one in self.layers)

    def holds_for(self, kind: str) -> bool:
        """Whether a product of a generic kind must answer it: one that goes to spared layers alone need not."""
        return kind in {one.kind for one in self.layers} or kind not in {one.kind for one in self.spared}

    def weighing_at(self, parapet: str) -> Weighing | None:
        """How rule and calculation were weighed at one parapet; None where no calculation is on this matter."""
        return next((one for one in self.weighings if parapet in one.parapets), None)


@tells("by_id")
@dataclass(frozen=True)
class RequirementSet:
    """All requirements of a project, by id. It tells which of them are asked for (:mod:`specgen.model.reading`)."""

    by_id: Mapping[str, Requirement]

    def named(self, name: str) -> tuple[Requirement, ...]:
        """The requirements of one catalogue entry; more than one where parapets differ."""
        return tuple(item for item in self.by_id.values() if item.name == name)

    def at(self, name: str, parapet: str, layer: str = "") -> Requirement | None:
        """The requirement of one catalogue entry at one parapet, or None if it does not apply there.

        ``layer`` is the id of one component of its role; without it, the first that holds for any of them.
        """
        tell(self, (name, parapet))
        here = self._by_place.get((name, parapet), ())
        return next((one for one in here if one.holds_at(parapet, layer)), None)

    def with_id(self, known: str) -> Requirement | None:
        """The requirement with this id, or None."""
        tell(self, ("id", known))
        held: Mapping[str, Requirement] = self.__dict__["by_id"]  # that one is looked up, not all
        return held.get(known)

    def differing(self, other: RequirementSet) -> set[object]:
        """What may be asked of this set that another answers otherwise."""
        places = {**self._by_place, **other._by_place}
        out: set[object] = {at for at in places if self._by_place.get(at) != other._by_place.get(at)}
        ids = {**self.by_id, **other.by_id}
        out |= {("id", known) for known in ids if self.by_id.get(known) != other.by_id.get(known)}
        ours, theirs = self._by_parapet, other._by_parapet
        out |= {("at parapet", one) for one in {**ours, **theirs} if ours.get(one) != theirs.get(one)}
        if out or list(self.by_id) != list(other.by_id):
            out.add(("field", "by_id"))
        return out

    @cached_property
    def _by_place(self) -> Mapping[tuple[str, str], tuple[Requirement, ...]]:
        """By catalogue entry and parapet: rules ask once for each at every parapet."""
        found: dict[tuple[str, str], tuple[Requirement, ...]] = {}
        held: Mapping[str, Requirement] = self.__dict__["by_id"]  # as below
        for item in held.values():
            for parapet in item.parapets:
                found[item.name, parapet] = (*found.get((item.name, parapet), ()), item)
        return found

    def at_parapet(self, parapet: str) -> tuple[Requirement, ...]:
        """Every requirement that holds at one parapet."""
        tell(self, ("at parapet", parapet))
        return self._by_parapet.get(parapet, ())

    @cached_property
    def _by_parapet(self) -> Mapping[str, tuple[Requirement, ...]]:
        found: dict[str, list[Requirement]] = {}
        held: Mapping[str, Requirement] = self.__dict__[
            "by_id"
        ]  # kept, so that only the first who asks would be noted
        for item in held.values():
            for parapet in item.parapets:
                found.setdefault(parapet, []).append(item)
        return {parapet: tuple(items) for parapet, items in found.items()}

    def of_role(self, role: str) -> tuple[Requirement, ...]:
        """The requirements on one role."""
        return tuple(item for item in self.by_id.values() if item.role == role)
