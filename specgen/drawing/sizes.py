"""The sizes a drawing needs: as the project states them, else assumed, and then always marked as assumed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from specgen.files.marks import Mark
from specgen.model.project import Component, Parapet, Project, Record, Transition
from specgen.model.requirement import RequirementSet
from specgen.paths.sequence import Sequence
from specgen.paths.shapes import LayerPath
from specgen.practice.entries import Practice
from specgen.practice.nominal import paired
from specgen.rules.wall import Wall
from specgen.specification import Unmet
from specgen.units.quantity import Quantity, from_si, parse
from specgen.units.show import show
from specgen.units.spelling import fraction

# Shapes to draw where nothing else is known: no requirement and no calculation ever reads them.
FALLBACK_M = {
    "plaster": 0.022,
    "drainage layer": 0.010,
    "barrier": 0.001,
    "sheathing": 0.016,
    "framing": 0.150,
    "insulation": 0.050,
    "top insulation": 0.050,
    "roof turn-up": 0.0015,
    "coping": 0.075,  # a stone or a precast coping; metal is drawn by its bends
}
LONGEST_M = 50.0  # a sheet cannot show more of a section


@dataclass(frozen=True)
class Size:
    """A length [m], and whether it is assumed."""

    value: float
    assumed: bool = False
    words: str = ""  # as printed: the project's own writing where it has one
    asked: str = ""  # where it fails: the paragraph and what it asks for
    sense: str = ""  # "at least " where a limit stands for what nobody stated; the words begin with it

    @property
    def brief(self) -> str:
        """As a dimension prints it where a note says the rest."""
        return f"{self.words} as described" if self.asked else self.words

    @property
    def full(self) -> str:
        """As a note prints it: a size that fails says what the Sections ask for instead."""
        return f"{self.brief}; {self.asked}" if self.asked else self.words


@dataclass(frozen=True)
class Job:
    """What every drawing of one parapet is made from."""

    project: Project
    parapet: Parapet
    practice: Practice
    requirements: RequirementSet
    paths: tuple[LayerPath, ...]  # of the control layers
    order: Sequence  # of the work
    unmet: Mapping[Mark, Unmet]  # where a value is written that fails a requirement

    @property
    def system(self) -> str:
        """The language of units."""
        return self.project.system

    @property
    def si(self) -> bool:
        """Whether the sheet is laid out in metric: scale, paper, rounding."""
        return self.system == "SI"

    def shown(self, length: float) -> str:
        """A computed length in the project's language of units."""
        unit, step = ("mm", 1e-3 if length > 0.01 else 1e-4) if self.si else ("in", 0.0254 / 16.0)
        if length > 2.0 * step:  # no finer than a tape measure
            length = round(length / step) * step
        return show(from_si(length, "length", unit), self.system)

    def shown_long(self, length: float) -> str:
        """A computed length of a run of wall: meters, or feet, inches and sixteenths."""
        if self.si or length < 0.9144:
            return show(from_si(length, "length", "m" if self.si else "in"), self.system)
        feet, rest = divmod(round(length / 0.0254 * 16.0), 192)
        inches = f" {fraction(rest)} in" if rest else ""
        return show(parse(f"{feet} ft{inches}", {"length"}), self.system)

    def words(self, value: Quantity) -> str:
        """A stated length as printed, in the other language of units as the trade writes it there."""
        return show(paired(value), self.system)

    def described(self, record: Record, name: str, value: Quantity) -> str:
        """A value of the project file as printed; one that fails says what the Sections ask for instead."""
        return self._written(record, name, value).full

    def _written(self, record: Record, name: str, value: Quantity) -> Size:
        """A value of the project file, and what the Sections ask for where it fails."""
        if name in record.specified:
            sense = self.sense(record, name)
            return Size(value.value, False, sense + self.words(value), sense=sense)
        missed = self.unmet.get(record.at(name))
        words, asked = missed.beside(value) if missed else (self.words(value), "")
        return Size(value.value, False, words, asked)

    def sense(self, record: Record, name: str) -> str:
        """Which end is drawn of a value that nobody stated: "at least " or "at most "; "" of one that is stated."""
        asked = self.requirements.with_id(record.specified.get(name, ""))
        comparison = asked.limit.comparison if asked else ""
        return f"{comparison} " if comparison in ("at least", "at most") else ""

    def stated(self, record: Record | Transition | None, name: str) -> Size | None:
        """A length of a record if it is stated and can be drawn."""
        value = record.quantity(name) if record is not None and record.has(name) else None
        if value is None or not 0.0 <= value.value <= LONGEST_M:
            return None
        assert record is not None
        return self._written(record, name, value)

    def size(self, record: Record | None, name: str, requirement: str, fallback: float) -> Size:
        """A length: stated, else the least the specification asks for, else assumed to be drawn at all."""
        found = self.stated(record, name)
        if found is not None:
            return found
        asked = self.requirements.at(requirement, self.parapet.name) if requirement else None
        limit = asked.limit.value if asked is not None else None
        if isinstance(limit, Quantity) and limit.dimension == "length" and 0.0 < limit.value <= LONGEST_M:
            return Size(limit.value, True, self.words(limit))
        return self.assumed(fallback)

    def assumed(self, length: float) -> Size:
        """A length that nothing states."""
        return Size(length, True, self.shown(length))

    def thickness(self, part: Component) -> Size:
        """How thick a layer is: stated, else the usual thickness of its kind, else assumed to be drawn at all."""
        name = "depth" if part.role == "drainage layer" else "thickness"
        fields = self.practice.vocabulary.roles[part.role].fields
        if name in fields and fields[name].type == "length":
            found = self.stated(part, name)
            if found is not None and found.value > 0.0:
                return found
        rows = self.practice.table("materials").where(role=part.role, kind=part.kind)
        usual = rows[0]["thickness"] if rows else None
        if isinstance(usual, Quantity):
            return Size(usual.value, True, self.words(usual))
        return self.assumed(FALLBACK_M.get(part.role, 0.025))

    def lap(self, joint: Transition | None, practice_key: str) -> Size:
        """The lap of a transition, else the least lap of practice."""
        found = self.stated(joint, "lap")
        if found is not None:
            return found
        least = self.practice.quantity(practice_key)
        return Size(least.value, True, self.words(least))

    def joint(self, one: Component | None, other: Component | None) -> Transition | None:
        """The transition of two components, if both are there and one is stated."""
        if one is None or other is None:
            return None
        return next(iter(self.parapet.between(one, other)), None)


def job_of(wall: Wall, unmet: Mapping[Mark, Unmet]) -> Job:
    """What the drawings of an assessed parapet are made from."""
    return Job(wall.project, wall.parapet, wall.practice, wall.requirements, wall.paths, wall.order, unmet)
