"""Heat and vapor resistances of a parapet's build-up, from its components and the table of materials."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.design.stud_cavity import TABLE as FILLINGS
from specgen.design.stud_cavity import filled_conductivity, filling
from specgen.design.worksheet import PERMEANCE, RESISTANCE, Worksheet
from specgen.model.project import Component
from specgen.physics.steady import resistance_from_permeance, thermal_resistance
from specgen.practice.entries import Row

TABLE = "materials"
# Lath is open metal within the plaster; weep screed and base seal stand at an edge, not over the area of the wall.
WITHOUT_PART = frozenset({"lath", "weep screed", "base seal"})
FIRST, LAST = "plaster", "roof turn-up"


@dataclass(frozen=True)
class WallLayer:
    """One layer: its component's id, role, thermal [m²·K/W] and vapor [m²·s·Pa/kg] resistance."""

    name: str
    role: str
    thermal: float
    vapor: float


def read_layers(work: Worksheet, last: str | None = LAST) -> tuple[WallLayer, ...]:
    """The layers that resist heat and vapor, outside to inside, written on the sheet as inputs.

    The innermost must be of the role ``last``, if one is named. Everything missing is noted on the worksheet; the
    caller stops there before it uses the layers.
    """
    parts = section(work, last)
    for place, role in ((0, FIRST), (-1, last)):
        if not parts or (role and parts[place].role != role):
            where = "first" if place == 0 else "last"
            work.missing.append(f"build_up: the {where} layer of the build-up is not a {role}")
    return tuple(layer for number, part in enumerate(parts, 1) if (layer := _layer(work, part, number)))


def section(work: Worksheet, last: str | None) -> tuple[Component, ...]:
    """The components that a section through the wall cuts, outside to inside, to the first of the role ``last``."""
    parts = tuple(part for part in work.parapet.build_up if part.role not in WITHOUT_PART)
    # A plastered roof side stands above its low base flashing: the section is taken where the membrane covers the wall.
    ends = [place for place, part in enumerate(parts) if part.role == last]
    return parts[: ends[0] + 1] if ends else parts


def _layer(work: Worksheet, part: Component, number: int) -> WallLayer | None:
    rows = work.practice.table(TABLE).where(role=part.role, kind=part.kind)
    if not rows:
        work.missing.append(
            f"{part.id}: no heat and vapor properties are known for {part.kind} as {part.role}"
        )
        return None
    row = rows[0]
    name = "depth" if part.role == "drainage layer" else "thickness"
    before = len(work.missing)
    if not part.has(name) and row["thickness"] is None:
        work.missing.append(f"{part.id}.{name}: {name} of the {part.role} ({part.kind})")
    has_vapor = part.has("vapor_permeance") or row["permeance"] or row["permeability"]
    if not has_vapor:
        work.missing.append(f"{part.id}.vapor_permeance: vapor permeance of the {part.role} ({part.kind})")
    if row["conductivity"] is None:
        work.missing.append(f"{part.id}: no thermal conductivity is known for {part.kind}")
    if len(work.missing) > before:
        return None
    return _written(work, part, row, name, number)


def _written(work: Worksheet, part: Component, row: Row, name: str, number: int) -> WallLayer:
    if part.has(name):
        thickness = work.part_input(f"d{number}", f"{name} of {part.id}", part, name)
    else:
        title = f"{name} of {part.id} ({part.kind})"
        thickness = work.table_input(f"d{number}", TABLE, row, "thickness", title)
    table = TABLE
    if fill := filling(work, part):
        conductivity = filled_conductivity(work, part, fill, number)
        table, row = FILLINGS, fill
    else:
        title = f"thermal conductivity of {part.id} ({part.kind})"
        conductivity = work.table_input(f"λ{number}", TABLE, row, "conductivity", title)
    thermal = float(thermal_resistance(thickness, conductivity))
    work.step(f"R{number}", f"thermal resistance of {part.id}", thermal, RESISTANCE, "R = d/λ (ISO 6946)")
    if number == 1:  # vapor starts at the back of the plaster: its own resistance plays no part
        return WallLayer(part.id, part.role, thermal, 0.0)
    permeance = _permeance(work, part, table, row, thickness, number)
    return WallLayer(part.id, part.role, thermal, float(resistance_from_permeance(permeance)))


def _permeance(
    work: Worksheet, part: Component, table: str, row: Row, thickness: float, number: int
) -> float:
    symbol, title = f"W{number}", f"vapor permeance of {part.id} ({part.kind})"
    if part.has("vapor_permeance"):
        return work.part_input(symbol, title, part, "vapor_permeance")
    if row["permeance"]:
        return work.table_input(symbol, table, row, "permeance", f"{title}, whole sheet")
    title = f"vapor permeability of {part.id} ({part.kind})"
    permeability = work.table_input(f"δ{number}", table, row, "permeability", title)
    permeance = permeability / thickness
    title = f"vapor permeance of {part.id}"
    return work.step(symbol, title, permeance, PERMEANCE, "W = δ/d (ISO 12572)")
