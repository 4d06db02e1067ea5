"""Drawings as SVG: one file that needs no other, the same bytes for the same drawing."""

from __future__ import annotations

import html
from functools import partial

from specgen.drawing.hatches import strokes
from specgen.drawing.lettering import printable
from specgen.drawing.shapes import (
    DASHES,
    PENS,
    Area,
    Bubble,
    Dimension,
    Drawing,
    Item,
    Layer,
    Point,
    Shade,
    Stroke,
    Text,
    arrow_head,
    dimension_parts,
)

escape = partial(html.escape, quote=False)  # for text between tags

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
    name = _id(drawing.name)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" role="img" '
        f'aria-labelledby="{name}-title {name}-desc" width="{_n(width)}mm" height="{_n(height)}mm" '
        f'viewBox="0 0 {_n(width)} {_n(height)}">'
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
    marks = [_mark(item, height) for item in drawing.items if item.layer == layer.name]
    if not marks:
        return ""
    shown = ("layer" if layer.on else "layer off") + ("" if layer.tone == "ink" else f" {layer.tone}")
    title = escape(layer.title)
    return "\n".join(
        [
            f'<g id="{_id(layer.name)}" class="{shown} {_id(layer.name)}"><title>{title}</title>',
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
            f'<a class="switch" href="#{_id(layer.name)}"><text x="{_n(x)}" y="{_n(height - 3.2)}" font-size="2.4" '
            f'text-decoration="underline">{words}</text></a>'
        )
        x += 0.55 * 2.4 * len(words) + 5.0
    return found


def _mark(item: Item, height: float) -> str:
    match item:
        case Stroke():
            return _line(item, height)
        case Area():
            return _area(item, height)
        case Text():
            return _text(item, height)
        case Bubble():
            return _bubble(item, height)
        case Dimension():
            lines, text = dimension_parts(item)
            return "\n".join([*(_line(line, height) for line in lines), _text(text, height)])
        case Shade():
            steps = "".join(_path(outline, height, True) for outline in item.outlines)
            return f'<path class="shade" fill-opacity="{_n(item.share)}" d="{steps}"/>'


def _path(points: tuple[Point, ...], height: float, closed: bool = False) -> str:
    steps = " ".join(f"{_n(x)} {_n(height - y)}" for x, y in points)
    return f"M{steps}{'Z' if closed else ''}"


def _line(line: Stroke, height: float) -> str:
    dash = DASHES[line.dash]
    dashed = f' stroke-dasharray="{" ".join(_n(d) for d in dash)}"' if dash else ""
    out = f'<path d="{_path(line.points, height, line.closed)}" stroke-width="{_n(PENS[line.pen])}"{dashed}/>'
    if line.arrow:
        out += f'\n<path class="solid" d="{_path(arrow_head(line), height, True)}" stroke-width="0.05"/>'
    return out


def _area(area: Area, height: float) -> str:
    path = _path(area.outline, height, True)
    if area.hatch == "solid":
        return f'<path class="solid" d="{path}" stroke-width="0.1"/>'
    out = [f'<path class="paper" d="{path}"/>']
    drawn = strokes(area.outline, area.hatch)
    if drawn.lines:
        steps = "".join(_path(run, height) for run in drawn.runs)
        out.append(f'<path d="{steps}" stroke-width="0.1"/>')
    if drawn.dots:
        steps = "".join(f"M{_n(x)} {_n(height - y)}h0" for x, y in drawn.dots)
        out.append(f'<path class="dots" d="{steps}" stroke-width="0.22"/>')
    if area.pen is not None:
        out.append(f'<path d="{path}" stroke-width="{_n(PENS[area.pen])}"/>')
    return "\n".join(out)


def _text(text: Text, height: float) -> str:
    x, y = text.at[0], height - text.at[1]
    turned = f' transform="rotate(-90 {_n(x)} {_n(y)})"' if text.upward else ""
    bold = ' font-weight="bold"' if text.bold else ""
    marked = ' class="halo"' if text.halo else ""
    words = escape(printable(text.words))
    return (
        f'<text{marked} x="{_n(x)}" y="{_n(y)}" font-size="{_n(text.height)}" text-anchor="{text.anchor}"'
        f"{bold}{turned}>{words}</text>"
    )


def _bubble(bubble: Bubble, height: float) -> str:
    (x, y), r = bubble.at, bubble.radius
    out = []
    if bubble.anchor != bubble.at:
        ax, ay = bubble.anchor
        out.append(f'<path d="{_path((bubble.at, bubble.anchor), height)}" stroke-width="0.13"/>')
        out.append(f'<circle class="solid" cx="{_n(ax)}" cy="{_n(height - ay)}" r="0.45" stroke-width="0"/>')
    if bubble.shape == "circle":
        out.append(
            f'<circle cx="{_n(x)}" cy="{_n(height - y)}" r="{_n(r)}" class="sheet-fill" stroke-width="0.25"/>'
        )
    else:
        corners = ((x - r, y), (x, y + r), (x + r, y), (x, y - r))
        out.append(f'<path class="sheet-fill" d="{_path(corners, height, True)}" stroke-width="0.25"/>')
    size = min(1.05 * r, 2.5)
    out.append(
        f'<text x="{_n(x)}" y="{_n(height - y + 0.36 * size)}" font-size="{_n(size)}" text-anchor="middle" '
        f'font-weight="bold">{escape(bubble.key)}</text>'
    )
    return "\n".join(out)


def _n(number: float) -> str:
    """A number with three decimals at most: a micrometer of the sheet."""
    words = f"{number:.3f}".rstrip("0").rstrip(".")
    return "0" if words == "-0" else words


def _id(name: str) -> str:
    return "".join(letter if letter.isalnum() and letter.isascii() else "-" for letter in name.lower())
