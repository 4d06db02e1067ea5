"""What a project leaves open: each value or role that a question has read and nobody stated; its answer on a copy."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from specgen.assessment import Assessment
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.project import (
    PLACES,
    STANDING_LISTS,
    Component,
    Parapet,
    Project,
    Record,
    Transition,
    Value,
)
from specgen.practice.entries import Field, Practice
from specgen.rules.papers import PAPER_RULES
from specgen.wall.change import TRIED, AnyRecord, inserted, with_parapets, with_values
from specgen.wall.differing import SECTIONS, address_of, own_records, records_at

KIND = "kind"
NONE = "none"  # in place of a kind: the parapet has no component of the role
PAPERS = tuple(
    rule.code for rule in PAPER_RULES
)  # of the waivers and the office: no rule read a wall for them
PARTS = ("upper", "tape", "primer")  # of a lap: the components that make it
Part = Callable[[str, str], Component | None]  # a component of a role and a kind, as it is usual


@dataclass(frozen=True)
class Unknown:
    """A value, or with ``kind`` a whole role, that the project leaves open."""

    what: str  # kind of record, or role
    field: Field
    at: str  # address of the record behind its parapet: "site", "", ", part coping"
    parapets: tuple[str, ...]  # where it is open; () outside the parapets
    written: bool  # whether the file itself says `unknown`
    called: str = ""  # the record's own name, where there are several of it

    @property
    def role(self) -> bool:
        """Whether a whole component is open."""
        return self.field.name == KIND

    @property
    def asked(self) -> bool:
        """Whether it is asked even where nothing hangs on it: the file says `unknown`, or papers bear it."""
        return self.written or self.field.to_issue

    @property
    def key(self) -> tuple[str, str, str]:
        """What it is told from others by."""
        return self.what, self.field.name, self.at


def unknowns(one: Assessment) -> tuple[Unknown, ...]:
    """What the project leaves open, in the order of the file; what is open at several parapets once."""
    found: dict[tuple[str, str, str], Unknown] = {}
    for each in _each(one):
        known = found.get(each.key)
        parapets = tuple(dict.fromkeys((*(known.parapets if known else ()), *each.parapets)))
        found[each.key] = replace(
            each, parapets=parapets, written=each.written or bool(known and known.written)
        )
    return tuple(found.values())


def asks(finding: Finding) -> bool:
    """Whether a finding is a question: something is unknown, or somebody must answer."""
    return finding.open or (finding.outcome is Outcome.FAIL and finding.severity is Severity.QUERY)


def _each(one: Assessment) -> Iterator[Unknown]:
    known, memo = one.practice.vocabulary, one.stages[-1].memo
    asking = _asking(one)
    read = {wall.name: _read(one, wall.name, asking.get(wall.name, ())) for wall in one.project.parapets}
    everywhere = {fact for facts in read.values() for fact in facts}
    put = dict(own_records(memo.project))
    for at, record in own_records(one.project):
        if at in SECTIONS and at not in ("quality", "trades", "contacts"):
            fields = known.records[record.what].fields
            for name in _open(record, put[at], fields, at, everywhere):
                yield Unknown(record.what, fields[name], at, (), name in record.unknown)
    for wall, filled in zip(one.project.parapets, memo.project.parapets, strict=True):
        base, held = address_of(wall.name), dict(records_at(filled))
        for at, record in records_at(wall):
            part = isinstance(record, Component)
            fields = (known.roles if part else known.records)[record.what].fields
            called = record.id if isinstance(record, Component) else _name(record)
            for name in _open(record, held[at], fields, at, read[wall.name]):
                if name not in record.unknown and _settled_by_others(record, name, one.practice):
                    continue
                where = at.removeprefix(base)
                yield Unknown(record.what, fields[name], where, (wall.name,), name in record.unknown, called)
        yield from _roles(one, wall, [words for _, words in asking.get(wall.name, ())])


def _roles(one: Assessment, wall: Parapet, asked_for: Sequence[str]) -> Iterator[Unknown]:
    """The roles of which a parapet says nothing, neither a kind nor that it has none, and a question names them."""
    for role in one.practice.vocabulary.roles.values():
        written = any(part.role == role.name for part in wall.undecided)
        named = role.where != "place" and any(_named(role.name, words) for words in asked_for)
        if wall.undescribed(role.name) and (written or named):
            kinds = Field(KIND, f"kind of {role.title}", "word", choices=(*role.kinds, NONE))
            yield Unknown(role.name, kinds, "", (wall.name,), written)


def _name(record: Record) -> str:
    if isinstance(record, Transition):
        return f"{record.first} and {record.second}"
    return record.word("name") or "" if "name" in record.values else ""


def _settled_by_others(record: Record, name: str, practice: Practice) -> bool:
    """Whether a value that is not stated is no question: it names a part of an arrangement, or the kind tells it."""
    if isinstance(record, Component):
        return name == "family" and bool(practice.kind(record.role, record.kind).family)
    return isinstance(record, Transition) and name in PARTS


def _open(
    record: Record, filled: Record, fields: Mapping[str, Field], at: str, read: set[tuple[str, object]]
) -> Iterator[str]:
    """The values of a record that nobody stated, no requirement stands for, and a question has read."""
    for name, field in fields.items():
        settled = filled.has(name) or name in record.doubted or name in record.inapplicable
        unstated = (f"{at}.values", name) in read and not settled
        if name in record.unknown or unstated or (field.to_issue and not record.has(name)):
            yield name


def _asking(one: Assessment) -> Mapping[str, Sequence[tuple[str, str]]]:
    """The rule and the words of each question, by parapet."""
    found: dict[str, list[tuple[str, str]]] = {}
    for each in one.findings:
        if asks(each) and each.code not in PAPERS:
            found.setdefault(each.parapet, []).append((each.code, f"{each.message} {each.missing}"))
    return found


def _read(one: Assessment, parapet: str, asking: Sequence[tuple[str, str]]) -> set[tuple[str, object]]:
    """What the questions at a parapet have read and name: a value that is read and may be left out is no question."""
    memo, found = one.stages[-1].memo, set[tuple[str, object]]()
    for code, words in asking:
        found |= {fact for fact in memo.read_for(code, parapet) if _named(fact[1], words)}
    return found


def _named(what: object, words: str) -> bool:
    return isinstance(what, str) and what in words and re.search(rf"\b{re.escape(what)}\b", words) is not None


def answered(
    project: Project, unknown: Unknown, value: Value | None, practice: Practice, usual: Part
) -> Project:
    """The project with an answer in it; None leaves it open."""
    if unknown.role:
        return with_parapets(
            project, lambda one: _with_role(one, unknown, value, practice, usual), unknown.parapets
        )
    if not unknown.parapets:
        return replace(project, **{unknown.at: _stating(getattr(project, unknown.at), unknown, value)})
    return with_parapets(project, lambda one: _in_parapet(one, unknown, value), unknown.parapets)


def _stating(record: AnyRecord, unknown: Unknown, value: Value | None) -> AnyRecord:
    name = unknown.field.name
    if value is not None:
        return with_values(record, {name: value})
    values = {key: one for key, one in record.values.items() if key != name}
    return replace(record, values=values)


def _with_role(
    parapet: Parapet, unknown: Unknown, value: Value | None, practice: Practice, usual: Part
) -> Parapet:
    def others(parts: tuple[Component, ...]) -> tuple[Component, ...]:
        return tuple(part for part in parts if part.role != unknown.what)

    without = replace(
        parapet,
        build_up=others(parapet.build_up),
        top=others(parapet.top),
        absent=others(parapet.absent),
        undecided=others(parapet.undecided),
    )
    if value == NONE:
        none = Component(unknown.what, {}, {}, TRIED, id=unknown.what, kind=NONE)
        return replace(without, absent=(*without.absent, none))
    part = None if value is None else usual(unknown.what, str(value))
    return without if part is None else inserted(without, part, _behind(unknown.what, practice), practice)


def _behind(role: str, practice: Practice) -> tuple[str, ...]:
    """The roles that the vocabulary lists behind a role: from the face of the wall to the roof, from below to the top."""
    names = list(practice.vocabulary.roles)
    return tuple(names[names.index(role) + 1 :])


def _in_parapet(parapet: Parapet, unknown: Unknown, value: Value | None) -> Parapet:
    """A parapet with one of its records changed, found by its address."""
    base = address_of(parapet.name)
    target = next((one for at, one in records_at(parapet) if at == f"{base}{unknown.at}"), None)
    if target is None:
        return parapet
    made = _stating(target, unknown, value)
    if target is parapet:
        return made  # type: ignore[return-value]

    def swapped(held: tuple[Record, ...]) -> tuple[Record, ...]:
        return tuple(made if one is target else one for one in held)

    lists: dict[str, Any] = {
        name: swapped(getattr(parapet, name)) for name in ("build_up", "top", "transitions", *PLACES)
    }
    existing = parapet.existing
    if existing is target:
        existing = made  # type: ignore[assignment]
    elif existing is not None:
        kept: dict[str, Any] = {name: swapped(getattr(existing, name)) for name in STANDING_LISTS}
        existing = replace(existing, **kept)
    return replace(parapet, **lists, existing=existing)
