"""By what hatch each generic kind is drawn."""

from __future__ import annotations

from specgen.drawing.shapes import Hatch
from specgen.model.project import Component
from specgen.wall.facts import filled

# (role, kind); a role alone where its kinds are drawn alike.
_HATCH: dict[tuple[str, str], Hatch] = {
    ("plaster", ""): "plaster",
    ("drainage layer", "mesh"): "mesh",
    ("drainage layer", "grooved mat"): "blank",
    ("sheathing", "glass-mat gypsum"): "gypsum",
    ("sheathing", "plywood"): "plywood",
    ("sheathing", "OSB"): "strands",
    ("sheathing", "concrete"): "concrete",
    ("sheathing", "concrete masonry"): "masonry",
    ("framing", "concrete"): "concrete",
    ("framing", "concrete masonry"): "masonry",
    ("insulation", ""): "rigid insulation",
    ("insulation", "mineral wool"): "batt insulation",
    ("top insulation", ""): "rigid insulation",
    ("top insulation", "mineral wool"): "batt insulation",
    ("blocking", ""): "wood end grain",
    ("blocking", "plywood"): "plywood",
    ("coping", "stone"): "stone",
    ("coping", "precast concrete"): "concrete",
    ("coping", "plaster-covered"): "plaster",
    ("roof deck", "concrete"): "concrete",
    ("roof deck", "wood"): "plywood",
    ("roof insulation", ""): "rigid insulation",
    ("roof insulation", "mineral wool"): "batt insulation",
}
_CAVITY: dict[str, Hatch] = {
    "mineral wool": "batt insulation",
    "glass fiber": "batt insulation",
    "closed-cell foam": "foam",
}
MEMBRANES = frozenset({"barrier", "roof turn-up", "top flashing", "bridging tape", "base seal"})


def hatch_of(role: str, kind: str | None) -> Hatch:
    """The hatch of a generic kind; none where the kind is not known or has none.

    >>> hatch_of("sheathing", "glass-mat gypsum"), hatch_of("insulation", "polyisocyanurate")
    ('gypsum', 'rigid insulation')
    """
    return _HATCH.get((role, kind or ""), _HATCH.get((role, ""), "none"))


def cavity_hatch(framing: Component) -> Hatch:
    """The hatch of what fills the cavity of framing."""
    return _CAVITY.get(filled(framing), "none")
