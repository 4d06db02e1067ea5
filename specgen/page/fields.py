"""Makes the fields of a record as a form shows them, from the assessed project and the vocabulary."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from functools import cached_property

from specgen.assessment import Assessment
from specgen.files.marks import Mark
from specgen.intake.field_words import accepted, example
from specgen.intake.kindless import NONE
from specgen.intake.project import ProjectReader
from specgen.intake.schema import may_be_open
from specgen.intake.start import read_words
from specgen.intake.values import SHEET_THICKNESS, UNKNOWN, UnusableValueError
from specgen.model.finding import Finding
from specgen.model.project import Component, Parapet, Record, Transition, Value
from specgen.model.requirement import Requirement
from specgen.page.field_view import (
    APART,
    COMPONENT,
    KIND,
    LEFT,
    NOT_STATED,
    OPEN,
    STATED,
    WAYS,
    FieldAddress,
    FieldChoice,
    FieldLimit,
    FieldView,
    several,
)
from specgen.practice.entries import Field, Practice
from specgen.practice.ranges import Range
from specgen.rules.hold import asked, words
from specgen.sections.build import ParagraphRef
from specgen.units.echo import echo, in_usual_units
from specgen.units.quantity import Quantity, QuantityError, parse
from specgen.wall.differing import own_records, records_at
from specgen.wall.plausible import FAMILIES, doubt
from specgen.wall.specified import new_work

_INPUTS = {
    **{"word": "choice", "family": "choice", "words": "several", "families": "several"},
    **{"yes or no": "flag", "count": "count", "date": "date", "text": "text"},
}
_KEY = re.compile("`([^`]*)`")  # a key of the project file, as the vocabulary writes it
_PLAIN = ("text", "date", "yes or no")  # types that need no word on how they are written
_SECTIONS = ("project", "site", "building")  # whose values a message names behind the section: `site.code`
_OF_PAPERS = ("quality", "trades", "contacts")  # of which no finding asks
_VALUES = ".values"
MOST_WALLS = 8  # parapets that are looked at for what reads the sections


class Fields:
    """Makes the fields of any record of an assessed project.

    Args:
        one: the project as assessed.
        paragraphs: by the id of a requirement, the paragraph that states it; none while no section is written.
        comments: how many comments stand on an address.
    """

    def __init__(
        self,
        one: Assessment,
        paragraphs: Mapping[str, ParagraphRef] | None = None,
        comments: Mapping[FieldAddress, int] | None = None,
    ) -> None:
        self.one, self.practice = one, one.practice
        self.paragraphs, self.comments = paragraphs or {}, comments or {}
        # By parapet, made when it is first asked for: a project may have hundreds.
        self._asked: dict[str, Mapping[tuple[str, str], tuple[Requirement, ...]]] = {}
        self._standing: dict[str, Mapping[tuple[str, str], tuple[Finding, ...]]] = {}
        self._read: dict[str, Mapping[tuple[str, str], int]] = {}
        self._at: dict[str, Mapping[int, str]] = {}

    def of(
        self, record: Record, parapet: str = "", scopes: Mapping[str, str] | None = None
    ) -> tuple[FieldView, ...]:
        """The fields of a record, in the order of the vocabulary; of a component its kind first.

        Args:
            record: a section, a parapet, a component, a lap or a place of the project of the assessment.
            parapet: the parapet that it belongs to; "" outside the parapets.
            scopes: for how much a change may hold: of a type, or of this parapet alone.
        """
        known = self.practice.vocabulary
        kinds = known.roles if isinstance(record, Component) else known.records
        fields = list(kinds[record.what].fields.values())
        if isinstance(record, Component):
            fields.insert(0, kind_field(self.practice, record.role))
        return tuple(self._one(record, one, parapet, scopes or {}) for one in fields)

    def _one(self, record: Record, of: Field, parapet: str, scopes: Mapping[str, str]) -> FieldView:
        address = self._address(record, of.name, parapet)
        limit, at = self._limit(record, of.name, parapet), self._address_of(record, parapet)
        way, value = stands(record, of.name)
        written = "" if value is None else words(value)
        reason = record.inapplicable.get(of.name, "") or record.meant.get(of.name, "")
        if of.name == KIND:
            reason = reason or record.because.get(KIND, "")
        return FieldView(
            address,
            of.title,
            self._help(record, of),
            _INPUTS.get(of.type, "quantity"),
            way,
            self._ways(record, of, parapet, limit),
            written,
            written,
            way,
            choices(self.practice, record.what, of, written),
            self._units(record.what, of, value),
            "" if of.choices or of.type in _PLAIN else accepted(of),
            echo(value) if isinstance(value, Quantity) else "",
            limit,
            reason,
            "",
            self._doubted(record, of.name),
            self._standing_at(parapet).get((at, of.name), ()),
            self._read_at(parapet).get((f"{at}{_VALUES}", of.name), 0),
            self.comments.get(address, 0),
            scopes,
        )

    def _address(self, record: Record, key: str, parapet: str) -> FieldAddress:
        if isinstance(record, Component):
            return FieldAddress(COMPONENT, key, parapet, record.id)
        if isinstance(record, Transition):
            return FieldAddress(record.what, key, parapet, f"{record.first} / {record.second}")
        if isinstance(record, Parapet) or not parapet:
            return FieldAddress(record.what, key, parapet)
        number = self._address_of(record, parapet).rpartition(" ")[2]
        name = record.word("name") if "name" in self._keys(record) else None
        return FieldAddress(record.what, key, parapet, name or number)

    def _help(self, record: Record, of: Field) -> str:
        """The note of the vocabulary, the range that is expected, and what is taken where nothing is stated."""
        parts = [of.note] if of.note else []
        if of.default is not None:
            parts.append(f"taken as {words(of.default)} where nothing is stated")
        if isinstance(of.expected, Range) and of.expected.usual:
            parts.append(f"expected {of.expected.words(self.one.system)}: {of.expected.usual}")
        if of.method:
            parts.append(f"tested by {of.method}" + (f" at {of.at}" if of.at else ""))
        return _KEY.sub("“\\1”", "; ".join(parts))

    def _units(self, what: str, of: Field, value: Value | None) -> tuple[str, ...]:
        """The value in each usual unit; before anything is stated, a value that a worked example has."""
        if of.type in _INPUTS:
            return ()
        if isinstance(value, Quantity):
            return in_usual_units(value)
        accept = SHEET_THICKNESS if of.type == "sheet thickness" else {of.type}
        try:
            return in_usual_units(parse(example(self.practice, what, of).strip('"'), accept))
        except QuantityError:
            return ()

    def _ways(self, record: Record, of: Field, parapet: str, limit: FieldLimit | None) -> Mapping[str, str]:
        if of.required:
            return {STATED: WAYS[STATED]}
        if of.name == KIND:
            return {way: WAYS[way] for way in (STATED, OPEN, APART)}
        wall = next((each for each in self.one.project.parapets if each.name == parapet), None)
        leaves = wall is not None and limit is not None
        built = leaves and new_work(self.one.project, wall, self.practice, record) if wall else False
        found = {STATED: WAYS[STATED], LEFT: WAYS[LEFT] if built else NOT_STATED}
        if isinstance(record, Component) or record.what in ProjectReader.OPEN:
            found |= {way: WAYS[way] for way in (OPEN, APART) if way == APART or may_be_open(of)}
        return found

    def _limit(self, record: Record, key: str, parapet: str) -> FieldLimit | None:
        """What is asked of a value at this parapet; the first where several paragraphs ask."""
        layer = record.id if isinstance(record, Component) else ""
        for each in self._limits_at(parapet).get((record.what, key), ()):
            if each.holds_at(parapet, layer):
                place = self.paragraphs.get(each.id)
                numbered = f"{place.section} {place.number}" if place else ""
                says = asked(each.limit, self.one.system)
                return FieldLimit(says, numbered, each.section, place.key if place else "", each.reason)
        return None

    def _doubted(self, record: Record, key: str) -> str:
        """Why a value that is set aside is not expected here."""
        held = record.doubted.get(key)
        return "" if held is None else doubt(self.practice, record, key, held.value, self.one.system)

    def _limits_at(self, parapet: str) -> Mapping[tuple[str, str], tuple[Requirement, ...]]:
        """What is asked at a parapet, by role and value."""
        if parapet not in self._asked:
            found: dict[tuple[str, str], list[Requirement]] = {}
            for each in self.one.requirements.by_id.values() if parapet else ():
                if parapet in each.parapets:
                    found.setdefault((each.role, each.attribute), []).append(each)
            self._asked[parapet] = {key: tuple(held) for key, held in found.items()}
        return self._asked[parapet]

    def _standing_at(self, parapet: str) -> Mapping[tuple[str, str], tuple[Finding, ...]]:
        """The findings that somebody must act on, by the address of the record and the value; each rule once."""
        if parapet not in self._standing:
            found: dict[tuple[str, str], dict[str, Finding]] = {}
            records = [(at, record) for at, record in self._records(parapet) if record.what not in _OF_PAPERS]
            by_mark = {(mark, name): at for at, record in records for name, mark in _marks(record)}
            named: dict[Mark, str] = {}
            for mark, name in by_mark:
                named.setdefault(mark, name)
            for each in self._counting.get(parapet, ()) if parapet else self.one.findings:
                if not each.counts:
                    continue
                wanted = (
                    each.attribute if (each.mark, each.attribute) in by_mark else named.get(each.mark, "")
                )
                places = [(by_mark[each.mark, wanted], wanted)] if wanted else []
                places += self._missing(each, records)
                for place in places:
                    found.setdefault(place, {}).setdefault(each.code, each)
            self._standing[parapet] = {key: tuple(held.values()) for key, held in found.items()}
        return self._standing[parapet]

    def _missing(self, finding: Finding, records: Iterable[tuple[str, Record]]) -> Iterator[tuple[str, str]]:
        """The values that a finding asks for and that are written nowhere yet."""
        asked = set(_KEY.findall(finding.missing))
        for at, record in records if asked else ():
            section = record.what in _SECTIONS
            if not section and getattr(record, "id", "") != finding.layer:
                continue
            yield from (
                (at, name) for name in self._keys(record) if f"{record.what}." * section + name in asked
            )

    def _keys(self, record: Record) -> Iterable[str]:
        known = self.practice.vocabulary
        return (known.roles if isinstance(record, Component) else known.records)[record.what].fields

    def _records(self, parapet: str) -> Iterable[tuple[str, Record]]:
        """The records of a parapet with their addresses; the sections for ""."""
        if not parapet:
            return own_records(self.one.project)
        wall = next((one for one in self.one.project.parapets if one.name == parapet), None)
        return records_at(wall) if wall is not None else ()

    def _address_of(self, record: Record, parapet: str) -> str:
        if parapet not in self._at:
            self._at[parapet] = {id(one): at for at, one in self._records(parapet)}
        return self._at[parapet].get(id(record), "")

    @cached_property
    def _counting(self) -> Mapping[str, list[Finding]]:
        found: dict[str, list[Finding]] = {}
        for each in self.one.findings:
            if each.counts:
                found.setdefault(each.parapet, []).append(each)
        return found

    @cached_property
    def _codes(self) -> Mapping[str, set[str]]:
        found: dict[str, set[str]] = {}
        for each in self.one.findings:
            found.setdefault(each.parapet, set()).add(each.code)
        return found

    def _read_at(self, parapet: str) -> Mapping[tuple[str, str], int]:
        """How many checks have read each value; of the sections at the first parapets, the others read the same."""
        if parapet not in self._read:
            memo, found = self.one.stages[-1].memo, dict[tuple[str, str], set[str]]()
            names = [parapet] if parapet else [one.name for one in self.one.project.parapets[:MOST_WALLS]]
            for name in names:
                for code in self._codes.get(name, ()):
                    with suppress(KeyError):  # a rule on papers is no reader of a wall
                        for at, what in memo.read_for(code, name):
                            if isinstance(what, str):
                                found.setdefault((at, what), set()).add(code)
            self._read[parapet] = {key: len(codes) for key, codes in found.items()}
        return self._read[parapet]


def _marks(record: Record) -> Iterator[tuple[str, Mark]]:
    """Where each value of a record is written, also one that is said to be unknown."""
    yield from record.marks.items()
    yield from record.unknown.items()


def kind_field(practice: Practice, role: str) -> Field:
    """The kind of a component as a field."""
    return Field(KIND, "kind", "word", choices=tuple(practice.vocabulary.roles[role].kinds))


def stands(record: Record, key: str) -> tuple[str, Value | None]:
    """In which way a value stands in its record, and the value if it is stated.

    A default of the vocabulary is not stated by anybody.
    """
    if key == KIND and isinstance(record, Component):
        ways = {UNKNOWN: OPEN, NONE: APART}
        return (ways[record.kind], None) if record.kind in ways else (STATED, record.kind)
    if key in record.unknown:
        return OPEN, None
    if key in record.inapplicable:
        return APART, None
    written = record.written
    return (STATED, written[key]) if key in written and key in record.marks else (LEFT, None)


def choices(practice: Practice, what: str, of: Field, value: str) -> tuple[FieldChoice, ...]:
    """The words that a field takes, those that are usual of a role first among the families."""
    known = practice.vocabulary
    listed: Iterable[str] = ("yes", "no") if of.type == "yes or no" else of.choices
    if of.type in ("family", "families"):
        usual = (str(row["family"]) for row in practice.table(FAMILIES).where(role=what))
        listed = dict.fromkeys((*usual, *known.families))
    kinds = known.roles[what].kinds if of.name == KIND and what in known.roles else {}
    titles = {name: kind.title for name, kind in kinds.items()}
    taken = several(value) if of.type in ("words", "families") else (value,)
    return tuple(FieldChoice(one, titles.get(one, one), one in taken) for one in listed)


def understood(of: Field, typed: str, practice: Practice) -> tuple[str, str]:
    """What was understood of an answer, and why it cannot be used; one of the two is "".

    Args:
        of: the definition of the value.
        typed: what somebody has written.
        practice: holds the vocabulary.
    """
    try:
        value = read_words(of, typed, practice)
    except UnusableValueError as error:
        return "", f"{error.message}; {error.fix}" if error.fix else error.message
    return (echo(value) if isinstance(value, Quantity) else ""), ""
