"""How wet the materials of a cut are at the start: usual, fresh from the work, or as measured in an existing wall."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from specgen.arrays import np
from specgen.design.facing import leave_out
from specgen.design.worksheet import SHARE, Worksheet
from specgen.model.hourly import GYPSUM, TOP, WOOD
from specgen.physics.heat_moisture.porous import PorousMaterial, humidity, potentials, tabulate

KEY: Final = "parapet.construction_moisture"
LOWEST: Final = 0.05
HIGHEST: Final = 0.999
MEASURED: Final = {"wood": WOOD, "gypsum": GYPSUM}
"""Materials of readings by mass, as the sorts of places; a reading in concrete or plaster has no number of this kind."""
ROOF_SIDE: Final = "roof side"
BELOW_COPING: Final = "below the coping"


def start_humidities(
    work: Worksheet,
    cut: str,
    materials: Mapping[str, PorousMaterial],
    sorts: Mapping[str, str],
    roles: Mapping[str, str],
) -> dict[str, float]:
    """Relative humidity in the pores of those parts that do not start as usual, written on the sheet.

    Args:
        work: the sheet.
        cut: its name.
        materials, sorts, roles: of the parts that store, by name.
    """
    word = work.word(KEY) or "usual"
    if work.word(KEY):
        work.input_word("", KEY)
    found: dict[str, float] = {}
    if "wet plaster" in word:
        fresh = work.practice_input("φp", "hourly.wet_plaster")
        found |= {name: fresh for name in materials if roles.get(name) in ("plaster", "coping")}
    if "green wood" in word:
        green = work.practice_input("ug", "hourly.green_wood")
        found |= {name: humidity_at(materials[name], green) for name, sort in sorts.items() if sort == WOOD}
    return found | _measured(work, cut, materials, sorts)


def humidity_at(material: PorousMaterial, moisture: float) -> float:
    """Relative humidity at which a material holds so much moisture by mass [-], within what its curve tells."""
    made = tabulate(material)
    phi = humidity(potentials())
    at = float(np.interp(moisture * material.density, made.water[::-1], phi[::-1]))
    return round(min(max(at, LOWEST), HIGHEST), 6)


def _measured(
    work: Worksheet, cut: str, materials: Mapping[str, PorousMaterial], sorts: Mapping[str, str]
) -> dict[str, float]:
    """The wettest reading of each material and side of an existing wall, at the parts of that material."""
    existing = work.parapet.existing
    if existing is None:
        return {}
    found: dict[str, float] = {}
    for seen in existing.observations:
        sort = MEASURED.get(seen.word("material") or "")
        reading = seen.quantity("reading") if seen.word("what") == "moisture reading" else None
        if sort is None or reading is None:
            continue
        for name in _parts_at(seen.word("where") or "", cut, sort, sorts):
            wet = humidity_at(materials[name], reading.value)
            if wet > found.get(name, 0.0):
                found[name] = wet
                shown = work.shown(reading.value, SHARE)
                leave_out(work, f"{name} starts at the {shown} that was measured {seen.word('where')}.")
    return found


def _parts_at(where: str, cut: str, sort: str, sorts: Mapping[str, str]) -> Sequence[str]:
    """The part of a material that a reading is taken for: the outermost, or the innermost on the roof side."""
    parts = [name for name, own in sorts.items() if own == sort]
    if not parts or (cut == TOP) != (where == BELOW_COPING):
        return ()
    return (parts[-1] if where == ROOF_SIDE else parts[0],)
