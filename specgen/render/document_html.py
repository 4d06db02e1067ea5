"""The document tree as HTML that reads as its Word file will: the same blocks, numbers and margins, on one long sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from specgen.explain.origins import ParagraphOrigins
from specgen.model.document import CrossRef, Document, Numbered, Para, Picture, Style, Table, numbered
from specgen.render.page import page_template
from specgen.render.word_blocks import refuse_misfit
from specgen.sections.numbers import SECTION_NUMBER, number_places

HEADINGS: Mapping[Style, int] = {  # how far below the heading above the document
    Style.TITLE: 0,
    Style.COVER_TITLE: 0,
    Style.SECTION_TITLE: 0,
    Style.PART: 1,
    Style.HEADING: 1,
    Style.ARTICLE: 2,
    Style.SUBHEADING: 2,
}
_TITLES = frozenset({*HEADINGS, Style.SECTION_NUMBER})  # lead nowhere
_DEEPEST = 6
STEPS = 50  # into which the width of a table is parted


def nowhere(*_: str) -> str:
    """No address: what would be a link stays plain words."""
    return ""


@dataclass(frozen=True)
class Links:
    """Where a reader is led. Each gives an address, or "" where there is none."""

    section: Callable[[str], str] = nowhere  # by number
    calculation: Callable[[str, str], str] = nowhere  # by subject and parapet
    line: Callable[[str], str] = nowhere  # by number, of the project file
    finding: Callable[[str, str], str] = nowhere  # by rule and parapet
    comments: Callable[[str], str] = nowhere  # by the key of a paragraph
    picture: Callable[[str], str] = nowhere  # by its number in the document, from 1


@dataclass(frozen=True)
class Shown:
    """What is shown beside the words of a document."""

    origins: Mapping[str, ParagraphOrigins] = field(default_factory=dict)  # by the key of a paragraph
    names: tuple[str, ...] = ()  # that may hold digits and are no numbers, such as those of parapets
    counts: Mapping[str, int] = field(default_factory=dict)  # open comments, by the key of a paragraph
    links: Links = field(default_factory=Links)
    level: int = 2  # of the first heading


@dataclass(frozen=True)
class _Piece:
    """Words of one look and one address."""

    words: str
    look: str = ""  # "strong", "soft"
    address: str = ""
    number: bool = False


@dataclass(frozen=True)
class _Line:
    """A paragraph as it is printed."""

    look: str  # name of its style
    heading: int  # its level; 0 for none
    anchor: str
    label: str  # "2.2", "A."; "" outside the list
    number: str  # "2.2.A.3"; "" outside the list
    pieces: tuple[_Piece, ...]
    key: str
    origins: ParagraphOrigins | None
    kind: str = "para"


@dataclass(frozen=True)
class _Grid:
    """A table as it is printed: rows of a tone and of cells, each a few words and an address."""

    table: Table
    widths: tuple[int, ...]
    rows: tuple[tuple[str, tuple[_Piece, ...]], ...]
    kind: str = "table"


@dataclass(frozen=True)
class _Image:
    """A picture with the address of its bytes."""

    picture: Picture
    address: str
    kind: str = "picture"


def document_html(document: Document, shown: Shown | None = None) -> str:
    """A document as an HTML fragment, without style or script of its own.

    Args:
        document: the tree that is also written as a Word file.
        shown: where its numbers come from, and where its links lead; plain words alone without it.

    Raises:
        ValueError: as :func:`specgen.render.word.word_bytes`: a level is skipped, a paragraph has no words, a table
            does not fit together, a reference names no paragraph.
    """
    given = shown or Shown()
    page = page_template("document/document.html")
    return page.render(
        document=document, blocks=list(_blocks(document, given)), links=given.links, counts=given.counts
    )


def anchor(number: str) -> str:
    """The name under which a page knows a numbered paragraph.

    >>> anchor("2.2.A.3"), anchor("PART 1")
    ('p-2.2.A.3', 'p-1')
    """
    return f"p-{number.removeprefix('PART ')}"


def style_name(style: Style) -> str:
    """The name by which a style sheet knows a style.

    >>> style_name(Style.SUBITEM), style_name(Style.SUBPARAGRAPH), style_name(Style.PARAGRAPH), style_name(Style.ITEM)
    ('subitem', 'subparagraph', 'paragraph', 'item')
    """
    return style.name.lower().replace("_", "-")


def _blocks(document: Document, shown: Shown) -> Iterator[_Line | _Grid | _Image]:
    counted = {id(one.para): one for one in numbered(document.blocks)}
    anchors = {one.para.key: anchor(one.number) for one in counted.values() if one.para.key}
    pictures = 0
    for block in document.blocks:
        match block:
            case Para():
                yield _line(block, counted.get(id(block)), anchors, shown)
            case Table():
                yield _grid(block, anchors)
            case Picture():
                pictures += 1
                yield _Image(block, shown.links.picture(str(pictures)))


def _line(para: Para, number: Numbered | None, anchors: Mapping[str, str], shown: Shown) -> _Line:
    if not para.text:
        raise ValueError(f"the {para.style.value!r} paragraph {para.key!r} has no text")
    depth = HEADINGS.get(para.style)
    origins = shown.origins.get(para.key) if para.key else None
    here = anchor(number.number) if number else ""
    return _Line(
        style_name(para.style),
        0 if depth is None else min(shown.level + depth, _DEEPEST),
        here,
        number.label if number else "",
        number.number if number else "",
        tuple(_pieces(para, here, anchors, origins, shown)),
        para.key if number else "",
        origins,
    )


def _pieces(
    para: Para, here: str, anchors: Mapping[str, str], origins: ParagraphOrigins | None, shown: Shown
) -> Iterator[_Piece]:
    """The words of a paragraph: each number that has an origin leads to it, each reference to its paragraph."""
    given = {number for row in origins.rows for number in row.numbers} if origins else set()
    for part in para.content:
        if isinstance(part, CrossRef):
            yield _Piece(part.text, address=f"#{_target(part.key, anchors)}")
            continue
        look = "" if part.emphasis == "none" else part.emphasis
        at = 0
        places = [] if para.style in _TITLES else _places(part.text, given, f"#from-{here}", shown)
        for start, end, address in places:
            if start > at:
                yield _Piece(part.text[at:start], look)
            yield _Piece(part.text[start:end], look, address, number=address.startswith("#"))
            at = end
        if part.text[at:]:
            yield _Piece(part.text[at:], look)


def _places(words: str, given: set[str], origin: str, shown: Shown) -> list[tuple[int, int, str]]:
    """Where in a text the links stand, in order: numbers to their origin, sections to their page."""
    found = [
        (start, end, origin) for start, end in number_places(words, shown.names) if words[start:end] in given
    ]
    for match in SECTION_NUMBER.finditer(words):
        if address := shown.links.section(match[0]):
            found.append((*match.span(), address))
    return sorted(found)


def _target(key: str, anchors: Mapping[str, str]) -> str:
    if key not in anchors:
        raise ValueError(f"a reference names the paragraph {key!r}, which is not there")
    return anchors[key]


def _grid(table: Table, anchors: Mapping[str, str]) -> _Grid:
    refuse_misfit(table)
    linked = {(one.row, one.column): f"#{_target(one.key, anchors)}" for one in table.links}
    tones = table.tones or ("plain",) * len(table.rows)
    rows = tuple(
        (tone, tuple(_Piece(words, address=linked.get((at, column), "")) for column, words in enumerate(row)))
        for at, (row, tone) in enumerate(zip(table.rows, tones, strict=True))
    )
    return _Grid(table, tuple(round(width * STEPS) for width in table.widths), rows)
