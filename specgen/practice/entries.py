"""The shapes of the practice room: entries, tables and the vocabulary of project files."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from specgen.files.faults import Fault
from specgen.files.marks import Mark
from specgen.model.project import Value
from specgen.model.source import Source
from specgen.practice.methods import Edition
from specgen.practice.ranges import Range
from specgen.units.quantity import Quantity

# What becomes of a value by an older edition of its method than is wanted: it is told in either case.
OlderEditions = Literal["confirm", "accept"]


class PracticeError(Fault):
    """The practice folder itself is wrong: a missing key, a value that does not parse, no source."""


@dataclass(frozen=True)
class PracticeEntry:
    """One number or statement of the trade. A statement has no value."""

    key: str
    title: str
    value: Value | None
    source: Source
    note: str

    def quantity(self) -> Quantity:
        """The value with its unit.

        Raises:
            PracticeError: the entry is a statement or a list of words.
        """
        if not isinstance(self.value, Quantity):
            raise PracticeError(f"practice entry {self.key!r} has no quantity")
        return self.value

    def words(self) -> tuple[str, ...]:
        """The value as a list of words; a single word is a list of one.

        Raises:
            PracticeError: the entry is a statement or a quantity.
        """
        if isinstance(self.value, str):
            return (self.value,)
        if not isinstance(self.value, tuple):
            raise PracticeError(f"practice entry {self.key!r} has no words")
        return self.value


Row = Mapping[str, Value | None]


@dataclass(frozen=True)
class PracticeTable:
    """A table of the trade. A blank cell is None; a cell without a source of its own has that of the table."""

    key: str
    title: str
    source: Source
    columns: Mapping[str, str]  # name to type
    rows: tuple[Row, ...]
    cell_sources: tuple[Mapping[str, Source], ...] = ()  # row by row, column to source

    def source_of(self, row: Row, column: str) -> Source:
        """The source of one cell of a row of this table."""
        for own, sources in zip(self.rows, self.cell_sources, strict=False):
            if own is row:
                return sources.get(column, self.source)
        return self.source

    def where(self, **wanted: object) -> tuple[Row, ...]:
        """The rows whose columns equal the wanted values."""
        unknown = set(wanted) - set(self.columns)
        if unknown:
            raise PracticeError(f"table {self.key!r} has no column {sorted(unknown)}")
        names = tuple(sorted(wanted))
        index = self._indexes.get(names)
        if index is None:
            index = self._indexes[names] = _indexed(self.rows, names)
        return index.get(tuple(wanted[name] for name in names), ())

    @cached_property
    def _indexes(self) -> dict[tuple[str, ...], dict[tuple[object, ...], tuple[Row, ...]]]:
        """The rows by the values of some columns, for each set of columns once asked for."""
        return {}


def _indexed(rows: tuple[Row, ...], names: tuple[str, ...]) -> dict[tuple[object, ...], tuple[Row, ...]]:
    found: dict[tuple[object, ...], list[Row]] = {}
    for row in rows:
        found.setdefault(tuple(row.get(name) for name in names), []).append(row)
    return {key: tuple(same) for key, same in found.items()}


def cell(row: Row, name: str) -> Quantity:
    """A quantity of a table row.

    Raises:
        PracticeError: the cell is blank or a word.
    """
    value = row.get(name)
    if not isinstance(value, Quantity):
        raise PracticeError(f"table cell {name!r} has no quantity")
    return value


@dataclass(frozen=True)
class Field:
    """One named value a record or a component may hold."""

    name: str
    title: str
    type: str  # text, word, words, yes or no, count, number, date, family, families, sheet thickness, or a dimension
    required: bool = False
    to_issue: bool = False  # a check does without it; papers that are issued do not
    choices: tuple[str, ...] = ()
    default: Value | None = None
    note: str = ""
    method: str = ""  # test method by which a submitted value is expected
    methods_accepted: tuple[str, ...] = ()
    at: str = ""  # condition of the test: "75 Pa"
    project_only: bool = False  # a fact of the project, never asked of a product
    signed: bool = False  # may lie below zero; a temperature always may
    stands_for: str = ""  # the practice entry whose value it takes the place of in this project
    possible: Range | None = None  # of a quantity or a count: what it can be at all
    expected: Range | None = None  # what it is expected to be, of whatever kind


@dataclass(frozen=True)
class Kind:
    """One generic kind of a role, with what rules need to know of it."""

    name: str
    title: str
    family: str = ""
    bonded: bool = False
    vapor_class_1: bool = False
    metal: bool = False
    wood: bool = False
    trade: str = ""  # who installs it, where other than its role's
    layers: tuple[str, ...] | None = None  # control layers it carries, where other than its role's


@dataclass(frozen=True)
class Role:
    """What a component can be: its kinds and attributes, who installs it, which section specifies it."""

    name: str
    title: str
    where: str  # "build-up", "top", or "place": not listed as a layer, there wherever the parapet has such a place
    trade: str
    section: str
    kinds: Mapping[str, Kind]
    fields: Mapping[str, Field]
    layers: tuple[str, ...] = ()  # control layers it carries: water, air, vapor, heat
    after: tuple[str, ...] = ()  # roles that are in place before it, beyond what laps and build-up say
    edge: bool = False  # a piece at an edge: the order of the build-up does not bind it
    called: str = ""  # what papers call it, where its name in a project file is not the trade's

    def trade_of(self, kind: str) -> str:
        """Who installs a component of this role and kind."""
        return self.kinds[kind].trade or self.trade

    def layers_of(self, kind: str) -> tuple[str, ...]:
        """The control layers a component of this role and kind carries."""
        own = self.kinds[kind].layers
        return self.layers if own is None else own


@dataclass(frozen=True)
class RecordKind:
    """A part of a project file that is not a component."""

    name: str
    title: str
    fields: Mapping[str, Field]


STANDING_SECTIONS = ("01 73 29", "02 41 19")  # on work at walls that stand, of no role


@dataclass(frozen=True)
class Vocabulary:
    """Everything a project or submittal file may say."""

    records: Mapping[str, RecordKind]
    roles: Mapping[str, Role]
    families: tuple[str, ...]

    @property
    def sections(self) -> tuple[str, ...]:
        """The numbers that ship of sections on work, to which an office may give others."""
        return tuple(sorted({*STANDING_SECTIONS, *(role.section for role in self.roles.values())}))

    def field(self, what: str, name: str) -> Field | None:
        """A named value of a role, else of a record of this name; None where neither has it."""
        kinds = (self.roles.get(what), self.records.get(what))
        return next((one.fields[name] for one in kinds if one and name in one.fields), None)

    def on_paper(self, words: str, own: tuple[str, ...] = ()) -> str:
        """Words with the trade's name in place of a role's name in a project file, where they differ.

        Args:
            words: what is to be printed.
            own: texts of people that hold a role's name as their own word: they are printed as written.
        """
        if any(text in words for text in own):
            parts = re.split(f"({'|'.join(map(re.escape, own))})", words)
            return "".join(one if one in own else self.on_paper(one) for one in parts)
        for role in self.roles.values():
            if role.called and role.name in words.lower():
                words = words.replace(role.name, role.called)
                words = words.replace(role.name.capitalize(), role.called.capitalize())
        return words


@dataclass(frozen=True)
class SectionName:
    """Number and title under which an office issues a section; an empty title keeps the section's own."""

    number: str
    title: str
    mark: Mark


@dataclass(frozen=True)
class Practice:
    """The whole practice folder, loaded."""

    entries: Mapping[str, PracticeEntry]
    tables: Mapping[str, PracticeTable]
    vocabulary: Vocabulary
    editions: Mapping[str, Edition] = field(
        default_factory=dict
    )  # of the standards an office wants, by designation
    older_editions: OlderEditions = "confirm"
    sections: Mapping[str, SectionName] = field(default_factory=dict)  # by the number that ships

    def entry(self, key: str) -> PracticeEntry:
        """One entry by key.

        Raises:
            PracticeError: no such key.
        """
        if key not in self.entries:
            raise PracticeError(f"no practice entry {key!r}")
        return self.entries[key]

    def quantity(self, key: str) -> Quantity:
        """The quantity of one entry."""
        return self.entry(key).quantity()

    def table(self, key: str) -> PracticeTable:
        """One table by key.

        Raises:
            PracticeError: no such key.
        """
        if key not in self.tables:
            raise PracticeError(f"no practice table {key!r}")
        return self.tables[key]

    def source(self, key: str) -> Source:
        """The source of an entry, or of a table written as ``table KEY``."""
        if key.startswith("table "):
            return self.table(key.removeprefix("table ")).source
        return self.entry(key).source

    def kind(self, role: str, kind: str) -> Kind:
        """What is known of a generic kind of a role."""
        return self.vocabulary.roles[role].kinds[kind]
