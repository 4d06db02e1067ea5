"""What a person enters in a register without its workbook: cells of a row that was shown, and decisions on submittals."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from specgen.model.sheet import Cell
from specgen.register.columns import FILLED, ID, ITEM, REMARKS, ROUND, TITLES
from specgen.register.merge import BETWEEN, Register, Row, merge
from specgen.register.rounds import FIRST_ROUND, round_of

BY_DECISION = "request "  # how the id of a row begins that a decision made


@dataclass(frozen=True)
class TypedRow:
    """Cells of one row as a person saw them, with the round, and as the person wants them."""

    row: str  # its id
    was: Row
    now: Row


@dataclass(frozen=True)
class Decided:
    """What a person decided on one round of one submittal."""

    number: str
    round: int
    result: str
    by: str
    returned: date
    note: str = ""
    item: str = ""  # of the row that is made where none is for it: a request is asked for by no paragraph
    received: date | None = None


def with_typed(register: Register, typed: Iterable[TypedRow]) -> tuple[Register, tuple[str, ...]]:
    """The register with cells that people typed, merged as a workbook of theirs would be, and what has no place in it.

    A cell that somebody else changed since it was shown stays, and what was typed for it is a conflict.

    Args:
        register: brought up to date.
        typed: rows in any order; only the columns that people fill are taken.
    """
    notes = []
    for one in typed:
        mine = register.rows.get(one.row)
        if mine is None:
            notes.append(f"no row `{one.row}` in the register any more: what was typed for it is not entered")
            continue
        shown = _filled(one.was)
        label = round_of(shown.get(ROUND)) or FIRST_ROUND
        open_since = [row for row in register.history if (row.get(ID), row.get(ROUND)) != (one.row, label)]
        base = replace(
            register, rows={**register.rows, one.row: {**mine, **shown}}, history=tuple(open_since)
        )
        wanted = {**base.rows[one.row], **_filled(one.now)}
        register = merge(base, register, replace(base, rows={**base.rows, one.row: wanted}))
    return register, tuple(notes)


def _filled(cells: Row) -> dict[str, Cell]:
    kept = {key: value if value != "" else None for key, value in cells.items() if key in FILLED}
    return kept if ROUND not in kept else {**kept, ROUND: round_of(kept[ROUND])}


def with_decisions(register: Register, decisions: Iterable[Decided]) -> tuple[Register, tuple[str, ...]]:
    """The register with decisions in the rows of their submittals, and what of them does not fit.

    A cell that a person filled stands; a decision fills what is empty.

    Args:
        register: with the reviews of the submittals in it.
        decisions: in any order.
    """
    rows = {name: dict(row) for name, row in register.rows.items()}
    notes: list[str] = []
    for one in decisions:
        row = next((each for each in rows.values() if each.get("submittal") == one.number), None)
        if row is None and one.item:
            name = f"{BY_DECISION}{one.number}"
            row = rows.setdefault(name, _new_row(one, name))
        if row is None or str(row.get(ROUND) or FIRST_ROUND) != str(one.round):
            where = "no row is for it" if row is None else f"its row is in round {row.get(ROUND)}"
            notes.append(f"submittal {one.number}, round {one.round}: the decision is not entered, {where}")
        else:
            notes += _entered(row, one)
    return replace(register, rows=rows), tuple(notes)


def _new_row(one: Decided, name: str) -> dict[str, Cell]:
    """A row as a person would add it by hand."""
    return {
        ID: name,
        ITEM: one.item,
        ROUND: str(one.round),
        "submittal": one.number,
        "received": one.received,
    }


def _entered(row: dict[str, Cell], one: Decided) -> Iterator[str]:
    entries: dict[str, Cell] = {"result": one.result, "by": one.by, "returned": one.returned}
    for key, value in entries.items():
        stands = row.get(key)
        if stands is None:
            row[key] = value
        elif stands != value:
            yield (
                f"submittal {one.number}: `{TITLES[key]}` is {stands} in the register and {value} by this decision; "
                "the register stands"
            )
    texts = str(row.get(REMARKS) or "").split(BETWEEN)
    if one.note and one.note not in texts:
        row[REMARKS] = BETWEEN.join([*filter(None, texts), one.note])
