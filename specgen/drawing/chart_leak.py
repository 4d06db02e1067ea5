"""How much leakage a wall forgives: the mold index over the share of the rain that gets past, cut by cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from specgen.drawing.chart import (
    DASHES_BY_LINE,
    DRAWN,
    LEFT,
    MOST_LINES,
    NUMBERS_APART,
    RIGHT,
    TICK,
    WIDE,
    AxisScale,
    ChartError,
    PlotBox,
    apart,
    heading,
    heading_height,
    legend,
    made,
    sentence,
    ticks,
)
from specgen.drawing.shapes import Drawing, Item, Stroke, Text
from specgen.model.hourly import CutHours, HourlyResult

HIGH: Final = 66.0
MARK: Final = 1.1
MOST_INDEX: Final = 6.2
SHARES: Final = "share of the rain that leaks, %; diamond: the criterion holds, cross: it fails"


def leak_chart(result: HourlyResult, mold_limit: float) -> Drawing:
    """Greatest mold index of each run over its share of the rain; diamonds where the criterion holds, crosses where not.

    Args:
        result: as kept, with runs of one or more shares.
        mold_limit: the index that a surface stays below.

    Returns:
        The chart; its description states what each cut forgives, and every run.

    Raises:
        ChartError: no cut has a run.
    """
    cuts = [cut for cut in result.cuts if cut.runs][:MOST_LINES]
    if not cuts:
        raise ChartError("no run of any share")
    title = f"{result.parapet}: how much leakage it forgives"
    finding = sentence("; ".join(map(_forgives, cuts)) + ".")
    names = [f"{cut.cut}, {cut.leak}" for cut in cuts]
    _, below = legend(names, LEFT, 0.0, WIDE - RIGHT)
    height = heading_height(title, finding) - below + HIGH + 21.0
    items, y = heading(title, finding, height - 4.0)
    keys, y = legend(names, LEFT, y, WIDE - RIGHT)
    items += keys
    most = max(100.0 * run.share for cut in cuts for run in cut.runs) or 1.0
    frame = PlotBox(
        (LEFT, y - 3.0 - HIGH, WIDE - RIGHT, y - 3.0),
        AxisScale(0.0, 1.02 * most, ticks(0.0, 1.02 * most, 8)),
        AxisScale(0.0, MOST_INDEX, ticks(0.0, MOST_INDEX, 4)),
    )
    items += frame.numbered_up("greatest mold index of all years")
    items += frame.numbered_below(SHARES)
    items.append(frame.edges())
    lines = [_line(frame, cut) for cut in cuts]
    items += frame.limit(mold_limit, f"mold that is seen: {mold_limit:g}", lines)
    for number, (cut, line) in enumerate(zip(cuts, lines, strict=True)):
        items += _runs(cut, line, number)
    ends = apart(
        [line[-1][1] - 0.36 * TICK for line in lines], NUMBERS_APART, frame.box[1], frame.box[3] - TICK
    )
    for number, end in enumerate(ends):
        items.append(Text(DRAWN, (frame.box[2] + 1.2, end), str(number + 1), TICK, bold=True))
    return made(f"{result.parapet} leak", title, f"{title}. {finding} {_words(cuts)}", height, items)


def _line(frame: PlotBox, cut: CutHours) -> tuple[tuple[float, float], ...]:
    runs = sorted(cut.runs, key=lambda run: run.share)
    return tuple(frame.at(100.0 * run.share, run.mold_peak) for run in runs)


def _runs(cut: CutHours, line: Sequence[tuple[float, float]], number: int) -> Iterator[Item]:
    if len(line) > 1:
        yield Stroke(DRAWN, tuple(line), "medium", DASHES_BY_LINE[number])
    for (x, y), run in zip(line, sorted(cut.runs, key=lambda run: run.share), strict=True):
        if run.holds:
            diamond = ((x - MARK, y), (x, y + MARK), (x + MARK, y), (x, y - MARK))
            yield Stroke(DRAWN, diamond, "medium", closed=True)
        else:
            yield Stroke(DRAWN, ((x - MARK, y - MARK), (x + MARK, y + MARK)), "medium")
            yield Stroke(DRAWN, ((x - MARK, y + MARK), (x + MARK, y - MARK)), "medium")


def _forgives(cut: CutHours) -> str:
    """What a cut forgives, in words."""
    if cut.forgiven is None:
        return f"{cut.cut} forgives no leak"
    share = f"{100.0 * cut.forgiven:.3g} %"
    return f"{cut.cut} forgives {share} {cut.leak}" + (
        ", the most that was tried" if cut.forgiven_all else ""
    )


def _words(cuts: Sequence[CutHours]) -> str:
    """Every run of each cut."""
    found = []
    for cut in cuts:
        runs = ", ".join(
            f"{100.0 * run.share:.3g} %: mold index {run.mold_peak:.2g}, {'holds' if run.holds else 'fails'}"
            for run in sorted(cut.runs, key=lambda run: run.share)
        )
        found.append(f"{sentence(cut.cut)}: {runs}.")
    return " ".join(found)
