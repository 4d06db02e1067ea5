"""The inputs of a calculation that nobody knows exactly, and what follows of other values; nothing is written."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from specgen.assessment import Assessment, assess
from specgen.design.changes import ResultChange, changes
from specgen.design.run import everyday
from specgen.design.uncertainty import doubts_of
from specgen.model.calculation import Calculation
from specgen.model.project import Component, Parapet, Project, Record
from specgen.practice.entries import Practice
from specgen.practice.ranges import Range
from specgen.review.compare import FindingChange, changed_findings
from specgen.units.quantity import Quantity, from_si, to_unit
from specgen.wall.differing import own_records, records_at
from specgen.wall.edit import PRACTICE, SECTIONS
from specgen.wall.plausible import expected
from specgen.work.trial import Trial, tried

DOUBTFUL, EXPECTED, POSSIBLE = "doubtful", "expected", "possible"  # what a range is taken from
_STEPS = 100  # of a slider, at least


@dataclass(frozen=True)
class Slide:
    """An input that can be tried, and the range over which it may lie, in the unit in which it is stated."""

    path: str  # as `specgen calc --set` names it
    title: str
    stated: Quantity
    low: float
    high: float
    source: str  # DOUBTFUL, EXPECTED or POSSIBLE
    usual: str = ""  # what has such values, in words

    @property
    def step(self) -> float:
        """A decimal step that goes through the range in a hundred steps or more."""
        return float(10 ** math.floor(math.log10((self.high - self.low) / _STEPS)))

    @property
    def writable(self) -> bool:
        """Whether it is a value of the project file; a number of the trade is none."""
        return not self.path.startswith(f"{PRACTICE}.")

    @property
    def narrow(self) -> bool:
        """Whether the range is one to slide over; that of everything a value can be at all is not."""
        return self.source != POSSIBLE

    def near(self, number: float) -> float:
        """The number on a step that is next to one in the range; what is stated stays as it is."""
        if number == self.stated.number:
            return number
        return round(min(max(number, self.low), self.high) / self.step) * self.step

    def words(self, number: float) -> str:
        """A value in the unit of the one that is stated, as a project file says it."""
        return f"{number:.10g} {self.stated.unit}".strip()


@dataclass(frozen=True)
class TriedValues:
    """What follows of tried values at one parapet."""

    notes: tuple[str, ...]
    results: tuple[ResultChange, ...]
    findings: tuple[FindingChange, ...]


def slides(assessment: Assessment, calculation: Calculation) -> tuple[Slide, ...]:
    """The inputs of a calculation that can be tried, in the order of its sheet, then the doubtful ones of the trade.

    Args:
        assessment: the project as it stands.
        calculation: of one of its parapets.
    """
    project, practice = assessment.project, assessment.practice
    wall = next(one for one in project.parapets if one.name == calculation.parapet)
    found: dict[str, Slide] = {}
    doubtful = {one.path: one for one in _doubtful(calculation.subject, project, wall, practice)}
    where = dict(_written(project, wall))
    for line in calculation.inputs:
        if line.source in where and isinstance(line.value, Quantity):
            record, name = where[line.source]
            path = _path(wall, record, name)
            own = doubtful.get(path) or _ranged(path, line.title, line.value, record, name, practice)
            if own is not None:
                found.setdefault(path, own)
    return tuple({**found, **{path: one for path, one in doubtful.items() if path not in found}}.values())


def _doubtful(subject: str, project: Project, wall: Parapet, practice: Practice) -> Iterator[Slide]:
    for one in doubts_of(subject, project, wall, practice):
        path = _by_id(one.path, wall)
        stated = _stated(path, project, wall, practice)
        if stated is not None:
            low, high = (to_unit(from_si(end, one.dimension), stated.unit) for end in (one.low, one.high))
            yield from _slide(Slide(path, one.title, stated, low, high, DOUBTFUL))


def _by_id(path: str, wall: Parapet) -> str:
    """A path that names a component by its role, by its id."""
    role, _, name = path.removeprefix(f"{wall.name}.").rpartition(".")
    part = wall.part(role) if path.startswith(f"{wall.name}.") and role else None
    return f"{wall.name}.{part.id}.{name}" if part else path


def _stated(path: str, project: Project, wall: Parapet, practice: Practice) -> Quantity | None:
    if path.startswith(f"{PRACTICE}."):
        return practice.quantity(path.removeprefix(f"{PRACTICE}."))
    for record, name in dict(_written(project, wall)).values():
        if _path(wall, record, name) == path:
            return record.quantity(name)
    return None


def _written(project: Project, wall: Parapet) -> Iterator[tuple[str, tuple[Record, str]]]:
    """Each stated quantity that a path can name, by its place in the file."""
    parts = tuple(wall.components())
    records: list[Record] = [record for at, record in own_records(project) if at in SECTIONS]
    records += [one for _, one in records_at(wall) if one is wall or one in parts]
    for record in records:
        for name, value in record.values.items():
            if isinstance(value, Quantity):
                yield str(record.at(name)), (record, name)


def _path(wall: Parapet, record: Record, name: str) -> str:
    if isinstance(record, Component):
        return f"{wall.name}.{record.id}.{name}"
    return f"{wall.name if record is wall else record.what}.{name}"


def _ranged(
    path: str, title: str, stated: Quantity, record: Record, name: str, practice: Practice
) -> Slide | None:
    """A slide over what is expected of a record, else over what its value can be at all."""
    field = practice.vocabulary.field(record.what, name)
    ranges = ((expected(practice, record, name), EXPECTED), (field.possible if field else None, POSSIBLE))
    for one, source in ranges:
        if one is not None and one.least is not None and one.most is not None:
            return next(_over(path, title, stated, one, source), None)
    return None


def _over(path: str, title: str, stated: Quantity, one: Range, source: str) -> Iterator[Slide]:
    assert one.least is not None
    assert one.most is not None
    if one.least.dimension == stated.dimension == one.most.dimension:
        low, high = (to_unit(end, stated.unit) for end in (one.least, one.most))
        yield from _slide(Slide(path, title, stated, low, high, source, one.usual))


def _slide(one: Slide) -> Iterator[Slide]:
    """The slide, widened to what is stated; none where the range is a point."""
    low, high = min(one.low, one.stated.number), max(one.high, one.stated.number)
    if high > low:
        yield replace(one, low=low, high=high)


def tried_values(assessment: Assessment, calculation: Calculation, values: Mapping[str, str]) -> TriedValues:
    """What follows at the parapet of a calculation where some values are others.

    Args:
        assessment: the project as it stands.
        calculation: whose parapet is looked at.
        values: by path, as written.

    Raises:
        TrialError: a value cannot stand there.
    """
    parapet, subjects = calculation.parapet, everyday(assessment.project.parapets)
    trial = tried(
        assessment.project, assessment.practice, [f"{path}={words}" for path, words in values.items()]
    )
    after = _assessed(assessment, trial, parapet)
    before, found = ([one.calculations[parapet][name] for name in subjects] for one in (assessment, after))
    standing = ([one for one in each.findings if one.parapet == parapet] for each in (assessment, after))
    return TriedValues(trial.notes, changes(before, found, assessment.system), changed_findings(*standing))


def _assessed(assessment: Assessment, trial: Trial, name: str) -> Assessment:
    """The tried values at one parapet alone: what others say of themselves does not depend on it."""
    alone = replace(trial.project, parapets=tuple(one for one in trial.project.parapets if one.name == name))
    if trial.practice is assessment.practice:
        return assessment.again(alone)
    entries = {
        key: one for key, one in trial.practice.entries.items() if one is not assessment.practice.entries[key]
    }
    shipped = replace(assessment.shipped, entries={**assessment.shipped.entries, **entries})
    return assess(alone, shipped, assessment.office, assessment.book, assessment.clauses)
