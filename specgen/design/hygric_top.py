"""The pieces of the top for the hourly balance of heat and moisture, from the coping down to the cavity."""

from __future__ import annotations

from typing import Final

from specgen.design.hygric_materials import HygricLayer, layer_of
from specgen.design.worksheet import Worksheet
from specgen.model.project import Component

TOP: Final = "top_materials"
JOINTS: Final = frozenset({"bridging tape", "cleat"})
"""Roles of the top that stand at joints and edges, not over its area."""
METAL_RESISTANCE: Final = 1e-5
"""Thermal resistance of a sheet of metal [m²·K/W]: of no account."""


def read_top_layers(work: Worksheet) -> tuple[HygricLayer, ...]:
    """The pieces of the top, the outermost first, written on the sheet as inputs; none where no top is described.

    The file lists them as they are laid, the lowest first. Between a coping of metal and what is below it lies air, which
    is the caller's; its joints let water in. Whatever is missing is noted on the worksheet.
    """
    pieces = [part for part in work.parapet.top if part.role not in JOINTS]
    first = len(work.parapet.build_up) + 1
    found = (_piece(work, part, number) for number, part in enumerate(pieces, first))
    return tuple(reversed([layer for layer in found if layer is not None]))


def _piece(work: Worksheet, part: Component, number: int) -> HygricLayer | None:
    if work.practice.kind(part.role, part.kind).metal:
        thickness = part.si("thickness") or 0.0
        return HygricLayer(part.id, part.role, thickness, None, 0.0, METAL_RESISTANCE, 0.0)
    if part.role == "top flashing" and not work.practice.table(TOP).where(role=part.role, kind=part.kind):
        return _flashing(work, part, number)
    return layer_of(work, part, number, TOP)


def _flashing(work: Worksheet, part: Component, number: int) -> HygricLayer:
    """A membrane of a kind that no table knows: its own permeance, or that of a tight one, which dries least."""
    if part.has("vapor_permeance"):
        title = f"vapor permeance of {part.id} ({part.kind})"
        permeance = work.part_input(f"W{number}", title, part, "vapor_permeance")
    else:
        permeance = work.practice_input(f"W{number}", "hourly.flashing_permeance")
    return HygricLayer(part.id, part.role, 0.0, None, permeance, METAL_RESISTANCE, permeance)
