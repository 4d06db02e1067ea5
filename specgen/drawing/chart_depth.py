"""A heat map across the wall: depth from the outside down, years to the right, the layers named, a limit outlined."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING, Final

from specgen.arrays import np
from specgen.drawing.chart import (
    DRAWN,
    FRAME,
    LABEL,
    LEFT,
    LIMIT,
    ROUNDING,
    SHADE,
    TICK,
    WIDE,
    AxisScale,
    Calendar,
    ChartError,
    PlotBox,
    apart,
    heading,
    heading_height,
    made,
    sentence,
    years_below,
)
from specgen.drawing.chart_hours import LimitLine
from specgen.drawing.lettering import cut, wrapped
from specgen.drawing.shapes import Drawing, Item, Point, Shade, Stroke, Text, rectangle
from specgen.units.counted import many
from specgen.units.quantity import from_si
from specgen.units.show import show

if TYPE_CHECKING:
    from specgen.arrays import NDArray

NAMES: Final = 44.0  # room at the right for the names of the layers [mm]
HIGH: Final = 92.0  # of the wall on the sheet [mm]
THINNEST: Final = 3.6  # a layer on the sheet [mm], however thin it is
SLANTS: Final = 4.0  # between the slanted lines of a layer without values [mm]
COLUMNS: Final = 260  # of time, no more
HOURS_A_DAY: Final = 24.0
LIGHTEST, DARKEST = 0.04, 0.86  # shares of ink


@dataclass(frozen=True)
class DepthLayer:
    """A layer from the outside in: its name, its thickness [m], and how many rows of the values lie in it (0: a film).

    sizes: how thick each row is, over the others of the layer; all alike where none are given.
    """

    name: str
    thickness_m: float
    rows: int
    sizes: tuple[float, ...] = ()


def across_wall(
    name: str,
    title: str,
    quantity: str,
    unit: str,
    layers: Sequence[DepthLayer],
    values: NDArray[np.float64],
    years: Calendar,
    levels: Sequence[float],
    limit: LimitLine,
    system: str = "SI",
) -> Drawing:
    """The wall over time as shades of ink between levels, what is at or above a limit outlined in the accent.

    Each layer is as high as its share of the thickness, none below 3.6 mm of the sheet, so that membranes are seen;
    depths stand at the borders.

    Args:
        name: of the drawing.
        title: of the chart.
        quantity: what is shown: "relative humidity".
        unit: as printed: "%".
        layers: from the outside in.
        values: of each step, (steps, rows), rows from the outside in as the layers have them, in `unit`.
        years: of the steps.
        levels: rising, two or more; a shade between each two, values beyond the ends in the outer shades.
        limit: one value in `unit`.
        system: of units for the depths, "SI" or "inch-pound".

    Returns:
        The chart; its description states the wettest layer, its peak, when, and how often it is at the limit.

    Raises:
        ChartError: rows or sizes that do not fit the layers, values that are not finite, levels that do not rise.
    """
    rows = sum(layer.rows for layer in layers)
    if values.shape != (years.count, rows) or not rows or not np.isfinite(values).all():
        raise ChartError(f"{quantity}: values that are not finite, or not one for each step and row")
    for layer in layers:
        if layer.sizes and (len(layer.sizes) != layer.rows or min(layer.sizes) <= 0.0):
            raise ChartError(f"{layer.name}: sizes that are not one for each row, or are none")
    if len(levels) < 2 or any(b <= a for a, b in pairwise(levels)):
        raise ChartError("levels of a heat map rise, two or more")
    finding, description = _words(quantity, unit, layers, values, years, limit)
    height = heading_height(title, finding) + HIGH + 36.0
    items, y = heading(title, finding, height - 4.0)
    y -= 3.0
    frame = PlotBox(
        (LEFT, y - HIGH, WIDE - NAMES, y), AxisScale(0.0, years.count, ()), AxisScale(0.0, 1.0, ())
    )
    heights = _heights(layers, HIGH)
    edges, means = _blocks(values)
    tops = _row_edges(layers, heights, y)
    items += _shades(frame, edges, tops, means, levels)
    items += _outlined(frame, edges, tops, means >= limit.value)
    items += _borders(frame, layers, heights, system)
    items += years_below(frame, years)
    items.append(frame.edges())
    meant = [f"shades: means over {_block(edges, years)}"]
    if not all(layer.rows for layer in layers):
        meant.append("slanted: holds no water")
    items += _key(levels, unit, limit, meant, frame.box[1] - 9.0)
    return made(name, title, f"{title}. {description}", height, items)


def _heights(layers: Sequence[DepthLayer], high: float) -> list[float]:
    """Heights on the sheet: by thickness, none below the thinnest, together the whole."""
    least = min(THINNEST, high / len(layers))
    thin = {number for number, layer in enumerate(layers) if layer.thickness_m <= 0.0}
    while len(thin) < len(layers):
        rest = high - least * len(thin)
        whole = math.fsum(layer.thickness_m for n, layer in enumerate(layers) if n not in thin)
        heights = [least if n in thin else rest * one.thickness_m / whole for n, one in enumerate(layers)]
        more = {n for n, one in enumerate(heights) if one < least * (1.0 - ROUNDING)} - thin
        if not more:
            return heights
        thin |= more
    return [high / len(layers)] * len(layers)


def _row_edges(
    layers: Sequence[DepthLayer], heights: Sequence[float], top: float
) -> list[tuple[float, float]]:
    """Upper and lower edge of each row on the sheet; the rows of a layer share its height by their sizes."""
    found: list[tuple[float, float]] = []
    y = top
    for layer, high in zip(layers, heights, strict=True):
        sizes = layer.sizes or (1.0,) * layer.rows
        parts = [high * size / math.fsum(sizes) for size in sizes]
        ends = [y - part for part in accumulate(parts)]
        found += zip([y, *ends[:-1]], ends, strict=True) if ends else []
        y -= high
    return found


def _blocks(values: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Edges of columns of equal time [h], and the mean of each row in each, (columns, rows)."""
    hours = values.shape[0]
    edges = np.unique(np.linspace(0, hours, min(COLUMNS, hours) + 1).astype(int))
    means = np.add.reduceat(values, edges[:-1], axis=0) / np.diff(edges)[:, None]
    return edges.astype(float), means


def _block(edges: NDArray[np.float64], years: Calendar) -> str:
    """How long a column is, in words."""
    long = float(np.diff(edges).max())
    if years.step == "hour" and long >= HOURS_A_DAY:
        return f"{many(round(long / HOURS_A_DAY), 'day')}"
    return many(round(long), years.step)


def _shades(
    frame: PlotBox, edges: NDArray[np.float64], tops: Sequence[tuple[float, float]], means: NDArray[np.float64],
    levels: Sequence[float],
) -> Iterator[Item]:  # fmt: skip
    """One item a shade: all its cells, those beside each other in a row as one."""
    at = np.clip(np.searchsorted(levels, means, side="right") - 1, 0, len(levels) - 2)
    outlines: dict[int, list[tuple[Point, ...]]] = {}
    for row, (upper, lower) in enumerate(tops):
        column = at[:, row]
        turns = np.r_[0, np.flatnonzero(np.diff(column)) + 1, column.size].tolist()
        for first, last in pairwise(turns):
            x0, x1 = (frame.at(float(edges[n]), 0.0)[0] for n in (first, last))
            outlines.setdefault(int(column[first]), []).append(rectangle(x0, lower, x1, upper))
    for level, found in sorted(outlines.items()):
        yield Shade(SHADE, tuple(found), _share(level, len(levels) - 1))


def _share(level: int, count: int) -> float:
    return LIGHTEST + (DARKEST - LIGHTEST) * level / max(count - 1, 1)


def _outlined(
    frame: PlotBox, edges: NDArray[np.float64], tops: Sequence[tuple[float, float]], over: NDArray[np.bool_]
) -> Iterator[Item]:
    """The edges of what is over the limit: level lines joined, upright ones a row each."""
    columns, rows = over.shape
    xs = [frame.at(float(edge), 0.0)[0] for edge in edges]
    padded = np.zeros((columns, rows + 2), dtype=bool)
    padded[:, 1:-1] = over
    for row in range(rows + 1):
        y = tops[row][0] if row < rows else tops[-1][1]
        differs = np.r_[False, padded[:, row] != padded[:, row + 1], False]
        turns = np.flatnonzero(np.diff(differs.astype(int)))
        for first, last in zip(turns[::2].tolist(), turns[1::2].tolist(), strict=True):
            yield Stroke(LIMIT, ((xs[first], y), (xs[last], y)), "medium")
    for row, (upper, lower) in enumerate(tops):
        for column in (np.flatnonzero(np.diff(over[:, row].astype(int))) + 1).tolist():
            yield Stroke(LIMIT, ((xs[column], upper), (xs[column], lower)), "medium")


def _borders(
    frame: PlotBox, layers: Sequence[DepthLayer], heights: Sequence[float], system: str
) -> Iterator[Item]:
    """Lines between the layers, depths at the left, names at the right, moved apart where layers are thin."""
    x0, bottom, x1, top = frame.box
    depth, y = 0.0, top
    depths, middles = [(y, 0.0)], []
    for layer, high in zip(layers, heights, strict=True):
        middles.append(y - high / 2.0)
        y -= high
        depth += layer.thickness_m
        depths.append((y, depth))
        if not layer.rows:
            yield from _slanted(x0, y, x1, y + high)
        if y > bottom + 0.01:
            yield Stroke(FRAME, ((x0, y), (x1, y)), "fine")
    last, before = top + 9.0, ""
    for y, at in depths:
        yield Stroke(FRAME, ((x0 - 1.0, y), (x0, y)), "fine")
        words = show(from_si(at, "length", "mm" if system == "SI" else "in"), system)
        if last - y >= 1.1 * TICK and words != before:
            before = words
            yield Text(FRAME, (x0 - 1.6, y - 0.36 * TICK), words, TICK, "end")
            last = y
    places = apart([middle - 0.36 * LABEL for middle in middles], 1.15 * LABEL, bottom - 3.0, top)
    for layer, middle, y in zip(layers, middles, places, strict=True):
        yield Stroke(FRAME, ((x1, middle), (x1 + 2.5, y + 0.36 * LABEL)), "fine")
        yield Text(FRAME, (x1 + 3.4, y), cut(layer.name, LABEL, NAMES - 5.0), LABEL)
    yield Text(FRAME, (x0, top + 1.4), "outside", TICK)
    yield Text(FRAME, (x0 - 1.6, bottom - 1.3 * TICK), "inside", TICK, "end")


def _slanted(x0: float, y0: float, x1: float, y1: float) -> Iterator[Item]:
    """Slanted lines over what holds no water and has no shade."""
    high = y1 - y0
    for number in range(-math.ceil(high / SLANTS), math.floor((x1 - x0) / SLANTS) + 1):
        start = x0 + SLANTS * number
        left, right = max(start, x0), min(start + high, x1)
        if right - left > 0.01:
            yield Stroke(FRAME, ((left, y0 + left - start), (right, y0 + right - start)), "fine")


def _key(
    levels: Sequence[float], unit: str, limit: LimitLine, meant: Sequence[str], top: float
) -> Iterator[Item]:
    """The shades with the levels between them, and what the accent outlines."""
    wide, high = 14.0, 4.0
    count = len(levels) - 1
    wide = min(wide, (WIDE - LEFT - 80.0) / count)
    for number in range(count):
        x = LEFT + wide * number
        box = rectangle(x, top - high, x + wide, top)
        yield Shade(SHADE, (box,), _share(number, count))
        yield Stroke(FRAME, box, "fine", closed=True)
    for number, level in enumerate(levels):
        words = f"{level:g}" + (f" {unit}" if number == count else "")
        yield Text(
            FRAME,
            (LEFT + wide * number, top - high - 1.2 * TICK),
            words,
            TICK,
            "middle" if number < count else "start",
        )
    x = LEFT + wide * count + 12.0
    yield Stroke(LIMIT, rectangle(x, top - high, x + 7.0, top), "medium", closed=True)
    y = top - high + 0.9
    words = f"{limit.value:g} {unit} or more ({limit.name})"
    for size, lines in ((LABEL, wrapped(words, LABEL, WIDE - 3.0 - x - 9.0)), (TICK, meant)):
        for line in lines:
            yield Text(DRAWN, (x + 9.0, y), line, size)
            y -= 1.35 * size


def _words(
    quantity: str,
    unit: str,
    layers: Sequence[DepthLayer],
    values: NDArray[np.float64],
    years: Calendar,
    limit: LimitLine,
) -> tuple[str, str]:
    """The finding, and what each layer does."""
    row, found = 0, []
    highest: tuple[float, str] = (-np.inf, "")
    for layer in layers:
        if not layer.rows:
            continue
        part = values[:, row : row + layer.rows].max(axis=1)
        row += layer.rows
        step = int(np.argmax(part))
        peak = float(part[step])
        share = 100.0 * float(np.mean(part >= limit.value))
        stays = (
            f"{share:.0f} % of the {years.step}s"
            if share >= 0.5
            else f"in few {years.step}s"
            if share
            else "never"
        )
        found.append(
            f"{layer.name}: highest {peak:.3g} {unit} in {years.when(step)}, {stays} at {limit.value:g} {unit} or more"
        )
        if peak > highest[0]:
            highest = (peak, f"{layer.name}, {years.when(step)}")
    start = sentence(f"{quantity} peaks at {highest[0]:.3g} {unit} ({highest[1]})")
    side = "at or above" if highest[0] >= limit.value else "below"
    finding = f"{start}, {side} the limit of {limit.value:g} {unit} ({limit.name})."
    return finding, f"{finding} From the outside in: {'; '.join(found)}."
