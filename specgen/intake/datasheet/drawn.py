"""What lies over the text of a PDF page or beside it: strokes through words, remarks, pictures. Runs beside ``pdf``."""

from __future__ import annotations

import ctypes
import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

import pypdfium2.raw as raw

Box = tuple[float, float, float, float]
THIN = 3.0  # a path no thicker is a ruling [pt]
FEW_SEGMENTS = 8  # a stroke or a rectangle has no more
LONG = 12.0  # a slanted line that crosses something out measures at least that, both ways [pt]
# Of the height of a letter: a level stroke between crosses it out, one below underlines it.
UPPER, LOWER = 0.3, 0.7
ACROSS = 0.03  # of the page: a drawing that covers more of it can say something
WATERMARK = 0.08  # of the page: a drawn figure that covers more of it is as large as a watermark
MOST_REMARKS = 200
MOST_OVER = (
    200  # slanted strokes, and large figures, that are held against the letters of a page; more count as one
)
LONGEST_REMARK = 400
PASSED_OVER = frozenset(
    (raw.FPDF_ANNOT_LINK, raw.FPDF_ANNOT_POPUP, raw.FPDF_ANNOT_UNDERLINE, raw.FPDF_ANNOT_HIGHLIGHT)
)


def remarks(page: Any, to_shown: Any) -> list[dict[str, Any]]:
    """The annotations of a page that are no links: the words of each, and where it lies.

    Returns:
        For each its ``text`` (a stamp without words gives its name) and its ``box`` [pt].
    """
    found = []
    for index in range(min(raw.FPDFPage_GetAnnotCount(page.raw), MOST_REMARKS)):
        one = raw.FPDFPage_GetAnnot(page.raw, index)
        if not one:
            continue
        hidden = raw.FPDFAnnot_GetFlags(one) & (raw.FPDF_ANNOT_FLAG_HIDDEN | raw.FPDF_ANNOT_FLAG_NOVIEW)
        if raw.FPDFAnnot_GetSubtype(one) not in PASSED_OVER and not hidden:
            words = _words(one, b"Contents") or _words(one, b"Name") or _words(one, b"V")
            rect = raw.FS_RECTF()
            if raw.FPDFAnnot_GetRect(one, rect):
                box = _sorted(to_shown(rect.left, rect.bottom), to_shown(rect.right, rect.top))
                found.append({"text": words, "box": box})
        raw.FPDFPage_CloseAnnot(one)
    return found


def _words(annotation: Any, key: bytes) -> str:
    length = raw.FPDFAnnot_GetStringValue(annotation, key, None, 0)
    if length <= 2:
        return ""
    held = ctypes.create_string_buffer(length)
    raw.FPDFAnnot_GetStringValue(annotation, key, ctypes.cast(held, ctypes.POINTER(raw.FPDF_WCHAR)), length)
    text = held.raw.decode("utf-16-le", "replace").rstrip("\0")
    return " ".join("".join(c if c.isprintable() else " " for c in text[:LONGEST_REMARK]).split())


def paths(page: Any, to_shown: Any, most: int) -> tuple[list[Box], list[Box], list[Box], list[Box]]:
    """Rulings, slanted strokes and drawings of a page.

    Args:
        page: of pypdfium2.
        to_shown: from the space of the page to the page as shown.
        most: rulings; a page with more has none that could be told.

    Returns:
        Boxes [pt] of level and upright lines and edges of rectangles; of slanted lines; of pictures; and of drawn figures
        that are no line and no rectangle.
    """
    rulings: list[Box] = []
    slanted: list[Box] = []
    pictures: list[Box] = []
    figures: list[Box] = []
    kinds = [raw.FPDF_PAGEOBJ_PATH, raw.FPDF_PAGEOBJ_IMAGE, raw.FPDF_PAGEOBJ_SHADING]
    for drawn in page.get_objects(filter=kinds, max_depth=4):
        left, bottom, right, top = drawn.get_bounds()
        box = _sorted(to_shown(left, bottom), to_shown(right, top))
        if drawn.type != raw.FPDF_PAGEOBJ_PATH:
            pictures.append(box)
        elif min(box[2] - box[0], box[3] - box[1]) <= THIN:
            rulings.append(box)
        elif raw.FPDFPath_CountSegments(drawn.raw) > FEW_SEGMENTS:
            figures.append(box)
        elif _slants(drawn):
            slanted.append(box)
        else:
            x0, y0, x1, y1 = box
            rulings += [(x0, y0, x1, y0), (x0, y1, x1, y1), (x0, y0, x0, y1), (x1, y0, x1, y1)]
    return rulings if len(rulings) <= most else [], slanted, pictures, figures


def _slants(drawn: Any) -> bool:
    """Whether a path of few segments is a slanted line: no edge of it is level or upright."""
    points = []
    x, y = ctypes.c_float(), ctypes.c_float()
    for index in range(raw.FPDFPath_CountSegments(drawn.raw)):
        segment = raw.FPDFPath_GetPathSegment(drawn.raw, index)
        if raw.FPDFPathSegment_GetPoint(segment, x, y):
            points.append((x.value, y.value))
    edges = [(abs(b[0] - a[0]), abs(b[1] - a[1])) for a, b in pairwise(points)]
    return any(wide > LONG and high > LONG for wide, high in edges)


def strike(
    letters: Sequence[dict[str, Any]],
    rulings: Sequence[Box],
    slanted: Sequence[Box],
    marks: Sequence[dict[str, Any]],
) -> None:
    """Mark the letters that a stroke crosses out or a remark lies over: ``struck`` of each becomes true."""
    over = [*slanted[:MOST_OVER], *(tuple(one["box"]) for one in marks)]
    level = sorted(_strokes(rulings, upright=False))
    upright = sorted(_strokes(rulings, upright=True))
    for letter in letters:
        if "box" not in letter:
            continue
        left, top, right, bottom = letter["box"]
        x, y = (left + right) / 2, (top + bottom) / 2
        turned = letter["turn"] % 2 == 1
        start, size = (left, right - left) if turned else (top, bottom - top)
        strokes, along = (upright, y) if turned else (level, x)
        first = bisect_left(strokes, (start + UPPER * size,))
        last = bisect_right(strokes, (start + LOWER * size, math.inf))
        letter["struck"] = any(begin <= along <= end for _, begin, end in strokes[first:last]) or any(
            one[0] <= x <= one[2] and one[1] <= y <= one[3] for one in over
        )


def _strokes(rulings: Sequence[Box], upright: bool) -> Iterator[tuple[float, float, float]]:
    """Level or upright rulings as: where it stands, from, to."""
    for left, top, right, bottom in rulings:
        lies = right - left >= bottom - top
        if upright and not lies:
            yield (left + right) / 2, top, bottom
        elif lies and not upright:
            yield (top + bottom) / 2, left, right


def lies_across(
    pictures: Sequence[Box],
    figures: Sequence[Box],
    slanted: Sequence[Box],
    letters: Sequence[dict[str, Any]],
    width: float,
    height: float,
) -> bool:
    """Whether a picture or a figure of some size lies over text: it can be a watermark, which is not read.

    A drawn figure as large as a watermark counts wherever it lies: word processors draw theirs as outlines. So does a
    page with more large figures or slanted strokes than are held against its letters.
    """

    def share(one: Box) -> float:
        return (one[2] - one[0]) * (one[3] - one[1]) / (width * height)

    if any(share(one) >= WATERMARK for one in figures):
        return True
    large = [one for one in (*pictures, *figures) if share(one) >= ACROSS]
    placed = [one["box"] for one in letters if "box" in one]
    return max(len(large), len(slanted)) > MOST_OVER or any(
        one[0] <= (box[0] + box[2]) / 2 <= one[2] and one[1] <= (box[1] + box[3]) / 2 <= one[3]
        for one in large
        for box in placed
    )


def _sorted(one: tuple[float, float], other: tuple[float, float]) -> Box:
    xs, ys = sorted((one[0], other[0])), sorted((one[1], other[1]))
    return round(xs[0], 2), round(ys[0], 2), round(xs[1], 2), round(ys[1], 2)
