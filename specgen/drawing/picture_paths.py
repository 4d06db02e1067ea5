"""The control layers over a picture: each path on a layer of its own, and each open point in shape and words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from specgen.drawing.control import Fault, chain_words, faults_of, is_free, layer_of, path_items, runs
from specgen.drawing.lettering import box_of, text_box
from specgen.drawing.shapes import Area, Box, Bubble, Item, Point, Stroke, Text
from specgen.drawing.sheet import CONTROL_LAYERS
from specgen.drawing.view import View
from specgen.paths.shapes import PLAIN_RUN, Standing

CONTROL = tuple(layer_of(name, False) for name in CONTROL_LAYERS)
LETTER = 3.2
ARM = 1.5  # of the cross at a break
SHORT: Mapping[Standing, str] = {"broken": "broken", "not stated": "not stated", "confirm": "to confirm"}


@dataclass(frozen=True)
class Way:
    """The path of one control layer."""

    layer: str
    words: str  # its line, its verdict and the parts it runs through
    items: tuple[Item, ...]


@dataclass(frozen=True)
class OpenPoint:
    """Where paths are broken, not stated, or for a manufacturer to confirm; without items the cut does not meet it."""

    key: str
    layers: tuple[str, ...]
    standing: Standing
    words: str
    items: tuple[Item, ...]


def ways(view: View, taken: Sequence[Item]) -> tuple[tuple[Way, ...], tuple[OpenPoint, ...]]:
    """The paths of the plain run and their open points.

    Args:
        view: the wall laid out.
        taken: what no lettering of theirs may cover.
    """
    paths = [path for path in view.job.paths if path.place == PLAIN_RUN]
    faults = faults_of(paths)
    points = tuple(_points(view, faults, taken))
    lettered = [*taken, *(item for point in points for item in point.items)]
    items = path_items(view, lettered, LETTER)
    found = tuple(
        Way(
            path.layer,
            chain_words(path),
            tuple(item for item in items if item.layer == layer_of(path.layer, False).name),
        )
        for path in paths
    )
    return found, points


def _points(view: View, faults: Sequence[Fault], taken: Sequence[Item]) -> Iterator[OpenPoint]:
    entries = {name: point for run in runs(view) for name, point in run.entries.items()}
    boxes = [box for item in taken if (box := box_of(item)) is not None]
    ends = [item.anchor for item in taken if isinstance(item, Bubble)]
    for key, one, layers in faults:
        words = f"{', '.join(layers)}: {one.first} to {one.second}: {one.standing}: {one.condition}"
        at = entries.get(one.second) or entries.get(one.first)
        items: tuple[Item, ...] = ()
        if at is not None:
            layer = layer_of(layers[0], False).name
            at = _beside_others(at, boxes)
            boxes.append((at[0] - ARM, at[1] - ARM, at[0] + ARM, at[1] + ARM))
            text = _label(layer, at, f"{key} {SHORT[one.standing]}", boxes, ends, view)
            boxes.append(text_box(text))
            items = (*_sign(layer, at, one.standing), text)
        yield OpenPoint(key, layers, one.standing, words, items)


def _beside_others(at: Point, boxes: Sequence[Box]) -> Point:
    """A place level with a point, or as little below it as no other sign stands."""
    x, y = at
    while any(b[0] < x + ARM and x - ARM < b[2] and b[1] < y + ARM and y - ARM < b[3] for b in boxes):
        y -= 1.3 * LETTER  # its words stand level with it
    return x, y


def _sign(layer: str, at: Point, standing: Standing) -> Iterator[Item]:
    """A cross where a path is broken, an open diamond where somebody must say."""
    x, y = at
    if standing == "broken":
        for way in (1.0, -1.0):
            yield Stroke(layer, ((x - ARM, y - ARM * way), (x + ARM, y + ARM * way)), "sheet")
    else:
        yield Area(layer, ((x - ARM, y), (x, y - ARM), (x + ARM, y), (x, y + ARM)), "blank", "heavy")


def _label(
    layer: str, at: Point, words: str, boxes: Sequence[Box], ends: Sequence[Point], view: View
) -> Text:
    """The words of a point: right or left of it, stepping down until they cover nothing."""
    x, y = at
    left, low, right, _ = view.box
    for step in range(60):
        down = y - 0.36 * LETTER - step * 1.2
        for side in (Text(layer, (x + ARM + 0.8, down), words, LETTER, "start", True, halo=True),
                     Text(layer, (x - ARM - 0.8, down), words, LETTER, "end", True, halo=True)):  # fmt: skip
            box = text_box(side)
            if left <= box[0] and box[2] <= right and box[1] > low and is_free(box, boxes, ends):
                return side
    return Text(layer, (x + ARM + 0.8, y), words, LETTER, "start", True, halo=True)
