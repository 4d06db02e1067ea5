"""Lists that clauses print entry by entry: what a project tells of a standing or rated parapet, answers, the cautions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from specgen.files.marks import Mark
from specgen.model.project import Parapet, Project, Record
from specgen.model.requirement import Origin
from specgen.model.source import Source
from specgen.practice.entries import Practice, Row
from specgen.rules.existing.openings import TABLE, planned_openings
from specgen.sections import division
from specgen.sections.cautions import cautions
from specgen.sections.words import joined, value_words
from specgen.units.quantity import Quantity

ENTRY_NAMES = ("named", "what", "spot", "detail")
_WIDTH = "width"
HOLDS = "existing_holds"


@dataclass(frozen=True)
class ExistingItem:
    """One line of a list: the words its clause puts together, and where they come from."""

    words: Mapping[str, str]  # by the names of ENTRY_NAMES; "" for what is not told
    mark: Mark
    practice: str = ""  # the practice entry its numbers come from; "" for the project file itself


def _entry(mark: Mark, named: str, what: str, spot: str, detail: str, practice: str = "") -> ExistingItem:
    return ExistingItem(dict(zip(ENTRY_NAMES, (named, what, spot, detail), strict=True)), mark, practice)


def _stated(first: str, what: str = "", by: str = "") -> Callable[..., Iterator[ExistingItem]]:
    """A value of the record, with what it found and by whom."""

    def entries(wall: Parapet, project: Project, practice: Practice) -> Iterator[ExistingItem]:
        del project, practice
        at = wall.existing
        if at is not None and first in at.values:
            found, who = (at.word(name) or "" if name else "" for name in (what, by))
            yield _entry(at.at(first), str(at.values[first]), found, "", who)

    return entries


def _listed_words(key: str) -> Callable[[Parapet, Project, Practice], Iterator[ExistingItem]]:
    """The words of a list of the record, in one entry."""

    def entries(wall: Parapet, project: Project, practice: Practice) -> Iterator[ExistingItem]:
        del project, practice
        at = wall.existing
        if at is not None and at.words(key):
            yield _entry(at.at(key), joined(at.words(key), "and"), "", "", "")

    return entries


def _standing(wall: Parapet, project: Project, practice: Practice) -> Iterator[ExistingItem]:
    del project, practice
    if wall.existing is not None:
        yield _entry(wall.existing.mark, wall.name, "", "", "")


def _records(name: str, what: str) -> Callable[[Parapet, Project, Practice], Iterator[ExistingItem]]:
    def entries(wall: Parapet, project: Project, practice: Practice) -> Iterator[ExistingItem]:
        del practice
        for one in getattr(wall.existing, name) if wall.existing else ():
            detail = "; ".join(_details(one, what, project.system))
            yield _entry(
                one.mark, one.word("name") or "", one.word(what) or "", one.word("where") or "", detail
            )

    return entries


def _details(record: Record, what: str, system: str) -> Iterator[str]:
    """The rest of a record in words: its values, then its note."""
    details = [
        f"{value_words(value, 'is', system)}{' wide' if name == _WIDTH else ''}"
        for name, value in record.values.items()
        if name not in ("name", "where", "note", what) and (isinstance(value, Quantity) or value)
    ]
    if details:
        yield ", ".join(details)
    if record.word("note"):
        yield record.word("note") or ""


def _wanted(wall: Parapet, project: Project, practice: Practice) -> Iterator[ExistingItem]:
    if wall.existing is None:
        return
    for one in planned_openings(project, practice, [wall.name]):
        if one.wanted.left:
            unknown = joined(one.unknown, "and")
            yield _entry(
                wall.existing.mark, str(one.wanted.left), unknown, one.wanted.place, "", f"table {TABLE}"
            )


def _of_parapet(key: str, rated: bool) -> Callable[[Parapet, Project, Practice], Iterator[ExistingItem]]:
    """A value of the parapet, with its name; of one in a fire-rated wall that needs it, or of any other."""

    def entries(wall: Parapet, project: Project, practice: Practice) -> Iterator[ExistingItem]:
        del practice
        value = wall.values.get(key)
        if value is not None and bool(wall.flag("fire_rated")) is rated:
            yield _entry(wall.at(key), wall.name, value_words(value, "is", project.system), "", "")

    return entries


EACH: Mapping[str, Callable[[Parapet, Project, Practice], Iterator[ExistingItem]]] = {
    "existing parapets": _standing,
    "inspections": _stated("inspected", by="by"),
    "surveys": _stated("surveyed", what="hazardous_materials", by="surveyed_by"),
    "materials found": _listed_words("found_materials"),
    "abatement designers": _stated("abatement_by"),
    "classes of the work": _stated("work_class"),
    "observations": _records("observations", "what"),
    "openings": _records("openings", "found"),
    "openings wanted": _wanted,
    "rated parapets": _of_parapet("wall_fire_rating", rated=True),
    "accepted facings": _of_parapet("fire_confirmed_by", rated=True),
    "excepted parapets": _of_parapet("fire_exception", rated=False),
    "repairs": _records("repairs", "what"),
}


def _cautions(project: Project, practice: Practice) -> Iterator[ExistingItem]:
    del practice
    for words in cautions():
        yield _entry(project.info.mark, "", words, "", "")


def holds_of(wall: Parapet, practice: Practice) -> tuple[Row, ...]:
    """The hold points of a standing parapet, in the order in which they are signed; none of a new one."""
    if wall.existing is None:
        return ()
    survey = wall.existing.word("hazardous_materials")
    return tuple(
        row
        for row in practice.table(HOLDS).rows
        if (not row["role"] or wall.part(str(row["role"]))) and (not row["survey"] or row["survey"] == survey)
    )


def _holds(project: Project, practice: Practice) -> Iterator[ExistingItem]:
    rows = [row for wall in project.parapets for row in holds_of(wall, practice)]
    for row in practice.table(HOLDS).rows:
        if row in rows:
            what, before, look_for = (str(row[one]) for one in ("inspect", "before", "look_for"))
            yield _entry(project.info.mark, "", what, before, look_for, f"table {HOLDS}")


def _division(
    lines: Callable[[Project, Practice], Iterator[division.Line]],
) -> Callable[[Project, Practice], Iterator[ExistingItem]]:
    """What the project states of who does what."""

    def entries(project: Project, practice: Practice) -> Iterator[ExistingItem]:
        mark = division.mark_of(project)
        return (_entry(mark, *line) for line in lines(project, practice))

    return entries


def _answer(key: str) -> Callable[[Project, Practice], Iterator[ExistingItem]]:
    """What the record of the building answers in the words of the project."""

    def entries(project: Project, practice: Practice) -> Iterator[ExistingItem]:
        del practice
        if answer := project.building.word(key):
            yield _entry(project.building.at(key), "", answer, "", "")

    return entries


ONCE: Mapping[str, Callable[[Project, Practice], Iterator[ExistingItem]]] = {
    "cautions": _cautions,
    "hold points": _holds,
    "parts by trade": _division(division.parts_by_trade),
    "laps by trade": _division(division.laps_by_trade),
    "laps of the roofer": _division(partial(division.laps_by_trade, only=division.ROOFER)),
    "order of work": _division(division.order_of_work),
    "handovers": _division(division.handovers),
    "answer on the tested assembly": _answer("nfpa_285"),
    "answer on wood blocking": _answer("wood_blocking"),
    "answer on wood in the walls": _answer("wood_in_walls"),
    "who answers for fall protection": _answer("fall_protection"),
}  # of the work as a whole
LISTS = (*EACH, *ONCE)


def origin_of(entry: ExistingItem, practice: Practice) -> Origin:
    """Where the numbers of an entry come from: a practice entry, or a line of the project file."""
    if entry.practice:
        return Origin("practice", entry.practice, practice.source(entry.practice))
    return Origin("choice", str(entry.mark), Source.of_project(entry.mark))
