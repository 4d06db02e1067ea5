"""Tables for those who query: what a table and its columns are, the same for CSV, SQLite and their page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

ColumnKind = Literal["text", "integer", "number", "flag", "date"]
TableCell = str | int | float | bool | None
_KINDS: Mapping[ColumnKind, tuple[type, ...]] = {
    "text": (str,),
    "date": (str,),
    "integer": (int,),
    "flag": (bool,),
    "number": (float, int),
}


@dataclass(frozen=True)
class TableColumn:
    """One column, under a name that stays. ``of`` is the column of another table whose values it takes, as a.b."""

    name: str
    kind: ColumnKind
    meaning: str
    unit: str = ""
    of: str = ""
    empty: bool = False  # may hold nothing


def text(name: str, meaning: str, of: str = "", empty: bool = False) -> TableColumn:
    """A column of words."""
    return TableColumn(name, "text", meaning, of=of, empty=empty)


def column(
    name: str, kind: ColumnKind, meaning: str, unit: str = "", of: str = "", empty: bool = False
) -> TableColumn:
    """A column of another kind."""
    return TableColumn(name, kind, meaning, unit, of, empty)


def counted(where: str, name: str = "position") -> TableColumn:
    """The column that counts the rows of something."""
    return TableColumn(name, "integer", f"Place in {where}, from 1")


@dataclass(frozen=True)
class DataTable:
    """One table: its columns in their order, and those that together name a row."""

    name: str
    meaning: str
    key: tuple[str, ...]
    columns: tuple[TableColumn, ...]
    refers: tuple[tuple[tuple[str, ...], str], ...] = ()  # several columns that together name a row elsewhere

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The names of the columns."""
        return tuple(one.name for one in self.columns)

    def row(self, cells: Mapping[str, TableCell]) -> tuple[TableCell, ...]:
        """One row in the order of the columns.

        Raises:
            KeyError: a column has no cell, or a cell no column.
        """
        if set(cells) != set(self.names):
            raise KeyError(f"{self.name}: {sorted(set(cells) ^ set(self.names))}")
        return tuple(cells[name] for name in self.names)

    def holds(self, row: tuple[TableCell, ...]) -> bool:
        """Whether each cell is of the kind of its column: rows that came from outside need not be."""
        return len(row) == len(self.columns) and all(
            one.empty if cell is None else type(cell) in _KINDS[one.kind]
            for one, cell in zip(self.columns, row, strict=True)
        )


@dataclass(frozen=True)
class FilledTable:
    """A table with its rows."""

    table: DataTable
    rows: Sequence[tuple[TableCell, ...]]
