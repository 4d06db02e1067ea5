"""Paragraphs and tables of the document tree as WordprocessingML."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import isclose

from lxml import etree

from specgen.model.document import LIST_STYLES, Block, CrossRef, Para, Style, Table, list_level
from specgen.render.word_references import References, add_reference
from specgen.render.word_xml import P_PR, P_STYLE, VAL, P, add, add_run, legal

# Soft enough to read black text on in print; the words of the row carry the meaning, the tint only helps the eye.
_TINTS = {"bad": "FBE3DE", "doubt": "FFF3D1", "good": "E4F1E4"}
_ABOVE_TABLE = "100"  # [twip]
_ARTICLE = LIST_STYLES.index(Style.ARTICLE)


@dataclass(frozen=True, slots=True)
class Setting:
    """What the writer of blocks needs to know of the template and the document."""

    paragraph_styles: Mapping[Style, str]  # style ids
    strong: str
    soft: str
    table: str
    gap: str
    references: References
    indents: Mapping[Style, int]  # where the words of a list paragraph begin, from the left margin [twip]
    text_width: int  # [twip]


def write_blocks(body: etree._Element, blocks: tuple[Block, ...], setting: Setting) -> None:
    """Append the blocks to a body that holds nothing else yet.

    Raises:
        ValueError: text that XML cannot hold, an empty paragraph, or a table whose parts do not fit together.
    """
    indent = 0
    for index, block in enumerate(blocks):
        after = blocks[index + 1] if index + 1 < len(blocks) else None
        if isinstance(block, Para):
            _paragraph(body, block, index, after, setting)
            indent = setting.indents.get(block.style, 0)
            continue
        _table(body, block, indent, setting)
        if not isinstance(after, Para):
            # Word joins two tables that touch, and wants a paragraph after the last one.
            _styled(body, setting.gap)


def _styled(parent: etree._Element, style_id: str) -> etree._Element:
    paragraph = etree.SubElement(parent, P)
    etree.SubElement(etree.SubElement(paragraph, P_PR), P_STYLE).set(VAL, style_id)
    return paragraph


def _paragraph(body: etree._Element, para: Para, index: int, after: Block | None, setting: Setting) -> None:
    if not para.text:
        raise ValueError(f"the {para.style.value!r} paragraph {para.key or index + 1!r} has no text")
    element = _styled(body, setting.paragraph_styles[para.style])
    if _leads(para, after):
        add(element[0], "keepNext")
    if isinstance(after, Table):
        # A table has no space of its own above it.
        add(element[0], "spacing", after=_ABOVE_TABLE)
    bookmark = setting.references.bookmarks.get(index)
    if bookmark:
        add(element, "bookmarkStart", id=str(index), name=bookmark)
    emphasis = {"none": "", "strong": setting.strong, "soft": setting.soft}
    for part in para.content:
        if isinstance(part, CrossRef):
            add_reference(element, setting.references.trails[part.key])
        elif part.text:
            add_run(element, part.text, emphasis[part.emphasis])
    if bookmark:
        add(element, "bookmarkEnd", id=str(index))


def _leads(para: Para, after: Block | None) -> bool:
    """Whether a paragraph would look stranded at the foot of a page, apart from headings: their style says so."""
    level = list_level(para.style)
    if after is None or (level is not None and level <= _ARTICLE):
        return False
    if isinstance(after, Table):
        return True
    below = list_level(after.style)
    return after.style is Style.SECTION_END or (level is not None and below is not None and below > level)


def _table(body: etree._Element, table: Table, indent: int, setting: Setting) -> None:
    _refuse_misfit(table)
    whole = setting.text_width - indent
    element = add(body, "tbl")
    properties = add(element, "tblPr")
    add(properties, "tblStyle", val=setting.table)
    add(properties, "tblW", w=str(whole), type="dxa")
    add(properties, "tblInd", w=str(indent), type="dxa")
    add(properties, "tblLayout", type="fixed")
    add(properties, "tblLook", val="0620", firstRow="1", lastRow="0", firstColumn="0", lastColumn="0",
        noHBand="1", noVBand="1")  # fmt: skip
    add(properties, "tblCaption", val=legal(table.caption))
    add(properties, "tblDescription", val=legal("Columns: " + ", ".join(table.header)))
    widths = column_widths(table.widths, whole)
    grid = add(element, "tblGrid")
    for width in widths:
        add(grid, "gridCol", w=width)
    _row(element, table.header, widths, setting.paragraph_styles[Style.CELL_HEAD], header=True)
    for row, tone in zip(table.rows, table.tones or ("plain",) * len(table.rows), strict=True):
        _row(element, row, widths, setting.paragraph_styles[Style.CELL], tint=_TINTS.get(tone, ""))


def _row(
    table: etree._Element,
    cells: tuple[str, ...],
    widths: tuple[str, ...],
    style_id: str,
    *,
    header: bool = False,
    tint: str = "",
) -> None:
    row = add(table, "tr")
    properties = add(row, "trPr")
    add(properties, "cantSplit")
    if header:
        add(properties, "tblHeader")
    for words, width in zip(cells, widths, strict=True):
        cell = add(row, "tc")
        cell_properties = add(cell, "tcPr")
        add(cell_properties, "tcW", w=width, type="dxa")
        if tint:
            add(cell_properties, "shd", val="clear", color="auto", fill=tint)
        paragraph = _styled(cell, style_id)
        if words:
            add_run(paragraph, words)


def column_widths(shares: tuple[float, ...], whole: int) -> tuple[str, ...]:
    """Shares of a width as whole twips that add up to it.

    >>> column_widths((1 / 3, 1 / 3, 1 / 3), 1000)
    ('333', '334', '333')
    """
    edges = [round(whole * sum(shares[:count])) for count in range(len(shares) + 1)]
    return tuple(str(right - left) for left, right in zip(edges, edges[1:], strict=False))


def _refuse_misfit(table: Table) -> None:
    name, columns = f"table {table.caption!r}", len(table.header)
    if not table.caption or not columns:
        raise ValueError(f"{name} needs a caption and a header")
    if len(table.widths) != columns:
        raise ValueError(f"{name} has {columns} columns and {len(table.widths)} widths")
    if min(table.widths) <= 0 or not isclose(sum(table.widths), 1.0, abs_tol=1e-6):
        raise ValueError(f"the column widths of {name} are {table.widths}: they must be above 0 and add up to 1")
    if table.tones and len(table.tones) != len(table.rows):
        raise ValueError(f"{name} has {len(table.rows)} rows and {len(table.tones)} tones")
    for number, row in enumerate(table.rows, start=1):
        if len(row) != columns:
            raise ValueError(f"row {number} of {name} has {len(row)} cells under {columns} headings")
