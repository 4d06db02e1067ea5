"""Amendments of the code by a state or a place: dated values that hold where a project names its jurisdiction."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from specgen.model.project import Project, Value
from specgen.model.source import Source
from specgen.practice.entries import Practice

TABLE = "local_amendments"


@dataclass(frozen=True)
class Amendment:
    """One limit of the code as a place has it; the section is in the source, the days are ISO dates."""

    jurisdiction: str
    key: str  # of the practice entry that it changes
    value: Value
    source: Source
    since: str  # first issue date for which it holds
    until: str = ""  # last one; "" while it holds


def shipped(practice: Practice) -> tuple[Amendment, ...]:
    """The amendments that ship with the practice."""
    table = practice.table(TABLE)
    return tuple(
        Amendment(
            str(row["jurisdiction"]),
            str(row["changes"]),
            row["value"],
            table.source_of(row, "value"),
            str(row["since"]),
            str(row["until"] or ""),
        )
        for row in table.rows
        if row["value"] is not None
    )


def amended(practice: Practice, more: Iterable[Amendment], project: Project) -> Practice:
    """The practice with the amendments that hold for a project; one of several that change a limit is the last to begin.

    Args:
        practice: as shipped; it is not changed.
        more: amendments of the office.
        project: names its jurisdiction and its issue date.

    Returns:
        The same practice where nothing changes. A changed entry carries the source of the amendment.
    """
    place = (project.site.word("jurisdiction") or "").casefold()
    day = project.issued
    held = [
        one
        for one in (*shipped(practice), *more)
        if one.jurisdiction.casefold() == place and one.since <= day and (not one.until or day <= one.until)
    ]
    if not held:
        return practice
    entries = dict(practice.entries)
    for one in sorted(held, key=lambda each: each.since):
        was = practice.entry(one.key)
        source = replace(one.source, instead_of=was.source if was.value is not None else None)
        entries[one.key] = replace(was, value=one.value, source=source)
    return replace(practice, entries=entries)
