"""The materials that meet at the walls of a project: one row a pair of families, with every place it meets."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.model.project import Project
from specgen.paths.contacts import Contact, contacts, lapped
from specgen.practice.entries import Practice

UNKNOWN = "family not stated"


@dataclass(frozen=True)
class Meeting:
    """Two families that meet, how, and what is known of it."""

    families: tuple[str, str]
    how: str  # contact, runoff, solvent, heat
    answer: str
    why: str
    source: str
    parts: tuple[str, ...]  # the components that meet so
    parapets: tuple[str, ...]
    couple: str  # the galvanic couple, where both are metals


def meetings(project: Project, practice: Practice) -> tuple[Meeting, ...]:
    """Every meeting of two families at the walls of the project, in the order in which it first occurs."""
    groups: dict[tuple[object, ...], list[tuple[str, Contact]]] = {}
    for parapet in project.parapets:
        touching = contacts(project, parapet, practice)
        for one in (*touching, *lapped(project, parapet, practice)):
            key = (one.families, one.adjacency, one.judgement, one.couple)
            groups.setdefault(key, []).append((parapet.name, one))
    return tuple(_meeting(group) for group in groups.values())


def _meeting(group: list[tuple[str, Contact]]) -> Meeting:
    one = group[0][1]
    judged = one.judgement
    couple = one.couple
    return Meeting(
        families=(one.families[0] or UNKNOWN, one.families[1] or UNKNOWN),
        how=one.adjacency,
        answer=judged.answer if judged else "confirm",
        why=judged.text.partition(": ")[2] or judged.text
        if judged
        else "name the family of both in the project file",
        source=str(judged.source) if judged else "",
        parts=tuple(dict.fromkeys(f"{contact.first} and {contact.second}" for _, contact in group)),
        parapets=tuple(dict.fromkeys(name for name, _ in group)),
        couple=(
            ""
            if couple is None
            else f"{couple.difference_v:.2f} V apart; limit {couple.limit_v:.2f} V; "
            + (f"{couple.anode} corrodes first" if couple.anode else "no metal corrodes first")
        ),
    )


def families_of(found: tuple[Meeting, ...]) -> tuple[str, ...]:
    """The families that occur, in order."""
    return tuple(dict.fromkeys(family for one in found for family in one.families))
