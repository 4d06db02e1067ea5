"""What a rule knows to change where it fails: typed changes of the project, to be tried before they are told.

A rule module may have ``REMEDIES``, a tuple of remedies. A remedy is a tuple of changes made together. Roles
name the component; numbers come from practice, from the requirement or from the project, never from here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from specgen.practice.entries import Practice

RECORDS = ("parapet", "site", "building")


@dataclass(frozen=True)
class Known:
    """The value of a practice entry; a statement without a value counts as yes."""

    key: str


@dataclass(frozen=True)
class Asked:
    """The limit of a requirement at this parapet, by its catalogue name."""

    name: str


@dataclass(frozen=True)
class Stated:
    """What the project states elsewhere: an attribute of a role, or of parapet, site or building."""

    role: str
    attribute: str


Given = Known | Asked | Stated | str | bool


@dataclass(frozen=True)
class SetKind:
    """Another generic kind of a component."""

    role: str
    kind: Given


@dataclass(frozen=True)
class FitKind:
    """Each other kind of a component whose family the table does not forbid beside the other role's."""

    role: str
    beside: str


@dataclass(frozen=True)
class SetValue:
    """Another value of a component, or of parapet, site or building."""

    role: str
    attribute: str
    value: Given


@dataclass(frozen=True)
class AddPart:
    """A component that is missing, in front of the first role named in ``before`` that is there."""

    role: str
    kind: str
    values: tuple[tuple[str, Given], ...] = ()
    before: tuple[str, ...] = ()


DRAINED = (("depth", Known("drainage.depth")), ("continuous", True))
DRAINAGE = AddPart("drainage layer", "dimpled sheet", DRAINED, ("barrier", "sheathing"))


@dataclass(frozen=True)
class MovePart:
    """A component to the place in front of another."""

    role: str
    before: str


@dataclass(frozen=True)
class SetLap:
    """One role laps over another, described and turned the right way; ``lap`` is set where none is stated."""

    upper: str
    lower: str
    lap: Given | None = None


@dataclass(frozen=True)
class TapeLap:
    """A bridging tape at the lap of two roles, of each kind whose family the table forbids on neither side."""

    one: str
    other: str


Change = SetKind | FitKind | SetValue | AddPart | MovePart | SetLap | TapeLap
Remedy = tuple[Change, ...]


def strange(remedies: tuple[Remedy, ...], practice: Practice) -> Iterator[str]:
    """A message for each name in the remedies that the practice folder does not know."""
    for remedy in remedies:
        for change in remedy:
            yield from _strange(change, practice)


def _strange(change: Change, practice: Practice) -> Iterator[str]:
    match change:
        case SetKind(role, kind):
            yield from _kind(role, kind, practice)
        case SetValue(role, attribute, value):
            yield from _attribute(role, attribute, practice)
            yield from _given(value, practice)
        case AddPart(role, kind, values, before):
            yield from _kind(role, kind, practice)
            for name, value in values:
                yield from _attribute(role, name, practice)
                yield from _given(value, practice)
            yield from _roles(practice, *before)
        case SetLap(upper, lower, lap):
            yield from _roles(practice, upper, lower)
            yield from _given(lap, practice)
        case FitKind(one, other) | MovePart(one, other) | TapeLap(one, other):
            yield from _roles(practice, one, other)


def _roles(practice: Practice, *names: str) -> Iterator[str]:
    for name in names:
        if name not in practice.vocabulary.roles:
            yield f"no role `{name}`"


def _kind(role: str, kind: Given, practice: Practice) -> Iterator[str]:
    yield from _roles(practice, role)
    known = practice.vocabulary.roles.get(role)
    if known is not None and isinstance(kind, str) and kind not in known.kinds:
        yield f"no kind `{kind}` of {role}"
    yield from _given(kind, practice)


def _attribute(role: str, name: str, practice: Practice) -> Iterator[str]:
    vocabulary = practice.vocabulary
    if role in RECORDS:
        fields = vocabulary.records[role].fields
    elif role in vocabulary.roles:
        fields = vocabulary.roles[role].fields
    else:
        yield f"no role `{role}`"
        return
    if name not in fields:
        yield f"no `{name}` in {role}"


def _given(value: Given | None, practice: Practice) -> Iterator[str]:
    if isinstance(value, Known) and value.key not in practice.entries:
        yield f"no practice entry `{value.key}`"
    elif isinstance(value, Stated):
        yield from _attribute(value.role, value.attribute, practice)
