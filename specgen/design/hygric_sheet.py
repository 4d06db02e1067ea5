"""A material that holds water on the sheet of a calculation."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from specgen.design.worksheet import NUMBER, SHARE, Unit, Worksheet
from specgen.model.project import Component
from specgen.physics.heat_moisture.porous import PorousMaterial
from specgen.practice.entries import Row

HYGRIC: Final = "hygric_materials"
CURVES: Final = "sorption_curves"
WOOD: Final = "softwood"
"""The material of the table of curves that has the formula of wood before its points."""
NEEDED: Final = {
    "density": "density",
    "heat_capacity": "heat capacity",
    "absorption": "water absorption coefficient",
    "free_saturation": "water content at free saturation",
    "conductivity_rise": "rise of thermal conductivity with water",
}
SYMBOLS: Final[Mapping[str, str]] = {
    "density": "ρ",
    "heat_capacity": "c",
    "absorption": "A",
    "free_saturation": "wf",
    "conductivity_rise": "λw",
}
CONTENT: Final = Unit("density", "pcf", "kg/m3")


def write(work: Worksheet, part: Component, own: Row, material: PorousMaterial, number: int) -> None:
    """The numbers of a material that holds water as inputs and steps, each with its source.

    Args:
        work: the sheet.
        part: the component that is of the material.
        own: its row in the table of materials that hold water.
        material: what was made of the row.
        number: that stands behind the symbols.
    """
    for column, symbol in SYMBOLS.items():
        work.table_input(
            f"{symbol}{number}", HYGRIC, own, column, f"{NEEDED[column]} of {part.id} ({part.kind})"
        )
    for end, resistance in (("dry", material.resistance_dry), ("wet", material.resistance_wet)):
        for column in (f"permeance_{end}", f"permeability_{end}"):
            if own[column] is not None:
                work.cite(work.practice.table(HYGRIC).source_of(own, column))
        title = f"vapor resistance factor of {part.id}, {end} cup"
        work.step(f"μ{number}{end[0]}", title, resistance, NUMBER, "μ = 200 ng/(Pa·s·m) over δ")
    if own["curve"] is None:
        title = f"water at 80 % RH over dry mass of {part.id}"
        work.table_input(f"u{number}", HYGRIC, own, "content_80", title)
    else:
        table = work.practice.table(CURVES)
        for point in table.where(material=own["curve"]):
            work.cite(table.source_of(point, "content"))
        if own["curve"] == WOOD:
            work.cite(table.source)
        title = f"water at 80 % RH over dry mass of {part.id}"
        content = material.water_80 / material.density
        work.step(
            f"u{number}", title, content, SHARE, f"sorption curve of {own['curve']}, between its points"
        )
    title = f"water at 80 % RH of {part.id}"
    work.step(f"w{number}", title, material.water_80, CONTENT, "w = u ρ")
