"""Drawings as PDF pages at their true scale, through reportlab, which is loaded where a PDF is made."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import groupby
from typing import TYPE_CHECKING, Any

from specgen.drawing.hatches import strokes
from specgen.drawing.shapes import (
    DASHES,
    PENS,
    Area,
    Bubble,
    Dimension,
    Drawing,
    Item,
    Point,
    Shade,
    Stroke,
    Text,
    Tone,
    arrow_head,
    dimension_parts,
)
from specgen.render.pdf_fonts import font, lettered
from specgen.render.pdf_tags import LANGUAGE, SheetTags, describe, put_tags, sheet_tags

if TYPE_CHECKING:
    Canvas = Any  # reportlab has no types

POINT = 72.0 / 25.4  # points in a millimeter
INKS: dict[Tone, tuple[float, float, float]] = {
    "ink": (0.0, 0.0, 0.0),
    "accent": (0.56, 0.18, 0.1),
    "faint": (0.8, 0.8, 0.8),
}
_VERSION = (1, 7)  # the tags of PDF/UA are those of this one


def pdf_bytes(drawings: Sequence[Drawing], title: str, author: str = "") -> bytes:
    """Drawings as one tagged PDF (PDF/UA), a page each, the same bytes for the same drawings.

    Layers that are off are left out. The file carries its typeface, and each drawing its description.
    """
    from reportlab.pdfgen.canvas import Canvas as NewCanvas

    out = io.BytesIO()
    with _binary_pages():
        canvas = NewCanvas(
            out,
            invariant=True,
            pageCompression=1,
            pdfVersion=_VERSION,
            initialFontName=font().fontName,
            lang=LANGUAGE,
        )
        describe(canvas, lettered(title), lettered(author))
        pages = [(lettered(drawing.title), _page(canvas, drawing)) for drawing in drawings]
        put_tags(canvas, pages)
        canvas.save()
    return out.getvalue()


@contextmanager
def _binary_pages() -> Iterator[None]:
    """Pages as bytes, not told again in letters, which takes longer and a quarter more room."""
    from reportlab import rl_config

    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before


def _page(canvas: Canvas, drawing: Drawing) -> SheetTags:
    canvas.setPageSize((drawing.size[0] * POINT, drawing.size[1] * POINT))
    canvas.bookmarkPage(drawing.name)
    canvas.addOutlineEntry(lettered(drawing.title), drawing.name)
    canvas.scale(POINT, POINT)
    canvas.setLineJoin(1)
    items, tags = list(drawing.shown()), sheet_tags(drawing, POINT)
    ink = {layer.name: INKS[layer.tone] for layer in drawing.layers}
    layered = [item for name in ink for item in items if item.layer == name]
    for tag, run in groupby(sorted(layered, key=tags.place), tags.tag):  # drawn in the order it is read
        with tags.around(canvas, tag):
            for name, together in groupby(run, lambda item: item.layer):
                canvas.setStrokeColorRGB(*ink[name])
                for item in together:
                    _draw(canvas, item, ink[name])
    canvas.showPage()
    return tags


def _draw(canvas: Canvas, item: Item, ink: tuple[float, float, float]) -> None:
    match item:
        case Stroke():
            _line(canvas, item)
        case Area():
            _area(canvas, item)
        case Text():
            _text(canvas, item, ink)
        case Bubble():
            _bubble(canvas, item)
        case Dimension():
            lines, text = dimension_parts(item)
            for line in lines:
                _line(canvas, line)
            _text(canvas, text, ink)
        case Shade():
            canvas.setFillGray(1.0 - item.share)
            for outline in item.outlines:
                canvas.drawPath(_trace(canvas, outline, True), stroke=0, fill=1)


def _trace(canvas: Canvas, points: Sequence[Point], closed: bool) -> Any:
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    if closed:
        path.close()
    return path


def _line(canvas: Canvas, line: Stroke) -> None:
    canvas.setLineWidth(PENS[line.pen])
    canvas.setDash(list(DASHES[line.dash]), 0)
    canvas.drawPath(_trace(canvas, line.points, line.closed), stroke=1, fill=0)
    canvas.setDash([], 0)
    if line.arrow:
        canvas.setFillGray(0.0)
        canvas.drawPath(_trace(canvas, arrow_head(line), True), stroke=0, fill=1)


def _area(canvas: Canvas, area: Area) -> None:
    canvas.setFillGray(0.0 if area.hatch == "solid" else 1.0)
    canvas.drawPath(_trace(canvas, area.outline, True), stroke=0, fill=1)
    drawn = strokes(area.outline, area.hatch)
    if drawn.lines:
        canvas.setLineWidth(0.1)
        canvas.addLiteral(" ".join(map(_stroke, drawn.runs)) + " S")
    if drawn.dots:
        canvas.setLineWidth(0.22)
        canvas.setLineCap(1)
        canvas.addLiteral(" ".join(_stroke((dot, dot)) for dot in drawn.dots) + " S")
        canvas.setLineCap(0)
    if area.pen is not None:
        canvas.setLineWidth(PENS[area.pen])
        canvas.drawPath(_trace(canvas, area.outline, True), stroke=1, fill=0)


def _stroke(points: Sequence[Point]) -> str:
    """A line as the page's own words: the library writes each number slowly, and hatches hold thousands."""
    steps = ("{:.2f} {:.2f} l".format(*point) for point in points[1:])
    return " ".join(("{:.2f} {:.2f} m".format(*points[0]), *steps))


def _text(canvas: Canvas, text: Text, ink: tuple[float, float, float]) -> None:
    face, words = font(text.bold), lettered(text.words, text.bold)
    long = face.stringWidth(words, text.height)
    start = {"start": 0.0, "middle": -long / 2.0, "end": -long}[text.anchor]
    canvas.saveState()
    canvas.translate(*text.at)
    if text.upward:
        canvas.rotate(90)
    if text.halo:
        canvas.setFillGray(1.0)
        canvas.rect(start - 0.3, -0.2 * text.height, long + 0.6, 0.95 * text.height, stroke=0, fill=1)
    canvas.setFillColorRGB(*ink)
    canvas.setFont(face.fontName, text.height)
    canvas.drawString(start, 0.0, words)
    canvas.restoreState()


def _bubble(canvas: Canvas, bubble: Bubble) -> None:
    (x, y), r = bubble.at, bubble.radius
    canvas.setLineWidth(0.13)
    if bubble.anchor != bubble.at:
        canvas.line(x, y, *bubble.anchor)
        canvas.setFillGray(0.0)
        canvas.circle(*bubble.anchor, 0.45, stroke=0, fill=1)
    canvas.setLineWidth(0.25)
    canvas.setFillGray(1.0)
    if bubble.shape == "circle":
        canvas.circle(x, y, r, stroke=1, fill=1)
    else:
        corners = ((x - r, y), (x, y + r), (x + r, y), (x, y - r))
        canvas.drawPath(_trace(canvas, corners, True), stroke=1, fill=1)
    canvas.setFillGray(0.0)
    size = min(1.05 * r, 2.5)
    canvas.setFont(font(bold=True).fontName, size)
    canvas.drawCentredString(x, y - 0.36 * size, lettered(bubble.key, bold=True))
