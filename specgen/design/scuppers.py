"""Through-wall scuppers: head at the two design rainfalls, and the water on the roof when the drains are blocked."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.design.driving_rain import RATE
from specgen.design.worksheet import FLOW, GAP, PRESSURE, SHARE, Worksheet, calculation
from specgen.model.project import Record
from specgen.model.source import Source, Status
from specgen.physics.scupper import discharge, head_for_flow, ponded_water, rain_flow
from specgen.units.compare import computed_at_least
from specgen.wall.code import BY_RISK_CATEGORY, DOUBLE_RATE_CODE, load_standard

SUBJECT = "scuppers"
TITLE = "Head at the scuppers and water on the roof"
SETS = (
    "primary_head",
    "primary_fill",
    "overflow_head",
    "overflow_fill",
    "water_depth",
    "water_load",
    "freeboard",
    "spare",
)
EARLIER = "ASCE 7-16"  # the number of the equation in later ones is not confirmed
WEIR = Source("ASCE 7", "16 and 22", "commentary to chapter 8, flow through scuppers", Status.MEMORY)
LOAD = Source(
    "ASCE 7",
    "16 and 22",
    "chapter 8, rain load R = 5.2 (ds + dh) psf, inches; in 22 R = 5.2 (ds + dh + dp)",
    Status.MEMORY,
)
FILL = "part of the height of that opening that the water fills; above 100 % it runs full"
MM_PER_HOUR = 3.6e6  # of 1 m/s
VALIDITY = (
    "Rectangular scuppers with a free outfall and a level approach. Structural values are for the design "
    "professional of record to confirm."
)
LEAVES_OUT = (
    "Ponding instability, and the added depth of a roof that sags where no ponding head is given: the structural "
    "engineer decides.",
    "Hail, leaves and ice in the openings; conductor heads and leaders below them.",
    "Rain that wind holds against the wall, except what the area served counts.",
    "Sharing between scuppers: each one drains the area that the project gives it.",
)


@dataclass(frozen=True)
class Head:
    """What one scupper needs: head above its inlet [m], the same over its height [-], inlet above the low point [m]."""

    head_m: float
    fill: float
    inlet_m: float


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Head at each scupper, and depth and load of water with every primary drain blocked.

    Formulas: Q = i A; Q = 2.9 b h^1.5 [gpm, in] up to the top of the opening, above it the same coefficient over
    the height (ASCE 7 commentary, rain loads); R = ρ g (ds + dh) (ASCE 7-16 Eq. 8.3-1), in ASCE 7-22 with the ponding
    head dp of the structural engineer.

    Given: site.design_rainfall for the primary scuppers and site.secondary_rainfall for the overflows; scuppers with
    width, height, inlet height and area served; the base flashing's height; building.ponding_head where ASCE 7-22
    holds. Of practice: freeboard; under IBC 2021 twice the hourly rate where the rate of the secondary drainage is not
    stated. Unknown where a datum is missing or no overflow scupper is listed.
    """
    _require(work)
    hourly = work.input("i1", "site.design_rainfall")
    heads = [
        _heads(work, use, rate) for use, rate in (("primary", hourly), ("overflow", _secondary(work, hourly)))
    ]
    _report(work, *heads)


def _secondary(work: Worksheet, hourly: float) -> float:
    """The rain of the secondary drainage; under IBC 2021 twice the hourly rate where it is not stated."""
    if work.given("site.secondary_rainfall"):
        return work.input("i2", "site.secondary_rainfall")
    factor = work.practice_input("k", "rain.secondary_factor")
    title = work.title_of("site.secondary_rainfall")
    return work.step(
        "i2",
        title,
        factor * hourly,
        RATE,
        "i2 = k i1",
        work.cite(work.practice.source("rain.secondary_factor")),
    )


def _require(work: Worksheet) -> None:
    scuppers = work.parapet.scuppers
    if not scuppers:
        raise work.stop("not covered: the parapet lists no through-wall scupper")
    fields = work.practice.vocabulary.records["scupper"].fields
    for place in scuppers:
        for name in ("width", "height", "area_served", "inlet_height"):
            needed = name != "inlet_height" or place.word("use") == "overflow"
            if needed and not place.has(name):
                work.missing.append(f"scuppers {place.word('name')}.{name}: {fields[name].title}")
    if not any(place.word("use") == "overflow" for place in scuppers):
        work.missing.append(
            "scuppers: no overflow scupper is listed; the water over blocked drains has no way out"
        )
    keys = ["site.design_rainfall", "roof turn-up.height"]
    if work.word("site.code") != DOUBLE_RATE_CODE:
        keys.append("site.secondary_rainfall")
    if load_standard(work.project, work.practice) == BY_RISK_CATEGORY:
        keys.append("building.ponding_head")
    work.require(*keys)


def _heads(work: Worksheet, use: str, rain: float) -> list[Head]:
    places = [place for place in work.parapet.scuppers if place.word("use") == use]
    return [_head(work, place, number, rain) for number, place in enumerate(places, 1)]


def _head(work: Worksheet, place: Record, number: int, rain: float) -> Head:
    name, use = place.word("name"), place.word("use")
    mark = f"{'p' if use == 'primary' else 'o'}{number}"
    width = work.part_input(f"b{mark}", f"width of {name}, {use}", place, "width")
    height = work.part_input(f"H{mark}", f"height of {name}", place, "height")
    area = work.part_input(f"A{mark}", f"roof area served by {name}", place, "area_served")
    inlet = 0.0
    if place.has("inlet_height"):
        inlet = work.part_input(f"ds{mark}", f"inlet of {name} above the low point", place, "inlet_height")
    flow = float(rain_flow(rain * MM_PER_HOUR, area))
    work.step(f"Q{mark}", f"flow to {name}", flow, FLOW, "Q = i A")
    head = float(head_for_flow(flow, width, height))
    regime = str(discharge(head, width, height).regime)
    formula = "Q = 2.9 b h^1.5 [gpm, in]; above the opening 2.9 b (h^1.5 - (h - H)^1.5)"
    work.step(f"h{mark}", f"head at {name}, {regime}", head, GAP, formula, work.cite(WEIR))
    return Head(head, head / height, inlet)


def _report(work: Worksheet, primary: list[Head], overflow: list[Head]) -> None:
    worst = max(primary, key=lambda one: one.head_m, default=Head(0.0, 0.0, 0.0))
    title = "largest head at a primary scupper; 0 where none is listed"
    work.result("primary_head", "hp", title, worst.head_m, GAP, "max h")
    work.result("primary_fill", "hp/H", FILL, worst.fill, SHARE, "hp/H")
    worst = max(overflow, key=lambda one: one.inlet_m + one.head_m)
    title = "head at the governing overflow, primary drains blocked"
    work.result("overflow_head", "dh", title, worst.head_m, GAP, "of the deepest water")
    work.result("overflow_fill", "dh/H", FILL, worst.fill, SHARE, "dh/H")
    sag = work.input("dp", "building.ponding_head") if work.given("building.ponding_head") else 0.0
    depth = float(ponded_water(worst.inlet_m, worst.head_m).depth_m)
    load = float(ponded_water(worst.inlet_m + sag, worst.head_m).load_pa)
    title = "depth of water at the low point, primary drains blocked"
    work.result("water_depth", "d", title, depth, GAP, "d = ds + dh")
    title = "load of that water, for the structural engineer"
    work.cite(LOAD)
    equation = {EARLIER: f"{EARLIER} Eq. 8.3-1"}.get(
        load_standard(work.project, work.practice), "ASCE 7 chapter 8"
    )
    formula = f"R = ρ g {'(d + dp)' if sag else 'd'}, which is 5.193 psf an inch ({equation} rounds to 5.2)"
    work.result("water_load", "R", title, load, PRESSURE, formula)
    turn_up = work.input("hu", "roof turn-up.height")
    least = work.practice_input("f0", "scupper.freeboard")
    left = turn_up - depth
    title = "base flashing above the water; below zero the water stands over it"
    work.result("freeboard", "f", title, left, GAP, "f = hu - d")
    spare = left - least
    if computed_at_least(left, least, of=turn_up):
        spare = max(spare, 0.0)
    title = "base flashing above water and freeboard; below zero it is too low"
    work.result("spare", "s", title, spare, GAP, "s = f - f0")
