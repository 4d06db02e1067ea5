"""The drying race: how much of the same wetting two walls still hold, day by day, and when each has lost half."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from specgen.arrays import np
from specgen.drawing.chart import (
    DASHES_BY_LINE,
    DRAWN,
    LABEL,
    LEFT,
    RIGHT,
    TICK,
    WIDE,
    AxisScale,
    ChartError,
    PlotBox,
    heading,
    heading_height,
    legend,
    made,
    sentence,
    ticks,
)
from specgen.drawing.shapes import Drawing, Item, Stroke, Text
from specgen.units.counted import many

if TYPE_CHECKING:
    from specgen.arrays import NDArray

HIGH: Final = 74.0
HOURS_A_DAY: Final = 24.0
POINTS: Final = 240
HALF: Final = 50.0


@dataclass(frozen=True, eq=False)
class Racer:
    """A wall in the race.

    left: what is left of the wetting at each step [-], 1 at the start, (steps,). days_to_half: infinite if never. a_day:
    steps in a day.
    """

    name: str
    left: NDArray[np.float64]
    days_to_half: float
    a_day: float = HOURS_A_DAY


def drying_race(name: str, title: str, first: Racer, second: Racer) -> Drawing:
    """Two walls' drying curves over the days, half marked on each.

    Args:
        name: of the drawing.
        title: of the chart.
        first, second: the walls, records of the same steps.

    Returns:
        The chart; its description states the days to half of each, and which is how many times as fast.

    Raises:
        ChartError: records of unlike steps or length, of fewer than two steps, or with values that are not finite.
    """
    walls = (first, second)
    if (
        first.left.shape != second.left.shape
        or first.a_day != second.a_day
        or first.left.ndim != 1
        or first.left.size < 2
    ):
        raise ChartError("a race needs two records of the same steps, two or more")
    if not all(np.isfinite(wall.left).all() for wall in walls):
        raise ChartError("what is left of a wetting is not finite")
    finding, description = _words(walls)
    names = [wall.name for wall in walls]
    _, below = legend(names, LEFT, 0.0, WIDE - RIGHT)
    height = heading_height(title, finding) - below + HIGH + 21.0
    items, y = heading(title, finding, height - 4.0)
    keys, y = legend(names, LEFT, y, WIDE - RIGHT)
    days = (first.left.size - 1) / first.a_day
    most = max(100.0, 100.0 * max(float(wall.left.max()) for wall in walls))
    frame = PlotBox(
        (LEFT, y - 3.0 - HIGH, WIDE - RIGHT, y - 3.0),
        AxisScale(0.0, days, ticks(0.0, days, 8)),
        AxisScale(0.0, 1.04 * most, ticks(0.0, 1.04 * most, 5)),
    )
    items += keys
    items += frame.numbered_up("left of the wetting, %")
    items += frame.numbered_below("days after the wetting")
    items.append(frame.edges())
    items += frame.limit(HALF, "half")
    for number, wall in enumerate(walls):
        items += _curve(frame, wall, number)
    return made(name, title, f"{title}. {description}", height, items)


def _curve(frame: PlotBox, wall: Racer, number: int) -> Iterator[Item]:
    edges = np.unique(np.linspace(0, wall.left.size, min(POINTS, wall.left.size) + 1).astype(int))
    sizes = np.diff(edges)
    means = np.add.reduceat(wall.left, edges[:-1]) / sizes
    middles = (edges[:-1] + (sizes - 1) / 2.0) / wall.a_day
    points = [(0.0, float(wall.left[0])), *zip(middles.tolist(), means.tolist(), strict=True)]
    line = tuple(frame.at(day, 100.0 * left) for day, left in points)
    yield Stroke(DRAWN, line, "heavy", DASHES_BY_LINE[number])
    x, y = line[-1]
    yield Text(DRAWN, (x + 1.2, y - 0.36 * TICK), str(number + 1), TICK, bold=True)
    if math.isfinite(wall.days_to_half) and wall.days_to_half <= frame.x.high:
        x, y = frame.at(wall.days_to_half, HALF)
        yield Stroke(DRAWN, ((x, y), (x, frame.box[1])), "medium", "dotted")
        yield Text(
            DRAWN,
            (x + 1.0, frame.box[1] + 1.6 + 4.0 * number),
            f"{number + 1}: {_days(wall.days_to_half)}",
            LABEL,
            halo=True,
        )


def _days(days: float) -> str:
    return many(round(days), "day") if days >= 9.95 else f"{days:.2g} days"


def _words(walls: Sequence[Racer]) -> tuple[str, str]:
    """Which wall is faster, and what each has left at the end."""
    whole = (walls[0].left.size - 1) / walls[0].a_day
    halves = [
        f"{wall.name} is half dry after {_days(wall.days_to_half)}"
        if math.isfinite(wall.days_to_half)
        else f"{wall.name} is not half dry within {_days(whole)}"
        for wall in walls
    ]
    quick, slow = sorted(walls, key=lambda wall: wall.days_to_half)
    if math.isfinite(slow.days_to_half) and quick.days_to_half > 0.0:
        times = slow.days_to_half / quick.days_to_half
        verdict = f"{quick.name} dries {times:.2g} times as fast" if times >= 1.05 else "they dry alike"
    elif math.isfinite(quick.days_to_half):
        verdict = f"{quick.name} dries faster"
    else:
        verdict = "neither dries by half"
    finding = sentence(f"{'; '.join(halves)}: {verdict}.")
    left = " and ".join(f"{100.0 * float(wall.left[-1]):.0f} % in {wall.name}" for wall in walls)
    return finding, f"{finding} After {_days(whole)} there is left {left}."
