"""Whether a stated value is what its kind is expected to have; one that is not is set aside until it is confirmed.

Where a kind is changed by hand, the values of the former kind stay behind. They are set aside when the file is read
and when a kind is tried, by the same ranges: every reader of the wall sees a value that is not stated. ``meant:`` with a
reason confirms a value.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.project import Component, Parapet, Value
from specgen.practice.entries import Practice, Row
from specgen.units.compare import at_least, at_most
from specgen.units.quantity import Quantity

RANGES, FAMILIES = "expected_ranges", "expected_families"


def sifted(part: Component, practice: Practice) -> Component:
    """A component whose values that are not expected of its kind, and not said to be meant, are set aside."""
    stated = {**part.values, **part.doubted}
    doubted = {
        name: value
        for name, value in stated.items()
        if name not in part.meant and doubt(practice, part, name, value)
    }
    if doubted == part.doubted:
        return part
    values = {name: value for name, value in stated.items() if name not in doubted}
    return replace(part, values=values, doubted=doubted)


def doubt(practice: Practice, part: Component, name: str, value: Value) -> str:
    """Why a value is not expected of the kind of a component; "" where it is, or where nothing is known of it."""
    if isinstance(value, Quantity):
        row = _range(practice, part.role, name, part.kind)
        if row is None or _inside(row, value):
            return ""
        words = f"expected of {_title(practice, part.role, part.kind)}: {_words(row)} ({row['usual']})"
        others = _others(practice, part, name, value)
        return f"{words}; {value.text} is that of {' or '.join(others)}" if others else words
    if name == "family":
        return _family_doubt(practice, part, str(value))
    return ""


def doubts(parapet: Parapet, practice: Practice) -> Iterator[tuple[Component, str, Value, str]]:
    """Every value of a parapet's components that its kind is not expected to have: component, name, value, why."""
    for part in parapet.components():
        for name, value in {**part.values, **part.doubted}.items():
            why = doubt(practice, part, name, value)
            if why:
                yield part, name, value, why


def _range(practice: Practice, role: str, name: str, kind: str) -> Row | None:
    table = practice.table(RANGES)
    rows = table.where(role=role, attribute=name, kind=kind) or table.where(
        role=role, attribute=name, kind=None
    )
    return rows[0] if rows else None


def _inside(row: Row, value: Quantity) -> bool:
    least, most = row["least"], row["most"]
    below = isinstance(least, Quantity) and not at_least(value, least)
    above = isinstance(most, Quantity) and not at_most(value, most)
    return not below and not above


def _words(row: Row) -> str:
    least, most = (one.text if isinstance(one, Quantity) else "" for one in (row["least"], row["most"]))
    if least and most:
        return f"{least} to {most}"
    return f"{least} or more" if least else f"at most {most}"


def _others(practice: Practice, part: Component, name: str, value: Quantity) -> list[str]:
    """The other kinds of the role, by title, that are expected to have a value, where the ranges tell them apart."""
    kinds = practice.vocabulary.roles[part.role].kinds
    rows = {kind: practice.table(RANGES).where(role=part.role, attribute=name, kind=kind) for kind in kinds}
    return [
        _title(practice, part.role, kind)
        for kind, found in rows.items()
        if kind != part.kind and found and _inside(found[0], value)
    ]


def _family_doubt(practice: Practice, part: Component, family: str) -> str:
    own = _families(practice, part.role, part.kind)
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
