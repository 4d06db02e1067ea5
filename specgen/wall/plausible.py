"""Whether a stated value is what its kind is expected to have; one that is not is set aside until it is confirmed.

Where a kind is changed by hand, the values of the former kind stay behind. They are set aside when the file is read
and when a kind is tried, by the same ranges: every reader of the wall sees a value that is not stated. ``meant:`` with a
reason confirms a value.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import TypeVar

from specgen.model.project import Component, Record, Stated, Value
from specgen.practice.entries import Practice
from specgen.practice.ranges import EXPECTED, Range, slip
from specgen.units.quantity import Quantity

FAMILIES = "expected_families"
ZONE = "climate_zone"
AnyRecord = TypeVar("AnyRecord", bound=Record)


def sifted(part: AnyRecord, practice: Practice) -> AnyRecord:
    """A record whose values that are not expected of it, of a component of its kind, and not meant are set aside."""
    doubted = {name: stated for _, name, stated, _ in doubts([part], practice) if name not in part.meant}
    if doubted == part.doubted:
        return part
    known = {name: stated for name, stated in _every(part) if name not in doubted}
    values = {name: stated.value for name, stated in known.items() if not stated.sense}
    bounds = {name: stated for name, stated in known.items() if stated.sense}
    return replace(part, values=values, bounds=bounds, doubted=doubted)


def _every(part: Record) -> Iterator[tuple[str, Stated]]:
    yield from ((name, Stated(value)) for name, value in part.values.items())
    yield from part.bounds.items()
    yield from part.doubted.items()


def doubt(practice: Practice, part: Record, name: str, value: Value, system: str = "") -> str:
    """Why a value is not expected of a record, of a component of its kind; "" where it is, or nothing is known of it.

    Where the same digits in another unit would be expected, it says so.
    """
    kind = _kind(part)
    if kind and isinstance(part, Component) and kind not in practice.vocabulary.roles[part.role].kinds:
        return ""  # a kind that nobody knows yet: nothing is expected of it
    if name == "family":
        return _family_doubt(practice, part, str(value)) if isinstance(part, Component) else ""
    usual = expected(practice, part, name)
    if usual is None or usual.holds(value):
        return ""
    of = part.what
    if kind:
        of = _title(practice, part.what, kind) if isinstance(part, Component) else f"climate zone {kind}"
    words = f"expected of {of}: {usual.words(system)} ({usual.usual})"
    others = _others(practice, part, name, value) if isinstance(part, Component) else []
    if others:
        return f"{words}; {_text(value)} is that of {' or '.join(others)}"
    meant = slip(value, usual)
    return f"{words}; {meant.removesuffix('?')}" if meant else words


def expected(practice: Practice, part: Record, name: str) -> Range | None:
    """What a value of a record is expected to be, of a component of its kind; None where nothing is known of it."""
    return _range(practice, part.what, name, _kind(part))


def _kind(part: Record) -> str:
    """By what the ranges tell records apart: the kind of a component, the climate zone of the site."""
    return part.kind if isinstance(part, Component) else part.word(ZONE) or ""


def _text(value: Value) -> str:
    return value.text if isinstance(value, Quantity) else str(value)


def doubts(
    records: Iterable[Record], practice: Practice, system: str = ""
) -> Iterator[tuple[Record, str, Stated, str]]:
    """Every value, and every bound with an end, that is not expected of its record: record, name, statement, why."""
    for part in records:
        for name, stated in _every(part):
            ends = (stated.value, stated.upper) if stated.upper else (stated.value,)
            why = next(filter(None, (doubt(practice, part, name, end, system) for end in ends)), "")
            if why:
                yield part, name, stated, why


def _range(practice: Practice, what: str, name: str, kind: str) -> Range | None:
    rows = practice.table(EXPECTED).where(role=what, attribute=name, kind=kind) if kind else ()
    return Range.of(rows[0]) if rows else _of_every_kind(practice, what, name)


def _of_every_kind(practice: Practice, what: str, name: str) -> Range | None:
    field = practice.vocabulary.field(what, name)
    return field.expected if field else None


def _others(practice: Practice, part: Component, name: str, value: Value) -> list[str]:
    """The other kinds of the role, by title, that are expected to have a value, where the ranges tell them apart."""
    kinds = practice.vocabulary.roles[part.role].kinds
    rows = {kind: practice.table(EXPECTED).where(role=part.role, attribute=name, kind=kind) for kind in kinds}
    return [
        _title(practice, part.role, kind)
        for kind, found in rows.items()
        if kind != part.kind and found and Range.of(found[0]).holds(value)
    ]


def _family_doubt(practice: Practice, part: Component, family: str) -> str:
    own = _families(practice, part.role, part.kind) if part.kind else ()
    kinds = practice.vocabulary.roles[part.role].kinds
    others = [kind for kind in kinds if kind != part.kind and family in _families(practice, part.role, kind)]
    if not own or family in own or not others:
        return ""
    titles = [_title(practice, part.role, kind) for kind in others]
    what = _title(practice, part.role, part.kind)
    return f"expected of {what}: {' or '.join(own)}; {family} is that of {' or '.join(titles)}"


def _title(practice: Practice, role: str, kind: str) -> str:
    return practice.kind(role, kind).title


def _families(practice: Practice, role: str, kind: str) -> tuple[str, ...]:
    own = practice.kind(role, kind).family
    listed = (str(row["family"]) for row in practice.table(FAMILIES).where(role=role, kind=kind))
    return tuple(dict.fromkeys([*([own] if own else []), *listed]))
