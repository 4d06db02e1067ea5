"""The parts of a parapet as solids: the pieces of its section at their true sizes, for models and volumes.

A section draws membranes and sheet metal thicker than they are, and moves the faces apart by as much. At a scale at
which a line of the sheet has no width, the same pieces stand where they truly are.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import hypot, inf, sqrt

from specgen.drawing.frame import Frame, frame_of
from specgen.drawing.levels import levels_of
from specgen.drawing.near import SAME_M
from specgen.drawing.piece import MEMBRANE, METAL, Piece
from specgen.drawing.pieces import pieces
from specgen.drawing.shapes import Area, Point, Stroke, rectangle
from specgen.drawing.sizes import Job, Size
from specgen.model.project import Component
from specgen.units.quantity import Quantity

TRUE = 1e-6  # meters of the wall to a millimeter of the sheet: no line is drawn wider than what it stands for
_USUAL = ("materials", "top_materials")  # tables that hold the usual thickness of a kind


@dataclass(frozen=True)
class Solid:
    """One part in section, x from the outer face toward the roof, y from the finished roof [m].

    A sheet has the line along which it runs as well; where nobody knows how thick it is, the line alone.
    """

    component: str
    outlines: tuple[tuple[Point, ...], ...] = ()
    line: tuple[Point, ...] = ()
    thickness: Size | None = None  # of a sheet or a layer


@dataclass(frozen=True)
class SolidLayer:
    """One layer of the wall from outside to inside; without a component it is room that nobody has described."""

    component: str
    thickness: Size


@dataclass(frozen=True)
class Solids:
    """A parapet in section at true sizes."""

    layers: tuple[SolidLayer, ...]
    parts: tuple[Solid, ...]
    height: Size


def solids(job: Job) -> Solids:
    """The parts of a parapet at which a component is listed.

    Args:
        job: the parapet, as its section draws it.
    """
    frame = frame_of(job, TRUE)
    levels = levels_of(job, frame)
    found: dict[str, Solid] = {}
    for piece in pieces(job, frame, levels):
        part = job.parapet.by_id(piece.name)
        if part is not None and part.id not in found:
            found[part.id] = _solid(job, frame, part, piece)
    return Solids(tuple(_layers(frame)), tuple(found.values()), levels.height)


def usual_thickness(job: Job, part: Component) -> Size | None:
    """How thick a part is: stated, else the usual thickness of its kind; None where nothing says so."""
    for name in ("depth", "thickness"):
        found = job.stated(part, name)
        if found is not None and found.value > 0.0:
            return found
    for table in _USUAL:
        for row in job.practice.table(table).where(role=part.role, kind=part.kind):
            usual = row["thickness"]
            if isinstance(usual, Quantity):
                return Size(usual.value, True, job.words(usual))
    return None


def _layers(frame: Frame) -> Iterator[SolidLayer]:
    for strip in frame.strips:
        if strip.part is not None or strip.name == "space":
            yield SolidLayer(strip.part.id if strip.part else "", strip.size)


def _solid(job: Job, frame: Frame, part: Component, piece: Piece) -> Solid:
    strip = frame.named(part.id)
    if strip is not None and strip.part is not None:
        return Solid(part.id, (rectangle(strip.x0, piece.low, strip.x1, piece.high),), thickness=strip.size)
    outlines = tuple(item.outline for item in piece.items if isinstance(item, Area) and item.hatch != "blank")
    if outlines:
        return Solid(part.id, outlines)
    line, thickness = _line(piece), usual_thickness(job, part)
    return Solid(part.id, (band(line, thickness.value),) if line and thickness else (), line, thickness)


def _line(piece: Piece) -> tuple[Point, ...]:
    """The line that a sheet runs along: its first stroke, arrows and nails left out; none where it has no length."""
    lines = (
        item.points
        for item in piece.items
        if isinstance(item, Stroke) and item.layer in (MEMBRANE, METAL) and not item.arrow
    )
    points = next(lines, ())
    parted = [b for a, b in pairwise(points) if hypot(b[0] - a[0], b[1] - a[1]) > SAME_M]
    return (points[0], *parted) if parted else ()


def band(line: tuple[Point, ...], thickness: float) -> tuple[Point, ...]:
    """The outline of a sheet that runs along a line, half of its thickness to each side [m].

    Bends are mitered; the outer side of a fold sharper than a right angle is cut, so that no spike stands out.

    >>> band(((0.0, 0.0), (1.0, 0.0)), 0.2)
    ((0.0, 0.1), (1.0, 0.1), (1.0, -0.1), (0.0, -0.1))
    """
    legs = [(_way(a, b), hypot(b[0] - a[0], b[1] - a[1])) for a, b in pairwise(line)]
    left: list[Point] = []
    right: list[Point] = []
    for at, (before, came), (after, goes) in zip(line, (legs[0], *legs), (*legs, legs[-1]), strict=True):
        turn = before[0] * after[1] - before[1] * after[0]  # above zero where the line turns left
        for side, points in ((1.0, left), (-1.0, right)):
            off, outer = side * thickness / 2.0, side * turn < 0.0
            points += _corner(at, (before, after), off, inf if outer else min(came, goes))
    return (*left, *reversed(right))


def _way(start: Point, end: Point) -> Point:
    long = hypot(end[0] - start[0], end[1] - start[1])
    return (end[0] - start[0]) / long, (end[1] - start[1]) / long


def _corner(at: Point, ways: tuple[Point, Point], off: float, room: float) -> list[Point]:
    """One side of a bend, ``off`` to the left of both legs; an inner miter has the ``room`` of the shorter leg."""
    before, after = ways
    along = before[0] * after[0] + before[1] * after[1]
    first, second = (-before[1], before[0]), (-after[1], after[0])
    if room == inf and along < 0.0:
        return [(at[0] + off * one[0], at[1] + off * one[1]) for one in (first, second)]
    if abs(off) * sqrt(max(0.0, 1.0 - along)) >= room * sqrt(max(0.0, 1.0 + along)):
        return [at]
    share = off / (1.0 + along)
    return [(at[0] + share * (first[0] + second[0]), at[1] + share * (first[1] + second[1]))]
