"""Paragraphs, tables and pictures of the document tree as WordprocessingML."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import fsum, isclose

from specgen.model.document import LIST_STYLES, Block, CrossRef, Para, Picture, Style, Table
from specgen.render.word_pictures import Pictures
from specgen.render.word_references import References, Spot, bookmarked, reference_runs
from specgen.render.word_template import Look
from specgen.render.word_xml import attribute, run

# Soft enough to read black text on in print; the words of the row carry the meaning.
TINTS = {"plain": "", "bad": "FBE3DE", "doubt": "FFF3D1", "good": "E4F1E4"}
_ABOVE_TABLE = 100  # [twip]
_LEVELS = {style: level for level, style in enumerate(LIST_STYLES)}
_OUTSIDE, _ARTICLE = -1, 1


@dataclass(frozen=True, slots=True)
class Writing:
    """What the blocks of one document are written with."""

    look: Look
    references: References
    document: int  # which of the file
    text_width: int  # between the margins [twip]
    pictures: Pictures
    headings: Mapping[Spot, str]  # bookmarks of the headings that the table of contents names


def blocks_xml(blocks: tuple[Block, ...], writing: Writing) -> list[str]:
    """The blocks as elements of a body, a paragraph last.

    Raises:
        ValueError: text that XML cannot hold, an empty paragraph, or a table whose parts do not fit together.
    """
    out = []
    indent = 0
    look = writing.look
    for index, block in enumerate(blocks):
        after = blocks[index + 1] if index + 1 < len(blocks) else None
        if isinstance(block, Para):
            out.append(_paragraph(block, index, after, writing))
            indent = look.indents.get(block.style, 0)
        elif isinstance(block, Picture):
            out.append(_picture(block, after, writing))
        else:
            out.append(_table(block, indent, writing))
            if not isinstance(after, Para | Picture):
                # Word joins two tables that touch, and wants a paragraph after the last one.
                out.append(f'<w:p><w:pPr><w:pStyle w:val="{look.gap}"/></w:pPr></w:p>')
    return out


def _paragraph(para: Para, index: int, after: Block | None, writing: Writing) -> str:
    look, references, spot = writing.look, writing.references, (writing.document, index)
    runs = content_runs(para, look, references)
    if not runs:
        raise ValueError(f"the {para.style.value!r} paragraph {para.key or index + 1!r} has no text")
    words = "".join(runs)
    for names in (references.bookmarks, writing.headings):
        if spot in names:
            words = bookmarked(words, names[spot])
    keep = "<w:keepNext/>" if _leads(para.style, after) else ""
    # A table has no space of its own above it.
    space = f'<w:spacing w:after="{_ABOVE_TABLE}"/>' if isinstance(after, Table) else ""
    style_id = look.paragraph_styles[para.style]
    return f'<w:p><w:pPr><w:pStyle w:val="{style_id}"/>{keep}{space}</w:pPr>{words}</w:p>'


def content_runs(para: Para, look: Look, references: References) -> list[str]:
    """The words of a paragraph as runs, references as fields."""
    runs = []
    for part in para.content:
        if isinstance(part, CrossRef):
            runs.append(reference_runs(references.trails[part.key]))
        elif part.text:
            emphasis = part.emphasis
            style = "" if emphasis == "none" else look.strong if emphasis == "strong" else look.soft
            runs.append(run(part.text, style))
    return runs


def _picture(picture: Picture, after: Block | None, writing: Writing) -> str:
    style = writing.look.paragraph_styles[Style.BODY]
    keep = "<w:keepNext/>" if isinstance(after, Para) and after.style is Style.NOTE else ""
    return f'<w:p><w:pPr><w:pStyle w:val="{style}"/>{keep}</w:pPr>{writing.pictures.xml(picture)}</w:p>'


def _leads(style: Style, after: Block | None) -> bool:
    """Whether a paragraph would look stranded at the foot of a page; for headings their style says so."""
    level = _LEVELS.get(style, _OUTSIDE)
    if after is None or _OUTSIDE < level <= _ARTICLE:
        return False
    if isinstance(after, Table | Picture):
        return True
    return after.style is Style.SECTION_END or (
        level > _ARTICLE and _LEVELS.get(after.style, _OUTSIDE) > level
    )


def _table(table: Table, indent: int, writing: Writing) -> str:
    refuse_misfit(table)
    look, whole = writing.look, writing.text_width - indent
    links: dict[int, dict[int, str]] = {}
    for link in table.links:
        trail = writing.references.trails[link.key]
        links.setdefault(link.row, {})[link.column] = reference_runs(trail)
    widths = column_widths(table.widths, whole)
    head, cell = look.paragraph_styles[Style.CELL_HEAD], look.paragraph_styles[Style.CELL]
    tones = table.tones or ("plain",) * len(table.rows)
    rows = [
        row_xml(row, widths, cell, tint=TINTS[tone], linked=links.get(index))
        for index, (row, tone) in enumerate(zip(table.rows, tones, strict=True))
    ]
    return table_frame(
        table, indent, whole, look, [row_xml(table.header, widths, head, repeated=True), *rows]
    )


def table_frame(table: Table, indent: int, whole: int, look: Look, rows: list[str]) -> str:
    """The element of a table around its written rows."""
    grid = "".join([f'<w:gridCol w:w="{width}"/>' for width in column_widths(table.widths, whole)])
    columns = attribute("Columns: " + ", ".join(table.header))
    return (
        f'<w:tbl><w:tblPr><w:tblStyle w:val="{look.table}"/><w:tblW w:w="{whole}" w:type="dxa"/>'
        f'<w:tblInd w:w="{indent}" w:type="dxa"/><w:tblLayout w:type="fixed"/>'
        '<w:tblLook w:val="0620" w:firstRow="1" w:lastRow="0" w:firstColumn="0" w:lastColumn="0"'
        ' w:noHBand="1" w:noVBand="1"/>'
        f'<w:tblCaption w:val="{attribute(table.caption)}"/>'
        f'<w:tblDescription w:val="{columns}"/></w:tblPr>'
        f"<w:tblGrid>{grid}</w:tblGrid>"
        f"{''.join(rows)}</w:tbl>"
    )


def row_xml(
    cells: tuple[str, ...],
    widths: tuple[int, ...],
    style_id: str,
    *,
    repeated: bool = False,
    tint: str = "",
    linked: Mapping[int, str] | None = None,
    mark: str = "",
) -> str:
    """One row; ``linked`` holds runs that stand in place of a cell's words, ``mark`` a revision of the row."""
    shade = f'<w:shd w:val="clear" w:color="auto" w:fill="{tint}"/>' if tint else ""
    runs = [run(words) if words else "" for words in cells]
    for column, field in (linked or {}).items():
        runs[column] = field
    written = [
        f'<w:tc><w:tcPr><w:tcW w:w="{width}" w:type="dxa"/>{shade}</w:tcPr>'
        f'<w:p><w:pPr><w:pStyle w:val="{style_id}"/></w:pPr>{words}</w:p></w:tc>'
        for words, width in zip(runs, widths, strict=True)
    ]
    repeat = "<w:tblHeader/>" if repeated else ""
    return f"<w:tr><w:trPr><w:cantSplit/>{repeat}{mark}</w:trPr>{''.join(written)}</w:tr>"


def column_widths(shares: tuple[float, ...], whole: int) -> tuple[int, ...]:
    """Shares of a width as whole twips that add up to it.

    >>> column_widths((1 / 3, 1 / 3, 1 / 3), 1000)
    (333, 334, 333)
    """
    edges = [round(whole * fsum(shares[:count])) for count in range(len(shares) + 1)]
    return tuple(right - left for left, right in pairwise(edges))


def refuse_misfit(table: Table) -> None:
    """Raise ValueError for a table whose parts do not fit together."""
    name, columns, widths = f"table {table.caption!r}", len(table.header), table.widths
    if not table.caption or not columns:
        raise ValueError(f"{name} needs a caption and a header")
    if len(widths) != columns:
        raise ValueError(f"{name} has {columns} columns and {len(widths)} widths")
    if min(widths) <= 0 or not isclose(fsum(widths), 1.0):
        raise ValueError(f"the column widths of {name} are {widths}: each above 0, together 1")
    if table.tones and len(table.tones) != len(table.rows):
        raise ValueError(f"{name} has {len(table.rows)} rows and {len(table.tones)} tones")
    for number, row in enumerate(table.rows, start=1):
        if len(row) != columns:
            raise ValueError(f"row {number} of {name} has {len(row)} cells under {columns} headings")
