"""What was read from a data sheet: positioned text first, then values with their evidence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

Box = tuple[float, float, float, float]  # left, top, right, bottom of the page as shown [pt]


@dataclass(frozen=True)
class Word:
    """A run of characters without a space."""

    text: str
    box: Box  # in the frame in which its text runs level, from left to right
    size: float  # height of its line [pt]
    raised: bool = False  # a superscript
    faint: bool = False  # not visible on the page, or white
    turn: int = 0  # quarter turns, clockwise, from the frame back to the page as shown
    struck: bool = False  # crossed out, or a remark lies over it
    bold: bool = False


@dataclass(frozen=True)
class Cell:
    """A cell of a table, or a stretch of a line."""

    text: str  # a raised mark stands as {^1}
    box: Box | None = None  # of the page as shown; None in a file without pages
    faint: bool = False
    struck: bool = False  # a part of it is crossed out, or a remark lies over it
    size: float = 0.0  # of its letters [pt], a tenth more where they are bold; 0 where it has none


@dataclass(frozen=True)
class Grid:
    """Cells in rows and columns."""

    rows: tuple[tuple[Cell, ...], ...]
    ruled: bool  # drawn with lines, or a sheet of a workbook; else found by alignment


def filled(row: Sequence[Cell]) -> list[Cell]:
    """The cells of a row that hold text, each once: one that spans several columns stands in each of them."""
    return [cell for cell in dict.fromkeys(row) if cell.text]


@dataclass(frozen=True)
class Page:
    """One page or one sheet of a workbook."""

    label: str  # "page 2", "sheet Data"
    number: int
    width: float
    height: float
    grids: tuple[Grid, ...] = ()
    lines: tuple[Cell, ...] = ()  # everything outside the tables, and their footnotes, in reading order
    unreadable: str = ""  # why nothing could be read from it
    recognized: bool = False  # a picture, read by character recognition
    beside: tuple[str, ...] = ()  # texts at a slant and remarks, which belong to no line and no table
    figures: int = 0  # pictures and drawings, which nobody reads
    across: bool = False  # one of them lies across the text


@dataclass(frozen=True)
class DataSheet:
    """One file, read."""

    file: str
    pages: tuple[Page, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Notice:
    """What a paper says against itself: that it is superseded, a draft, a sample."""

    title: str  # "superseded", "a draft"
    words: str  # as the paper states them
    page: str

    def __str__(self) -> str:
        return f"the paper is {self.title} ({self.page}: {self.words})"


@dataclass(frozen=True)
class SheetHead:
    """What a paper says of itself; blank where it states nothing."""

    file: str
    kind: str  # "data sheet", "test report", "letter" …
    product: str
    grade: str
    edition: str
    day: str  # YYYY-MM-DD; of a month its last day
    notices: tuple[Notice, ...] = ()


class Standing(Enum):
    """What is known of one attribute."""

    READ = "read"
    CONFIRM = "confirm"
    NOT_FOUND = "not found"


@dataclass(frozen=True)
class Evidence:
    """Where a value was seen."""

    file: str
    page: str
    number: int
    box: Box | None
    words: str
    value_box: Box | None = None  # of the value alone

    def __str__(self) -> str:
        place = f"{self.file}, {self.page}"
        if self.box:
            place += ", box " + " ".join(f"{side:.0f}" for side in self.box)
        return f"{place}: {self.words}"


@dataclass(frozen=True)
class Candidate:
    """One value seen for one attribute, with all that speaks against taking it as it is."""

    attribute: str
    value: str  # as a submittal file writes it; "" where no value could be made of it
    low: float  # the same as a range in the SI base, with its rounding; equal for words
    high: float
    method: str
    variant: str  # grade, thickness or column it holds for
    doubts: tuple[str, ...]
    notes: tuple[str, ...]  # said beside the value, no reason to doubt it
    confidence: float
    evidence: Evidence


@dataclass(frozen=True)
class ReadValue:
    """One attribute of the product file: its value if one was read, what must be confirmed, where it was seen."""

    attribute: str
    title: str
    standing: Standing
    value: str
    method: str
    confirm: str
    notes: tuple[str, ...]
    confidence: float
    evidence: tuple[Evidence, ...]
    question: str = ""  # what the review would ask of it

    @property
    def failed(self) -> bool:
        """Never: what a data sheet states is held against nothing here."""
        return False

    @property
    def open(self) -> bool:
        """Whether the value is not expected of its kind."""
        return bool(self.question)


@dataclass(frozen=True)
class Reading:
    """What all files together say of one product."""

    role: str
    name: str
    values: tuple[ReadValue, ...]
    notes: tuple[str, ...]
    sheets: tuple[SheetHead, ...] = ()
    unread: tuple[Evidence, ...] = ()  # rows and lines with figures that no value was read from
