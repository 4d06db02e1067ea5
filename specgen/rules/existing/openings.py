"""Where a standing parapet must be opened before its repair can be specified."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.model.project import Existing
from specgen.practice.entries import Practice, cell

TABLE = "existing_openings"
ALWAYS = "always"
WHERE_SEEN = "where seen"


@dataclass(frozen=True)
class Wanted:
    """The openings wanted at one place, and how many are there."""

    place: str
    count: int
    done: int
    why: tuple[str, ...]  # what is looked at
    seen: tuple[str, ...]  # names of the observations that ask for it


def openings_wanted(existing: Existing, practice: Practice) -> tuple[Wanted, ...]:
    """The openings that the observations of a parapet ask for, place by place.

    At a place the largest count of its reasons governs: one opening may answer several.

    Args:
        existing: the parapet as it stands.
        practice: holds the table of openings.

    Returns:
        One entry a place, in the order of the table.
    """
    found: dict[str, Wanted] = {}
    causes = [(ALWAYS, "", "")]
    causes += [
        (one.word("what") or "", one.word("where") or "", one.word("name") or "")
        for one in existing.observations
    ]
    for what, where, name in causes:
        for row in practice.table(TABLE).where(observed=what):
            place = where if row["place"] == WHERE_SEEN else str(row["place"])
            known = found.get(place, Wanted(place, 0, _done(existing, place), (), ()))
            why, seen = str(row["why"]), (name,) if name else ()
            found[place] = Wanted(
                place,
                max(known.count, round(cell(row, "count").number)),
                known.done,
                tuple(dict.fromkeys((*known.why, why))),
                (*known.seen, *seen),
            )
    return tuple(found.values())


def _done(existing: Existing, place: str) -> int:
    return sum(one.word("where") == place for one in existing.openings)
