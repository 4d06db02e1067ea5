"""The items of a drawing as SVG elements, for a file of its own and for a page."""

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
    Item,
    Point,
    Shade,
    Stroke,
    Text,
    arrow_head,
    dimension_parts,
)

escape = partial(html.escape, quote=False)  # for text between tags


def svg_mark(item: Item, height: float) -> str:
    """An item as elements, on a sheet of some height [mm]."""
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
            steps = "".join(path_data(outline, height, True) for outline in item.outlines)
            return f'<path class="shade" fill-opacity="{num(item.share)}" d="{steps}"/>'


def path_data(points: tuple[Point, ...], height: float, closed: bool = False) -> str:
    """A polyline as the data of a path."""
    steps = " ".join(f"{num(x)} {num(height - y)}" for x, y in points)
    return f"M{steps}{'Z' if closed else ''}"


def _line(line: Stroke, height: float) -> str:
    dash = DASHES[line.dash]
    dashed = f' stroke-dasharray="{" ".join(num(d) for d in dash)}"' if dash else ""
    out = f'<path d="{path_data(line.points, height, line.closed)}" stroke-width="{num(PENS[line.pen])}"{dashed}/>'
    if line.arrow:
        out += f'\n<path class="solid" d="{path_data(arrow_head(line), height, True)}" stroke-width="0.05"/>'
    return out


def _area(area: Area, height: float) -> str:
    path = path_data(area.outline, height, True)
    if area.hatch == "solid":
        return f'<path class="solid" d="{path}" stroke-width="0.1"/>'
    out = [f'<path class="paper" d="{path}"/>']
    drawn = strokes(area.outline, area.hatch)
    if drawn.lines:
        steps = "".join(path_data(run, height) for run in drawn.runs)
        out.append(f'<path d="{steps}" stroke-width="0.1"/>')
    if drawn.dots:
        steps = "".join(f"M{num(x)} {num(height - y)}h0" for x, y in drawn.dots)
        out.append(f'<path class="dots" d="{steps}" stroke-width="0.22"/>')
    if area.pen is not None:
        out.append(f'<path d="{path}" stroke-width="{num(PENS[area.pen])}"/>')
    return "\n".join(out)


def _text(text: Text, height: float) -> str:
    x, y = text.at[0], height - text.at[1]
    turned = f' transform="rotate(-90 {num(x)} {num(y)})"' if text.upward else ""
    bold = ' font-weight="bold"' if text.bold else ""
    marked = ' class="halo"' if text.halo else ""
    words = escape(printable(text.words))
    return (
        f'<text{marked} x="{num(x)}" y="{num(y)}" font-size="{num(text.height)}" text-anchor="{text.anchor}"'
        f"{bold}{turned}>{words}</text>"
    )


def _bubble(bubble: Bubble, height: float) -> str:
    (x, y), r = bubble.at, bubble.radius
    out = []
    if bubble.anchor != bubble.at:
        ax, ay = bubble.anchor
        out.append(f'<path d="{path_data((bubble.at, bubble.anchor), height)}" stroke-width="0.13"/>')
        out.append(
            f'<circle class="solid" cx="{num(ax)}" cy="{num(height - ay)}" r="0.45" stroke-width="0"/>'
        )
    if bubble.shape == "circle":
        out.append(
            f'<circle cx="{num(x)}" cy="{num(height - y)}" r="{num(r)}" class="sheet-fill" stroke-width="0.25"/>'
        )
    else:
        corners = ((x - r, y), (x, y + r), (x + r, y), (x, y - r))
        out.append(f'<path class="sheet-fill" d="{path_data(corners, height, True)}" stroke-width="0.25"/>')
    size = min(1.05 * r, max(r, 2.5))
    out.append(
        f'<text x="{num(x)}" y="{num(height - y + 0.36 * size)}" font-size="{num(size)}" text-anchor="middle" '
        f'font-weight="bold">{escape(bubble.key)}</text>'
    )
    return "\n".join(out)


def num(number: float) -> str:
    """A number with three decimals at most: a micrometer of the sheet."""
    words = f"{number:.3f}".rstrip("0").rstrip(".")
    return "0" if words == "-0" else words


def class_name(name: str) -> str:
    """A name as it can stand in an id or a class."""
    return "".join(letter if letter.isalnum() and letter.isascii() else "-" for letter in name.lower())
