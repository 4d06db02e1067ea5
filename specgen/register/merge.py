"""Two copies of a register and the state that the copy was made from, merged round by round and cell by cell."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from specgen.model.sheet import Cell
from specgen.register.columns import (
    ID,
    ITEM,
    OF_A_ROUND,
    OF_A_ROW,
    REMARKS,
    ROUND,
    TITLES,
)
from specgen.register.rounds import FIRST_ROUND

Row = Mapping[str, Cell]  # by column key
Rows = Mapping[str, Row]  # by row id
BETWEEN = " // "  # two remarks stand side by side: neither is dropped


@dataclass(frozen=True)
class Conflict:
    """One cell that two people filled differently. The register keeps ``kept``; ``other`` stands in the list."""

    row: str
    column: str
    was: Cell
    kept: Cell
    other: Cell


@dataclass(frozen=True)
class Register:
    """A register as read or made: rows by id, closed rounds, what could not be merged, and the cells as computed."""

    rows: Rows = field(default_factory=dict)
    history: tuple[Row, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    made: Rows = field(default_factory=dict)  # the computed cells of each row before anybody typed over them


def merge(base: Register, mine: Register, theirs: Register) -> Register:
    """Merge two copies.

    A cell that one of them changed takes that change; one that both changed alike takes it once. Where both changed
    it and differ, mine stays and the other is told; two remarks are joined. What is filled into a round goes to that
    round, also where the other copy has closed it since. A row or a closed round that one of them has is kept, also
    where the other deleted it: a register forgets nothing. A column that a row of a copy lacks is unchanged in it.

    Args:
        base: the state that ``theirs`` was made from; an empty register if that is unknown, and then every cell that
            differs is a conflict.
        mine: the copy that stays where the two cannot be reconciled.
        theirs: the other copy.
    """
    rows: dict[str, Row] = {}
    history: list[Row] = []
    conflicts = list(mine.conflicts)
    closed = {name: rounds for one in (base, mine, theirs) for name, rounds in _closed(one).items()}
    names = dict.fromkeys((*mine.rows, *theirs.rows, *base.rows, *closed))
    kept = {name: row for name, row in base.rows.items() if name not in theirs.rows}
    mine = replace(mine, rows={**kept, **mine.rows})  # where both deleted a row, it stays as it was
    for name in names:
        row, rounds, more = _merged(name, *(_Side.of(copy, name) for copy in (base, mine, theirs)))
        if row is not None:
            rows[name] = row
        history += rounds
        conflicts += more
    # As in mine, then as in theirs, then as in the base: a rerun changes none.
    places = dict.fromkeys(
        (row.get(ID), row.get(ROUND)) for row in (*mine.history, *theirs.history, *history)
    )
    order = {place: number for number, place in enumerate(places)}
    history.sort(key=lambda row: order[row[ID], row[ROUND]])
    return Register(rows, tuple(history), tuple(conflicts), mine.made)


@dataclass(frozen=True)
class _Side:
    """One row as a copy holds it: its cells, its rounds by name, and which of them is open."""

    row: Row | None
    open: str | None
    rounds: Mapping[str, Row]
    closed: tuple[str, ...]
    typed: Cell = None  # the name that the open round bears in the copy

    @classmethod
    def of(cls, copy: Register, name: str) -> _Side:
        rounds = dict(_closed(copy).get(name, {}))
        closed = tuple(rounds)
        row = copy.rows.get(name)
        if row is None:
            return cls(None, None, rounds, closed)
        label = unused(str(row.get(ROUND) or FIRST_ROUND), closed)
        return cls(row, label, {**rounds, label: row}, closed, label)

    def named_as(self, was: _Side) -> _Side:
        """The copy with its open round under the name it had, where somebody only wrote another name on it."""
        if None in (self.open, was.open) or was.open in self.rounds:
            return self
        rounds = {was.open if name == self.open else name: row for name, row in self.rounds.items()}
        return _Side(self.row, was.open, rounds, self.closed, self.typed)  # type: ignore[arg-type]


def _closed(copy: Register) -> Mapping[str, Mapping[str, Row]]:
    found: dict[str, dict[str, Row]] = {}
    for row in copy.history:
        rounds = found.setdefault(str(row.get(ID) or ""), {})
        rounds[unused(str(row.get(ROUND) or FIRST_ROUND), rounds)] = row
    return found


def unused(label: str, taken: Iterable[str]) -> str:
    """A round's name, with a number behind it if another round has it already.

    >>> unused("2", ["1"]), unused("1", ["1"])
    ('2', '1 (2)')
    """
    names, number = set(taken), 2
    found = label
    while found in names:
        found, number = f"{label} ({number})", number + 1
    return found


def _merged(
    name: str, was: _Side, mine: _Side, theirs: _Side
) -> tuple[Row | None, list[Row], list[Conflict]]:
    mine, theirs = mine.named_as(was), theirs.named_as(was)
    conflicts: list[Conflict] = []

    def cell(column: str, copies: Iterable[Row | None], of: str = "") -> Cell:
        before, one, other = copies
        base = (before or {}).get(column)
        kept, came = ((copy or {}).get(column, base) for copy in (one, other))
        value, differs = _cell(base, kept, came, column == REMARKS)
        if differs:
            title = TITLES.get(column, column) + (f", {of}" if of else "")
            conflicts.append(Conflict(name, title, base, value, came))
        return value

    closed = {**dict.fromkeys(mine.closed), **dict.fromkeys(theirs.closed), **dict.fromkeys(was.closed)}
    history: list[Row] = []
    for label in closed:
        copies = [side.rounds.get(label) for side in (was, mine, theirs)]
        filled = {column: cell(column, copies, label) for column in OF_A_ROUND}
        item = next((copy[ITEM] for copy in (*copies[1:], copies[0]) if copy and copy.get(ITEM)), None)
        history.append({ITEM: item, ROUND: label, **filled, ID: name})
    known = [side.row for side in (mine, theirs) if side.row is not None]
    if not known:
        return None, history, conflicts
    rows = [side.row for side in (was, mine, theirs)]
    row = {
        **known[0],
        **{column: cell(column, rows) for column in OF_A_ROW},
        ID: name,
    }
    sides = [side for side in (mine, theirs) if side.open is not None and side.open not in closed]
    if not sides:  # each copy has closed the other's round
        return {**row, **dict.fromkeys(OF_A_ROUND), ROUND: unused(FIRST_ROUND, closed)}, history, conflicts
    open_ = [side.rounds.get(str(side.open)) if side in sides else None for side in (mine, theirs)]
    before = was.rounds.get(str(was.open)) if was.open in (sides[0].open, None) else None
    copies = [before, *(one if one is not None else before for one in open_)]
    row |= {column: cell(column, copies) for column in OF_A_ROUND}
    labels: list[Row] = [{ROUND: was.typed if before is not None else None}]
    labels += [{ROUND: side.typed if side in sides else labels[0][ROUND]} for side in (mine, theirs)]
    row[ROUND] = cell(ROUND, labels)
    return row, history, conflicts


def _cell(was: Cell, mine: Cell, theirs: Cell, joined: bool) -> tuple[Cell, bool]:
    """The merged cell, and whether it is a conflict."""
    was, mine, theirs = (value if value != "" else None for value in (was, mine, theirs))
    if mine == theirs or theirs == was:
        return mine, False
    if mine == was:
        return theirs, False
    if joined and mine is not None and theirs is not None:
        texts = [*str(mine).split(BETWEEN), *str(theirs).split(BETWEEN)]
        return BETWEEN.join(dict.fromkeys(texts)), False
    return mine, True
