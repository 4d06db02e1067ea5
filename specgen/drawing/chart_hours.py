"""The layers of a wall over the years: moisture content, humidity, mold index of up to five places, with their limits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from specgen.arrays import np
from specgen.drawing.chart import (
    DASHES_BY_LINE,
    DRAWN,
    FRAME,
    LABEL,
    LEFT,
    MOST_LINES,
    NUMBERS_APART,
    RIGHT,
    ROUNDING,
    TICK,
    WIDE,
    AxisScale,
    Calendar,
    ChartError,
    PlotBox,
    Step,
    apart,
    heading,
    heading_height,
    legend,
    made,
    sentence,
    ticks,
    years_below,
)
from specgen.drawing.shapes import Anchor, Drawing, Item, Pen, Point, Stroke, Text
from specgen.units.counted import many

if TYPE_CHECKING:
    from specgen.arrays import NDArray

PANEL: Final = 46.0  # height of one [mm]
BETWEEN: Final = 9.0
MEANS: Final[dict[Step, tuple[int, str]]] = {
    "hour": (168, "weekly means"),
    "day": (7, "weekly means"),
    "month": (1, "months"),
    "year": (1, "years"),
}
LEAST: Final = 0.01  # of any quantity: what is less is printed so


@dataclass(frozen=True)
class LimitLine:
    """A level limit and its name: 20, "wet wood"."""

    value: float
    name: str


@dataclass(frozen=True, eq=False)
class ChartPanel:
    """One quantity: values of each step (steps, places), its name, its unit as printed, its limits.

    low and high: ends of the scale, None to let the values and limits decide. of: numbers of the places that have it,
    None for all. years: its own steps, None for those of the chart.
    """

    name: str
    unit: str
    values: NDArray[np.float64]
    limits: tuple[LimitLine, ...] = ()
    low: float | None = None
    high: float | None = None
    of: tuple[int, ...] | None = None
    years: Calendar | None = None

    def printed(self, value: float) -> str:
        """A value with its unit, three digits at most."""
        if 0.0 < value < LEAST:
            return f"less than {LEAST:g} {self.unit}".strip()
        return f"{value:.3g} {self.unit}".strip()


@dataclass(frozen=True, eq=False)
class _Shown:
    """A panel with the numbers and names of its places, and its own years."""

    panel: ChartPanel
    numbers: tuple[int, ...]
    names: tuple[str, ...]
    years: Calendar


def over_years(
    name: str, title: str, places: Sequence[str], panels: Sequence[ChartPanel], years: Calendar
) -> Drawing:
    """Panels above each other, one a quantity: means of each place as lines, limits, and the highest step marked.

    Of hours and days the lines are weekly means; peaks and counts are those of the steps themselves.

    Args:
        name: of the drawing.
        title: of the chart.
        places: names of one to five places; a place has the same dash and key in all panels.
        panels: the quantities, from the top.
        years: of the steps.

    Returns:
        The chart; its description states the peak of each place, when, and the steps above each limit.

    Raises:
        ChartError: no panel, no or too many places, values that are not finite or do not fit steps and places.
    """
    if not panels or not 1 <= len(places) <= MOST_LINES:
        raise ChartError(
            f"a chart of {len(panels)} panels and {len(places)} places: 1 to {MOST_LINES} places"
        )
    shown = [_shown(panel, places, years) for panel in panels]
    finding = " ".join(map(_headline, shown))
    keys, below = legend(places, LEFT, 0.0, WIDE - RIGHT)
    height = heading_height(title, finding) - below + len(panels) * (PANEL + BETWEEN) + 9.0
    items, y = heading(title, finding, height - 4.0)
    keys, y = legend(places, LEFT, y, WIDE - RIGHT)
    items += keys
    for one in shown:
        frame = _frame(one, y - 3.0)
        items += _panel(frame, one)
        y = frame.box[1] - BETWEEN + 3.0
    means = " and ".join(dict.fromkeys(MEANS[one.years.step][1] for one in shown))
    items.append(Text(FRAME, (WIDE - RIGHT, 2.2), f"lines: {means}; cross: the highest", TICK, "end"))
    description = " ".join([f"{title}.", finding, *map(_words, shown)])
    return made(name, title, description, height, items)


def _shown(panel: ChartPanel, places: Sequence[str], years: Calendar) -> _Shown:
    numbers = tuple(range(len(places))) if panel.of is None else panel.of
    own = panel.years or years
    if not numbers or not set(numbers) <= set(range(len(places))):
        raise ChartError(f"{panel.name}: no places, or such as the chart does not have")
    if panel.values.shape != (own.count, len(numbers)) or not np.isfinite(panel.values).all():
        raise ChartError(f"{panel.name}: values that are not finite, or not one for each step and place")
    return _Shown(panel, numbers, tuple(places[number] for number in numbers), own)


def _frame(shown: _Shown, top: float) -> PlotBox:
    panel = shown.panel
    least, most = float(panel.values.min()), float(panel.values.max())
    near = [one.value for one in panel.limits if one.value <= 2.0 * max(most, ROUNDING)]
    low = min(0.0 if panel.low is None else panel.low, least)
    high = max([most, *near]) * 1.12 if panel.high is None else max(panel.high, most)
    if high <= low:
        high = low + 1.0
    scale = AxisScale(low, high, ticks(low, high, 5))
    return PlotBox((LEFT, top - PANEL, WIDE - RIGHT, top), AxisScale(0.0, shown.years.count, ()), scale)


def _panel(frame: PlotBox, shown: _Shown) -> Iterator[Item]:
    panel, years = shown.panel, shown.years
    yield from frame.numbered_up(f"{panel.name}, {panel.unit}" if panel.unit else panel.name)
    yield from years_below(frame, years)
    yield frame.edges()
    starts, means = means_of(panel.values, MEANS[years.step][0])
    lines = [
        tuple(frame.at(x, y) for x, y in zip(starts, column, strict=True)) for column in means.T.tolist()
    ]
    for limit in panel.limits:
        yield from frame.limit(limit.value, f"{limit.name}: {panel.printed(limit.value)}", lines)
    wettest = int(np.argmax(panel.values.max(axis=0)))
    for at, line in enumerate(lines):
        if len(line) > 1:
            pen: Pen = "heavy" if at == wettest and len(lines) > 1 else "medium"
            yield Stroke(DRAWN, line, pen, DASHES_BY_LINE[shown.numbers[at]])
    ends = [line[-1][1] - 0.36 * TICK for line in lines]
    x1, (y0, y1) = frame.box[2], (frame.box[1], frame.box[3])
    for at, y in enumerate(apart(ends, NUMBERS_APART, y0, y1 - TICK)):
        yield Text(DRAWN, (x1 + 1.2, y), str(shown.numbers[at] + 1), TICK, bold=at == wettest)
    yield from _peak(frame, shown, wettest)


def _peak(frame: PlotBox, shown: _Shown, place: int) -> Iterator[Item]:
    """A cross at the highest step of a place, with its value."""
    step = int(np.argmax(shown.panel.values[:, place]))
    peak = float(shown.panel.values[step, place])
    x, y = frame.at(step + 0.5, peak)
    yield Stroke(DRAWN, ((x - 1.1, y - 1.1), (x + 1.1, y + 1.1)), "medium")
    yield Stroke(DRAWN, ((x - 1.1, y + 1.1), (x + 1.1, y - 1.1)), "medium")
    at, anchor = _beside(frame, x, y)
    yield Text(DRAWN, at, shown.panel.printed(peak), LABEL, anchor, halo=True)


def _beside(frame: PlotBox, x: float, y: float) -> tuple[Point, Anchor]:
    """Where the words of a mark stand: toward the middle of the frame, above it, or below it at the upper edge."""
    left, _, right, top = frame.box
    up = y + 0.3 if y + LABEL < top else y - LABEL - 1.5
    return ((x - 2.0, up), "end") if x > (left + right) / 2.0 else ((x + 2.0, up), "start")


def means_of(values: NDArray[np.float64], block: int) -> tuple[list[float], NDArray[np.float64]]:
    """The middle of each block of steps and the means over it, (blocks, places); what is left over stands for one."""
    starts = np.arange(0, values.shape[0], block)
    sizes = np.diff(np.r_[starts, values.shape[0]])
    means = np.add.reduceat(values, starts, axis=0) / sizes[:, None]
    return (starts + sizes / 2.0).tolist(), means


def _headline(shown: _Shown) -> str:
    """The highest step of all places, against the strictest limit that it passes, or the lowest one."""
    panel = shown.panel
    step, place = divmod(int(np.argmax(panel.values)), len(shown.names))
    peak = float(panel.values[step, place])
    when = f"{shown.names[place]}, {shown.years.when(step)}"
    start = sentence(f"{panel.name} peaks at {panel.printed(peak)} ({when})")
    if not panel.limits:
        return f"{start}."
    passed = [one for one in panel.limits if peak > one.value]
    chosen = max(passed, key=_value) if passed else min(panel.limits, key=_value)
    side = "above" if passed else "within"
    return f"{start}, {side} the limit of {panel.printed(chosen.value)} ({chosen.name})."


def _value(limit: LimitLine) -> float:
    return limit.value


def _words(shown: _Shown) -> str:
    """Each place: its highest step, and how many it is above each limit."""
    panel, years = shown.panel, shown.years
    found = []
    for place, values in zip(shown.names, panel.values.T, strict=True):
        step = int(np.argmax(values))
        over = [
            f"{years.counted(int(np.sum(values > limit.value)))} above {panel.printed(limit.value)} ({limit.name})"
            for limit in panel.limits
        ]
        words = f"{place}: highest {panel.printed(float(values[step]))} in {years.when(step)}"
        found.append(", ".join([words, *over]))
    return sentence(f"{panel.name}, over {many(len(years.names), 'year')}: {'; '.join(found)}.")
