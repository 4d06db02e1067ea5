"""The typeface that a PDF of ours carries: the letters of the drawings, whose widths the drawings are set out with."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from specgen.drawing.lettering import printable

if TYPE_CHECKING:
    Font = Any  # reportlab has no types

FONTS = Path(__file__).parent / "fonts"
FILES = {False: "LiberationSans-Regular.ttf", True: "LiberationSans-Bold.ttf"}
_NO_LETTER = "?"


@cache
def font(bold: bool = False) -> Font:
    """The typeface, which is put into each file that uses it."""
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    found = TTFont(f"specgen {'bold' if bold else 'plain'}", str(FONTS / FILES[bold]))
    registerFont(found)
    return found


def lettered(words: str, bold: bool = False) -> str:
    """Words in the letters of the typeface; a letter it does not hold prints as a question mark."""
    held = font(bold).face.charToGlyph
    return "".join(letter if ord(letter) in held else _NO_LETTER for letter in printable(words))
