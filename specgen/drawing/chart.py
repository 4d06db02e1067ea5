"""Charts as drawings: a title with its finding, axes, lines told apart by dashes and keys, one accent for limits.

A chart is a :class:`~specgen.drawing.shapes.Drawing` like every sheet, so that SVG, PDF and pages take it as it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal

from specgen.drawing.lettering import cut, width, wrapped
from specgen.drawing.shapes import Box, Dash, Drawing, Item, Layer, Point, Stroke, Text, rectangle
from specgen.units.months import MONTH_NAMES

WIDE: Final = 190.0  # of a chart [mm]
LEFT, RIGHT = 21.0, 7.0
TITLE, FINDING, LABEL, TICK = 4.2, 3.0, 2.9, 2.6  # sizes of lettering
LINE = 1.45  # from one line of lettering to the next, over its size
NUMBERS_APART = 2.9  # keys at the ends of lines
DASHES_BY_LINE: tuple[Dash, ...] = ("solid", "dashed", "dotted", "chain", "long")
MOST_LINES: Final = len(DASHES_BY_LINE)
LAYERS = (
    Layer("chart-shade", "shades"),
    Layer("chart-grid", "grid", tone="faint"),
    Layer("chart-frame", "frame, scales and titles"),
    Layer("chart-limit", "limits", tone="accent"),
    Layer("chart-line", "lines and their keys"),
    Layer("chart-limit-name", "names of limits", tone="accent"),
)
SHADE, GRID, FRAME, LIMIT, DRAWN, LIMIT_NAME = (layer.name for layer in LAYERS)
_MONTH_ENDS = tuple(end / 365.0 for end in (31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365))
ROUNDING: Final = 1e-9
"""Of the length of a scale: what binary numbers leave of a division that comes out even."""


class ChartError(ValueError):
    """What is to be drawn has no shape: no values, too many lines, a number that is none."""


Step = Literal["hour", "day", "month", "year"]
A_YEAR: Final[dict[Step, int]] = {"hour": 8760, "day": 365, "month": 12, "year": 1}


@dataclass(frozen=True)
class Calendar:
    """Where the years of a record begin.

    starts: the first step of each year, the first of them 0. count: steps of the whole record. names: of the years:
    "2019", "year 1". step: what one value of the record stands for.
    """

    starts: tuple[int, ...]
    count: int
    names: tuple[str, ...]
    step: Step = "hour"

    def __post_init__(self) -> None:
        steps = (*self.starts, self.count)
        if len(self.starts) != len(self.names) or not self.starts or self.starts[0] != 0:
            raise ChartError("each year needs its first step and a name, the first step being 0")
        if any(later <= sooner for sooner, later in pairwise(steps)):
            raise ChartError("years that do not follow each other")

    @classmethod
    def alike(cls, years: int, step: Step = "hour") -> Calendar:
        """Typical years, one after the other: "year 1" and so on.

        >>> Calendar.alike(2, "month")
        Calendar(starts=(0, 12), count=24, names=('year 1', 'year 2'), step='month')
        """
        long = A_YEAR[step]
        names = tuple(f"year {number + 1}" for number in range(years))
        return cls(tuple(range(0, years * long, long)), years * long, names, step)

    def when(self, at: int) -> str:
        """Month and year of a step; of a year its name.

        >>> Calendar.alike(2).when(10_000), Calendar.alike(2, "month").when(12)
        ('February of year 2', 'January of year 2')
        """
        number = max(number for number, start in enumerate(self.starts) if start <= at)
        if self.step == "year":
            return self.names[number]
        ends = (*self.starts[1:], self.count)
        share = (at - self.starts[number] + 0.5) / max(ends[number] - self.starts[number], A_YEAR[self.step])
        month = next((n for n, end in enumerate(_MONTH_ENDS) if share < end), len(MONTH_NAMES) - 1)
        return f"{MONTH_NAMES[month]} of {self.names[number]}"

    def counted(self, steps: int) -> str:
        """A number of steps in words.

        >>> Calendar.alike(9).counted(20696), Calendar.alike(9, "month").counted(1)
        ('20,696 hours', '1 month')
        """
        return f"{steps:,} {self.step}" if steps == 1 else f"{steps:,} {self.step}s"

    def middles(self) -> tuple[tuple[float, str], ...]:
        """The middle of each year with its name."""
        ends = (*self.starts[1:], self.count)
        both = zip(self.starts, ends, self.names, strict=True)
        return tuple(((start + end) / 2.0, name) for start, end, name in both)


@dataclass(frozen=True)
class AxisScale:
    """One axis: its ends in the unit of the data, and where it is numbered."""

    low: float
    high: float
    ticks: tuple[tuple[float, str], ...]


@dataclass(frozen=True)
class PlotBox:
    """The box of a chart on the sheet, with its scales."""

    box: Box
    x: AxisScale
    y: AxisScale

    def at(self, x: float, y: float) -> Point:
        """Where a value lies on the sheet; beyond the scale it lies on the edge."""
        x0, y0, x1, y1 = self.box
        across = min(max((x - self.x.low) / (self.x.high - self.x.low), 0.0), 1.0)
        up = min(max((y - self.y.low) / (self.y.high - self.y.low), 0.0), 1.0)
        return x0 + across * (x1 - x0), y0 + up * (y1 - y0)

    def edges(self) -> Stroke:
        """The frame itself."""
        return Stroke(FRAME, rectangle(*self.box), "medium", closed=True)

    def numbered_up(self, title: str) -> Iterator[Item]:
        """Level grid lines, their numbers at the left, and the title of the scale, turned."""
        x0, y0, x1, y1 = self.box
        for value, words in self.y.ticks:
            y = self.at(self.x.low, value)[1]
            if y0 < y < y1:
                yield Stroke(GRID, ((x0, y), (x1, y)), "fine")
            yield Text(FRAME, (x0 - 1.4, y - 0.36 * TICK), words, TICK, "end")
        for number, line in enumerate(reversed(wrapped(title, LABEL, y1 - y0))):
            place = (x0 - 9.0 - 1.2 * LABEL * number, (y0 + y1) / 2.0)
            yield Text(FRAME, place, line, LABEL, "middle", upward=True)

    def numbered_below(self, title: str) -> Iterator[Item]:
        """Upright grid lines, their numbers below, and the title of the scale."""
        x0, y0, x1, y1 = self.box
        for value, words in self.x.ticks:
            x = self.at(value, self.y.low)[0]
            if x0 < x < x1:
                yield Stroke(GRID, ((x, y0), (x, y1)), "fine")
            yield Text(FRAME, (x, y0 - 1.3 * TICK), words, TICK, "middle")
        yield Text(FRAME, ((x0 + x1) / 2.0, y0 - 1.3 * TICK - 1.5 * LABEL), title, LABEL, "middle")

    def limit(self, value: float, words: str, lines: Iterable[Sequence[Point]] = ()) -> Iterator[Item]:
        """A level limit over the whole width, its words above it where the fewest lines cross; none beyond the scale."""
        if not self.y.low <= value <= self.y.high:
            return
        (x0, y), x1 = self.at(self.x.low, value), self.box[2]
        yield Stroke(LIMIT, ((x0, y), (x1, y)), "medium")
        long = width(words, TICK)
        near = [x for line in lines for x, at in line if y - 1.0 < at < y + 1.2 * TICK]
        starts = [x0 + 1.2 + 4.0 * number for number in range(max(1, int((x1 - x0 - long - 2.0) / 4.0)))]
        best = min(starts, key=lambda start: sum(start - 1.0 < x < start + long + 1.0 for x in near))
        yield Text(LIMIT_NAME, (best, y + 0.8), words, TICK, halo=True)


def years_below(frame: PlotBox, years: Calendar) -> Iterator[Item]:
    """The turns of the years as upright lines, their names below; every other one where they stand close."""
    x0, y0, x1, y1 = frame.box
    for start in years.starts[1:]:
        x = frame.at(start, frame.y.low)[0]
        yield Stroke(GRID, ((x, y0), (x, y1)), "fine")
    names = years.middles()
    room = (x1 - x0) / len(names)
    widest = max(width(words, TICK) for _, words in names) + 1.5
    every = max(1, math.ceil(widest / room))
    for middle, words in names[::every]:
        yield Text(FRAME, (frame.at(middle, frame.y.low)[0], y0 - 1.3 * TICK), words, TICK, "middle")


def ticks(low: float, high: float, most: int = 6) -> tuple[tuple[float, str], ...]:
    """Round numbers from one end to the other, no more than `most`.

    >>> ticks(0.0, 32.0)
    ((0.0, '0'), (10.0, '10'), (20.0, '20'), (30.0, '30'))
    """
    span = high - low
    if not math.isfinite(span) or span <= 0.0:
        raise ChartError(f"a scale from {low:g} to {high:g} has no length")
    rough = span / most
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(
        one * power for one in (1.0, 2.0, 2.5, 5.0, 10.0) if one * power * most >= span * (1 - ROUNDING)
    )
    first, last = math.ceil(low / step - ROUNDING), math.floor(high / step + ROUNDING)
    return tuple((number * step, f"{number * step:.10g}") for number in range(first, last + 1))


def legend(names: Sequence[str], left: float, top: float, right: float) -> tuple[list[Item], float]:
    """Each line's dash, key and name in rows from a height downward; the items and the height below them."""
    items: list[Item] = []
    x, y = left, top - LABEL
    for number, name in enumerate(names):
        words = cut(f"{number + 1}  {name}", LABEL, right - left - 12.0)
        long = 12.0 + width(words, LABEL) + 6.0
        if x > left and x + long - 6.0 > right:
            x, y = left, y - LINE * LABEL
        middle = y + 0.36 * LABEL
        items.append(Stroke(DRAWN, ((x, middle), (x + 10.0, middle)), "medium", DASHES_BY_LINE[number]))
        items.append(Text(DRAWN, (x + 12.0, y), words, LABEL))
        x += long
    return items, y - 1.5


def apart(places: Sequence[float], least: float, low: float, high: float) -> list[float]:
    """Heights moved so far apart that lettering clears, in their order and between two ends.

    >>> apart([5.0, 5.2, 9.0], 3.0, 0.0, 10.0)
    [4.0, 7.0, 10.0]
    """
    order = sorted(range(len(places)), key=lambda number: places[number])
    moved = list(places)
    floor = low
    for number in order:
        moved[number] = max(moved[number], floor)
        floor = moved[number] + least
    ceiling = high
    for number in reversed(order):
        moved[number] = min(moved[number], ceiling)
        ceiling = moved[number] - least
    return moved


def heading(title: str, finding: str, top: float) -> tuple[list[Item], float]:
    """Title and finding from a height downward; the items and the height below them."""
    items: list[Item] = []
    y = top
    for words, size, bold in ((title, TITLE, True), (finding, FINDING, False)):
        for line in wrapped(words, size, WIDE - 14.0, bold):
            y -= LINE * size
            items.append(Text(FRAME, (7.0, y), line, size, bold=bold))
    return items, y - 2.5


def heading_height(title: str, finding: str) -> float:
    """How high title and finding stand."""
    return -heading(title, finding, 0.0)[1]


def sentence(words: str) -> str:
    """Words with a capital at the start."""
    return words[:1].upper() + words[1:]


def made(name: str, title: str, description: str, height: float, items: Iterable[Item]) -> Drawing:
    """A chart of the usual width; layers in their order."""
    return Drawing(name, title, description, (WIDE, height), "not to scale", 1.0, LAYERS, tuple(items))
