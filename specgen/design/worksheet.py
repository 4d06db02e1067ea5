"""A worksheet on which a calculation is written line by line, as by hand, and closed into a Calculation.

A calculation first asks for what it needs (:meth:`Worksheet.require`, which names everything missing in one
run), then writes inputs, steps and results. Every line carries its source: the place in the user's file, or
the practice entry with its status.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from functools import wraps
from typing import TypeVar

from specgen.model.calculation import AT_LIMIT, CalcLine, CalcTable, Calculation
from specgen.model.project import Component, Parapet, Project, Record
from specgen.model.source import Source
from specgen.physics.errors import PhysicsError
from specgen.practice.entries import Practice, Row, cell
from specgen.units.quantity import Quantity, from_si
from specgen.units.show import show_on_sheet

# What a calculation takes for straight, where the parapet is curved in plan.
STRAIGHT = {
    "coping geometry": "each piece is drawn straight between its joints, and the miter at a joint is not in its blank.",
    "coping movement": "a segment that grows pushes its neighbors outward as well, which the gap does not answer.",
    "coping wind": "the pressures are those of a straight edge; the tested lengths are straight too.",
    "driving rain": "its face looks to more than one direction, and the one that is stated is taken for all of it.",
    "inward drive": "its face looks to more than one direction, and the one that is stated is taken for all of it.",
    "parapet seismic": "it is taken as a straight wall on its base; a curve stiffens it.",
    "parapet wind": "it is taken as a straight wall on its base; a curve stiffens it.",
    "plaster panels": "the panels are laid out on the developed length of its face.",
    "snow drift": "the fetch is that of a straight edge.",
    "cleat loads": "the cleat is taken as straight.",
    "cleat fasteners": "the cleat is taken as straight.",
}
Calculate = Callable[[Project, Parapet, Practice], Calculation]
Given = TypeVar("Given", Quantity, str)
DIGITS = 4  # significant digits of a computed number; enough to follow it by hand


class Unknown(Exception):  # noqa: N818 - the name reads as the statement it makes
    """The calculation has no result; the worksheet holds the reasons."""


@dataclass(frozen=True)
class Unit:
    """What a computed number is printed in: its dimension, and the unit of each system."""

    dimension: str
    inch_pound: str
    si: str


PRESSURE = Unit("pressure", "psf", "Pa")
VAPOR_PRESSURE = Unit("pressure", "inHg", "Pa")
HEIGHT = Unit("length", "ft", "m")
GAP = Unit("length", "in", "mm")
TEMPERATURE = Unit("temperature", "degF", "degC")
DIFFERENCE = Unit("temperature difference", "deltaF", "K")
PERMEANCE = Unit("vapor permeance", "perm", "ng/(Pa·s·m2)")
RESISTANCE = Unit("thermal resistance", "h·ft2·F/Btu", "m2·K/W")
VAPOR_FLOW = Unit("mass flux", "gr/(h·ft2)", "g/(m2·h)")
CONDENSATE = Unit("mass per area", "gr/ft2", "g/m2")
SHARE = Unit("ratio", "%", "%")
NUMBER = Unit("number", "", "")
AREA = Unit("area", "ft2", "m2")
FLOW = Unit("volume flow", "gpm", "L/s")
FORCE = Unit("force", "lbf", "N")
LINE_LOAD = Unit("line load", "lbf/ft", "kN/m")
BASE_MOMENT = Unit("moment per length", "lbf·ft/ft", "kN·m/m")
VOLTAGE = Unit("voltage", "V", "V")


@dataclass
class Worksheet:
    """One calculation at one parapet while it is being written."""

    subject: str
    title: str
    project: Project
    parapet: Parapet
    practice: Practice
    validity: str
    leaves_out: list[str]
    inputs: list[CalcLine] = field(default_factory=list)
    steps: list[CalcLine] = field(default_factory=list)
    results: dict[str, CalcLine] = field(default_factory=dict)
    tables: list[CalcTable] = field(default_factory=list)
    sources: dict[str, None] = field(default_factory=dict)  # in the order of use, each once
    missing: list[str] = field(default_factory=list)

    @property
    def si(self) -> bool:
        """Whether the project is written in SI units."""
        return self.project.info.word("units") == "SI"

    @contextmanager
    def writing(self) -> Iterator[None]:
        """Turn what stops the calculation into a reason: missing data, or a value out of a formula's range."""
        try:
            yield
        except Unknown:
            pass
        except PhysicsError as error:
            self.missing.append(f"out of range: {error}")

    def close(self) -> Calculation:
        """The finished calculation; without results if anything is missing."""
        return Calculation(
            subject=self.subject,
            title=self.title,
            parapet=self.parapet.name,
            inputs=tuple(self.inputs),
            steps=tuple(self.steps),
            results={} if self.missing else dict(self.results),
            sources=tuple(self.sources),
            validity=self.validity,
            leaves_out=tuple(self.leaves_out),
            missing=tuple(self.missing),
            tables=() if self.missing else tuple(self.tables),
        )

    # What the calculation stands on

    def require(self, *keys: str) -> None:
        """Name every datum the user did not give.

        Args:
            keys: ``site.wind_speed``, ``building.height``, or role and attribute: ``coping.metal``.

        Raises:
            Unknown: at least one is missing.
        """
        for key in keys:
            record, name = self._find(key)
            if record is None or not record.has(name):
                self.missing.append(f"{key}: {self.title_of(key)}")
            elif name in record.bounds:
                self._only_a_bound(record, name)
        self.stop_if_missing()

    def stop_if_missing(self) -> None:
        """Stop here if anything has been found missing.

        Raises:
            Unknown: something is.
        """
        if self.missing:
            raise Unknown

    def stop(self, reason: str) -> Unknown:
        """Note why the calculation cannot go on; the caller raises what comes back."""
        self.missing.append(reason)
        return Unknown(reason)

    def _only_a_bound(self, record: Record, name: str) -> Unknown:
        """Note that a product states a bound or a range of what is calculated with; no end of it is the value."""
        what = record.id if isinstance(record, Component) else record.what
        title = self.practice.vocabulary.roles[record.what].fields[name].title
        return self.stop(f"{what}.{name}: {title}, one value; stated is {record.bounds[name].text}")

    def given(self, key: str) -> Quantity | None:
        """A quantity of the project, or None; nothing is written on the sheet.

        Raises:
            Unknown: it is stated as a bound or a range.
        """
        record, name = self._find(key)
        return self._quantity(record, name) if record else None

    def _quantity(self, record: Record, name: str) -> Quantity | None:
        if name in record.bounds:
            raise self._only_a_bound(record, name)
        return record.quantity(name)

    def word(self, key: str) -> str | None:
        """A word of the project, or None; nothing is written on the sheet."""
        record, name = self._find(key)
        return record.word(name) if record else None

    def _find(self, key: str) -> tuple[Record | None, str]:
        where, _, name = key.rpartition(".")
        named = {"site": self.project.site, "building": self.project.building, "parapet": self.parapet}
        return named.get(where) or self.parapet.part(where), name

    def title_of(self, key: str) -> str:
        """What the vocabulary calls a key of :meth:`require`."""
        where, _, name = key.rpartition(".")
        vocabulary = self.practice.vocabulary
        fields = (
            vocabulary.roles[where].fields if where in vocabulary.roles else vocabulary.records[where].fields
        )
        return fields[name].title

    # Inputs

    def input(self, symbol: str, key: str) -> float:
        """Write a quantity of the project as an input; its value in SI.

        Raises:
            KeyError: it was not given; ask with :meth:`require` or :meth:`given` first.
        """
        return self._input(symbol, key, self.given(key)).value

    def input_word(self, symbol: str, key: str) -> str:
        """Write a word of the project as an input.

        Raises:
            KeyError: it was not given; ask with :meth:`require` or :meth:`word` first.
        """
        return self._input(symbol, key, self.word(key))

    def _input(self, symbol: str, key: str, value: Given | None) -> Given:
        record, name = self._find(key)
        if record is None or value is None:
            raise KeyError(key)
        self.inputs.append(CalcLine(symbol, self.title_of(key), value, "", _where(record, name)))
        return value

    def part_input(self, symbol: str, title: str, record: Record, name: str) -> float:
        """Write a quantity of one component as an input; its value in SI.

        Raises:
            KeyError: it was not given.
            Unknown: it is stated as a bound or a range.
        """
        value = self._quantity(record, name)
        if value is None:
            raise KeyError(name)
        self.inputs.append(CalcLine(symbol, title, value, "", _where(record, name)))
        return value.value

    def practice_input(self, symbol: str, key: str) -> float:
        """Write a practice value as an input; its value in SI."""
        entry = self.practice.entry(key)
        value = replace(entry.quantity(), nominal=())  # the printed number is the one that is calculated with
        self.inputs.append(CalcLine(symbol, entry.title, value, "", self.cite(entry.source)))
        return value.value

    def table_input(self, symbol: str, table: str, row: Row, column: str, title: str = "") -> float:
        """Write one cell of a practice table as an input; its value in SI."""
        whole = self.practice.table(table)
        value = cell(row, column)
        named = title or whole.columns[column]
        self.inputs.append(CalcLine(symbol, named, value, "", self.cite(whole.source_of(row, column))))
        return value.value

    def assume(self, symbol: str, title: str, value: float, unit: Unit, why: str) -> float:
        """Write a value nobody gave as an input, and say so among what the calculation leaves out."""
        self.inputs.append(CalcLine(symbol, title, self.quantity(value, unit), "", "assumed"))
        self.leaves_out.append(why)
        return value

    def cite(self, source: Source) -> str:
        """The text of a source, noted among the sources of the calculation."""
        self.sources.setdefault(str(source))
        return str(source)

    # Steps and results

    def quantity(self, value: float, unit: Unit) -> Quantity:
        """A computed number in the project's units, its text cut to the digits of a hand calculation."""
        made = from_si(float(value), unit.dimension, unit.si if self.si else unit.inch_pound)
        # A temperature of 0 °F comes back from Celsius with binary noise, which `g` would print in full.
        number = round(made.number, 9)
        symbol = f" {made.unit}".rstrip()
        return Quantity(made.value, made.dimension, made.number, made.unit, f"{number:.{DIGITS}g}{symbol}")

    def shown(self, value: float, unit: Unit) -> str:
        """A computed number as the sheet prints it, for a formula that says what decided."""
        return show_on_sheet(self.quantity(value, unit), self.project.system)

    def step(
        self, symbol: str, title: str, value: float, unit: Unit, formula: str, source: str = ""
    ) -> float:
        """Write a computed number; its value again, in SI."""
        self.steps.append(CalcLine(symbol, title, self.quantity(value, unit), formula, source))
        return value

    def step_word(self, symbol: str, title: str, word: str, formula: str, source: str = "") -> str:
        """Write a finding in words as a step."""
        self.steps.append(CalcLine(symbol, title, word, formula, source))
        return word

    def result(
        self, name: str, symbol: str, title: str, value: float, unit: Unit, formula: str = ""
    ) -> float:
        """Write a computed number as a result; its value again, in SI."""
        self.results[name] = CalcLine(symbol, title, self.quantity(value, unit), formula)
        return value

    def result_quantity(self, name: str, symbol: str, title: str, value: Quantity, formula: str) -> None:
        """Write a result that carries its own rounding."""
        self.results[name] = CalcLine(symbol, title, value, formula)

    def value_of(self, name: str) -> float:
        """A numeric result already on the sheet, in SI."""
        value = self.results[name].value
        assert not isinstance(value, str)
        return value.value

    def result_word(self, name: str, title: str, word: str, formula: str = "") -> str:
        """Write a result that is a word."""
        self.results[name] = CalcLine("", title, word, formula)
        return word


def _where(record: Record, name: str) -> str:
    """Where an input is written, or which requirement sets the limit that stands for it."""
    asked = record.specified.get(name)
    return f"{AT_LIMIT}: {asked}" if asked else str(record.at(name))


def calculation(
    subject: str, title: str, validity: str, leaves_out: Iterable[str]
) -> Callable[[Callable[[Worksheet], None]], Calculate]:
    """Makes a calculation of what fills its worksheet: what stops it becomes a reason, and the sheet is closed."""

    def of(write: Callable[[Worksheet], None]) -> Calculate:
        @wraps(write)
        def calculate(project: Project, parapet: Parapet, practice: Practice) -> Calculation:
            work = Worksheet(subject, title, project, parapet, practice, validity, list(leaves_out))
            if subject in STRAIGHT and parapet.has("radius"):
                work.leaves_out.append(f"The parapet is curved in plan: {STRAIGHT[subject]}")
            with work.writing():
                write(work)
            return work.close()

        return calculate

    return of
