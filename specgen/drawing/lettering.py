"""How wide lettering is, and the box it fills: without a font file, by the widths of the sheet's typeface."""

from __future__ import annotations

import re
from math import fsum

from specgen.drawing.shapes import (
    LETTERS_ABOVE,
    LETTERS_BELOW,
    Box,
    Bubble,
    Dimension,
    Item,
    Text,
    dimension_parts,
)

# Advance widths of the printable ASCII characters of Helvetica and its metric equals, thousandths of the size.
_PLAIN = (
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833,
    722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556,
    556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334,
    260, 334, 584,
)  # fmt: skip
_BOLD = (
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833,
    722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556, 333, 556, 611, 556, 611,
    556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611, 611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389,
    280, 389, 584,
)  # fmt: skip
# The same of the letters and signs of western Europe, from the no-break space on.
_PLAIN_LATIN = (
    278, 333, 556, 556, 556, 556, 260, 556, 333, 737, 370, 556, 584, 333, 737, 552, 400, 549, 333, 333, 333,
    576, 537, 333, 333, 333, 365, 556, 834, 834, 834, 611, 667, 667, 667, 667, 667, 667, 1000, 722, 667, 667,
    667, 667, 278, 278, 278, 278, 722, 722, 778, 778, 778, 778, 778, 584, 778, 722, 722, 722, 722, 667, 667,
    611, 556, 556, 556, 556, 556, 556, 889, 500, 556, 556, 556, 556, 278, 278, 278, 278, 556, 556, 556, 556,
    556, 556, 556, 549, 611, 556, 556, 556, 556, 500, 556, 500,
)  # fmt: skip
_BOLD_LATIN = (
    278, 333, 556, 556, 556, 556, 280, 556, 333, 737, 370, 556, 584, 333, 737, 552, 400, 549, 333, 333, 333,
    576, 556, 333, 333, 333, 365, 556, 834, 834, 834, 611, 722, 722, 722, 722, 722, 722, 1000, 722, 667, 667,
    667, 667, 278, 278, 278, 278, 722, 722, 778, 778, 778, 778, 778, 584, 778, 722, 722, 722, 722, 667, 667,
    611, 556, 556, 556, 556, 556, 556, 889, 556, 556, 556, 556, 556, 278, 278, 278, 278, 611, 611, 611, 611,
    611, 611, 611, 549, 611, 611, 611, 611, 611, 556, 611, 556,
)  # fmt: skip
_OTHER = 1000  # beyond these: a line of them is no wider


class _Widths(dict[str, int]):
    """Advance widths by letter."""

    def __missing__(self, letter: str) -> int:
        return _OTHER


_WIDTHS = tuple(
    _Widths(
        {chr(start + at): one for start, table in ((32, plain), (160, latin)) for at, one in enumerate(table)}
    )
    for plain, latin in ((_PLAIN, _PLAIN_LATIN), (_BOLD, _BOLD_LATIN))
)
_UNBROKEN = re.compile(r"\d\d \d\d \d\d\S*|\S+")  # a section's number stays on one line


def width(words: str, size: float, bold: bool = False) -> float:
    """Width of a line of lettering [mm].

    >>> round(width("3 in", 10.0), 2)
    16.12
    """
    return fsum(map(_WIDTHS[bold].__getitem__, words)) * size / 1000.0


def printable(words: str) -> str:
    """Words without what no drawing file may hold: control characters become spaces, runs of spaces one."""
    return " ".join("".join(letter if letter.isprintable() else " " for letter in words).split())


def cut(words: str, size: float, room: float, bold: bool = False) -> str:
    """Words shortened to fit a width, an ellipsis where they end.

    >>> cut("an unusually long name", 2.4, 15.0)
    'an unusuall…'
    """
    if width(words, size, bold) <= room:
        return words
    while words and width(words + "…", size, bold) > room:
        words = words[:-1]
    return words.rstrip() + "…"


def wrapped(words: str, size: float, room: float, bold: bool = False) -> tuple[str, ...]:
    """Words broken into lines no wider than the room; a word too long for a line is broken.

    >>> wrapped("roof membrane base flashing", 2.4, 16.0)
    ('roof', 'membrane', 'base flashing')
    """
    lines, line = [], ""
    for word in _UNBROKEN.findall(printable(words)) or [""]:
        while width(word, size, bold) > room and len(word) > 1:
            keep = len(word) - 1
            while keep > 1 and width(word[:keep], size, bold) > room:
                keep -= 1
            if line:
                lines.append(line)
                line = ""
            lines.append(word[:keep])
            word = word[keep:]
        longer = f"{line} {word}" if line else word
        if width(longer, size, bold) <= room:
            line = longer
        else:
            lines.append(line)
            line = word
    return (*lines, line) if line else tuple(lines)


def text_box(text: Text) -> Box:
    """The box a line of lettering fills."""
    long = width(text.words, text.height, text.bold)
    start = {"start": 0.0, "middle": -long / 2.0, "end": -long}[text.anchor]
    x, y = text.at
    below, above = LETTERS_BELOW * text.height, LETTERS_ABOVE * text.height
    if text.upward:
        return x - above, y + start, x + below, y + start + long
    return x + start, y - below, x + start + long, y + above


def box_of(item: Item) -> Box | None:
    """The box of an item's lettering; None for what has none."""
    match item:
        case Text():
            return text_box(item)
        case Bubble():
            (x, y), r = item.at, item.radius
            return x - r, y - r, x + r, y + r
        case Dimension():
            return text_box(dimension_parts(item)[1])
        case _:
            return None
