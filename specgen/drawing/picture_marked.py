"""The picture of a wall with one of its parts marked: what a finding is about, for a reader who cannot press it."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, sin

from specgen.drawing.picture import Picture, PicturePart
from specgen.drawing.picture_press import outlines
from specgen.drawing.shapes import Area, Drawing, Item, Layer, Shade, Stroke

BELOW, ABOVE = Layer("marked-part", "marked part"), Layer("mark", "mark")
SHARE = 0.3  # of the ink
_ROUND = 1.12  # times the key
_CORNERS = 24


def marked(picture: Picture, part: str) -> Drawing:
    """The picture with a part shaded or drawn heavy, and a ring around its key.

    Args:
        picture: of a parapet.
        part: id of the component; without one that the picture has, nothing is marked.
    """
    found = next((one for one in picture.parts if one.id == part), None)
    if found is None:
        return picture
    layers = (BELOW, *picture.layers, ABOVE)
    return replace(picture, layers=layers, items=(*_shown(found), *picture.items))


def _shown(part: PicturePart) -> tuple[Item, ...]:
    made: list[Item] = []
    for one in outlines(part):
        if isinstance(one, Area):
            made.append(Shade(BELOW.name, (one.outline,), SHARE))
        else:
            made.append(Stroke(ABOVE.name, one.points, "sheet"))
    (x, y), far = part.key.at, _ROUND * part.key.radius
    turns = [2.0 * pi * number / _CORNERS for number in range(_CORNERS)]
    ring = tuple((x + far * cos(turn), y + far * sin(turn)) for turn in turns)
    return (*made, Stroke(ABOVE.name, ring, "heavy", closed=True))
