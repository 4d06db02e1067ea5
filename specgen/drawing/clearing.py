"""Puts the words of sizes, and words within a drawing, where no line, leader, key or other word crosses them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from specgen.drawing.labels import holds
from specgen.drawing.lettering import box_of, width
from specgen.drawing.shapes import (
    Area,
    Box,
    Bubble,
    Dimension,
    Drawing,
    Item,
    Point,
    Stroke,
    Text,
    bounds,
    dimension_parts,
)
from specgen.drawing.sheet import MARGIN

Segment = tuple[Point, Point]
STEP, REACH = 0.5, 8.0  # of the sheet: in which words are moved, and how far past the end of their line
APART = 0.6  # of a key that has moved from any other
LEADER, LINE, WORDS = 1, 2, 6  # how bad each is over words: a leader may still give way
COVERED = 100  # a key upon another, or upon words: nobody can read either
INSIDE = 0.8  # between words and the end of their line
TOUCH = 0.12  # a line that reaches no farther into the room of words does not touch their ink


@dataclass(frozen=True)
class _Drawn:
    """One line of an item, with the box around it."""

    owner: int
    ends: Segment
    box: Box


def segments(item: Item) -> Iterator[Segment]:
    """The lines that are drawn of an item: edges, lines, leaders, the lines of a dimension; no hatch, no lettering."""
    match item:
        case Stroke():
            points = (*item.points, item.points[0]) if item.closed else item.points
            yield from pairwise(points)
        case Area():
            if item.pen is not None:
                yield from pairwise((*item.outline, item.outline[0]))
        case Bubble():
            if item.anchor != item.at:
                yield item.at, item.anchor
        case Dimension():
            for line in dimension_parts(item)[0]:
                yield from pairwise(line.points)


def crossed(box: Box, line: Segment) -> bool:
    """Whether a line enters a box by more than a touch.

    >>> crossed((0.0, 0.0, 4.0, 2.0), ((1.0, -5.0), (1.0, 5.0)))
    True
    >>> crossed((0.0, 0.0, 4.0, 2.0), ((5.0, 0.0), (5.0, 2.0)))
    False
    """
    left, low, right, high = box[0] + TOUCH, box[1] + TOUCH, box[2] - TOUCH, box[3] - TOUCH
    (x, y), (x2, y2) = line
    start, end = 0.0, 1.0
    for way, back, forth in ((x2 - x, x - left, right - x), (y2 - y, y - low, high - y)):
        if not way:
            if back <= 0.0 or forth <= 0.0:
                return False
            continue
        enters, leaves = sorted((-back / way, forth / way))
        start, end = max(start, enters), min(end, leaves)
    return start < end


def crossings(items: Sequence[Item]) -> list[tuple[Item, Item]]:
    """Which words are crossed by a line of which item."""
    room = _Room(items, items, (0.0, 0.0, 0.0, 0.0))
    return [
        (item, items[line.owner])
        for number, item in enumerate(items)
        if isinstance(item, Text | Dimension) and (box := room.boxes.get(number)) is not None
        for line in room.lines
        if near(line.box, box) and crossed(box, line.ends)
    ]


@dataclass(frozen=True)
class _Near:
    """What stands where an item may go, the item itself left out: lines with their weight, words, ends of leaders."""

    lines: Sequence[tuple[_Drawn, int]]
    boxes: Sequence[Box]
    ends: Sequence[Point]

    def cost(self, item: Item, box: Box) -> int:
        """How bad it is to put an item here: lines through its words, its lines through others', words upon words."""
        if isinstance(item, Bubble):
            return self._cost_of_key(item, box)
        through = sum(
            weight for line, weight in self.lines if near(line.box, box) and crossed(box, line.ends)
        )
        own = list(_drawn(0, item)) if isinstance(item, Dimension) else []
        upon = sum(
            crossed(one, line.ends) for line in own for one in (box, *self.boxes) if near(line.box, one)
        )
        covered = sum(near(box, other) for other in self.boxes) + sum(holds(box, end) for end in self.ends)
        return through + LINE * upon + WORDS * covered

    def _cost_of_key(self, key: Bubble, box: Box) -> int:
        leader = key.at, key.anchor
        roomy = box[0] - APART, box[1] - APART, box[2] + APART, box[3] + APART
        words = sum(crossed(one, leader) + near(roomy, one) for one in self.boxes)
        covered = sum(near(box, one) for one in self.boxes)
        return (
            WORDS * words
            + COVERED * covered
            + sum(_meet(leader, line.ends) for line, weight in self.lines if weight == LEADER)
        )


class _Room:
    """What stands on a sheet: the lines that are shown, all words and keys, and the ends of leaders."""

    def __init__(self, items: Sequence[Item], shown: Sequence[Item], field: Box) -> None:
        self.items, self.field = list(items), field
        on = {id(item) for item in shown}
        self.lines = [line for n, item in enumerate(items) if id(item) in on for line in _drawn(n, item)]
        self.boxes = {n: box for n, item in enumerate(items) if (box := box_of(item)) is not None}
        self.ends = [item.anchor for item in items if isinstance(item, Bubble) and item.anchor != item.at]

    def around(self, number: int, area: Box) -> _Near:
        """What stands in a part of the sheet beside one item."""
        lines = [line for line in self.lines if line.owner != number and near(line.box, area)]
        boxes = [box for n, box in self.boxes.items() if n != number and near(box, area)]
        ends = [end for end in self.ends if holds(area, end)]
        return _Near([(line, self._weight(line)) for line in lines], boxes, ends)

    def _weight(self, line: _Drawn) -> int:
        owner = self.items[line.owner]
        return LEADER if isinstance(owner, Bubble) else WORDS if owner.layer == "sheet" else LINE

    def clear(self, number: int) -> None:
        """Move the words of an item, or a key, to the nearest place where nothing crosses them, or the least does."""
        item = self.items[number]
        box = box_of(item)
        if box is None or (isinstance(item, Bubble) and item.anchor == item.at):
            return
        least = self.around(number, _reach(item, [box])).cost(item, box)
        if not least:
            return
        left, low, right, high = self.field
        ways = [
            (way, at)
            for way in _places(item)
            if (at := box_of(way)) is not None and left < at[0] < at[2] < right and low < at[1] < at[3] < high
        ]
        near_it = self.around(number, _reach(item, [box, *(at for _, at in ways)]))
        for way, at in ways:
            cost = near_it.cost(way, at)
            if cost < least:
                least = cost
                self.items[number], self.boxes[number] = way, at
            if not least:
                break
        others = [line for line in self.lines if line.owner != number]
        self.lines = [*others, *_drawn(number, self.items[number])]


def _drawn(number: int, item: Item) -> Iterator[_Drawn]:
    return (_Drawn(number, ends, bounds(ends)) for ends in segments(item))


def _reach(item: Item, boxes: Sequence[Box]) -> Box:
    """Where an item may be: the boxes of its words, its lines and its leader."""
    corners = [(box[0], box[1]) for box in boxes] + [(box[2], box[3]) for box in boxes]
    ends = [end for line in segments(item) for end in line] if isinstance(item, Bubble | Dimension) else []
    return bounds([*corners, *ends])


def near(one: Box, other: Box) -> bool:
    """Whether two boxes touch or cover each other."""
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]


def _meet(one: Segment, other: Segment) -> bool:
    """Whether two lines cross."""

    def side(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    (a, b), (c, d) = one, other
    return side(a, b, c) * side(a, b, d) < 0.0 and side(c, d, a) * side(c, d, b) < 0.0


def cleared(drawing: Drawing) -> Drawing:
    """A drawing whose sizes, and words among the lines, stand where nothing crosses them, as near as can be to before.

    Where a wall leaves no such place, the words are drawn over the line that crosses them, and clear it.
    """
    wide, high = drawing.size
    field = MARGIN, MARGIN, wide - MARGIN, high - MARGIN
    room = _Room(drawing.items, list(drawing.shown()), field)
    words = [n for n, item in enumerate(drawing.items) if isinstance(item, Dimension) or _is_loose(item)]
    keys = [n for n, item in enumerate(drawing.items) if isinstance(item, Bubble)]
    for number in 2 * [*words, *keys]:  # once more: what has moved leaves room
        room.clear(number)
    under = {id(words) for words, line in crossings(room.items) if isinstance(line, Dimension)}
    return replace(drawing, items=tuple(sorted(room.items, key=lambda item: id(item) in under)))


def _is_loose(item: Item) -> bool:
    """Whether an item is words that stand among lines, which they clear, and not in a column."""
    return isinstance(item, Text) and item.halo and item.layer in ("note", "dimension")


def _places(item: Item) -> Iterator[Item]:
    """Where else the words of an item may stand, the nearest first; nowhere for what does not move."""
    match item:
        case Dimension():
            return _along(item)
        case Text():
            return _around(item)
        case Bubble():
            steps = [STEP * n for n in range(1, int(2.0 * REACH / STEP) + 1)]
            return (
                replace(item, at=(item.at[0], item.at[1] + way * by)) for by in steps for way in (1.0, -1.0)
            )
        case _:
            return iter(())


def _around(text: Text) -> Iterator[Text]:
    """Words among lines: near to where they are."""
    far = int(REACH / STEP)
    steps = [STEP * n for n in range(-far, far + 1)]
    for dx, dy in sorted(((x, y) for x in steps for y in steps), key=lambda by: abs(by[0]) + abs(by[1])):
        yield replace(text, at=(text.at[0] + dx, text.at[1] + dy))


def _along(dim: Dimension) -> Iterator[Dimension]:
    """The words of a size: along its line, past its ends, then the same on the other side of the line."""
    axis = 1 if dim.along == "y" else 0
    low, high = sorted((dim.first[axis], dim.second[axis]))
    spare = (high - low - width(dim.words, dim.height)) / 2.0 - INSIDE
    steps = [way * number * STEP for number in range(int(max(spare, 0.0) / STEP) + 1) for way in (1.0, -1.0)]
    for across in (False, True):
        if spare >= 0.0:
            yield from (replace(dim, past=False, shift=step, across=across) for step in steps)
        for number in range(int(2.0 * REACH / STEP) + 1):
            for up in (dim.up,) if dim.along == "x" else (dim.up, not dim.up):
                yield replace(dim, past=True, up=up, shift=number * STEP, across=across)
