"""What fills the cavity between studs, as a layer: the filling, and the studs that bridge it."""

from __future__ import annotations

from specgen.design.worksheet import Unit, Worksheet
from specgen.model.project import Component
from specgen.practice.entries import Row
from specgen.wall.facts import filled, studs, wood_studs

TABLE = "stud_cavities"
CONDUCTIVITY = Unit("thermal conductivity", "Btu·in/(h·ft2·F)", "W/(m·K)")


def filling(work: Worksheet, part: Component) -> Row | None:
    """What fills the studs of this framing; None where the cavity is empty, or there is none."""
    word = filled(part) if studs(part) else ""
    if not word:
        return None
    (row,) = work.practice.table(TABLE).where(filling=word)
    return row


def filled_conductivity(work: Worksheet, part: Component, row: Row, number: int) -> float:
    """Equivalent conductivity of a filled stud cavity [W/(m·K)], with inputs and step on the sheet.

    Wood studs stand beside the filling, as parallel paths: λ = (1 - f) λf + f λw. Steel studs short-circuit it:
    λ = λf/Fc, Fc the share of the filling's resistance that is left.
    """
    title = f"thermal conductivity of the filling of {part.id} ({row['filling']})"
    fill = work.table_input(f"λf{number}", TABLE, row, "conductivity", title)
    title, symbol = f"equivalent thermal conductivity of {part.id}, studs included", f"λ{number}"
    if wood_studs(part):
        share = work.practice_input("f", "framing.wood_share")
        (wood,) = work.practice.table(TABLE).where(filling=part.kind)
        studs = work.table_input("λw", TABLE, wood, "conductivity", "thermal conductivity of the studs")
        mixed = (1.0 - share) * fill + share * studs
        return work.step(symbol, title, mixed, CONDUCTIVITY, "λ = (1 - f) λf + f λw")
    left = work.practice_input("Fc", "framing.steel_share")
    return work.step(symbol, title, fill / left, CONDUCTIVITY, "λ = λf/Fc")
