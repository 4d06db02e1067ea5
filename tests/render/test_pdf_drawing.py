"""The PDF of all sheets: a page a sheet at its size, drawn lines at their length, the same bytes again."""

from __future__ import annotations

import re
import zlib

import pytest

from specgen.drawing.shapes import Drawing, Layer, Stroke, Text
from tests.drawing.jobs import DEMOS, sheets_of

pytest.importorskip("reportlab")
from specgen.render.pdf_drawing import POINT, pdf_bytes


def drawn() -> list[Drawing]:
    return [one for folder in DEMOS for one in sheets_of(folder)]


def contents(data: bytes) -> str:
    """What the pages draw, unpacked."""
    streams = re.findall(rb"stream\r?\n(.*?)endstream", data, re.DOTALL)
    return "\n".join(zlib.decompress(one).decode("latin-1") for one in streams)


def one(*items: Stroke | Text) -> Drawing:
    layers = (Layer("note", "notes"), Layer("control-air", "path of air", on=False))
    return Drawing("t", "t", "t", (279.4, 215.9), "1:4", 4.0, layers, items)


def test_a_page_a_sheet_at_the_size_of_its_paper() -> None:
    data = pdf_bytes(drawn(), "2601 Demo")
    boxes = re.findall(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", data)
    assert [(float(w), float(h)) for w, h in boxes] == [
        (pytest.approx(d.size[0] * POINT, abs=0.01), pytest.approx(d.size[1] * POINT, abs=0.01))
        for d in drawn()
    ]
    assert (pytest.approx(215.9 * POINT), pytest.approx(279.4 * POINT)) == (612.0, 792.0)


def test_same_sheets_same_bytes() -> None:
    assert pdf_bytes(drawn(), "x") == pdf_bytes(drawn(), "x")


def test_lines_are_drawn_in_millimeters_of_the_sheet() -> None:
    drawn = contents(pdf_bytes([one(Stroke("note", ((10.0, 20.0), (110.0, 20.0))))], "x"))
    assert re.search(r"2\.83464\d* 0 0 2\.83464\d* 0 0 cm", drawn)
    assert "10 20 m 110 20 l" in drawn


def test_a_layer_that_is_off_is_left_out() -> None:
    drawn = contents(pdf_bytes([one(Stroke("control-air", ((10.0, 20.0), (110.0, 20.0))))], "x"))
    assert "10 20 m" not in drawn


def test_letters_the_typeface_does_not_hold_do_not_stop_it() -> None:
    drawn = contents(pdf_bytes([one(Text("note", (10.0, 20.0), "Süd 北 wall (3)"))], "北"))
    assert "S\\374d ? wall \\(3\\)" in drawn
