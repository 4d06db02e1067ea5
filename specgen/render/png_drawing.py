"""A drawing as a picture of dots, for whoever takes no SVG: its PDF page, drawn by pypdfium2."""

from __future__ import annotations

import io

from specgen.drawing.shapes import Drawing
from specgen.render.pdf_drawing import pdf_bytes

DOTS_AN_INCH = 192


def png_bytes(drawing: Drawing, dots_an_inch: int = DOTS_AN_INCH) -> bytes:
    """A drawing as PNG, black on white. Layers that are off are left out.

    Args:
        drawing: what is drawn; one dot is an inch of the sheet over ``dots_an_inch``.
        dots_an_inch: 36 to 1200.

    Raises:
        ValueError: a number of dots outside its range.
    """
    import pypdfium2

    if not 36 <= dots_an_inch <= 1200:
        raise ValueError(f"{dots_an_inch} dots an inch, outside 36 to 1200")
    document = pypdfium2.PdfDocument(pdf_bytes([drawing], drawing.title))
    try:
        picture = document[0].render(scale=dots_an_inch / 72.0).to_pil()
    finally:
        document.close()
    out = io.BytesIO()
    picture.convert("P", palette=1, colors=64).save(out, format="PNG", optimize=True)
    return out.getvalue()
