"""Paragraphs and tables of the document tree as WordprocessingML."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import isclose

from specgen.model.document import LIST_STYLES, Block, CrossRef, Para, Style, Table
from specgen.render.word_references import References, reference_runs
from specgen.render.word_xml import attribute, run

# Soft enough to read black text on in print; the words of the row carry the meaning.
_TINTS = {"plain": "", "bad": "FBE3DE", "doubt": "FFF3D1", "good": "E4F1E4"}
_ABOVE_TABLE = 100  # [twip]
_LEVELS = {style: level for level, style in enumerate(LIST_STYLES)}
_OUTSIDE, _ARTICLE = -1, 1


@dataclass(frozen=True, slots=True)
class Look:
    """What the template offers, by name."""

    paragraph_styles: Mapping[Style, str]  # style ids
    strong: str
    soft: str
    table: str
    gap: str
    indents: Mapping[Style, int]  # where the words of a list paragraph begin, from the left margin [twip]


def blocks_xml(blocks: tuple[Block, ...], look: Look, references: References, text_width: int) -> str:
    """The blocks as the content of a body.

    Parameters:
        text_width: between the margins [twip].

    Raises:
        ValueError: text that XML cannot hold, an empty paragraph, or a table whose parts do not fit together.
    """
    out = []
    indent = 0
    for index, block in enumerate(blocks):
        after = blocks[index + 1] if index + 1 < len(blocks) else None
        if isinstance(block, Para):
            out.append(_paragraph(block, index, after, look, references))
            indent = look.indents.get(block.style, 0)
            continue
        out.append(_table(block, indent, text_width - indent, look))
        if not isinstance(after, Para):
            # Word joins two tables that touch, and wants a paragraph after the last one.
            out.append(f'<w:p><w:pPr><w:pStyle w:val="{look.gap}"/></w:pPr></w:p>')
    return "".join(out)


def _paragraph(para: Para, index: int, after: Block | None, look: Look, references: References) -> str:
    runs = []
    for part in para.content:
        if isinstance(part, CrossRef):
            runs.append(reference_runs(references.trails[part.key]))
        elif part.text:
            emphasis = part.emphasis
            style = "" if emphasis == "none" else look.strong if emphasis == "strong" else look.soft
            runs.append(run(part.text, style))
    if not runs:
        raise ValueError(f"the {para.style.value!r} paragraph {para.key or index + 1!r} has no text")
    words = "".join(runs)
    if index in references.bookmarks:
        start = f'<w:bookmarkStart w:id="{index}" w:name="{references.bookmarks[index]}"/>'
        words = f'{start}{words}<w:bookmarkEnd w:id="{index}"/>'
    keep = "<w:keepNext/>" if _leads(para.style, after) else ""
    # A table has no space of its own above it.
    space = f'<w:spacing w:after="{_ABOVE_TABLE}"/>' if isinstance(after, Table) else ""
    style_id = look.paragraph_styles[para.style]
    return f'<w:p><w:pPr><w:pStyle w:val="{style_id}"/>{keep}{space}</w:pPr>{words}</w:p>'


def _leads(style: Style, after: Block | None) -> bool:
    """Whether a paragraph would look stranded at the foot of a page; for headings their style says so."""
    level = _LEVELS.get(style, _OUTSIDE)
    if after is None or _OUTSIDE < level <= _ARTICLE:
        return False
    if isinstance(after, Table):
        return True
    return after.style is Style.SECTION_END or (
        level > _ARTICLE and _LEVELS.get(after.style, _OUTSIDE) > level
    )


def _table(table: Table, indent: int, whole: int, look: Look) -> str:
    _refuse_misfit(table)
    widths = column_widths(table.widths, whole)
    head, cell = look.paragraph_styles[Style.CELL_HEAD], look.paragraph_styles[Style.CELL]
    grid = "".join([f'<w:gridCol w:w="{width}"/>' for width in widths])
    columns = attribute("Columns: " + ", ".join(table.header))
    tones = table.tones or ("plain",) * len(table.rows)
    rows = [_row(row, widths, cell, tint=_TINTS[tone]) for row, tone in zip(table.rows, tones, strict=True)]
    return (
        f'<w:tbl><w:tblPr><w:tblStyle w:val="{look.table}"/><w:tblW w:w="{whole}" w:type="dxa"/>'
        f'<w:tblInd w:w="{indent}" w:type="dxa"/><w:tblLayout w:type="fixed"/>'
        '<w:tblLook w:val="0620" w:firstRow="1" w:lastRow="0" w:firstColumn="0" w:lastColumn="0"'
        ' w:noHBand="1" w:noVBand="1"/>'
        f'<w:tblCaption w:val="{attribute(table.caption)}"/>'
        f'<w:tblDescription w:val="{columns}"/></w:tblPr>'
        f"<w:tblGrid>{grid}</w:tblGrid>"
        f"{_row(table.header, widths, head, repeated=True)}{''.join(rows)}</w:tbl>"
    )


def _row(
    cells: tuple[str, ...], widths: tuple[int, ...], style_id: str, *, repeated: bool = False, tint: str = ""
) -> str:
    shade = f'<w:shd w:val="clear" w:color="auto" w:fill="{tint}"/>' if tint else ""
    written = [
        f'<w:tc><w:tcPr><w:tcW w:w="{width}" w:type="dxa"/>{shade}</w:tcPr>'
        f'<w:p><w:pPr><w:pStyle w:val="{style_id}"/></w:pPr>{run(words) if words else ""}</w:p></w:tc>'
        for words, width in zip(cells, widths, strict=True)
    ]
    repeat = "<w:tblHeader/>" if repeated else ""
    return f"<w:tr><w:trPr><w:cantSplit/>{repeat}</w:trPr>{''.join(written)}</w:tr>"


def column_widths(shares: tuple[float, ...], whole: int) -> tuple[int, ...]:
    """Shares of a width as whole twips that add up to it.

    >>> column_widths((1 / 3, 1 / 3, 1 / 3), 1000)
    (333, 334, 333)
    """
    edges = [round(whole * sum(shares[:count])) for count in range(len(shares) + 1)]
    return tuple(right - left for left, right in pairwise(edges))


def _refuse_misfit(table: Table) -> None:
    name, columns, widths = f"table {table.caption!r}", len(table.header), table.widths
    if not table.caption or not columns:
        raise ValueError(f"{name} needs a caption and a header")
    if len(widths) != columns:
        raise ValueError(f"{name} has {columns} columns and {len(widths)} widths")
    if min(widths) <= 0 or not isclose(sum(widths), 1.0, abs_tol=1e-6):
        raise ValueError(f"the column widths of {name} are {widths}: each above 0, together 1")
    if table.tones and len(table.tones) != len(table.rows):
        raise ValueError(f"{name} has {len(table.rows)} rows and {len(table.tones)} tones")
    for number, row in enumerate(table.rows, start=1):
        if len(row) != columns:
            raise ValueError(f"row {number} of {name} has {len(row)} cells under {columns} headings")
