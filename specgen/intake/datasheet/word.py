"""A Word document to rows of text, as plain data: each row of a table is a row, and each paragraph a row of one cell."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Iterator
from typing import Any

from specgen.files.package import PackageError, PackageLimits, read_package
from specgen.intake.datasheet.limits import (
    LONGEST_CELL,
    MOST_BYTES,
    MOST_CHARACTERS_IN_ALL,
    MOST_COLUMNS,
    MOST_PARTS,
    MOST_ROWS,
    MOST_UNPACKED,
)
from specgen.intake.datasheet.pdf import UnusableFileError

LIMITS = PackageLimits(file=MOST_BYTES, whole=MOST_UNPACKED, part=MOST_UNPACKED, parts=MOST_PARTS)
MAIN = "word/document.xml"
_W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_STRICT = "{http://purl.oclc.org/ooxml/wordprocessingml/main}"
_HALF_POINTS = 2.0
_HIDDEN = ("del", "moveFrom", "footnoteReference", "instrText", "txbxContent", "Fallback")


def read_word(data: bytes) -> list[dict[str, Any]]:
    """The text of a document in its order; what is deleted in a tracked change, or hidden, is left out.

    Raises:
        UnusableFileError: no Word document, damaged, larger than the limits, or its parts declare XML entities.
    """
    try:
        parts = read_package(data, LIMITS)
    except PackageError as error:
        raise UnusableFileError(str(error), error.fix) from None
    again = "open it, save it again as .docx"
    if MAIN not in parts:
        raise UnusableFileError("the Word document has no text", again)
    try:
        text = parts[MAIN].replace(_STRICT[1:-1].encode(), _W[1:-1].encode())
        rows = list(_rows(ET.fromstring(text).find(f"{_W}body")))  # noqa: S314 - `read_package` refuses entities
    except (ET.ParseError, ValueError, RecursionError) as error:
        raise UnusableFileError(f"the Word document cannot be read ({type(error).__name__})", again) from None
    kept = [row for row in rows if any(words for words, _ in row)]
    total = sum(len(words) for row in kept for words, _ in row)
    widest = max(map(len, kept), default=0)
    if len(kept) > MOST_ROWS or widest > MOST_COLUMNS or total > MOST_CHARACTERS_IN_ALL:
        raise UnusableFileError(
            f"more than {MOST_ROWS} rows, {MOST_COLUMNS} columns or {MOST_CHARACTERS_IN_ALL} characters",
            "send the product's pages alone",
        )
    notes = ["pictures of the document were not read"] if any("media/" in name for name in parts) else []
    return [
        {
            "label": "document",
            "rows": [[words for words, _ in row] for row in kept],
            "looks": [[look if words else None for words, look in row] for row in kept],
            "notes": notes,
        }
    ]


def _rows(body: ET.Element | None) -> Iterator[list[tuple[str, list[Any] | None]]]:
    for node in body if body is not None else ():
        if node.tag == f"{_W}tbl":
            yield from ([_cell(one) for one in row.findall(f"{_W}tc")] for row in node.findall(f"{_W}tr"))
        elif node.tag == f"{_W}p":
            yield [_cell(node)]
        elif node.tag == f"{_W}sdt":
            yield from _rows(node.find(f"{_W}sdtContent"))


def _cell(node: ET.Element) -> tuple[str, list[Any] | None]:
    """The words of a paragraph or a cell, and their look: size [pt], bold, struck; of the first run that has words."""
    pieces: list[str] = []
    looks: list[list[Any]] = []
    for run in _runs(node):
        words = "".join(_piece(one) for one in run)
        raised = run.find(f"{_W}rPr/{_W}vertAlign")
        if words.strip() and raised is not None and raised.get(f"{_W}val") == "superscript":
            words = f"{{^{words.strip()}}}"  # a mark, or the power of a unit: no digit of the value before it
        pieces.append(words)
        if words.strip():
            looks.append(_look(run))
    text = "".join(pieces)[: LONGEST_CELL + 1]
    plain = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    if not looks:
        return plain, None
    return plain, [looks[0][0], looks[0][1], any(one[2] for one in looks)]


def _runs(node: ET.Element) -> Iterator[ET.Element]:
    for child in node:
        name = child.tag.rpartition("}")[2]
        if name in _HIDDEN:
            continue
        if child.tag == f"{_W}r":
            if not _on(child, "vanish"):
                yield child
        else:
            yield from _runs(child)
            if child.tag == f"{_W}p":
                yield _BREAK


_BREAK = ET.Element(f"{_W}r")
ET.SubElement(_BREAK, f"{_W}br")


def _piece(node: ET.Element) -> str:
    name = node.tag.rpartition("}")[2]
    if name == "t":
        return node.text or ""
    return " " if name in ("tab", "br", "cr") else "-" if name == "noBreakHyphen" else ""


def _look(run: ET.Element) -> list[Any]:
    size = run.find(f"{_W}rPr/{_W}sz")
    points = size.get(f"{_W}val", "") if size is not None else ""
    number = float(points) / _HALF_POINTS if points.isdecimal() and len(points) < 5 else 0.0
    return [number, _on(run, "b"), _on(run, "strike") or _on(run, "dstrike")]


def _on(run: ET.Element, what: str) -> bool:
    found = run.find(f"{_W}rPr/{_W}{what}")
    return found is not None and found.get(f"{_W}val", "true") not in ("0", "false", "none")
