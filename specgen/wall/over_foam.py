"""Plaster that hangs outside foam plastic: what its fasteners cross, and what the tables of the code let them carry.

One table of the building code is of furring fastened through the foam, the other of cladding fastened straight through
it. Both are of weight alone: wind is calculated.
"""

from __future__ import annotations

import math
from itertools import takewhile

from specgen.model.project import Component, Parapet
from specgen.practice.entries import cell
from specgen.units.compare import at_least, at_most, computed_at_most
from specgen.units.quantity import Quantity
from specgen.wall.code import edition_of
from specgen.wall.facts import gypsum_board, insulated_outside
from specgen.wall.fire import FOAMS
from specgen.wall.place import Place

FURRING, LATH = "furring_over_foam", "lath_over_foam"
THROUGH = "fasteners through the insulation"
SOFT = frozenset({"drainage layer", "insulation"})  # they do not hold a fastener against bending


def outside_foam(place: Place) -> float | None:
    """Thickness of the insulation outside the barrier [m]; None where it is not all foam of stated thickness."""
    outside = takewhile(lambda part: part.role != "barrier", place.parapet.build_up)
    layers = [part for part in outside if part.role == "insulation"]
    sizes = [part.si("thickness") for part in layers if part.kind in FOAMS]
    known = [one for one in sizes if one is not None]
    return math.fsum(known) if layers and len(known) == len(layers) else None


def crossed(parapet: Parapet) -> tuple[Component, ...]:
    """The layers that a fastener of the lath spans before a board, framing, or furring holds it against bending."""
    lath = parapet.part("lath")
    furring = lath is not None and lath.word("over_insulation") == "furring"

    def holds(part: Component) -> bool:
        board = part.role == "sheathing" and not gypsum_board(part)
        return board or part.role == "framing" or (furring and part.role == "insulation")

    before = takewhile(lambda part: not holds(part), parapet.build_up)
    return tuple(part for part in before if part.role in SOFT or gypsum_board(part))


def size_of(part: Component) -> str:
    """The name of what a crossed layer is thick: a drainage layer has a depth."""
    return "depth" if part.role == "drainage layer" else "thickness"


def through_foam(place: Place) -> bool:
    """Whether the lath is fastened through foam plastic of stated thickness, straight into what is behind it."""
    lath = place.part("lath")
    through = lath is not None and lath.word("over_insulation") == THROUGH
    return through and insulated_outside(place) and outside_foam(place) is not None


def furring_spacing(place: Place) -> Quantity | None:
    """The widest spacing at which furring on studs carries this plaster over this foam; None: to be designed."""
    lath, foam = place.part("lath"), outside_foam(place)
    return _widest(place, FURRING, foam, lath.word("furring_fastener")) if lath and foam is not None else None


def lath_spacing(place: Place) -> Quantity | None:
    """The widest spacing at which lath fasteners carry this plaster through every layer they cross.

    The drainage layer and gypsum board count as foam: they hold a fastener no better. None: to be designed, or there
    is no foam that the lath is fastened through.
    """
    lath = place.part("lath")
    sizes = [part.si(size_of(part)) for part in crossed(place.parapet)]
    known = [one for one in sizes if one is not None]
    if lath is None or not through_foam(place) or len(known) < len(sizes):
        return None
    return _widest(place, LATH, math.fsum(known), lath.word("fastener"))


def embedment_in_wood(place: Place, table: str, fastener: str | None) -> Quantity | None:
    """Penetration into wood framing that a table is made for; None where it has no such fastener."""
    framing = place.part("framing")
    if framing is None or framing.kind != "wood studs":
        return None
    rows = place.practice.table(table).where(framing=framing.kind, fastener=fastener)
    return cell(rows[0], "embedment") if rows else None


def _widest(place: Place, table: str, foam: float, fastener: str | None) -> Quantity | None:
    """The widest spacing of a table; where the edition of the code was not read, each that was read must hold."""
    lath, plaster, framing = (place.part(role) for role in ("lath", "plaster", "framing"))
    thickness = plaster.si("thickness") if plaster else None
    apart = lath.quantity("support_spacing") if lath else None
    if framing is None or thickness is None or apart is None:
        return None
    weight = place.practice.quantity("plaster.density").value * thickness
    stud = framing.quantity("steel_thickness")
    held = [
        row
        for row in place.practice.table(table).where(framing=framing.kind, fastener=fastener)
        if computed_at_most(foam, cell(row, "foam").value)
        and at_most(apart, cell(row, "supports"))
        and computed_at_most(weight, cell(row, "weight").value)
        and (row["stud"] is None or (stud is not None and at_least(stud, cell(row, "stud"))))
    ]
    widest = []
    for code in _editions_read(edition_of(place.project)):
        sizes = [cell(row, "spacing") for row in held if row["code"] in (None, code)]
        if not sizes:
            return None
        widest.append(max(sizes, key=_value))
    return min(widest, key=_value)


def _editions_read(edition: int | None) -> tuple[str, ...]:
    """The editions of the code whose table of steel studs speaks for an edition."""
    first, later = "IBC 2015", "IBC 2021"
    if edition is None or edition == 2018:
        return first, later
    return (first,) if edition <= 2015 else (later,)


def _value(one: Quantity) -> float:
    return one.value
