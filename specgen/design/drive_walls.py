"""The build-ups of the inward drive study: the wall as specified, and drainage layers with classes of barrier."""

from __future__ import annotations

from dataclasses import replace
from math import fsum

from specgen.arrays import np
from specgen.design.drive_study import ParapetWall, Plaster
from specgen.design.gap_path import gap_height, gap_losses
from specgen.design.vapor_layers import WallLayer
from specgen.design.worksheet import Worksheet
from specgen.physics.steady import resistance_from_permeance, thermal_resistance
from specgen.practice.entries import Row, cell

LAYERS = ("dimpled sheet", "mesh", "grooved mat", "none")
BARRIERS = {
    "vapor-open": "drive.open_barrier",
    "class III": "vapor.class_3",
    "class II": "vapor.class_2",
    "class I": "vapor.class_1",
}


def walls(work: Worksheet, layers: tuple[WallLayer, ...]) -> tuple[ParapetWall, ParapetWall]:
    """The wall as specified, and with every drainage layer and barrier of the comparison."""
    plaster, membrane = layers[0], layers[-1]
    drain = next((layer for layer in layers if layer.role == "drainage layer"), None)
    barrier = next((layer for layer in layers if layer.role == "barrier"), None)
    if barrier is None:
        raise work.stop("build_up: the build-up has no barrier")
    behind = [part for part in layers[1:-1] if part not in (drain, barrier)]
    contact = float(resistance_from_permeance(work.practice_input("Wc", "drive.contact_permeance")))
    part = work.parapet.part("drainage layer")
    depth = part.si("depth") if part is not None else 0.0
    specified = ParapetWall(
        plaster_r=plaster.thermal,
        layer_r=np.array([drain.thermal if drain else 0.0]),
        layer_z=np.array([drain.vapor if drain else contact]),
        layer_depth=np.array([depth or _usual_depth(work, part.kind if part else "none")]),
        barrier_r=barrier.thermal,
        barrier_z=np.array([barrier.vapor]),
        behind_r=fsum(layer.thermal for layer in behind),
        behind_z=fsum(layer.vapor for layer in behind),
        membrane_r=membrane.thermal,
        height=gap_height(work),
        losses=gap_losses(work),
    )
    return specified, _compared(work, specified, contact)


def _usual_depth(work: Worksheet, kind: str) -> float:
    if kind == "none":
        return 0.0
    return cell(_layer_row(work, kind), "thickness").value


def _layer_row(work: Worksheet, kind: str) -> Row:
    (row,) = work.practice.table("materials").where(role="drainage layer", kind=kind)
    return row


def _compared(work: Worksheet, specified: ParapetWall, contact: float) -> ParapetWall:
    thermal, vapor, depth = [], [], []
    for kind in LAYERS:
        if kind == "none":
            thermal.append(0.0)
            vapor.append(contact)
            depth.append(0.0)
            continue
        row = _layer_row(work, kind)
        depth.append(cell(row, "thickness").value)
        thermal.append(float(thermal_resistance(depth[-1], cell(row, "conductivity").value)))
        title = f"vapor permeance of {kind} in the comparison"
        permeance = work.table_input("", "materials", row, "permeance", title)
        vapor.append(float(resistance_from_permeance(permeance)))
    classes = [float(resistance_from_permeance(work.practice_input("", key))) for key in BARRIERS.values()]
    return replace(
        specified,
        layer_r=np.array(thermal),
        layer_z=np.array(vapor),
        layer_depth=np.array(depth),
        barrier_z=np.array(classes),
    )


def plaster_properties(work: Worksheet) -> Plaster | None:
    """The plaster as a reservoir; None, said among what is left out, where a property has no source."""
    part = work.parapet.part("plaster")
    if part is None:
        return None
    (row,) = work.practice.table("materials").where(role="plaster", kind=part.kind)
    (own,) = work.practice.table("material_properties").where(material=row["material"])
    vapor = "permeability_wet" if own["permeability_wet"] is not None else "permeability_dry"
    blank = [name for name in ("absorption", "free_saturation", vapor) if own[name] is None]
    if blank:
        work.leaves_out.append(f"Rain on {part.kind}: no source for {', '.join(blank)}.")
        return None
    if part.has("thickness"):
        thickness = work.part_input("d", f"thickness of {part.id}", part, "thickness")
    else:
        thickness = work.table_input(
            "d", "materials", row, "thickness", f"thickness of {part.id} ({part.kind})"
        )
    table = "material_properties"
    permeability = work.table_input("δp", table, own, vapor, "vapor permeability of the plaster")
    return Plaster(
        thickness,
        work.table_input("A", table, own, "absorption", "water absorption coefficient of the plaster"),
        work.table_input("wf", table, own, "free_saturation", "free saturation of the plaster"),
        thickness / permeability,
    )
