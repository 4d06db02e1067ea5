"""Any drawing inside a page: the elements of its file, without the style sheet."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

from specgen.drawing.shapes import Layer
from specgen.render.svg import svg_bytes
from specgen.render.svg_inline import inline_svg
from tests.drawing.jobs import DEMOS, sheets_of

SVG = "{http://www.w3.org/2000/svg}"


def test_every_sheet_has_the_shapes_of_its_file_and_no_style() -> None:
    for sheet in sheets_of(DEMOS[0]):
        inline = inline_svg(sheet)
        root = ElementTree.fromstring(inline)
        assert root.get("role") == "img" and root.get("aria-label") == sheet.title
        assert "style" not in {name for one in root.iter() for name in one.attrib}
        assert not root.findall(f".//{SVG}style") and not root.findall(f".//{SVG}a")
        shown = replace(sheet, layers=tuple(layer for layer in sheet.layers if layer.on))
        in_file = ElementTree.fromstring(svg_bytes(shown))
        for kind in ("path", "text", "circle"):
            assert len(root.findall(f".//{SVG}{kind}")) == len(in_file.findall(f".//{SVG}{kind}"))
        assert inline == inline_svg(sheet)


def test_words_are_escaped_and_tones_are_classes() -> None:
    sheet = sheets_of(DEMOS[0])[0]
    layers = (Layer(sheet.items[0].layer, "a layer", tone="accent"), *sheet.layers)
    hostile = replace(sheet, title='"><script>', description="</desc><script>", layers=layers)
    inline = inline_svg(hostile)
    assert "<script" not in inline
    assert 'class="layer outline accent"' in inline or " accent" in inline
