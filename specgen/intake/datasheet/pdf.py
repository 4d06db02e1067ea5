"""A PDF file to positioned words and rulings. Runs in a process of its own: the parser is not ours."""

from __future__ import annotations

import base64
import ctypes
import io
import math
from collections.abc import Iterator, Sequence
from typing import Any

import pypdfium2
import pypdfium2.raw as raw

from specgen.intake.datasheet.drawn import lies_across, paths, remarks, strike
from specgen.intake.datasheet.limits import (
    MOST_CHARACTERS,
    MOST_CHARACTERS_IN_ALL,
    MOST_PAGES,
    MOST_PIXELS,
    MOST_RULINGS,
    MOST_SIDE,
)

UNKNOWN = "□"  # stands for a sign whose meaning the file does not give: it may be ≤ or ≥
INVISIBLE = 3  # text rendering mode of a text that is not drawn, PDF 32000-1 table 106
RAISED = 0.18  # of the size of its line, at which a smaller character is a superscript
SMALL = 0.85
GAP = 0.16  # of the size: a wider gap parts two words
MARGIN = 24.0  # shown around a value [pt]
SCALE = 2.0  # pixels a point
LINE_HIGH = 1.15  # of the size of a font: the height of its lines
BOLD = 600  # weight of a font, from 100 to 900
SLANT = 4.0  # text that runs off the level or the upright by more is no text of a table [degrees]
MOST_SLANTED = 40  # texts of a page
INK = 60  # of 255: text that is drawn differs from its ground by more


Box = tuple[float, float, float, float]


class UnusableFileError(Exception):
    """The file cannot be used: what is wrong, and the fix."""

    def __init__(self, message: str, fix: str) -> None:
        super().__init__(message)
        self.message = message
        self.fix = fix


def opened(data: bytes) -> Any:
    """The document, if it is one and not too long.

    Raises:
        UnusableFileError: encrypted, damaged, or of too many pages.
    """
    try:
        document = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError as error:
        if "password" in str(error).lower() or "security" in str(error).lower():
            raise UnusableFileError(
                "the PDF is locked with a password", "ask for a copy without a password"
            ) from None
        raise UnusableFileError(
            "this is no PDF that can be opened: it is damaged or cut", "ask for the file again"
        ) from None
    count = len(document)
    if count > MOST_PAGES:
        raise UnusableFileError(
            f"{count} pages, at most {MOST_PAGES}", "send the pages of the data sheet alone"
        )
    if count == 0:
        raise UnusableFileError("the PDF has no page", "ask for the file again")
    return document


def read_pages(data: bytes, recognize: bool = False) -> list[dict[str, Any]]:
    """Every page with its words and rulings, as plain data.

    Args:
        data: the file.
        recognize: whether pages without text are read by character recognition.

    Raises:
        UnusableFileError: as :func:`opened`, or a page holds too much.
    """
    document = opened(data)
    pages, total = [], 0
    for index in range(len(document)):
        try:
            page = document[index]
        except pypdfium2.PdfiumError:
            pages.append(_blank(index + 1, "the page is damaged"))
            continue
        found = _page(page, index + 1)
        if recognize and not found["words"] and not found["unreadable"]:
            from specgen.intake.datasheet.recognize import recognized

            found["words"], found["unreadable"] = recognized(page, sum(one["recognized"] for one in pages))
            found["recognized"] = True
        total += sum(len(word[0]) for word in found["words"])
        if total > MOST_CHARACTERS_IN_ALL:
            raise UnusableFileError(
                f"more than {MOST_CHARACTERS_IN_ALL} characters", "send the pages of the data sheet alone"
            )
        pages.append(found)
        page.close()
    return pages


def _blank(number: int, why: str) -> dict[str, Any]:
    return {
        "number": number,
        "width": 612.0,
        "height": 792.0,
        "words": [],
        "rulings": [],
        "unreadable": why,
        "recognized": False,
        "slanted": [],
        "remarks": [],
        "figures": 0,
        "across": False,
    }


def _page(page: Any, number: int) -> dict[str, Any]:
    width, height = page.get_size()
    if not (0 < width <= MOST_SIDE and 0 < height <= MOST_SIDE):
        return _blank(number, f"the page measures {width:.0f} by {height:.0f} points")
    to_shown = _shown(page)
    text = page.get_textpage()
    count = text.count_chars()
    if count > MOST_CHARACTERS:
        raise UnusableFileError(
            f"page {number} holds {count} characters, at most {MOST_CHARACTERS}", "send the data sheet alone"
        )
    found = _letters(text, count, to_shown, page.get_rotation())
    inside = [letter for letter in found if _inside(letter, width, height)]
    letters = [letter for letter in inside if not letter.get("slanted")]
    rulings, slanted, pictures, figures = paths(page, to_shown, MOST_RULINGS)
    marks = remarks(page, to_shown)
    strike(letters, rulings, slanted, marks)
    return {
        "number": number,
        "width": width,
        "height": height,
        "words": list(_words(letters, width, height)),
        "rulings": [list(one) for one in rulings],
        "unreadable": "",
        "recognized": False,
        "slanted": _slanted([letter for letter in inside if letter.get("slanted") or letter["text"] == " "]),
        "remarks": [one["text"] for one in marks if one["text"]],
        "figures": len(pictures) + len(figures),
        "across": lies_across(pictures, figures, slanted, letters, width, height),
    }


def _slanted(letters: list[dict[str, Any]]) -> list[str]:
    """The texts that run at a slant, as watermarks do, in the order in which they are drawn."""
    texts, current, last = [], "", None
    for letter in letters:
        if letter["text"] == " ":
            current += " "
            continue
        if last is not None and letter["degrees"] != last:
            texts.append(current)
            current = ""
        current, last = current + letter["text"], letter["degrees"]
    return [" ".join(one.split()) for one in (*texts, current) if one.strip()][:MOST_SLANTED]


def _shown(page: Any) -> Any:
    """From the space of the page to the page as shown, its upper left corner at 0, 0."""
    left, bottom, right, top = page.get_bbox()
    turn = page.get_rotation()

    def point(x: float, y: float) -> tuple[float, float]:
        match turn:
            case 90:
                return y - bottom, x - left
            case 180:
                return right - x, y - bottom
            case 270:
                return top - y, right - x
            case _:
                return x - left, top - y

    return point


def _letters(text: Any, count: int, to_shown: Any, page_turn: int) -> Iterator[dict[str, Any]]:
    box = raw.FS_RECTF()
    x, y = ctypes.c_double(), ctypes.c_double()
    colors = [ctypes.c_uint() for _ in range(4)]
    matrix = raw.FS_MATRIX()
    for index in range(count):
        code = raw.FPDFText_GetUnicode(text, index)
        character = chr(code) if 0 < code < 0x110000 and not 0xD800 <= code < 0xE000 else ""
        if (
            raw.FPDFText_IsHyphen(text, index) == 1
        ):  # at the end of a line the parser takes it for one of its own
            code, character = ord("-"), "-"
        if raw.FPDFText_IsGenerated(text, index) == 1 or character.isspace() or 0 < code < 32:
            yield {"text": " "}
            continue
        if not character.isprintable() or raw.FPDFText_HasUnicodeMapError(text, index) == 1:
            character = UNKNOWN
        placed = raw.FPDFText_GetLooseCharBox(text, index, box) and raw.FPDFText_GetCharOrigin(
            text, index, x, y
        )
        if not placed:
            continue
        corners = (to_shown(box.left, box.top), to_shown(box.right, box.bottom))
        xs, ys = sorted(c[0] for c in corners), sorted(c[1] for c in corners)
        degrees = math.degrees(raw.FPDFText_GetCharAngle(text, index))
        quarter = round(degrees / 90)
        yield {
            "text": character,
            "box": (xs[0], ys[0], xs[1], ys[1]),
            "origin": to_shown(x.value, y.value),
            "turn": (quarter + page_turn // 90) % 4,
            "faint": _faint(text, index, colors),
            "size": LINE_HIGH * _em(text, index, matrix),
            "bold": raw.FPDFText_GetFontWeight(text, index) >= BOLD,
            "degrees": round(degrees),
            "slanted": abs(degrees - 90 * quarter) > SLANT,
        }


def _em(text: Any, index: int, matrix: Any) -> float:
    """The size of a letter's font as it is drawn [pt]: a box drawn tightly around letters does not tell it."""
    if not raw.FPDFText_GetMatrix(text, index, matrix):
        return 0.0
    return float(raw.FPDFText_GetFontSize(text, index) * math.hypot(matrix.c, matrix.d))


def _faint(text: Any, index: int, colors: list[Any]) -> bool:
    drawn = raw.FPDFText_GetTextObject(text, index)
    if drawn and raw.FPDFTextObj_GetTextRenderMode(drawn) == INVISIBLE:
        return True
    if not raw.FPDFText_GetFillColor(text, index, *colors):
        return False
    red, green, blue, alpha = (one.value for one in colors)
    return bool(alpha < 40 or min(red, green, blue) > 240)


def _inside(letter: dict[str, Any], width: float, height: float) -> bool:
    if "box" not in letter:
        return True
    left, top, right, bottom = letter["box"]
    return bool(right > 0 and bottom > 0 and left < width and top < height)


def turned(box: Sequence[float], turn: int, width: float, height: float) -> Box:
    """A box of the page as shown, in the frame that has turned back by ``turn`` quarters: its text runs level.

    >>> turned((10.0, 20.0, 30.0, 60.0), 1, 100.0, 200.0)
    (20.0, 70.0, 60.0, 90.0)
    """
    left, top, right, bottom = box
    match turn % 4:
        case 1:
            return top, width - right, bottom, width - left
        case 2:
            return width - right, height - bottom, width - left, height - top
        case 3:
            return height - bottom, left, height - top, right
        case _:
            return left, top, right, bottom


def _words(letters: list[dict[str, Any]], width: float, height: float) -> Iterator[list[Any]]:
    """Words in the frame of their turn: [text, left, top, right, bottom, size, faint, turn, baseline, struck, bold]."""
    current: list[dict[str, Any]] = []
    for letter in letters:
        if letter["text"].isspace():
            yield from _joined(current)
            current = []
            continue
        turn = letter["turn"]
        left, top, right, bottom = turned(letter["box"], turn, width, height)
        origin = turned((*letter["origin"], *letter["origin"]), turn, width, height)
        placed = {**letter, "box": (left, top, right, bottom), "base": origin[1]}
        placed["size"] = max(bottom - top, letter["size"])
        if current and _parted(current[-1], placed):
            yield from _joined(current)
            current = []
        current.append(placed)
    yield from _joined(current)


def _parted(last: dict[str, Any], new: dict[str, Any]) -> bool:
    size = max(last["size"], new["size"], 1.0)
    gap = new["box"][0] - last["box"][2]
    return bool(
        last["turn"] != new["turn"]
        or last["faint"] != new["faint"]
        or not -0.5 * size < gap < GAP * size
        or abs(last["base"] - new["base"]) > 0.1 * size
        or not SMALL < (last["size"] or 1.0) / (new["size"] or 1.0) < 1 / SMALL
    )


def _joined(letters: list[dict[str, Any]]) -> Iterator[list[Any]]:
    if not letters:
        return
    boxes = [one["box"] for one in letters]
    first = letters[0]
    yield [
        "".join(one["text"] for one in letters),
        round(min(box[0] for box in boxes), 2),
        round(min(box[1] for box in boxes), 2),
        round(max(box[2] for box in boxes), 2),
        round(max(box[3] for box in boxes), 2),
        round(max(one["size"] for one in letters), 2),
        first["faint"],
        first["turn"],
        round(first["base"], 2),
        2 * sum(one["struck"] for one in letters) >= len(letters),
        first["bold"],
    ]


def crops(data: bytes, wanted: list[tuple[int, Box, Box]]) -> list[dict[str, Any]]:
    """A PNG picture of each wanted region, in base 64, and whether anything is drawn where its value stands.

    Args:
        data: the file.
        wanted: page number, region, and place of the value in it.
    """
    document = opened(data)
    return [_crop(document, number, box, value) for number, box, value in wanted]


def _crop(document: Any, number: int, box: Box, value: Box) -> dict[str, Any]:
    from PIL import ImageDraw

    page = document[number - 1]
    width, height = page.get_size()
    left, top = max(box[0] - MARGIN * 4, 0.0), max(box[1] - MARGIN, 0.0)
    right, bottom = min(box[2] + MARGIN * 4, width), min(box[3] + MARGIN, height)
    if right - left < 1 or bottom - top < 1:
        return {"picture": "", "drawn": False}
    scale = min(SCALE, math.sqrt(MOST_PIXELS / ((right - left) * (bottom - top))))
    bitmap = page.render(scale=scale, crop=(left, height - bottom, width - right, top))
    picture = bitmap.to_pil().convert("RGB")

    def pixels(one: Box, room: float) -> tuple[float, float, float, float]:
        return (
            (one[0] - left - room) * scale,
            (one[1] - top - room) * scale,
            (one[2] - left + room) * scale,
            (one[3] - top + room) * scale,
        )

    seen = picture.convert("L").crop(tuple(round(side) for side in pixels(value, 0.0)))
    dark, light = seen.getextrema() if seen.width and seen.height else (0, 0)
    ImageDraw.Draw(picture).rectangle(pixels(box, 2.0), outline=(190, 60, 0), width=2)
    out = io.BytesIO()
    picture.save(out, "PNG", optimize=True)
    return {"picture": base64.b64encode(out.getvalue()).decode(), "drawn": light - dark > INK}
