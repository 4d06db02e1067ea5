"""A workbook before any file format: sheets of typed columns, some of which a person fills in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from specgen.model.document import Properties

Cell = str | int | date | None


@dataclass(frozen=True, slots=True)
class Column:
    """One column. A person fills those with ``filled``; ``choices`` limits what a filled cell may hold."""

    key: str  # stable: a returned file is read by it
    title: str
    width: float  # in characters of the body type
    is_: Literal["text", "date", "count"] = "text"
    filled: bool = False
    choices: tuple[str, ...] = ()
    printed: bool = True  # what only programs read is left off the paper
    alarm: bool = False  # a number above 0 stands out


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One row by column key; a key that is absent is an empty cell. ``choices`` replaces a column's for this row."""

    cells: Mapping[str, Cell]
    choices: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class WorkbookSheet:
    """A table with lines of plain words above it."""

    name: str  # of the tab
    heading: tuple[str, ...]
    columns: tuple[Column, ...]
    rows: tuple[SheetRow, ...]


@dataclass(frozen=True, slots=True)
class Workbook:
    """Sheets under one set of properties; ``carried`` are custom properties, which a spreadsheet program keeps unseen."""

    properties: Properties
    sheets: tuple[WorkbookSheet, ...]
    carried: Mapping[str, str] = field(default_factory=dict)
