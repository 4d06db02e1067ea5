"""The code as it holds for a project: its own edition, and the dated amendments of its state or place."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from specgen.model.project import Project, Value
from specgen.model.source import Source
from specgen.practice.entries import Practice

TABLE = "local_amendments"
PLACES = "code_places"


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
        project: names its jurisdiction and its issue date; without a date, what has no end holds.

    Returns:
        The same practice where nothing changes. A changed entry carries the source of the amendment.
    """
    place = (project.site.word("jurisdiction") or "").casefold()
    day = project.issued
    held = [
        one
        for one in (*shipped(practice), *more)
        if one.jurisdiction.casefold() == place
        and (not day or one.since <= day)
        and (not one.until or (day and day <= one.until))
    ]
    if not held:
        return practice
    entries = dict(practice.entries)
    for one in sorted(held, key=lambda each: each.since):
        was = practice.entry(one.key)
        source = replace(one.source, instead_of=was.source if was.value is not None else None)
        entries[one.key] = replace(was, value=one.value, source=source)
    return replace(practice, entries=entries)


def in_edition(practice: Practice, code: str) -> Practice:
    """The practice with the sections of one edition of the code where they were read, as the project adopts it.

    Args:
        practice: as shipped; it is not changed.
        code: the adopted code, as ``IBC 2015``; "" where none is stated.

    Returns:
        The same practice where the table knows nothing of this edition. Titles of standards are those it names.
    """
    table, column = practice.table(PLACES), code.casefold().replace(" ", "_")
    found = [row for row in table.rows if column in table.columns and row.get(column)]
    entries = dict(practice.entries)
    for row in found:
        was = practice.entry(str(row["key"]))
        source = replace(table.source, edition=code.rsplit(" ", 1)[-1], place=str(row[column]))
        entries[was.key] = replace(was, source=source)
    standards = practice.table("standards")
    own = {row["designation"]: row for row in standards.where(code=code)} if code else {}
    if not found and not own:
        return practice
    rows = tuple(own.get(row["designation"], row) for row in standards.rows if row["code"] is None)
    return replace(
        practice, entries=entries, tables={**practice.tables, "standards": replace(standards, rows=rows)}
    )
