"""The shapes of a drawing: what every writer draws, in millimeters of the sheet, y upward from its lower edge."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from math import hypot
from typing import Literal

Point = tuple[float, float]
Box = tuple[float, float, float, float]  # left, lower, right, upper

Pen = Literal["fine", "medium", "heavy", "sheet"]
PENS: dict[Pen, float] = {"fine": 0.13, "medium": 0.25, "heavy": 0.5, "sheet": 0.7}
Dash = Literal["solid", "dashed", "dotted", "chain", "double chain", "long", "blocks"]
# Strokes and gaps in millimeters of the sheet.
DASHES: dict[Dash, tuple[float, ...]] = {
    "solid": (),
    "dashed": (1.6, 1.0),
    "dotted": (0.35, 0.9),
    "chain": (4.0, 0.9, 0.5, 0.9),
    "double chain": (4.0, 0.8, 0.5, 0.8, 0.5, 0.8),
    "long": (6.0, 1.4),
    "blocks": (2.2, 1.1),
}
Hatch = Literal[
    "none", "blank", "solid", "concrete", "masonry", "stone", "wood end grain", "wood grain", "plywood", "strands",
    "gypsum", "plaster", "rigid insulation", "batt insulation", "foam", "mesh",
]  # fmt: skip
LETTERS_ABOVE, LETTERS_BELOW = 0.74, 0.21  # of the size of lettering, over and under its base line
Anchor = Literal["start", "middle", "end"]
Axis = Literal["x", "y"]
Tone = Literal[
    "ink", "accent", "faint"
]  # of a layer: the one accent marks limits, never a meaning of its own


@dataclass(frozen=True)
class Layer:
    """A layer a reader can turn on and off. ``on``: shown when the file is opened and on paper."""

    name: str  # "control-water": id in SVG, name in DXF
    title: str
    on: bool = True
    tone: Tone = "ink"


@dataclass(frozen=True)
class Stroke:
    """A polyline."""

    layer: str
    points: tuple[Point, ...]
    pen: Pen = "fine"
    dash: Dash = "solid"
    closed: bool = False
    arrow: bool = False  # at its last point


@dataclass(frozen=True)
class Area:
    """A closed outline with the hatch of its material; ``blank`` hides what lies below it."""

    layer: str
    outline: tuple[Point, ...]
    hatch: Hatch = "none"
    pen: Pen | None = "medium"


@dataclass(frozen=True)
class Text:
    """One line of lettering. ``at`` is the end of its base line that ``anchor`` names."""

    layer: str
    at: Point
    words: str
    height: float = 2.4  # of the letters' body, as a font size
    anchor: Anchor = "start"
    bold: bool = False
    upward: bool = False  # read from the right
    halo: bool = False  # clears the lines behind it
    goes_on: bool = False  # a further line of the note above it


@dataclass(frozen=True)
class Bubble:
    """The key of a note in a circle (a part) or a diamond (a lap), with a leader to what it names."""

    layer: str
    at: Point
    key: str
    anchor: Point
    shape: Literal["circle", "diamond"] = "circle"
    radius: float = 2.5


@dataclass(frozen=True)
class Dimension:
    """A dimension between two points, measured along x or y; its line runs at ``line_at`` on the other axis.

    ``words`` is the true size: with a break or an enlarged membrane between, the sheet does not measure it.
    ``past`` puts the words beyond the lower or right end where they have no room between, ``up`` beyond the upper
    one. ``shift`` moves them along the line: from its middle upward or to the right, or farther past its end;
    ``across`` sets them on the other side of it.
    """

    layer: str
    first: Point
    second: Point
    line_at: float
    along: Axis
    words: str
    past: bool = False
    up: bool = False
    height: float = 2.2
    shift: float = 0.0
    across: bool = False


@dataclass(frozen=True)
class Shade:
    """Closed outlines filled with a share of the ink, 0 (paper) to 1, without lines of their own."""

    layer: str
    outlines: tuple[tuple[Point, ...], ...]
    share: float


Item = Stroke | Area | Text | Bubble | Dimension | Shade


@dataclass(frozen=True)
class Drawing:
    """One sheet. ``factor`` is how many millimeters of the thing one millimeter of the sheet stands for."""

    name: str  # "section-p-1"
    title: str
    description: str  # what a reader who cannot see it is told
    size: Point
    scale: str  # as printed: "3 in = 1 ft (1:4)", "not to scale"
    factor: float
    layers: tuple[Layer, ...]
    items: tuple[Item, ...]
    inches: bool = True

    def shown(self) -> Iterator[Item]:
        """The items of the layers that are on."""
        on = {layer.name for layer in self.layers if layer.on}
        return (item for item in self.items if item.layer in on)


def moved(item: Item, to: Callable[[Point], Point]) -> Item:
    """An item with each of its points put elsewhere."""
    match item:
        case Stroke():
            return replace(item, points=tuple(to(point) for point in item.points))
        case Area():
            return replace(item, outline=tuple(to(point) for point in item.outline))
        case Text():
            return replace(item, at=to(item.at))
        case Bubble():
            return replace(item, at=to(item.at), anchor=to(item.anchor))
        case Dimension():
            return replace(item, first=to(item.first), second=to(item.second))
        case Shade():
            return replace(item, outlines=tuple(tuple(map(to, outline)) for outline in item.outlines))


def rectangle(x0: float, y0: float, x1: float, y1: float) -> tuple[Point, ...]:
    """The corners of a rectangle."""
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1)


def bounds(points: Iterable[Point]) -> Box:
    """The box around points."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def arrow_head(line: Stroke) -> tuple[Point, Point, Point]:
    """The head at the last point of a line."""
    (x0, y0), (x1, y1) = line.points[-2:]
    long = hypot(x1 - x0, y1 - y0) or 1.0
    dx, dy = (x1 - x0) / long, (y1 - y0) / long
    size, half = 1.7, 0.42
    back = x1 - size * dx, y1 - size * dy
    return (x1, y1), (back[0] - half * dy, back[1] + half * dx), (back[0] + half * dy, back[1] - half * dx)


def dimension_parts(dim: Dimension) -> tuple[tuple[Stroke, ...], Text]:
    """A dimension as lines and lettering, for writers that know no dimensions."""
    turn = _flipped if dim.along == "y" else _same
    (a, u), (b, v) = sorted((turn(dim.first), turn(dim.second)))
    line = dim.line_at
    away = 1.2

    def extension(at: float, start: float) -> Stroke:
        way = 1.0 if line >= start else -1.0
        return Stroke(dim.layer, (turn((at, start + way * 0.8)), turn((at, line + way * away))))

    higher = dim.along == "x" or dim.up
    led = dim.shift if dim.past else 0.0  # the line goes on to words that stand off its end
    ends = (a, b + led) if higher else (a - led, b)
    lines = [extension(a, u), extension(b, v), Stroke(dim.layer, tuple(turn((at, line)) for at in ends))]
    for at in (a, b):  # an oblique stroke reads at any size, an arrowhead does not
        slant = ((at - 0.7, line - 0.7), (at + 0.7, line + 0.7))
        lines.append(Stroke(dim.layer, (turn(slant[0]), turn(slant[1])), "medium"))
    beyond = b + 1.2 + dim.shift if higher else a - 1.2 - dim.shift
    # Lettering stands above a level line and, turned, to the left of an upright one; across, on its other side.
    off = -0.7 - LETTERS_ABOVE * dim.height if dim.across else 0.7
    along = beyond if dim.past else (a + b) / 2.0 + dim.shift
    place = turn((along, line + (off if dim.along == "x" else -off)))
    anchor: Anchor = "middle" if not dim.past else "start" if higher else "end"
    return tuple(lines), Text(
        dim.layer, place, dim.words, dim.height, anchor, upward=dim.along == "y", halo=True
    )


def _same(point: Point) -> Point:
    return point


def _flipped(point: Point) -> Point:
    return point[1], point[0]
