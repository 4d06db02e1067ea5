"""Snow drifted against the roof side of the parapet: how deep it lies there, and what it adds to the roof."""

from __future__ import annotations

from specgen.design.coping_wind import standard_of
from specgen.design.worksheet import HEIGHT, PRESSURE, Worksheet, calculation
from specgen.model.source import Source, Status
from specgen.physics.snow import FOOT, leeward_drift, leeward_drift_by_wind, parapet_drift, snow_density
from specgen.wall.code import BY_RISK_CATEGORY as LATER

SUBJECT = "snow drift"
TITLE = "Snow drifted against the parapet"
SETS = ("depth", "surcharge", "load", "width")
VALIDITY = (
    "A windward drift along a straight parapet on a low-slope roof, of snow that lies on the roof upwind. Structural "
    "values are for the design professional of record to confirm."
)
LEAVES_OUT = (
    "Drifts of a higher roof, of equipment, and of a corner, where two drifts meet.",
    "Snow that slides or is cleared against the parapet, rain on snow, and ice dams at the edge.",
    "Terrain and shelter: the exposure factor Ce is taken as 1.0.",
)
# The formulas meet worked examples of two editions; their numbers and places are from memory.
NUMBERS = Source("ASCE 7", "10 to 22", "chapter 7, numbers of the formulas", Status.MEMORY)
DRIFT = {  # by edition: where its formula of a drift stands
    "ASCE 7-10": "ASCE 7-16 Figure 7.6-1; Figure 7-9 of ASCE 7-10 is without Is",
    "ASCE 7-16": "ASCE 7-16 Figure 7.6-1",
}


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Depth of snow at the parapet, its surcharge and its width.

    Formulas: pf = 0.7 Ce Ct Is pg; γ = 0.13 pg + 14 ≤ 30 lb/ft³; hd by the edition's formula, three quarters of it
    against a parapet, no higher than the parapet; w = 4 hd (ASCE 7-16 and 7-22, 7.3, 7.6 to 7.8).

    Given: site.code, site.ground_snow_load, parapet.snow_fetch, parapet.height; to ASCE 7-16 building.risk_category, to
    ASCE 7-22 site.winter_wind_parameter. Unknown where a datum is missing; not covered without snow.
    """
    standard = standard_of(work, "snow", "load standard of that code", "site.code: adopted building code")
    work.require("site.ground_snow_load", "parapet.snow_fetch", "parapet.height")
    work.require("site.winter_wind_parameter" if standard == LATER else "building.risk_category")
    ground = work.input("pg", "site.ground_snow_load")
    if ground == 0.0:
        raise work.stop("not covered: the ground snow load is zero")
    fetch = max(work.input("lu", "parapet.snow_fetch"), work.practice_input("l20", "snow.least_fetch"))
    height = work.input("hp", "parapet.height")
    importance = 1.0 if standard == LATER else _importance(work)
    factor, thermal = work.practice_input("k", "snow.flat_roof"), work.practice_input("Ct", "snow.thermal")
    times = "" if standard == LATER else "Is "
    numbers = work.cite(NUMBERS)
    flat = work.step(
        "pf",
        "balanced snow on the roof",
        factor * thermal * importance * ground,
        PRESSURE,
        f"pf = k Ct {times}pg ({standard} Eq. 7.3-1)",
        numbers,
    )
    if standard == LATER:
        wind = work.input("W2", "site.winter_wind_parameter")
        leeward = leeward_drift_by_wind(ground, fetch, wind)
        formula = f"hd = 1.5 √(pg^0.74 lu^0.70 W2^1.7 / γ), in ft and psf ({LATER} Eq. 7.6-1)"
    else:
        leeward = leeward_drift(ground, fetch, max(importance, 1.0))
        formula = f"hd = √Is (0.43 ∛lu ∜(pg + 10) − 1.5), in ft and psf, Is not below 1.0 ({DRIFT[standard]})"
    leeward = work.step("hd", "height of a leeward drift", leeward, HEIGHT, formula, numbers)
    share = work.practice_input("kw", "snow.windward")
    drift = work.step(
        "hw",
        "height of the drift against a parapet, not limited",
        share * leeward,
        HEIGHT,
        f"hw = kw hd ({standard} 7.8)",
        numbers,
    )
    found = parapet_drift(ground, flat, drift, height, work.practice_input("kc", "snow.no_drift"))
    density = snow_density(ground) * FOOT
    work.step(
        "γ1",
        "weight of one foot of snow, γ = 0.13 pg + 14 ≤ 30 lb/ft³",
        density,
        PRESSURE,
        f"γ × 1 ft ({standard} Eq. 7.7-1)",
        numbers,
    )
    work.step("hb", "depth of the balanced snow", found.balanced, HEIGHT, "hb = pf/γ")
    work.step(
        "hr", "height of the drift, no higher than the parapet", found.height, HEIGHT, "hr = min(hw, hp − hb)"
    )
    work.result("depth", "hs", "depth of snow at the parapet", found.depth, HEIGHT, "hs = hb + hr")
    work.result(
        "surcharge", "pd", "surcharge of the drift at the parapet", found.surcharge, PRESSURE, "pd = γ hr"
    )
    work.result(
        "load", "ps", "snow on the roof at the parapet", flat + found.surcharge, PRESSURE, "ps = pf + pd"
    )
    formula = "w = 4 hw; where the parapet limits the drift 4 hw²/hr ≤ 8 hr"
    work.result("width", "w", "reach of the drift into the roof", found.width, HEIGHT, formula)


def _importance(work: Worksheet) -> float:
    category = work.input_word("", "building.risk_category")
    (row,) = work.practice.table("snow_importance").where(category=category)
    return work.table_input("Is", "snow_importance", row, "factor")
