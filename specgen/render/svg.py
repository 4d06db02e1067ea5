"""Drawings as SVG: one file that needs no other, the same bytes for the same drawing."""

from __future__ import annotations

from specgen.drawing.lettering import printable
from specgen.drawing.shapes import Drawing, Layer
from specgen.render.svg_items import class_name, escape, num, svg_mark

# Ink is the reader's text color and paper the page: both follow a dark page, and print black on white.
_STYLE = """
svg{color:#111;background:#fff;font-family:Helvetica,Arial,'Liberation Sans',sans-serif}
path,circle{fill:none;stroke:currentColor;stroke-linejoin:round}
text{fill:currentColor;stroke:none}
.halo{paint-order:stroke;stroke:#fff;stroke-width:.9;stroke-linejoin:round}
.paper{fill:#fff;stroke:none}.sheet-fill{fill:#fff}.solid{fill:currentColor}.dots{stroke-linecap:round}
.off{display:none}.off:target{display:inline}
.shade{fill:currentColor;stroke:none;shape-rendering:crispEdges}.faint{color:#ccc}.accent{color:#a3341f}
@media (prefers-color-scheme:dark){svg{color:#eee;background:#181818}
.paper,.sheet-fill{fill:#181818}.halo{stroke:#181818}.faint{color:#444}.accent{color:#ff9d7a}}
@media print{svg{color:#000;background:#fff}.paper,.sheet-fill{fill:#fff}.halo{stroke:#fff}.switch{display:none}
.faint{color:#ccc}.accent{color:#8f2d1a}}
"""


def svg_bytes(drawing: Drawing) -> bytes:
    """A drawing as an SVG file at its true size.

    Layers are groups with an id; one that is off can be shown by the link at the foot of the sheet, or by its id
    behind the file's address.
    """
    width, height = drawing.size
    body = [_layer(layer, drawing) for layer in drawing.layers]
    name = class_name(drawing.name)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" role="img" '
        f'aria-labelledby="{name}-title {name}-desc" width="{num(width)}mm" height="{num(height)}mm" '
        f'viewBox="0 0 {num(width)} {num(height)}">'
    )
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        head,
        f'<title id="{name}-title">{escape(printable(drawing.title))}</title>',
        f'<desc id="{name}-desc">{escape(printable(drawing.description))}</desc>',
        f"<style>{_STYLE}</style>",
        *body,
        *_switches(drawing),
        "</svg>",
    ]
    return ("\n".join(part for part in parts if part) + "\n").encode()


def _layer(layer: Layer, drawing: Drawing) -> str:
    height = drawing.size[1]
    marks = [svg_mark(item, height) for item in drawing.items if item.layer == layer.name]
    if not marks:
        return ""
    shown = ("layer" if layer.on else "layer off") + ("" if layer.tone == "ink" else f" {layer.tone}")
    title = escape(layer.title)
    return "\n".join(
        [
            f'<g id="{class_name(layer.name)}" class="{shown} {class_name(layer.name)}"><title>{title}</title>',
            *marks,
            "</g>",
        ]
    )


def _switches(drawing: Drawing) -> list[str]:
    """Links that show one of the layers that are off."""
    off = [
        layer
        for layer in drawing.layers
        if not layer.on and any(i.layer == layer.name for i in drawing.items)
    ]
    if not off:
        return []
    height = drawing.size[1]
    found, x = [], 12.0
    for layer in off:
        words = escape(f"show {layer.title}")
        found.append(
            f'<a class="switch" href="#{class_name(layer.name)}"><text x="{num(x)}" y="{num(height - 3.2)}" '
            f'font-size="2.4" text-decoration="underline">{words}</text></a>'
        )
        x += 0.55 * 2.4 * len(words) + 5.0
    return found
