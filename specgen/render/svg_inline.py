"""Drawings inside a page: elements and classes, no style of their own; the page's ``picture.css`` holds the rules."""

from __future__ import annotations

import html
from collections.abc import Iterable

from specgen.drawing.lettering import printable
from specgen.drawing.shapes import Drawing
from specgen.render.svg_items import class_name, escape, num, svg_mark


class Svg(str):
    """An ``svg`` element as text, which a template sets as it is."""

    __slots__ = ()

    def __html__(self) -> str:
        """The text, every word of a project in it escaped."""
        return str(self)


def inline_svg(drawing: Drawing) -> Svg:
    """A drawing as one ``svg`` element: a figure of charts, a section, a detail. Layers that are off are left out.

    Returns:
        The same text for the same drawing; what a project wrote is escaped.
    """
    height = drawing.size[1]
    groups = []
    for layer in drawing.layers:
        marks = [svg_mark(item, height) for item in drawing.items if item.layer == layer.name]
        if marks and layer.on:
            tone = "" if layer.tone == "ink" else f" {layer.tone}"
            groups.append(grouped(f"layer {class_name(layer.name)}{tone}", marks))
    return framed(drawing, "drawing", "img", groups)


def framed(drawing: Drawing, classes: str, role: str, groups: Iterable[str]) -> Svg:
    """The element around the groups of a drawing, with its title and description.

    Args:
        drawing: gives size, title and description.
        classes: of the element.
        role: ``img`` for one that is looked at, ``group`` for one with links in it.
        groups: elements, as written.
    """
    width, height = drawing.size
    title = printable(drawing.title)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="{classes}" role="{role}" aria-label="{quoted(title)}" '
        f'viewBox="0 0 {num(width)} {num(height)}">'
    )
    about = f"<title>{escape(title)}</title><desc>{escape(printable(drawing.description))}</desc>"
    return Svg("\n".join([head, about, *groups, "</svg>"]))


def grouped(classes: str, marks: Iterable[str]) -> str:
    """Elements as one group."""
    return "\n".join([f'<g class="{classes}">', *marks, "</g>"])


def quoted(words: str) -> str:
    """Words as the value of an attribute."""
    return html.escape(words)
