"""The plaster as a reservoir: how fast it fills, what it holds, and how much of the rain load it drinks."""

from __future__ import annotations

from specgen.design.drive_walls import plaster_properties
from specgen.design.driving_rain import rainfall
from specgen.design.facing import WATER
from specgen.design.worksheet import Unit, Worksheet, calculation
from specgen.model.source import Source, Status
from specgen.physics.reservoir import hourly_uptake, stored_water, time_to_saturation, uptake
from specgen.units.compare import computed_at_least

SUBJECT = "plaster reservoir"
TITLE = "Rain taken up and stored by the plaster"
SETS = ("capacity", "uptake_hour", "time_to_saturation", "absorbed", "runoff", "stored_peak", "fills")
HOUR = Unit("time", "h", "h")
SECONDS_PER_HOUR = 3600.0
SUCTION = Source("ISO 15148", "2002", "water absorption coefficient, m = A √t", Status.MEMORY)
VALIDITY = (
    "A plaster whose back is sealed or faces a gap, so that water does not pass on; uptake as a sharp wet front; "
    "absorption of the face as the material's own, not of a paint or an elastomeric coating."
)
LEAVES_OUT = (
    "Cracks, joints and edges, through which water goes faster.",
    "Drying between the hours: the water that is absorbed stays, so the peak is an upper bound.",
    "Showers shorter than an hour: their rain is spread over the hour, so that more of it is taken up.",
    "Rain that splashes off, and water that runs down from above.",
    "Water that passes through the plaster into the gap once it is full.",
)


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Time until the plaster is full, water it holds, and its share of the rain on the face.

    Formulas: m = A √t (ISO 15148); m_max = d wf; t = (d wf/A)²; hour by hour with a supply: the front drinks at A²/(2m).

    Given: the weather file with hourly rain, or site.rain_event with its time and wind; the plaster and its
    thickness. Of practice: water absorption coefficient and free saturation. Unknown where a property has no
    source or there is no rain to take up.
    """
    plaster = plaster_properties(work)
    if plaster is None:
        raise work.stop("plaster: no water absorption coefficient or free saturation with a source is known")
    work.cite(SUCTION)
    capacity = float(stored_water(plaster.thickness, plaster.free_saturation))
    work.result("capacity", "mx", "water held when full", capacity, WATER, "mx = d wf")
    first = float(uptake(plaster.absorption, SECONDS_PER_HOUR))
    title = "water taken up in the first hour under a film of water"
    work.result("uptake_hour", "m1", title, min(first, capacity), WATER, "m = A √t (ISO 15148), at most mx")
    full = float(time_to_saturation(plaster.absorption, plaster.thickness, plaster.free_saturation))
    title = "time under a film of water until full"
    work.result("time_to_saturation", "tx", title, full, HOUR, "tx = (d wf/A)²")
    fall = rainfall(work)
    water = hourly_uptake(fall.face, plaster.absorption, plaster.thickness, plaster.free_saturation)
    work.step("Σr", "rain on the outer face", float(fall.face.sum()), WATER, "driving rain")
    formula = "front drinks at A²/(2m), no more than falls, no more than is left of mx"
    work.result("absorbed", "Σa", "taken up, nothing drying", float(water.absorbed.sum()), WATER, formula)
    work.result("runoff", "Σo", "run off", float(water.runoff.sum()), WATER, "Σo = Σr - Σa")
    peak = float(water.stored.max())
    work.result("stored_peak", "mp", "most water held", peak, WATER, "greatest sum of uptake")
    filled = computed_at_least(peak, capacity)
    work.result_word("fills", "the rain fills the plaster", "yes" if filled else "no", "mp ≥ mx")
