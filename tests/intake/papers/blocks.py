"""A data sheet as blocks that any program can print: headings, text, tables, lists, columns, a mark across the page."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Text:
    """A run of text; ``level`` 0 is body text, 1 the title, 2 and 3 headings."""

    text: str
    level: int = 0


@dataclass(frozen=True)
class Cells:
    """A table. A cell that begins with ``~`` is crossed out; a row with one text spans the table as a heading."""

    rows: tuple[tuple[str, ...], ...]
    head: bool = True
    ruled: bool = True
    wide: int = 100  # of the width of the page [percent]: in a narrow table labels and values wrap


@dataclass(frozen=True)
class Items:
    """A list with bullets."""

    items: tuple[str, ...]


@dataclass(frozen=True)
class Tiles:
    """Figures in large print, each over its caption."""

    tiles: tuple[tuple[str, str], ...]  # figure, caption


@dataclass(frozen=True)
class Beside:
    """Two columns of blocks."""

    left: tuple[Block, ...]
    right: tuple[Block, ...]


@dataclass(frozen=True)
class NewPage:
    """What follows stands on the next page."""


Block = Text | Cells | Items | Tiles | Beside | NewPage


@dataclass(frozen=True)
class Paper:
    """One data sheet before it is printed."""

    blocks: tuple[Block, ...]
    header: str = ""
    footer: str = ""
    across: str = ""  # a mark at a slant over the page
    tabs: tuple[tuple[str, tuple[Block, ...]], ...] = ()  # further sheets of a workbook
    size: int = 10  # of the body text [pt]
    serif: bool = False
    name: str = field(default="sheet")
