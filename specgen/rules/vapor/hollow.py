"""What the rules on the hollow of a parapet and on its layers share."""

from __future__ import annotations

from specgen.model.project import Component
from specgen.requirements.judge import at_most
from specgen.rules.wall import Wall
from specgen.units.quantity import Quantity

SOLID = ("concrete", "concrete masonry")


def solid(wall: Wall) -> bool:
    """Whether the parapet has no cavity: its framing is concrete or masonry."""
    framing = wall.part("framing")
    return framing is not None and framing.kind in SOLID


def vapor_tight(wall: Wall, part: Component) -> bool | None:
    """Whether a component is a class I vapor retarder; None where nothing is known of its permeance.

    Its own stated value counts, else that of its generic material in the table of materials.
    """
    permeance = part.quantity("vapor_permeance")
    if permeance is None:
        rows = wall.practice.table("materials").where(role=part.role, kind=part.kind)
        known = rows[0]["permeance"] if rows else None
        if not isinstance(known, Quantity):
            return None
        permeance = known
    return at_most(permeance, wall.practice.entry("vapor.class_1"))
