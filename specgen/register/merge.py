"""Two copies of a register and what both came from, merged row by row and cell by cell; nothing is lost."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from specgen.model.sheet import Cell

Row = Mapping[str, Cell]  # by column key
Rows = Mapping[str, Row]  # by row id
JOINED = "remarks"  # two remarks stand side by side: neither is dropped
BETWEEN = " // "


@dataclass(frozen=True)
class Conflict:
    """One cell that two people filled differently. The register keeps ``kept``; ``other`` stands in the list."""

    row: str
    column: str
    was: Cell
    kept: Cell
    other: Cell


@dataclass(frozen=True)
class Merged:
    """The rows after a merge, in the order of the first copy, and what could not be decided."""

    rows: Rows
    conflicts: tuple[Conflict, ...] = field(default=())


def merge(base: Rows, mine: Rows, theirs: Rows, columns: Sequence[str]) -> Merged:
    """Merge two copies.

    A cell that one of them changed takes that change; one that both changed alike takes it once. Where both changed
    it and differ, mine stays and the other is told; two remarks are joined. A row that only one copy has is kept, and
    so is one that a copy deleted: a register forgets nothing. A column that a row of a copy lacks is unchanged in it.

    Args:
        base: what both copies came from; empty if nothing is known of it.
        mine: the copy that stays where the two cannot be reconciled.
        theirs: the other copy.
        columns: the columns that people fill.
    """
    rows: dict[str, Row] = {}
    conflicts: list[Conflict] = []
    for name in dict.fromkeys((*mine, *theirs, *base)):
        known = [copy[name] for copy in (mine, theirs, base) if name in copy]
        row = dict(known[0])
        was = base.get(name, {})
        for column in columns:
            one, other = (copy.get(name, {}).get(column, was.get(column)) for copy in (mine, theirs))
            value, conflict = _cell(name, column, was.get(column), one, other)
            row[column] = value
            conflicts += [conflict] if conflict else []
        rows[name] = row
    return Merged(rows, tuple(conflicts))


def _cell(row: str, column: str, was: Cell, mine: Cell, theirs: Cell) -> tuple[Cell, Conflict | None]:
    was, mine, theirs = (value if value != "" else None for value in (was, mine, theirs))
    if mine == theirs or theirs == was:
        return mine, None
    if mine == was:
        return theirs, None
    if column == JOINED and mine is not None and theirs is not None:
        texts = [*str(mine).split(BETWEEN), *str(theirs).split(BETWEEN)]
        return BETWEEN.join(dict.fromkeys(texts)), None
    return mine, Conflict(row, column, was, mine, theirs)


def renewed(old: Rows, new: Iterable[tuple[str, Row]], filled: Sequence[str]) -> Rows:
    """Rows made anew with what people filled into the old ones; an old row that is no longer made stays behind them.

    Args:
        old: the register as it stands.
        new: id and computed cells of each row made anew, in order.
        filled: the columns that people fill.
    """
    made: dict[str, Row] = {}
    for name, row in new:
        before = old.get(name, {})
        made[name] = {**row, **{column: before.get(column) for column in filled}}
    for name, row in old.items():
        if name not in made:
            made[name] = row
    return made
