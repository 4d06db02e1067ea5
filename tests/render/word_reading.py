"""A second reading of a saved Word file, from its own XML: texts, styles and the numbers its lists show.

Nothing of the writer is used: numbers are counted from ``numbering.xml`` the way ECMA-376 part 1, 17.9
describes it (a level starts over when a paragraph of a higher level has passed since its last one).
"""

from __future__ import annotations

import io
from dataclasses import dataclass

import docx
from docx.document import Document as WordDocument
from docx.oxml.ns import qn
from docx.text.paragraph import Paragraph


@dataclass(frozen=True)
class Line:
    """A paragraph as a reader sees it."""

    style: str
    label: str
    text: str


def opened(content: bytes) -> WordDocument:
    """The file as python-docx reads it."""
    return docx.Document(io.BytesIO(content))


def lines(content: bytes, gaps: bool = False) -> list[Line]:
    """Paragraphs of the body outside tables, with the label of the list; without pictures and gaps after tables."""
    word = opened(content)
    count = _Counter(word)
    found = []
    for paragraph in word.paragraphs:
        style = paragraph.style.name
        if paragraph._p.find(".//" + qn("w:drawing")) is not None:
            continue
        if style != "Table Gap" or gaps:
            found.append(Line(style, count.label(paragraph), paragraph.text))
    return found


class _Counter:
    def __init__(self, word: WordDocument) -> None:
        root = word.part.numbering_part.element
        abstract = {a.get(qn("w:abstractNumId")): a for a in root.findall(qn("w:abstractNum"))}
        self.lists = {
            n.get(qn("w:numId")): {
                int(level.get(qn("w:ilvl"))): level
                for level in abstract[n.find(qn("w:abstractNumId")).get(qn("w:val"))].findall(qn("w:lvl"))
            }
            for n in root.findall(qn("w:num"))
        }
        self.counts: dict[str, dict[int, int]] = {}

    def label(self, paragraph: Paragraph) -> str:
        """Advance the paragraph's list and say what stands before its words."""
        properties = paragraph.style.element.find(qn("w:pPr"))
        given = None if properties is None else properties.find(qn("w:numPr"))
        if given is None:
            return ""
        which = given.find(qn("w:numId")).get(qn("w:val"))
        depth = given.find(qn("w:ilvl"))
        at = 0 if depth is None else int(depth.get(qn("w:val")))
        levels = self.lists[which]
        assert levels[at].find(qn("w:pStyle")).get(qn("w:val")) == paragraph.style.style_id
        counts = self.counts.setdefault(which, {})
        counts[at] = counts.get(at, int(_value(levels[at], "start")) - 1) + 1
        for deeper in [level for level in counts if level > at]:
            # No level says otherwise with lvlRestart.
            assert levels[deeper].find(qn("w:lvlRestart")) is None
            del counts[deeper]
        text = _value(levels[at], "lvlText")
        for level in range(at + 1):
            mark = f"%{level + 1}"
            if mark in text:
                text = text.replace(mark, _shown(counts[level], _value(levels[level], "numFmt")))
        return text


def _value(level: object, name: str) -> str:
    return level.find(qn(f"w:{name}")).get(qn("w:val"))


def _shown(number: int, form: str) -> str:
    # ST_NumberFormat, ECMA-376 part 1, 17.18.59: letters are repeated after Z.
    letter = "abcdefghijklmnopqrstuvwxyz"[(number - 1) % 26] * ((number - 1) // 26 + 1)
    return {"decimal": str(number), "lowerLetter": letter, "upperLetter": letter.upper(), "bullet": "•"}[form]
