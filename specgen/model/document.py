"""The typed document tree: what a document says, before any file format.

A :class:`Document` is a list of blocks. Numbered paragraphs carry a list level; the writer of a format
gives them that format's own numbering, and :func:`numbered` computes the same numbers here, so that a
checklist row can name ``2.2.A.3`` before any file exists.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from enum import Enum
from typing import TYPE_CHECKING, Literal

from specgen.model.paper import LETTER, PaperSize

if TYPE_CHECKING:
    from specgen.model.project import Project


class Style(Enum):
    """What a paragraph is. The value is the paragraph style's name in the Word file."""

    TITLE = "Document Title"
    SUBTITLE = "Document Subtitle"
    SECTION_TITLE = "Section Title"
    PART = "Part Heading"  # list level 0: PART 1
    ARTICLE = "Article Heading"  # list level 1: 1.1
    PARAGRAPH = "Paragraph A"  # list level 2: A.
    SUBPARAGRAPH = "Paragraph 1"  # list level 3: 1.
    ITEM = "Paragraph a"  # list level 4: a.
    SUBITEM = "Paragraph 1)"  # list level 5: 1)
    SECTION_END = "Section End"
    HEADING = "Report Heading"
    SUBHEADING = "Report Subheading"
    BODY = "Report Text"
    NOTE = "Report Note"
    BULLET = "Report Bullet"
    CELL = "Table Text"
    CELL_HEAD = "Table Heading"
    SECTION_NUMBER = "Section Number"  # the line over a section's title; the title is the heading
    COVER_TITLE = "Cover Title"
    COVER_TEXT = "Cover Text"


LIST_STYLES: tuple[Style, ...] = (
    Style.PART,
    Style.ARTICLE,
    Style.PARAGRAPH,
    Style.SUBPARAGRAPH,
    Style.ITEM,
    Style.SUBITEM,
)


@dataclass(frozen=True, slots=True)
class Span:
    """A run of text with one emphasis."""

    text: str
    emphasis: Literal["none", "strong", "soft"] = "none"


@dataclass(frozen=True, slots=True)
class CrossRef:
    """A live reference to the number of another paragraph of the same file, by its key."""

    key: str
    text: str  # the number as computed here, shown until the file's fields are updated


Inline = Span | CrossRef


@dataclass(frozen=True, slots=True)
class Para:
    """One paragraph. ``key`` is a stable name, unique in its document, used for bookmarks and traces."""

    style: Style
    content: tuple[Inline, ...]
    key: str = ""
    requirements: tuple[str, ...] = ()  # ids of the requirements this paragraph states
    sources: tuple[str, ...] = ()  # practice keys whose numbers this paragraph prints

    @property
    def text(self) -> str:
        """The words without emphasis."""
        return "".join(part.text for part in self.content)


@dataclass(frozen=True, slots=True)
class CellLink:
    """A cell that names the number of a paragraph of the same file: ``row`` counts from 0 below the header."""

    row: int
    column: int
    key: str


@dataclass(frozen=True, slots=True)
class Table:
    """A table with one header row that repeats on each page."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]  # share of the text width, adds up to 1
    caption: str  # read aloud by a screen reader
    tones: tuple[Literal["plain", "bad", "doubt", "good"], ...] = ()  # one a row, or none
    links: tuple[CellLink, ...] = ()  # cells whose words are a live reference


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture on a line of its own: a PNG that every reader shows, and the same as SVG where there is one.

    The words of ``alt`` say what the picture shows to somebody who cannot see it.
    """

    png: bytes
    alt: str
    width: float  # [in]
    height: float  # [in]
    svg: bytes = b""


Block = Para | Table | Picture


@dataclass(frozen=True, slots=True)
class Properties:
    """What a file says about itself."""

    title: str
    subject: str
    project: str  # "2601 Example Clinic"
    issue_date: str  # ISO date
    state: str  # "Draft", "Issued for bid" ...
    language: str = "en-US"
    author: str = ""  # the office that issues it
    keywords: str = ""
    paper: PaperSize = LETTER


@dataclass(frozen=True, slots=True)
class Document:
    """A whole file: properties, header, footer, blocks."""

    properties: Properties
    header_left: str
    header_right: str
    footer_left: str  # the page number stands to its right, as "NN NN NN-3" where page_prefix is given
    page_prefix: str
    blocks: tuple[Block, ...] = field(default=())
    landscape: bool = False

    def paragraphs(self) -> Iterator[Para]:
        """Every paragraph outside tables, in order."""
        return (block for block in self.blocks if isinstance(block, Para))


KEYWORDS = ("parapet", "stucco")


def properties_of(
    project: Project, title: str, subject: str, state: str | None = None, keywords: Iterable[str] = KEYWORDS
) -> Properties:
    """What a file says about itself that is made of a project: whose it is, when issued, on what paper.

    Args:
        project: what the file is made of.
        title: of the file.
        subject: what kind of file it is.
        state: of issue, where it is not that of the project.
        keywords: words to find it by.
    """
    return Properties(
        title, subject, project.title, project.issued, project.state if state is None else state,
        author=project.author, keywords="; ".join(keywords), paper=project.paper,
    )  # fmt: skip


def framed(
    properties: Properties, blocks: Iterable[Block], right: str = "", foot: str = "", landscape: bool = False
) -> Document:
    """A document with its project, and date and state unless told otherwise, at its head and its title at its foot."""
    head = right or f"{properties.issue_date} | {properties.state}"
    foot = foot or properties.title
    return Document(properties, properties.project, head, foot, "", tuple(blocks), landscape)


@dataclass(frozen=True, slots=True)
class Volume:
    """Documents bound as one file.

    The cover bears no header and no page number. The table of contents stands above the last block of
    ``contents``, a note on it.
    Each document begins on a new page with its own header, footer and page 1; keys are unique in the volume,
    and a reference may name a paragraph of another document of it.
    """

    properties: Properties
    cover: Document
    contents: Document
    parts: tuple[Document, ...]

    @property
    def documents(self) -> tuple[Document, ...]:
        """Cover, contents and parts, as they follow each other."""
        return (self.cover, self.contents, *self.parts)


def text(words: str) -> tuple[Inline, ...]:
    """Plain words as paragraph content."""
    return (Span(words),)


def list_level(style: Style) -> int | None:
    """0 for a part to 5 for ``1)``; None outside the section numbering."""
    return LIST_STYLES.index(style) if style in LIST_STYLES else None


def _letters(number: int) -> str:
    # Word counts A … Z, AA, BB, CC …: the letter is repeated, not carried.
    repeat, index = divmod(number - 1, 26)
    return chr(ord("a") + index) * (repeat + 1)


def label(level: int, counters: tuple[int, ...]) -> str:
    """The number Word shows for a paragraph at ``level``, given the counters of levels 0 to ``level``.

    >>> label(0, (2,)), label(1, (2, 3)), label(2, (2, 3, 1)), label(5, (2, 3, 1, 1, 1, 4))
    ('PART 2', '2.3', 'A.', '4)')
    """
    if level == 0:
        return f"PART {counters[0]}"
    if level == 1:
        return f"{counters[0]}.{counters[1]}"
    return _step(level, counters[level]) + (")" if level == 5 else ".")


def _step(level: int, number: int) -> str:
    if level == 2:
        return _letters(number).upper()
    return _letters(number) if level == 4 else str(number)


def full_number(counters: tuple[int, ...]) -> str:
    """The number by which another document names the paragraph.

    >>> full_number((2, 2, 1, 3))
    '2.2.A.3'
    """
    if len(counters) == 1:
        return f"PART {counters[0]}"
    tail = [_step(level, number) for level, number in enumerate(counters[2:], start=2)]
    return ".".join([f"{counters[0]}.{counters[1]}", *tail])


@dataclass(frozen=True, slots=True)
class Numbered:
    """A numbered paragraph with the label Word shows and the full number others refer to."""

    para: Para
    label: str
    number: str


def numbered(blocks: tuple[Block, ...]) -> tuple[Numbered, ...]:
    """Number the section paragraphs of a document; a deeper level restarts under each higher one.

    Raises:
        ValueError: a paragraph skips a level (an ``a.`` straight under an ``A.``).
    """
    counters: list[int] = []
    out = []
    for block in blocks:
        level = list_level(block.style) if isinstance(block, Para) else None
        if level is None or not isinstance(block, Para):
            continue
        if level > len(counters):
            raise ValueError(f"paragraph {block.text!r} is at level {level} under level {len(counters) - 1}")
        counters = [*counters[:level], (counters[level] if level < len(counters) else 0) + 1]
        out.append(Numbered(block, label(level, tuple(counters)), full_number(tuple(counters))))
    return tuple(out)
