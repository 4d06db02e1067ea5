"""An office's own standards laid over the practice folder: changed limits, new values, severities."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from specgen.files.marks import Mark
from specgen.model.finding import Severity
from specgen.model.project import Value
from specgen.practice.amendments import Amendment
from specgen.practice.entries import OlderEditions, Practice, PracticeEntry, SectionName, Vocabulary
from specgen.practice.methods import Edition
from specgen.units.compare import at_least, at_most
from specgen.units.quantity import Quantity


@dataclass(frozen=True)
class RuleFacts:
    """What an office file may change of a rule."""

    severity: Severity
    rests_on_code: bool
    options: Mapping[str, str]  # name to practice key

    @property
    def bound(self) -> bool:
        """Whether it is a defect by the code, which no office lowers."""
        return self.severity is Severity.DEFECT and self.rests_on_code


@dataclass(frozen=True)
class Changeable:
    """What an office file may change.

    ``directions`` gives for a practice key how the catalogue of requirements uses it: ``at least``, ``at most``,
    ``one of``.
    """

    directions: Mapping[str, str]
    rules: Mapping[str, RuleFacts]


@dataclass(frozen=True)
class LimitChange:
    """A practice entry as the office wants it. ``below_code``: weaker than an entry taken from a code."""

    entry: PracticeEntry
    original: PracticeEntry
    direction: str  # "" where the catalogue does not use the key
    mark: Mark
    below_code: bool


@dataclass(frozen=True)
class Office:
    """A whole office file."""

    name: str
    path: str
    changes: tuple[LimitChange, ...] = ()
    values: tuple[PracticeEntry, ...] = ()
    amendments: tuple[Amendment, ...] = ()  # of the code by states and places, beyond those that ship
    severity: Mapping[str, Severity] = field(default_factory=dict)
    rules: Path | None = None  # folder of rule modules
    editions: Mapping[str, Edition] = field(default_factory=dict)  # of standards, by designation
    older_editions: OlderEditions = "confirm"
    sections: Mapping[str, SectionName] = field(default_factory=dict)  # by the number that ships
    paper: str = ""  # of documents and drawings; "" where it chooses none


def is_weaker(old: Value | None, new: Value, direction: str) -> bool:
    """Whether a limit asks for less than another; without a direction any difference counts as less.

    >>> from specgen.units.quantity import parse
    >>> is_weaker(parse("3/16 in"), parse("1/8 in"), "at least"), is_weaker(parse("10 ft"), parse("8 ft"), "at most")
    (True, False)
    """
    if isinstance(old, Quantity) and isinstance(new, Quantity):
        less, more = not at_least(new, old), not at_most(new, old)
        return less if direction == "at least" else more if direction == "at most" else less or more
    if direction == "one of" and isinstance(old, tuple) and isinstance(new, tuple):
        return not set(new) <= set(old)
    return new != old


def change_of(original: PracticeEntry, changed: PracticeEntry, direction: str, mark: Mark) -> LimitChange:
    """A change of one entry, told apart as weaker than the code or not."""
    assert changed.value is not None
    below = original.source.of_code and is_weaker(original.value, changed.value, direction)
    return LimitChange(changed, original, direction, mark, below)


def overlay(practice: Practice, office: Office, accepted: Collection[str] = ()) -> Practice:
    """The practice with the office's standards over it.

    Args:
        practice: as shipped; it is not changed.
        office: the office file.
        accepted: keys whose limit below the code the project accepts by a waiver. All other limits below the
            code keep the value of the code.

    Returns:
        A new practice. A changed entry carries the source of the office, and in it the source it replaces.
    """
    entries = dict(practice.entries)
    for change in office.changes:
        if not change.below_code or change.entry.key in accepted:
            entries[change.entry.key] = change.entry
    entries |= {entry.key: entry for entry in office.values}
    wanted = {**practice.editions, **office.editions}
    return replace(
        practice,
        entries=entries,
        editions=wanted,
        older_editions=office.older_editions,
        sections=office.sections,
        vocabulary=_renumbered(practice.vocabulary, office.sections),
    )


def _renumbered(vocabulary: Vocabulary, sections: Mapping[str, SectionName]) -> Vocabulary:
    """The vocabulary, each role in the section under which the office issues it."""
    if not sections:
        return vocabulary
    roles = {
        name: replace(role, section=sections[role.section].number) if role.section in sections else role
        for name, role in vocabulary.roles.items()
    }
    return replace(vocabulary, roles=roles)
