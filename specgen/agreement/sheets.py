"""Drawn sheets as a reader sees them: words and where they stand, dimensions, and what each key points at."""

from __future__ import annotations

from collections.abc import Iterator
from io import StringIO
from itertools import pairwise

from lxml import etree

from specgen.agreement.page import DrawnSheet, DrawnSize, Page, PrintedWord

_SVG = "{http://www.w3.org/2000/svg}"
XML = etree.XMLParser(resolve_entities=False, no_network=True)
_PARAPET = "parapet "


def sheet_of_svg(root: etree._Element) -> DrawnSheet:
    """The sheet that an SVG element shows."""
    words = tuple(
        PrintedWord(_words(one), float(one.get("x", "0")), -float(one.get("y", "0")))
        for one in root.iter(f"{_SVG}text")
        if not any("switch" in (up.get("class") or "") for up in (one, *one.iterancestors()))
    )
    about = next((_words(one) for one in root.iter(f"{_SVG}desc")), "")
    return _sheet(words, about)


def read_svg(file: str, data: bytes) -> Page:
    """The sheet of an SVG file."""
    return Page(file, sheets=(sheet_of_svg(etree.fromstring(data, XML)),))


def read_dxf(file: str, data: bytes) -> Page:
    """The sheet of a DXF file, with its dimensions and keys."""
    from ezdxf.entities.mtext import MText
    from ezdxf.filemanagement import read

    doc = read(StringIO(data.decode("utf-8")))
    space = doc.modelspace()
    words, sizes, keys = [], [], []
    for one in space:
        match one.dxftype():
            case "TEXT":
                at = one.dxf.insert if one.dxf.halign == 0 else one.dxf.align_point
                words.append(PrintedWord(_plain(one.dxf.text), at.x, at.y))
            case "DIMENSION":
                a, b = one.dxf.defpoint2, one.dxf.defpoint3
                shown = doc.blocks.get(one.dxf.geometry) or ()
                text = next((_plain(each.text) for each in shown if isinstance(each, MText)), "")
                sizes.append(DrawnSize(text, one.dxf.angle == 90.0, (a.x, a.y), (b.x, b.y)))
                words.append(PrintedWord(text, one.dxf.text_midpoint.x, one.dxf.text_midpoint.y))
            case "INSERT":
                at, size = one.dxf.insert, one.dxf.xscale
                for tag in one.attribs:  # type: ignore[attr-defined]
                    words.append(PrintedWord(tag.dxf.text, at.x, at.y))
                    keys.append((tag.dxf.text, at, size))
    leaders = [(one.dxf.start, one.dxf.end) for one in space.query("LINE")]
    keyed = tuple(
        PrintedWord(name, end.x, end.y)
        for name, at, size in keys
        for start, end in leaders
        if start.distance(at) < 1.02 * size
    )
    sheet = _sheet(tuple(words), "")
    return Page(file, sheets=(DrawnSheet(sheet.parapet, sheet.title, sheet.words, "", tuple(sizes), keyed),))


def read_pdf(file: str, data: bytes) -> Page:
    """The sheets of a PDF file, one a page; places are not read from it."""
    import pypdfium2

    found = []
    document = pypdfium2.PdfDocument(data)
    try:
        for page in document:
            runs = page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT], textpage=page.get_textpage())
            found.append(_sheet(tuple(PrintedWord(one.extract().strip(), 0.0, 0.0) for one in runs), ""))
    finally:
        document.close()
    return Page(file, sheets=tuple(found))


def _sheet(words: tuple[PrintedWord, ...], about: str) -> DrawnSheet:
    """A sheet by its title block: the title, and under it the parapet."""
    for title, below in pairwise(words):
        if below.text.startswith(_PARAPET):
            return DrawnSheet(below.text.removeprefix(_PARAPET), title.text, words, about)
    return DrawnSheet("", "", words, about)


def notes_of(sheet: DrawnSheet) -> Iterator[tuple[str, str]]:
    """The notes of an SVG sheet: the key and the words of each, lines that were broken joined again."""
    key, texts, left, last = "", [""], 0.0, 0.0
    for one, after in zip(sheet.words, (*sheet.words[1:], None), strict=True):
        keyed = after is not None and 2.0 < after.x - one.x < 7.0 and abs(after.y - one.y) < 1.0
        if keyed or one.x < left - 0.01 or not 0.0 < last - one.y < 8.0:
            if texts[0]:
                yield key, " ".join(texts)
            key, texts = (one.text, [""]) if keyed else ("", [one.text])
            left, last = (after.x, after.y + 1.0) if keyed and after is not None else (one.x, one.y)
            continue
        texts = [one.text] if not texts[0] else [*texts, one.text]
        last = one.y
    yield key, " ".join(texts)


def _words(element: etree._Element) -> str:
    return " ".join("".join(element.itertext()).split())  # type: ignore[arg-type]


def _plain(text: str) -> str:
    return " ".join(text.replace("% %", "%%").split())
