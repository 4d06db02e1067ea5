"""Workbooks, the HTML report, and the records beside them as a reader sees them: tables under their headings."""

from __future__ import annotations

import json
import re
from base64 import b64decode
from collections.abc import Iterator
from io import BytesIO
from typing import Any

from lxml import etree, html

from specgen.agreement.page import DrawnSheet, Page, PrintedLine, PrintedTable
from specgen.agreement.sheets import XML, sheet_of_svg

_LINES = ("h1", "h2", "h3", "h4", "p", "li", "dt", "dd", "summary", "figcaption")
_UNREAD = ("script", "style", "svg")
_PICTURE = re.compile(rb"data:image/svg\+xml;base64,([A-Za-z0-9+/=]+)")
# Columns of the records, as the documents head them.
_RECORDS = {
    "section": "Section",
    "paragraph": "Paragraph",
    "item": "Item",
    "required": "Required",
    "method": "Method",
    "evidence": "Evidence wanted",
    "type": "Type",
    "trade": "Trade",
    "where": "Where",
}
HEADS = {"Test method": "Method"}  # one column, two names


def read_workbook(file: str, data: bytes) -> Page:
    """All that a workbook prints: what stands over its tables, and the tables."""
    import openpyxl

    book = openpyxl.load_workbook(BytesIO(data), read_only=False, data_only=True)
    lines: list[PrintedLine] = []
    tables: list[PrintedTable] = []
    for sheet in book:
        rows = [tuple("" if v is None else str(v) for v in row) for row in sheet.iter_rows(values_only=True)]
        start = next((n for n, row in enumerate(rows) if sum(map(bool, row)) > 1), len(rows))
        lines += [PrintedLine(row[0]) for row in rows[:start] if row and row[0]]
        if start < len(rows):
            header = tuple(HEADS.get(name, name) for name in rows[start])
            tables.append(PrintedTable(sheet.title, header, tuple(r for r in rows[start + 1 :] if any(r))))
    return Page(file, tuple(lines), (), tuple(tables))


def read_report(file: str, data: bytes) -> Page:
    """All that an HTML report prints, with the drawings in it."""
    root = html.document_fromstring(data.decode("utf-8"))
    lines = tuple(PrintedLine(_words(one)) for one in root.iter(*_LINES))
    return Page(
        file, tuple(line for line in lines if line.text), (), tuple(_tables(root)), tuple(_drawings(data))
    )


def _drawings(data: bytes) -> Iterator[DrawnSheet]:
    """The drawn sheets in the report; a plot has no title block and is none."""
    for found in _PICTURE.finditer(data):
        sheet = sheet_of_svg(etree.fromstring(b64decode(found[1]), XML))
        if sheet.title:
            yield sheet


def _tables(root: html.HtmlElement) -> Iterator[PrintedTable]:
    for table in root.iter("table"):
        caption = table.find("caption")
        rows = [tuple(_cell(one) for one in row.iter("th", "td")) for row in table.iter("tr")]
        if rows:
            heading = _words(caption) if caption is not None else ""
            yield PrintedTable(heading, rows[0], tuple(rows[1:]))


def _words(element: html.HtmlElement) -> str:
    if any(True for _ in element.iter(*_UNREAD)):
        return ""
    return " ".join("".join(map(str, element.itertext())).split())


def _cell(element: html.HtmlElement) -> str:
    """The words of a cell; what stands in an element of its own is a word of its own."""
    return " ".join(" ".join(map(str, element.itertext())).split())


def read_record(file: str, data: bytes) -> Page:
    """The checklist in a record beside the documents, and the limit of each requirement in the trace."""
    content: dict[str, Any] = json.loads(data)
    rows = content.get("rows") or content.get("checklist") or []
    tables = [
        PrintedTable(
            "", tuple(_RECORDS.values()), tuple(tuple(str(row[k]) for k in _RECORDS) for row in rows)
        )
    ]
    found = content.get("requirements", [])
    if found:
        keys = ("section", "paragraph", "title", "limit")
        limits = tuple(tuple(str(one[key]) for key in keys) for one in found)
        tables.append(PrintedTable("", ("Section", "Paragraph", "Title", "Limit"), limits))
    title = content.get("project")
    return Page(file, (PrintedLine(title),) if title else (), (), tuple(tables))
