"""Four programs that print a paper: a browser, a word processor, a spreadsheet, a typesetting program."""

from __future__ import annotations

import html
import shutil
import subprocess
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import pytest
from docx import Document
from docx.oxml import parse_xml
from docx.shared import Inches, Pt
from openpyxl import Workbook
from openpyxl.styles import Border, Font, Side

from tests.intake.papers.blocks import Beside, Block, Cells, Items, NewPage, Paper, Text, Tiles
from tests.published.browser import BROWSER, chromium

Printed = Mapping[int, Path]
HEADINGS = {1: 2.0, 2: 1.35, 3: 1.12}


def by_browser(papers: Mapping[int, Paper], folder: Path) -> Printed:
    """Printed to PDF by Chromium."""
    browser = chromium()
    if not (BROWSER / "node_modules" / "playwright-core").exists():
        pytest.skip("nothing printed by a browser: run npm install in tests/browser")
    found = {}
    for seed, paper in papers.items():
        (folder / f"{seed}-{paper.name}.html").write_text(_html(paper), encoding="utf-8")
        found[seed] = folder / f"{seed}-{paper.name}.pdf"
    pages = [path.with_suffix(".html") for path in found.values()]
    _run(["node", str(BROWSER / "print.mjs"), browser, *map(str, pages)])
    return found


def _html(paper: Paper) -> str:
    family = "Liberation Serif" if paper.serif else "Liberation Sans"
    across = ""
    if paper.across:
        across = (
            "<div style='position:fixed;top:40%;left:10%;font-size:70pt;color:#c0c0c0;transform:rotate(-35deg)'>"
            f"{html.escape(paper.across)}</div>"
        )
    style = (
        f"body{{font:{paper.size}pt '{family}'}} td,th{{padding:2pt 6pt;text-align:left;vertical-align:top}}"
        "table{border-collapse:collapse;width:100%} .ruled td,.ruled th{border:.5pt solid #333}"
        ".beside{display:flex;gap:24pt}.beside>div{flex:1} .tiles{display:flex;gap:18pt}"
        ".tiles b{display:block;font-size:20pt}"
    )
    body = "".join(map(_block_html, paper.blocks))
    return (
        f"<!doctype html><meta charset=utf-8><style>{style}</style>{across}<div>{html.escape(paper.header)}</div>"
        f"{body}<div>{html.escape(paper.footer)}</div>"
    )


def _block_html(block: Block) -> str:
    match block:
        case Text(text, level):
            tag = f"h{level}" if level else "p"
            return f"<{tag}>{html.escape(text)}</{tag}>"
        case NewPage():
            return "<div style='break-after:page'></div>"
        case Cells(rows, head, ruled, share):
            wide = max(map(len, rows))
            lines = []
            for at, row in enumerate(rows):
                tag = "th" if head and at == 0 else "td"
                span = f" colspan={wide}" if len(row) == 1 else ""
                cells = "".join(f"<{tag}{span}>{_cell_html(cell)}</{tag}>" for cell in row)
                lines.append(f"<tr>{cells}</tr>")
            look = "ruled" if ruled else "plain"
            return f"<table class={look} style='width:{share}%'>{''.join(lines)}</table>"
        case Items(items):
            return f"<ul>{''.join(f'<li>{html.escape(one)}</li>' for one in items)}</ul>"
        case Tiles(tiles):
            shown = "".join(f"<div><b>{html.escape(a)}</b>{html.escape(b)}</div>" for a, b in tiles)
            return f"<div class=tiles>{shown}</div>"
        case Beside(left, right):
            sides = ("".join(map(_block_html, side)) for side in (left, right))
            return f"<div class=beside>{''.join(f'<div>{side}</div>' for side in sides)}</div>"


def _cell_html(text: str) -> str:
    return f"<s>{html.escape(text[1:])}</s>" if text.startswith("~") else html.escape(text)


WATERMARK = (  # as word processors write theirs: a shape whose outline is the text
    '<w:r xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" xmlns:v="urn:schemas-microsoft-com:vml" '
    'xmlns:o="urn:schemas-microsoft-com:office:office"><w:pict><v:shapetype id="_x0000_t136" coordsize="21600,21600" '
    'o:spt="136" adj="10800" path="m@7,l@8,m@5,21600l@6,21600e"><v:path textpathok="t"/><v:textpath on="t" '
    'fitshape="t"/></v:shapetype><v:shape type="#_x0000_t136" style="position:absolute;width:420pt;height:120pt;'
    "rotation:315;z-index:-1;mso-position-horizontal:center;mso-position-horizontal-relative:margin;"
    'mso-position-vertical:center;mso-position-vertical-relative:margin" fillcolor="silver" stroked="f"><v:textpath '
    """style="font-family:&quot;Liberation Sans&quot;" string="{}"/></v:shape></w:pict></w:r>"""
)


def by_word_processor(papers: Mapping[int, Paper], folder: Path) -> Printed:
    """Written as Word documents and printed to PDF by LibreOffice Writer."""
    for seed, paper in papers.items():
        _docx(paper).save(str(folder / f"{seed}-{paper.name}.docx"))
    return _office(papers, folder, ".docx")


def _docx(paper: Paper) -> Document:
    document = Document()
    normal = document.styles["Normal"].font
    normal.size, normal.name = Pt(paper.size), "Liberation Serif" if paper.serif else "Liberation Sans"
    document.sections[0].header.paragraphs[0].text = paper.header
    document.sections[0].footer.paragraphs[0].text = paper.footer
    if paper.across:
        document.sections[0].header.paragraphs[0]._p.append(
            parse_xml(WATERMARK.format(html.escape(paper.across)))
        )
    for block in paper.blocks:
        _block_docx(document, block, paper)
    return document


def _block_docx(place, block: Block, paper: Paper) -> None:
    match block:
        case Text(text, level):
            run = place.add_paragraph().add_run(text)
            run.bold = level > 0
            run.font.size = Pt(paper.size * HEADINGS.get(level, 1.0))
        case NewPage():
            place.add_page_break()
        case Cells(rows, head, ruled, share):
            wide = max(map(len, rows))
            table = place.add_table(0, wide)
            table.autofit = False
            for column in table.columns:
                column.width = Inches(6 * share / 100 / wide)
            table.style = "Table Grid" if ruled and hasattr(table, "style") else None
            for at, row in enumerate(rows):
                cells = table.add_row().cells
                for cell in cells:
                    cell.width = Inches(6 * share / 100 / wide)
                if len(row) == 1 and wide > 1:
                    cells[0].merge(cells[-1])
                for cell, text in zip(cells, row, strict=False):
                    run = cell.paragraphs[0].add_run(text.lstrip("~"))
                    run.font.strike = text.startswith("~")
                    run.bold = head and at == 0
        case Items(items):
            for one in items:
                place.add_paragraph(f"• {one}")
        case Tiles(tiles):
            table = place.add_table(1, len(tiles))
            for cell, (figure, caption) in zip(table.rows[0].cells, tiles, strict=True):
                run = cell.paragraphs[0].add_run(figure)
                run.font.size, run.bold = Pt(20), True
                cell.add_paragraph(caption)
        case Beside(left, right):
            table = place.add_table(1, 2)
            for cell, side in zip(table.rows[0].cells, (left, right), strict=True):
                for one in side:
                    _block_docx(cell, one, paper)


def by_spreadsheet(papers: Mapping[int, Paper], folder: Path) -> Printed:
    """Workbooks; every other one is printed to PDF by LibreOffice Calc."""
    found: dict[int, Path] = {}
    for seed, paper in papers.items():
        path = folder / f"{seed}-{paper.name}.xlsx"
        _xlsx(paper).save(path)
        found[seed] = path
    to_print = {seed: paper for seed, paper in papers.items() if seed % 2 and not paper.tabs}
    return found | dict(_office(to_print, folder, ".xlsx")) if to_print else found


def _xlsx(paper: Paper) -> Workbook:
    book = Workbook()
    sheets = [("Data", paper.blocks), *paper.tabs]
    for at, (name, blocks) in enumerate(sheets):
        sheet = book.active if at == 0 else book.create_sheet()
        sheet.title = name
        sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        for column in "ABCDEF":
            sheet.column_dimensions[column].width = 34
        for text in (paper.header, paper.across):
            if text:
                sheet.append([text])
        for block in blocks:
            _block_xlsx(sheet, block, paper)
        if paper.footer:
            sheet.append([paper.footer])
    return book


def _block_xlsx(sheet, block: Block, paper: Paper) -> None:
    side = Side(style="thin")
    match block:
        case Text(text, level):
            sheet.append([text])
            sheet.cell(sheet.max_row, 1).font = Font(
                size=paper.size * HEADINGS.get(level, 1.0), bold=level > 0
            )
        case NewPage():
            sheet.append([])
        case Cells(rows, head, ruled, _):
            wide = max(map(len, rows))
            for at, row in enumerate(rows):
                sheet.append([text.lstrip("~") for text in row])
                for column in range(1, wide + 1):
                    cell = sheet.cell(sheet.max_row, column)
                    struck = column <= len(row) and row[column - 1].startswith("~")
                    cell.font = Font(size=paper.size, strike=struck, bold=head and at == 0)
                    if ruled:
                        cell.border = Border(side, side, side, side)
            sheet.append([])
        case Items(items):
            for one in items:
                sheet.append([f"• {one}"])
        case Tiles(tiles):
            sheet.append([figure for figure, _ in tiles])
            sheet.append([caption for _, caption in tiles])
        case Beside(left, right):
            for one in (*left, *right):
                _block_xlsx(sheet, one, paper)


def _office(papers: Mapping[int, Paper], folder: Path, ending: str) -> Printed:
    program = shutil.which("soffice")
    if program is None:
        pytest.skip("nothing printed by an office program: LibreOffice is not installed")
    files = [folder / f"{seed}-{paper.name}{ending}" for seed, paper in papers.items()]
    for at in range(0, len(files), 40):
        _run([
            program, f"-env:UserInstallation=file://{folder}/profile", "--headless", "--convert-to", "pdf",
            "--outdir", str(folder), *map(str, files[at : at + 40]),
        ])  # fmt: skip
    return {seed: path.with_suffix(".pdf") for seed, path in zip(papers, files, strict=True)}


def by_typesetting(papers: Mapping[int, Paper], folder: Path) -> Printed:
    """Set and printed to PDF by Typst."""
    typst = pytest.importorskip(
        "typst", reason="nothing printed by a typesetting program: typst is not installed"
    )
    found = {}
    for seed, paper in papers.items():
        source = folder / f"{seed}-{paper.name}.typ"
        source.write_text(_typst(paper), encoding="utf-8")
        found[seed] = source.with_suffix(".pdf")
        typst.compile(str(source), output=str(found[seed]), ignore_system_fonts=False)
    return found


def _typst(paper: Paper) -> str:
    family = "Liberation Serif" if paper.serif else "Liberation Sans"
    across = ""
    if paper.across:
        across = f", foreground: rotate(-35deg, text(70pt, fill: rgb(0, 0, 0, 60), {_quoted(paper.across)}))"
    lines = [
        f"#set text(font: ({_quoted(family)},), size: {paper.size}pt)",
        f'#set page(paper: "us-letter", header: {_quoted(paper.header)}, footer: {_quoted(paper.footer)}{across})',
        *(f"#{_block_typst(block, paper)}" for block in paper.blocks),
    ]
    return "\n".join(lines)


def _block_typst(block: Block, paper: Paper) -> str:
    match block:
        case Text(text, level):
            size = paper.size * HEADINGS.get(level, 1.0)
            weight = "bold" if level else "regular"
            return f'par(text({size}pt, weight: "{weight}", {_quoted(text)}))'
        case NewPage():
            return "pagebreak()"
        case Cells(rows, head, ruled, share):
            wide = max(map(len, rows))
            cells = []
            for at, row in enumerate(rows):
                for text in row:
                    inner = _quoted(text.lstrip("~"))
                    inner = f"strike({inner})" if text.startswith("~") else f"text({inner})"
                    inner = f"strong({inner})" if head and at == 0 else inner
                    cells.append(f"table.cell(colspan: {wide if len(row) == 1 else 1}, {inner})")
            stroke = "0.5pt" if ruled else "none"
            columns = wide if share == 100 else f"({', '.join([f'{share / wide}%'] * wide)})"
            return f"table(columns: {columns}, stroke: {stroke}, {', '.join(cells)})"
        case Items(items):
            return f"list({', '.join(f'[#{_quoted(one)}]' for one in items)})"
        case Tiles(tiles):
            shown = ", ".join(
                f'[#text(20pt, weight: "bold", {_quoted(a)}) #linebreak() #{_quoted(b)}]' for a, b in tiles
            )
            return f"grid(columns: {len(tiles)}, gutter: 18pt, {shown})"
        case Beside(left, right):
            sides = (
                "[" + "\n".join(f"#{_block_typst(one, paper)}" for one in side) + "]"
                for side in (left, right)
            )
            return f"grid(columns: (1fr, 1fr), gutter: 24pt, {', '.join(sides)})"


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _run(command: Sequence[str]) -> None:
    done = subprocess.run(command, capture_output=True, text=True, timeout=600, check=False)
    assert done.returncode == 0, done.stderr[-2000:]


PRINTERS: Mapping[str, Callable[[Mapping[int, Paper], Path], Printed]] = {
    "browser": by_browser,
    "word processor": by_word_processor,
    "spreadsheet": by_spreadsheet,
    "typesetting": by_typesetting,
}
