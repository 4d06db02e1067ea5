"""Where a standing parapet must be opened before its repair can be specified, and what is unknown until then."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from specgen.model.project import Existing, Project
from specgen.model.source import Source
from specgen.practice.entries import Practice, cell

TABLE = "existing_openings"
HIDDEN = "existing_hidden"
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
    ALSO_PLAIN: ClassVar = ("left",)

    @property
    def left(self) -> int:
        """How many are still to be made."""
        return max(self.count - self.done, 0)


@dataclass(frozen=True)
class PlannedOpenings:
    """The openings wanted at one place of one parapet, as a report lists them."""

    parapet: str
    wanted: Wanted
    unknown: tuple[str, ...]  # what no one knows before the missing openings are made
    source: Source  # of the count
    SPREAD_PLAIN: ClassVar = ("wanted",)


def planned_openings(
    project: Project, practice: Practice, parapets: Iterable[str] = ()
) -> tuple[PlannedOpenings, ...]:
    """The openings that must be made before the repairs of a project can be specified.

    Args:
        project: the project.
        practice: holds the tables of openings and of hidden conditions.
        parapets: names of the parapets that are asked for; all if empty.

    Returns:
        One row a place, parapet by parapet; empty where no parapet is described as existing. A place whose
        openings are all made is listed too, with nothing unknown.
    """
    names, source = tuple(parapets), practice.source(f"table {TABLE}")
    return tuple(
        PlannedOpenings(one.name, wanted, _unknown(wanted, one.existing, practice), source)
        for one in project.parapets
        if one.existing is not None and (not names or one.name in names)
        for wanted in openings_wanted(one.existing, practice)
    )


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


def hidden_conditions(existing: Existing, practice: Practice) -> tuple[tuple[str, str], ...]:
    """The conditions that no opening has shown yet, each with the place that would show it."""
    opened = {one.word("where") for one in existing.openings}
    rows = practice.table(HIDDEN).rows
    return tuple((str(row["condition"]), str(row["place"])) for row in rows if row["place"] not in opened)


def _unknown(wanted: Wanted, existing: Existing, practice: Practice) -> tuple[str, ...]:
    """What the missing openings would show: the hidden conditions of the place, or else what is looked at."""
    if not wanted.left:
        return ()
    hidden = tuple(what for what, place in hidden_conditions(existing, practice) if place == wanted.place)
    return hidden or wanted.why


def _done(existing: Existing, place: str) -> int:
    return sum(one.word("where") == place for one in existing.openings)
