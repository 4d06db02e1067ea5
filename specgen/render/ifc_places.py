"""Where each parapet stands in a building model: by itself, its outer face toward where it looks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, radians, sin

from specgen.design.facing import AZIMUTHS
from specgen.rules.wall import Wall
from specgen.specification import Specification

SHOWN_LENGTH = 1.0  # of a parapet whose length nobody states [m]
APART = 2.0  # times the longest parapet: where each stands in the building nobody describes
_SOUTH = 180.0  # the outer face of a section looks to -y, which is south
DIGITS = 9  # of a coordinate in meters: a millionth of a millimeter


@dataclass(frozen=True)
class WallPlace:
    """One parapet in the model: its foot at the outer face on the finished roof, and the way it runs [m]."""

    wall: Wall
    x: float
    roof: float  # height of the finished roof above ground
    along: tuple[float, float]
    length: float

    def point(self, along: float, across: float, up: float) -> tuple[float, float, float]:
        """A point of the wall in the model: along the wall, from the outer face toward the roof, above the roof."""
        (x, y), (across_x, across_y) = self.along, (-self.along[1], self.along[0])
        return (
            rounded(self.x + along * x + across * across_x),
            rounded(along * y + across * across_y),
            rounded(self.roof + up),
        )


def wall_places(spec: Specification) -> Mapping[str, WallPlace]:
    """Every parapet of which a component is listed, by its name, in the order of the file."""
    walls = [wall for wall in spec.assessment.walls if any(wall.parapet.components())]
    lengths = [rounded(wall.parapet.si("length") or SHOWN_LENGTH) for wall in walls]
    roof = rounded(spec.assessment.project.building.si("height") or 0.0)
    found = {}
    for number, (wall, length) in enumerate(zip(walls, lengths, strict=True)):
        turn = radians(_SOUTH - AZIMUTHS.get(wall.parapet.word("orientation") or "", _SOUTH))
        along = rounded(cos(turn)), rounded(sin(turn))
        found[wall.parapet.name] = WallPlace(
            wall, rounded(number * APART * max(lengths)), roof, along, length
        )
    return found


def rounded(number: float) -> float:
    """A coordinate without the last binary noise, and never minus zero."""
    return round(number, DIGITS) + 0.0
