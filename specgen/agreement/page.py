"""What a finished file prints, before anybody asks what it means: lines, tables, and drawn sheets."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True)
class PrintedLine:
    """One line of running text; ``number`` is that of the list it stands in, as a reader sees it (``2.5.D.1``)."""

    text: str
    section: str = ""
    number: str = ""

    @property
    def place(self) -> str:
        return ", ".join(part for part in (self.section, self.number) if part) or f"“{self.text[:40]}”"


@dataclass(frozen=True)
class PrintedTable:
    """A table under the words that head it; each row has as many cells as the header."""

    heading: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    def has(self, *names: str) -> bool:
        """Whether the header holds each of these columns."""
        return set(names) <= set(self.header)

    def records(self) -> Iterator[dict[str, str]]:
        """The rows by the names of their columns."""
        return (dict(zip(self.header, row, strict=False)) for row in self.rows)


@dataclass(frozen=True)
class PrintedWord:
    """Words on a drawn sheet: where their foot stands, right and up, in the sheet's own units."""

    text: str
    x: float
    y: float


@dataclass(frozen=True)
class DrawnSize:
    """A dimension: its words and the two points it measures between."""

    text: str
    upright: bool
    first: tuple[float, float]
    second: tuple[float, float]


@dataclass(frozen=True)
class DrawnSheet:
    """A drawn sheet. ``sizes`` and ``keyed`` (the part a key points at) where the file tells places apart."""

    parapet: str
    title: str
    words: tuple[PrintedWord, ...]
    about: str = ""
    sizes: tuple[DrawnSize, ...] = ()
    keyed: tuple[PrintedWord, ...] = ()

    @property
    def place(self) -> str:
        return f"{self.title.lower()}, parapet {self.parapet}"


@dataclass(frozen=True)
class Page:
    """All that one file prints."""

    file: str
    lines: tuple[PrintedLine, ...] = ()
    margins: tuple[str, ...] = ()
    tables: tuple[PrintedTable, ...] = ()
    sheets: tuple[DrawnSheet, ...] = ()
