"""Shares of ink and the accent in each writer, and a drawing as a picture of dots."""

from __future__ import annotations

import io
import re

import numpy as np
import pikepdf
import pytest
from PIL import Image

from specgen.drawing.shapes import Drawing, Layer, Shade, Stroke, Text, moved, rectangle
from specgen.render.dxf import dxf_bytes
from specgen.render.pdf_drawing import pdf_bytes
from specgen.render.png_drawing import png_bytes
from specgen.render.svg import svg_bytes

BOX = rectangle(10.0, 10.0, 30.0, 20.0)


def drawing() -> Drawing:
    layers = (
        Layer("shade", "shades"),
        Layer("limit", "limits", tone="accent"),
        Layer("grid", "g", tone="faint"),
    )
    items = (
        Shade("shade", (BOX, rectangle(40.0, 10.0, 60.0, 20.0)), 0.5),
        Stroke("limit", ((10.0, 30.0), (90.0, 30.0)), "heavy"),
        Text("limit", (10.0, 32.0), "20 %"),
        Stroke("grid", ((10.0, 40.0), (90.0, 40.0)), "heavy"),
    )
    return Drawing("t", "t", "d", (100.0, 50.0), "not to scale", 1.0, layers, items)


def test_svg_shades_by_the_readers_ink_and_colors_by_the_layer() -> None:
    data = svg_bytes(drawing()).decode()
    assert '<path class="shade" fill-opacity="0.5" d="M10 40 30 40 30 30 10 30ZM40 40' in data
    assert 'class="layer accent limit"' in data and 'class="layer faint grid"' in data
    body = data[data.index("</style>") :]
    assert not re.search(r"(fill|stroke|color)=\"#", body)


def test_the_accent_is_read_on_paper_light_and_dark() -> None:
    style = svg_bytes(drawing()).decode()
    accents = re.findall(r"\.accent\{color:#(\w{6})\}", style)
    papers = ["ffffff", "181818", "ffffff"]
    assert len(accents) == len(papers)

    def luminance(color: str) -> float:
        parts = [int(color[at : at + 2], 16) / 255 for at in (0, 2, 4)]
        r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
        return 0.2126 * r + 0.7152 * g + 0.0722 * b

    for ink, paper in zip(accents, papers, strict=True):
        low, high = sorted((luminance(ink), luminance(paper)))
        assert (high + 0.05) / (low + 0.05) >= 4.5  # WCAG 2.1, 1.4.3


def test_pdf_fills_with_the_share_and_strokes_with_the_tone() -> None:
    with pikepdf.open(io.BytesIO(pdf_bytes([drawing()], "x"))) as pdf:
        page = pdf.pages[0].Contents.read_bytes().decode("latin-1")
    assert ".5 g" in page and ".56 .18 .1 RG" in page and ".8 .8 .8 RG" in page


def test_dxf_keeps_the_edges() -> None:
    assert dxf_bytes(drawing()).decode().count("LWPOLYLINE") >= 4


def test_a_shade_moves_as_the_others_do() -> None:
    shade = moved(drawing().items[0], lambda point: (point[0] + 1.0, point[1]))
    assert isinstance(shade, Shade)
    assert shade.outlines[0][0] == (11.0, 10.0) and shade.share == 0.5


def test_png_has_the_size_and_the_inks_of_the_sheet() -> None:
    data = png_bytes(drawing(), 254)
    assert data == png_bytes(drawing(), 254)
    picture = Image.open(io.BytesIO(data))
    assert picture.size == (pytest.approx(1000, abs=1), pytest.approx(500, abs=1))
    dots = np.asarray(picture.convert("RGB")).astype(int)
    assert dots[2, 2].tolist() == [255, 255, 255]
    assert dots[500 - 150, 200].tolist() == pytest.approx([128] * 3, abs=3)
    red, green, blue = dots[500 - 300, 700].tolist()
    assert red > 110 and green < 90 and blue < 70
    assert not {"Software", "Creator"} & set(picture.info)


@pytest.mark.parametrize("dots", [0, -192, 35, 1201])
def test_a_number_of_dots_that_is_none_is_refused(dots: int) -> None:
    with pytest.raises(ValueError, match="dots an inch"):
        png_bytes(drawing(), dots)
