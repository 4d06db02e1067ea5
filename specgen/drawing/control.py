"""The paths of the control layers drawn over a section: a line type and a letter for each, a mark at each break."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import fsum, hypot

from specgen.drawing.keys import PITCH
from specgen.drawing.labels import Wish, in_lane
from specgen.drawing.lettering import box_of, text_box
from specgen.drawing.near import PARALLEL
from specgen.drawing.notes import Note
from specgen.drawing.piece import Piece
from specgen.drawing.shapes import Area, Box, Bubble, Dash, Drawing, Item, Layer, Point, Stroke, Text
from specgen.drawing.sheet import (
    BASE_LAYERS,
    CONTROL_LAYERS,
    DrawingSheet,
    blocks,
    flow,
    remarks,
    title_strip,
)
from specgen.drawing.view import KEY_LANE, View, wall_items
from specgen.paths.shapes import PLAIN_RUN, Break, LayerPath

LOOK: Mapping[
    str, tuple[Dash, str, float]
] = {  # line type, letter, how far the line stands off its parts [mm]
    "water": ("long", "W", 1.3),
    "air": ("dashed", "A", 2.7),
    "vapor": ("double chain", "V", 4.1),
    "heat": ("dotted", "H", 0.0),
}
LETTER = 2.6


@dataclass(frozen=True)
class Run:
    """The path of a layer on the sheet, and where on it each part is entered."""

    path: LayerPath
    points: tuple[Point, ...]
    entries: Mapping[str, Point]


def layer_of(name: str, on: bool) -> Layer:
    """The layer of a control layer's path."""
    return Layer(f"control-{name}", f"path of {name}", on)


def runs(view: View) -> tuple[Run, ...]:
    """The paths of the plain run that have a way through the parts of a section."""
    by_name = {piece.name: piece for piece in view.pieces if piece.spine}
    found = []
    for path in view.job.paths:
        if path.place == PLAIN_RUN and path.steps:
            run = _run(view, path, by_name)
            if len(run.points) > 1:
                found.append(run)
    return tuple(found)


def _run(view: View, path: LayerPath, by_name: Mapping[str, Piece]) -> Run:
    points: list[Point] = []
    entries: dict[str, Point] = {}
    drained = False
    for step in path.steps:
        spine = by_name[step.id].spine if step.id in by_name else ()
        if step.id == "wall below" and points and not drained:
            spine = (
                (points[-1][0], points[-1][1]),
                (points[-1][0], min(view.levels.bottom, points[-1][1] - 0.01)),
            )
        if not spine:
            continue
        joined = _from(spine, points[-1]) if points else list(spine)
        entries[step.id] = joined[0]
        part = view.job.parapet.by_id(step.id)
        drained = part is not None and part.role == "weep screed"  # water has left the wall
        points += joined

    def at(point: Point) -> Point:
        x, y = view.placing.at(point)
        return min(x, view.box[2] - 1.0), y  # on the sheet

    ends = {name: at(point) for name, point in entries.items()}
    return Run(path, offset(tuple(map(at, points)), LOOK[path.layer][2]), ends)


def _from(spine: tuple[Point, ...], point: Point) -> list[Point]:
    """A spine from the place on it that lies nearest to a point."""
    best: tuple[float, int, Point] | None = None
    for number, (a, b) in enumerate(pairwise(spine)):
        long = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2
        share = (
            ((point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])) / long if long else 0.0
        )
        share = min(max(share, 0.0), 1.0)
        foot = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
        away = hypot(foot[0] - point[0], foot[1] - point[1])
        if best is None or away < best[0] - PARALLEL:
            best = away, number, foot
    if best is None:
        return list(spine)
    return [best[2], *spine[best[1] + 1 :]]


def offset(points: Sequence[Point], away: float) -> tuple[Point, ...]:
    """A polyline moved to its right by a distance, its corners kept."""
    kept = [
        p
        for n, p in enumerate(points)
        if n == 0 or hypot(p[0] - points[n - 1][0], p[1] - points[n - 1][1]) > 1e-3
    ]
    if len(kept) < 2 or not away:
        return tuple(kept)
    moved = []
    for a, b in pairwise(kept):
        long = hypot(b[0] - a[0], b[1] - a[1])
        nx, ny = (b[1] - a[1]) / long * away, -(b[0] - a[0]) / long * away
        moved.append(((a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny)))
    out = [moved[0][0]]
    for (a, b), (c, d) in pairwise(moved):
        out += _corner(a, b, c, d, 3.0 * away)
    return (*out, moved[-1][1])


def _corner(a: Point, b: Point, c: Point, d: Point, most: float) -> list[Point]:
    """Where two moved segments meet; both ends where they meet too far off or not at all."""
    cross = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])
    if abs(cross) > PARALLEL:
        t = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / cross
        meet = a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])
        if hypot(meet[0] - b[0], meet[1] - b[1]) <= most:
            return [meet]
    return [b, c]


def path_items(view: View, taken: Sequence[Item], size: float = LETTER) -> list[Item]:
    """The lines of all paths with their letters, each letter where it covers nothing.

    Args:
        view: the wall on its sheet.
        taken: what else stands there.
        size: of the letters.
    """
    boxes: list[Box] = [box for item in taken if (box := box_of(item)) is not None]
    ends = [item.anchor for item in taken if isinstance(item, Bubble) and item.anchor != item.at]
    items: list[Item] = []
    for run in runs(view):
        dash, letter, _ = LOOK[run.path.layer]
        name = f"control-{run.path.layer}"
        items.append(Stroke(name, run.points, "heavy", dash, arrow=True))
        for text in _letters(name, letter, size, run.points, boxes, ends):
            boxes.append(text_box(text))
            items.append(text)
    return items


def _letters(
    layer: str, letter: str, size: float, points: Sequence[Point], boxes: list[Box], ends: Sequence[Point]
) -> Iterator[Text]:
    """A letter about every 45 mm of the line."""
    total = fsum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))
    at, last = 6.0, -100.0
    while at < total - 2.0:
        if at - last >= 45.0:
            x, y = _along(points, at)
            text = Text(layer, (x, y - 0.36 * size), letter, size, "middle", bold=True, halo=True)
            box = text_box(text)
            if is_free(box, boxes, ends):
                yield text
                last = at
        at += 1.5


def _along(points: Sequence[Point], at: float) -> Point:
    for a, b in pairwise(points):
        long = hypot(b[0] - a[0], b[1] - a[1])
        if at <= long and long:
            return a[0] + (b[0] - a[0]) * at / long, a[1] + (b[1] - a[1]) * at / long
        at -= long
    return points[-1]


def is_free(box: Box, boxes: Sequence[Box], ends: Sequence[Point]) -> bool:
    """Whether lettering covers neither other lettering nor the end of a leader."""
    apart = 0.4
    left, low, right, high = box[0] - apart, box[1] - apart, box[2] + apart, box[3] + apart
    if any(left < b[2] and b[0] < right and low < b[3] and b[1] < high for b in boxes):
        return False
    return not any(left < x < right and low < y < high for x, y in ends)


def with_paths(drawing: Drawing, view: View) -> Drawing:
    """A section with the paths on layers that are off until a reader turns them on."""
    layers = (*drawing.layers, *(layer_of(name, False) for name in CONTROL_LAYERS))
    return replace(drawing, layers=layers, items=(*drawing.items, *path_items(view, drawing.items)))


def control(view: View) -> Drawing:
    """The sheet of the control layers: the section in outline, four paths, their chains and breaks in words."""
    job = view.job
    sheet = DrawingSheet(job, "Control layers", view.scale, view.paper)
    sheet.items += [_faint(item) for item in wall_items(view)]
    paths = [path for path in job.paths if path.place == PLAIN_RUN]
    faults = faults_of(paths)
    sheet.items += _fault_keys(view, faults)
    sheet.items += path_items(view, sheet.items)
    title_strip(sheet)
    rest = flow(
        sheet,
        view.paper.column,
        [
            *remarks("Paths from the roof to the wall below", (chain_words(path) for path in paths)),
            *blocks("Where a path is open to question", (_fault_note(key, f, ls) for key, f, ls in faults)),
            *remarks("How to read this sheet", _reading()),
        ],
    )
    chains = " ".join(f"{chain_words(path)}." for path in paths)
    layers = (*(layer for layer in BASE_LAYERS), *(layer_of(name, True) for name in CONTROL_LAYERS))
    if rest:
        chains += " More breaks stand in the findings of the project."
    return Drawing(
        "control-layers",
        f"Control layers at parapet {job.parapet.name}",
        f"Section with the paths of water, air, vapor and heat, each with its own line type and letter. {chains}",
        view.paper.size,
        view.scale,
        view.factor,
        layers,
        tuple(sheet.items),
        not job.si,
    )


def _faint(item: Item) -> Item:
    match item:
        case Stroke():
            return replace(item, pen="medium" if item.pen in ("heavy", "sheet") else "fine")
        case Area():
            return replace(
                item, hatch="blank" if item.hatch == "blank" else "none", pen="fine" if item.pen else None
            )
        case _:
            return item


def chain_words(path: LayerPath) -> str:
    """A path in words: its letter, its line, whether it is unbroken, and through what it runs."""
    dash, letter, _ = LOOK[path.layer]
    verdict = "unbroken" if path.unbroken else f"{len(path.breaks)} open"
    line = {
        "long": "long strokes",
        "dashed": "short strokes",
        "double chain": "stroke and two dots",
        "dotted": "dots",
    }
    return f"{letter} {path.layer} ({line[dash]}), {verdict}: {path.chain}"


Fault = tuple[str, Break, tuple[str, ...]]


def faults_of(paths: Sequence[LayerPath]) -> list[Fault]:
    """Each break once, with the layers it concerns and a key."""
    by_break: dict[tuple[str, str, str], tuple[Break, list[str]]] = {}
    for path in paths:
        for one in path.breaks:
            by_break.setdefault((one.first, one.second, one.condition), (one, []))[1].append(path.layer)
    return [(f"x{n}", one, tuple(layers)) for n, (one, layers) in enumerate(by_break.values(), 1)]


def _fault_note(key: str, fault: Break, layers: tuple[str, ...]) -> Note:
    words = f"{', '.join(layers)}: {fault.first} to {fault.second}: {fault.standing}: {fault.condition}"
    return Note(key, "diamond", words)


def _fault_keys(view: View, faults: Sequence[Fault]) -> list[Item]:
    """A cross and a key where a path meets a break; what has no place in the section is told in the notes alone."""
    entries = {name: point for run in runs(view) for name, point in run.entries.items()}
    wishes: dict[str, list[Wish]] = {"outer": [], "roof": []}
    items: list[Item] = []
    middle = view.placing.x((view.frame.left + view.frame.right) / 2.0)
    for key, fault, _ in faults:
        at = entries.get(fault.second) or entries.get(fault.first)
        if at is None:
            continue
        x, y = at
        for way in (1.0, -1.0):
            items.append(Stroke("key", ((x - 1.1, y - 1.1 * way), (x + 1.1, y + 1.1 * way)), "heavy"))
        wishes["outer" if x < middle else "roof"].append(Wish(key, x, y - 0.1, y + 0.1))
    left, low, right, high = view.paper.field
    for side, x in (("outer", left + KEY_LANE / 2.0), ("roof", right - KEY_LANE / 2.0)):
        placed = in_lane(wishes[side], low + 3.0, high - 3.0, PITCH)
        for wish in wishes[side]:
            y, end = placed[wish.key]
            items.append(Bubble("key", (x, y), wish.key, (wish.x, end), "diamond"))
    return items


def _reading() -> Iterator[str]:
    yield (
        "The lines stand off their parts so that all can be read; an arrow shows the end at the wall below. A cross "
        "marks where a path is broken, not stated, or for a manufacturer to confirm. The parts are those of the section."
    )
