"""A piece of a section: what is drawn of one component, in meters, x from the outer face, y from the roof."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from specgen.drawing.frame import Frame, Laps
from specgen.drawing.levels import Levels
from specgen.drawing.shapes import Dash, Item, Point, Stroke
from specgen.drawing.sizes import Job

OUTLINE, MATERIAL, MEMBRANE, METAL, BEYOND, DRAINAGE = (
    "outline",
    "material",
    "membrane",
    "metal",
    "beyond",
    "drainage",
)


# A membrane is a fine line with strokes upon it, so that each kind reads without color.
STROKES: dict[str, Dash] = {
    "barrier": "blocks",
    "top flashing": "solid",
    "roof turn-up": "chain",
    "bridging tape": "dotted",
    "base seal": "dashed",
}


Side = Literal["outer", "roof"]


@dataclass(frozen=True)
class Piece:
    """What is drawn of one component, and where its note may point: at ``x``, from ``low`` to ``high``."""

    name: str  # component id, or a word for what is no component
    items: tuple[Item, ...]
    side: Side
    x: float
    low: float
    high: float
    spine: tuple[
        Point, ...
    ] = ()  # the line a control layer runs along in it, from the roof toward the wall below


@dataclass(frozen=True)
class Build:
    """What the pieces are made from."""

    job: Job
    frame: Frame
    levels: Levels
    laps: Laps


def sheet(part_role: str, points: tuple[Point, ...], layer: str = MEMBRANE) -> tuple[Stroke, ...]:
    """A membrane along points."""
    return Stroke(layer, points, "fine"), Stroke(layer, points, "heavy", STROKES.get(part_role, "solid"))
