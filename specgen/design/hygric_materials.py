"""The layers of a wall for the hourly balance of heat and moisture, from its components and the tables of materials.

A layer that stores heat and water has a `PorousMaterial`; a sheet without storage has its permeance and its resistance;
the drainage gap and an empty stud cavity are marked as air. What no public source gives exactly of a material has a
range: `varied` makes the materials to run beside the nominal one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal, TypeAlias

from specgen.arrays import np
from specgen.design.hygric_sheet import CURVES, HYGRIC, NEEDED, WOOD, write
from specgen.design.stud_cavity import filled_conductivity, filling
from specgen.design.vapor_layers import LAST, TABLE, section
from specgen.design.worksheet import PERMEANCE, RESISTANCE, Worksheet
from specgen.model.project import Component
from specgen.physics.heat_moisture.porous import PorousMaterial, humidity, potential_at
from specgen.physics.steady import thermal_resistance
from specgen.physics.wood_moisture import equilibrium_moisture
from specgen.practice.entries import Practice, Row, cell
from specgen.wall.facts import studs

RANGES: Final = "hygric_ranges"
STILL_AIR: Final = 200e-12
"""Vapor permeability of still air to which resistance factors in the tables refer [kg/(m·s·Pa)]."""
SHEETS: Final = ("barrier", "roof turn-up", "top flashing")
"""Roles that are sheets or coats: they keep no water that counts."""
WOOD_POINTS: Final = (0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.85, 0.9, 0.95, 0.98)
"""Humidities at which the sorption formula of wood becomes points of its curve [-]."""
NOMINAL_RH: Final = 0.8
BETWEEN: Final = 12
"""Points for each stretch of a curve between two that are known."""
BELOW_FULL: Final = 0.98
"""Points of a curve above this share of free saturation are left out: the curve goes straight to the end [-]."""
COAT_RESISTANCE: Final = 1e-3
"""Thermal resistance of a coat on the plaster [m²·K/W]: a millimetre of it, of no account."""
FULL_OF_WATER: Final = 1000.0
End: TypeAlias = Literal["low", "high"]
Points: TypeAlias = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class HygricLayer:
    """One layer of a section, outside to inside.

    thickness_m [m]; a layer of air has its depth. material: what stores heat and water, None for sheets and air.
    permeance of the whole layer, dry cup [kg/(m²·s·Pa)], and humid_permeance, wet cup; thermal_resistance of the dry
    layer [m²·K/W], for air that of the table. air: the drainage gap or an empty stud cavity.
    """

    name: str
    role: str
    thickness_m: float
    material: PorousMaterial | None
    permeance: float
    thermal_resistance: float
    humid_permeance: float
    air: bool = False


@dataclass(frozen=True)
class Variant:
    """A material with one property at one end of its range; ``prop`` as in the table of ranges, or "vapor"."""

    prop: str
    end: End
    material: PorousMaterial


def read_hygric_layers(work: Worksheet, last: str | None = LAST) -> tuple[HygricLayer, ...]:
    """The layers of a section through the wall, outside to inside, written on the sheet as inputs.

    To the innermost component of the role ``last``; None goes through all of them. Lath, weep screed and base
    seal have no part in it. Whatever is missing is noted on the worksheet; the caller stops there before it uses them.
    """
    layers: list[HygricLayer] = []
    for number, part in enumerate(section(work, last), 1):
        if part.role == "plaster" and number == 1 and part.has("finish_permeance"):
            layers.append(_finish(work, part))
        layer = layer_of(work, part, number)
        if layer is not None:
            layers.append(layer)
    return tuple(layers)


def porous(practice: Practice, material: str, usual_thickness: float = 0.0) -> PorousMaterial:
    """A generic material of the table of materials that hold water.

    Args:
        practice: the practice folder.
        material: its name in the table.
        usual_thickness: thickness to which the permeance of a whole board belongs [m].

    Raises:
        PracticeError: a number that the material needs is blank.
        ValueError: no such material.
    """
    (row,) = practice.table(HYGRIC).where(material=material)
    dry, wet = permeabilities(row, usual_thickness)
    full = cell(row, "free_saturation").value
    points = curve(practice, row, full)
    return PorousMaterial(
        name=material,
        density=cell(row, "density").value,
        heat_capacity=cell(row, "heat_capacity").value,
        conductivity=cell(row, "conductivity").value,
        resistance_dry=STILL_AIR / dry,
        resistance_wet=STILL_AIR / wet,
        water_80=water_80(row, points),
        free_saturation=full,
        absorption=cell(row, "absorption").value,
        conductivity_rise=cell(row, "conductivity_rise").value / FULL_OF_WATER,
        sorption=points,
    )


def board(practice: Practice, material: str) -> float:
    """Usual thickness of the layer of a material, to which the permeance of a whole board belongs [m]; 0 for none."""
    rows = practice.table(TABLE).where(material=material)
    return next((cell(row, "thickness").value for row in rows if row["thickness"] is not None), 0.0)


def permeabilities(row: Row, usual_thickness: float) -> tuple[float, float]:
    """Vapor permeability of the dry and the wet cup [kg/(m·s·Pa)]; that of a whole board counts before the material's.

    Where only one cup is known it stands for both. Dry and wet may come from two sources: a material that seems to
    tighten as it gets damp has the more open value in both.

    Raises:
        PracticeError: none is known.
    """
    found = {
        end: cell(row, f"permeance_{end}").value * usual_thickness
        if row[f"permeance_{end}"] is not None and usual_thickness
        else cell(row, f"permeability_{end}").value
        for end in ("dry", "wet")
        if row[f"permeability_{end}"] is not None or (row[f"permeance_{end}"] is not None and usual_thickness)
    }
    dry = found["dry"] if "dry" in found else cell(row, "permeability_dry").value
    return dry, max(dry, found.get("wet", dry))


def curve(practice: Practice, row: Row, full: float) -> Points:
    """The sorption curve of a material that holds ``full`` at free saturation, as points close together.

    Between the points that are known water lies on a straight line over the potential, that is over the logarithm of
    suction: over humidity it would rise too early.

    Returns:
        Pairs of relative humidity [-] and water [kg/m³] below free saturation; none where one point is known.
    """
    if row["curve"] is None:
        return ()
    wood = ((phi, float(equilibrium_moisture(phi))) for phi in WOOD_POINTS if row["curve"] == WOOD)
    points = (
        (cell(point, "humidity").value, cell(point, "content").value)
        for point in practice.table(CURVES).where(material=row["curve"])
    )
    density = cell(row, "density").value
    known = [(phi, content * density) for phi, content in (*wood, *points)]
    known = [(phi, water) for phi, water in known if water < BELOW_FULL * full]
    at = np.append(potential_at(np.array([phi for phi, _ in known])), 0.0)
    waters = np.array([*(water for _, water in known), full])
    stretches = [np.linspace(*ends, BETWEEN, endpoint=False) for ends in pairwise(at)]
    dense = np.unique(np.concatenate([*stretches, [float(potential_at(NOMINAL_RH))]]))[::-1]
    found = np.interp(dense, at[::-1], waters[::-1])
    return tuple(zip(humidity(dense).tolist(), found.tolist(), strict=True))


def water_80(row: Row, points: Points) -> float:
    """Water at 80 % RH, from the curve where there is one [kg/m³]."""
    if not points:
        return cell(row, "content_80").value * cell(row, "density").value
    humidities, waters = zip((0.0, 0.0), *points, strict=True)
    return float(np.interp(NOMINAL_RH, humidities, waters))


def varied(practice: Practice, material: PorousMaterial, end: End) -> tuple[Variant, ...]:
    """The materials to run beside the nominal one: one property at that end of its range, the others nominal.

    The vapor permeabilities of both cups move together. A changed water content at 80 % RH stretches the curve below
    it, and the rest of the curve up to free saturation. The material goes by its name in the table; what else was
    changed of it stays.
    """
    ends = _ends(practice, material.name, end)
    vapor = {key: ends.pop(key) for key in ("permeability_dry", "permeability_wet") if key in ends}
    (row,) = practice.table(HYGRIC).where(material=material.name)
    made = [
        Variant(prop, end, _changed(practice, row, material, prop, value)) for prop, value in ends.items()
    ]
    if vapor:
        dry = vapor.get("permeability_dry", STILL_AIR / material.resistance_dry)
        wet = max(dry, vapor.get("permeability_wet", STILL_AIR / material.resistance_wet))
        changed = replace(material, resistance_dry=STILL_AIR / dry, resistance_wet=STILL_AIR / wet)
        made.append(Variant("vapor", end, changed))
    return tuple(made)


def _ends(practice: Practice, material: str, end: End) -> dict[str, float]:
    rows = practice.table(RANGES).where(material=material)
    return {str(row["property"]): cell(row, end).value for row in rows}


def _changed(
    practice: Practice, row: Row, material: PorousMaterial, prop: str, value: float
) -> PorousMaterial:
    if prop == "absorption":
        return replace(material, absorption=value)
    if prop == "free_saturation":
        return replace(material, free_saturation=value, sorption=curve(practice, row, value))
    assert prop == "content_80", prop
    water = value * material.density
    old, full = material.water_80, material.free_saturation
    stretched = tuple(
        (
            phi,
            amount * water / old if amount <= old else full - (full - amount) * (full - water) / (full - old),
        )
        for phi, amount in material.sorption
    )
    return replace(material, water_80=water, sorption=stretched)


def _finish(work: Worksheet, part: Component) -> HygricLayer:
    title = f"vapor permeance of the finish of {part.id}"
    permeance = work.part_input("Wf", title, part, "finish_permeance")
    return HygricLayer(f"finish of {part.id}", "finish", 0.0, None, permeance, COAT_RESISTANCE, permeance)


def layer_of(work: Worksheet, part: Component, number: int, table: str = TABLE) -> HygricLayer | None:
    """One component as a layer, by its row in a table of kinds; None, with the reason among what is missing.

    Args:
        work: the sheet its numbers are written on.
        part: the component.
        number: that stands behind the symbols.
        table: ``materials``, or the table of the pieces of the top.
    """
    rows = work.practice.table(table).where(role=part.role, kind=part.kind)
    if not rows:
        work.missing.append(
            f"{part.id}: no heat and vapor properties are known for {part.kind} as {part.role}"
        )
        return None
    row, fill = _Kind(table, rows[0]), filling(work, part)
    name = "depth" if part.role == "drainage layer" else "thickness"
    if not part.has(name) and row.row["thickness"] is None:
        work.missing.append(f"{part.id}.{name}: {name} of the {part.role} ({part.kind})")
        return None
    if part.role in SHEETS:
        return _without_storage(work, part, row, number, name, air=False)
    if part.role == "drainage layer" or (studs(part) and fill is None):
        return _without_storage(work, part, row, number, name, air=True)
    own = work.practice.table(HYGRIC).where(material=(fill or row.row)["material"])
    if not own:
        work.missing.append(f"{part.id}: no water content is known for {part.kind} as {part.role}")
        return None
    return _storing(work, part, row, own[0], fill, number)


@dataclass(frozen=True)
class _Kind:
    """The row of a kind, and the table that it stands in."""

    table: str
    row: Row

    def write(self, work: Worksheet, symbol: str, column: str, title: str) -> float:
        """One cell as an input on the sheet; its value in SI."""
        return work.table_input(symbol, self.table, self.row, column, title)


def _thickness(work: Worksheet, part: Component, kind: _Kind, number: int, name: str) -> float:
    if part.has(name):
        return work.part_input(f"d{number}", f"{name} of {part.id}", part, name)
    return kind.write(work, f"d{number}", "thickness", f"{name} of {part.id} ({part.kind})")


def _without_storage(
    work: Worksheet, part: Component, kind: _Kind, number: int, name: str, *, air: bool
) -> HygricLayer | None:
    before, row = len(work.missing), kind.row
    if row["conductivity"] is None:
        work.missing.append(f"{part.id}: no thermal conductivity is known for {part.kind}")
    if not (part.has("vapor_permeance") or row["permeance"] or row["permeability"]):
        work.missing.append(f"{part.id}.vapor_permeance: vapor permeance of the {part.role} ({part.kind})")
    if len(work.missing) > before:
        return None
    thickness = _thickness(work, part, kind, number, name)
    title = f"thermal conductivity of {part.id} ({part.kind})"
    conductivity = kind.write(work, f"λ{number}", "conductivity", title)
    thermal = float(thermal_resistance(thickness, conductivity))
    work.step(f"R{number}", f"thermal resistance of {part.id}", thermal, RESISTANCE, "R = d/λ (ISO 6946)")
    if part.has("vapor_permeance"):
        title = f"vapor permeance of {part.id} ({part.kind})"
        dry = wet = work.part_input(f"W{number}", title, part, "vapor_permeance")
    else:
        dry, wet = _table_permeances(work, part, kind, thickness, number)
    return HygricLayer(part.id, part.role, thickness, None, dry, thermal, wet, air)


def _table_permeances(
    work: Worksheet, part: Component, kind: _Kind, thickness: float, number: int
) -> tuple[float, float]:
    """Permeance of a sheet, dry and wet cup; the wet one is the dry one where it is not known."""
    row, found = kind.row, list[float]()
    for column, cup in (("", "dry"), ("humid_", "wet")):
        if row[f"{column}permeance"] is not None:
            title = f"vapor permeance of {part.id} ({part.kind}), {cup} cup, whole sheet"
            found.append(kind.write(work, f"W{number}{cup[0]}", f"{column}permeance", title))
        elif row[f"{column}permeability"] is not None and row["permeance"] is None:
            title = f"vapor permeability of {part.id} ({part.kind}), {cup} cup"
            value = kind.write(work, f"δ{number}{cup[0]}", f"{column}permeability", title)
            title = f"vapor permeance of {part.id}, {cup} cup"
            found.append(work.step(f"W{number}{cup[0]}", title, value / thickness, PERMEANCE, "W = δ/d"))
    return found[0], max(found)


def _storing(
    work: Worksheet, part: Component, kind: _Kind, own: Row, fill: Row | None, number: int
) -> HygricLayer | None:
    usual = board(work.practice, str(own["material"]))
    known = own["permeability_dry"] is not None or (own["permeance_dry"] is not None and usual > 0.0)
    missing = [title for column, title in NEEDED.items() if own[column] is None]
    if fill is None and own["conductivity"] is None:
        missing.append("thermal conductivity")
    if not known:
        missing.append("vapor permeability")
    work.missing.extend(f"{part.id}: no {title} is known for {part.kind}" for title in missing)
    if missing:
        return None
    thickness = _thickness(work, part, kind, number, "thickness")
    material = porous(work.practice, str(own["material"]), usual)
    if fill is not None:
        conductivity = filled_conductivity(work, part, fill, number)
    else:
        title = f"thermal conductivity of {part.id} ({part.kind}), dry"
        conductivity = work.table_input(f"λ{number}", HYGRIC, own, "conductivity", title)
    material = replace(material, conductivity=conductivity)
    write(work, part, own, material, number)
    return HygricLayer(
        part.id,
        part.role,
        thickness,
        material,
        STILL_AIR / material.resistance_dry / thickness,
        float(thermal_resistance(thickness, conductivity)),
        STILL_AIR / material.resistance_wet / thickness,
    )
