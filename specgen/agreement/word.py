"""A Word file as a reader sees it: paragraphs with the numbers that Word counts for them, tables, margins."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator, Mapping
from io import BytesIO

from lxml import etree

from specgen.agreement.page import Page, PrintedLine, PrintedTable
from specgen.agreement.sheets import XML

_W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_SECTION = re.compile(r"Section (\d\d \d\d \d\d)(?: – .*)?")
_MARGIN = re.compile(r"word/(?:header|footer)\d*\.xml")
_LEVEL = re.compile(r"%([1-9])")


def read_word(file: str, data: bytes) -> Page:
    """All that a Word file prints.

    Args:
        file: its name in the issue.
        data: its bytes.
    """
    with zipfile.ZipFile(BytesIO(data)) as parts:
        trees = {name: etree.fromstring(parts.read(name), XML) for name in _wanted(parts.namelist())}
    body = trees["word/document.xml"].find(f"{_W}body")
    assert body is not None
    count = _Numbers(trees.get("word/styles.xml"), trees.get("word/numbering.xml"))
    lines: list[PrintedLine] = []
    tables: list[PrintedTable] = []
    section = heading = ""
    for block in _blocks(body):
        if block.tag == f"{_W}tbl":
            tables += _tables(heading, block)
            continue
        text = " ".join(_text(block).split())
        if not text:
            continue
        opens = _SECTION.fullmatch(text) if not count.listed(block) else None
        if opens:
            section = opens[1]
            count.restart()
        number = count.number(block)
        if not number:
            heading = text
        lines.append(PrintedLine(text, section, number))
    margins = tuple(
        " ".join(_text(p).split("\t")).strip()
        for name in sorted(trees)
        if _MARGIN.fullmatch(name)
        for p in trees[name].iter(f"{_W}p")
    )
    return Page(file, tuple(lines), tuple(dict.fromkeys(filter(None, margins))), tuple(tables))


def _wanted(names: list[str]) -> list[str]:
    own = ("word/document.xml", "word/styles.xml", "word/numbering.xml")
    return [name for name in names if name in own or _MARGIN.fullmatch(name)]


def _blocks(body: etree._Element) -> Iterator[etree._Element]:
    """Paragraphs and tables in order, those in content controls too."""
    for child in body:
        if child.tag in (f"{_W}p", f"{_W}tbl"):
            yield child
        elif child.tag in (f"{_W}sdt", f"{_W}sdtContent"):
            yield from _blocks(child)


def _text(element: etree._Element) -> str:
    """The words that are printed: no codes of fields, nothing struck out."""
    found = []
    for one in element.iter(f"{_W}t", f"{_W}tab", f"{_W}br"):
        if one.tag == f"{_W}t":
            found.append(one.text or "")
        elif one.getparent().tag == f"{_W}r":  # type: ignore[union-attr]
            found.append("\t")
    return "".join(found)


def _tables(heading: str, table: etree._Element) -> Iterator[PrintedTable]:
    rows = [
        tuple(" ".join(_text(cell).split()) for cell in row.iter(f"{_W}tc")) for row in table.iter(f"{_W}tr")
    ]
    if rows:
        yield PrintedTable(heading, rows[0], tuple(rows[1:]))


class _Numbers:
    """Counts the lists of a document as Word does."""

    def __init__(self, styles: etree._Element | None, numbering: etree._Element | None) -> None:
        self._style_of: dict[str, tuple[str, int]] = {}
        self._levels: dict[str, Mapping[int, tuple[str, str]]] = {}
        abstract: dict[str, Mapping[int, tuple[str, str]]] = {}
        for one in numbering.iter(f"{_W}abstractNum") if numbering is not None else ():
            abstract[one.get(f"{_W}abstractNumId", "")] = {
                int(level.get(f"{_W}ilvl", "0")): (_value(level, "lvlText"), _value(level, "numFmt"))
                for level in one.iter(f"{_W}lvl")
            }
        for one in numbering.iter(f"{_W}num") if numbering is not None else ():
            self._levels[one.get(f"{_W}numId", "")] = abstract.get(_value(one, "abstractNumId"), {})
        rows = list(styles.iter(f"{_W}style")) if styles is not None else []
        based = {row.get(f"{_W}styleId", ""): _value(row, "basedOn") for row in rows}
        own = {row.get(f"{_W}styleId", ""): _list_of(row) for row in rows}
        for name in own:
            at = name
            while at and own.get(at) is None:
                at = based.get(at, "")
            if found := own.get(at):
                self._style_of[name] = found
        self._counts: dict[int, int] = {}

    def restart(self) -> None:
        """A new section counts from one."""
        self._counts.clear()

    def listed(self, paragraph: etree._Element) -> bool:
        """Whether the paragraph carries a number that is printed."""
        return bool(self._level(paragraph)[1])

    def _level(self, paragraph: etree._Element) -> tuple[int, str, str, Mapping[int, tuple[str, str]]]:
        style = paragraph.find(f"{_W}pPr/{_W}pStyle")
        found = _list_of(paragraph) or self._style_of.get(
            style.get(f"{_W}val", "") if style is not None else ""
        )
        levels = self._levels.get(found[0], {}) if found else {}
        text, form = levels.get(found[1], ("", "")) if found else ("", "")
        return (found[1] if found else 0), "" if form in ("none", "bullet") else text, form, levels

    def number(self, paragraph: etree._Element) -> str:
        """The number of a paragraph with those of the article it stands in; empty where it has none."""
        level, text, _, levels = self._level(paragraph)
        if not text:
            return ""
        self._counts[level] = self._counts.get(level, 0) + 1
        for deeper in [key for key in self._counts if key > level]:
            del self._counts[deeper]
        shown = {at: _counted(count, levels[at][1]) for at, count in self._counts.items() if at in levels}
        parts: list[str] = []
        for at in sorted(shown):
            words = _LEVEL.sub(lambda m: shown.get(int(m[1]) - 1, ""), levels[at][0])
            if len(_LEVEL.findall(levels[at][0])) > 1:
                parts = [words.strip(" .):")]
            elif at == level or parts:
                parts.append(words.strip(" .):"))
        return ".".join(parts)


def _value(element: etree._Element, name: str) -> str:
    found = element.find(f"{_W}{name}")
    return "" if found is None else found.get(f"{_W}val", "")


def _list_of(element: etree._Element) -> tuple[str, int] | None:
    found = element.find(f"{_W}pPr/{_W}numPr")
    if found is None:
        return None
    return _value(found, "numId"), int(_value(found, "ilvl") or 0)


def _counted(count: int, form: str) -> str:
    """A count as the list writes it.

    >>> _counted(28, "upperLetter")
    'BB'
    """
    if form in ("upperLetter", "lowerLetter"):
        letter = chr(ord("A") + (count - 1) % 26) * ((count - 1) // 26 + 1)
        return letter if form == "upperLetter" else letter.lower()
    return str(count)
