"""Where a parapet looks to, and the rain of a weather year on its outer face."""

from __future__ import annotations

import math

from specgen.arrays import NDArray, np
from specgen.design.worksheet import HEIGHT, NUMBER, Unit, Worksheet
from specgen.model.weather import Weather
from specgen.physics.rain import rain_deposition, roughness_coefficient

WATER = Unit("mass per area", "lb/ft2", "kg/m2")  # 1 kg/m² is 1 mm of rain
AZIMUTHS = {
    name: 45.0 * step
    for step, name in enumerate(
        ("north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest")
    )
}
EXPOSURE = (
    (10.0, "exposure_10m"),
    (15.0, "exposure_15m"),
    (20.0, "exposure_20m"),
    (math.inf, "exposure_over"),
)
TERRAIN = "open country"  # the severer of the usual terrains, taken when none is given


def degrees(work: Worksheet, key: str) -> float:
    """Degrees clockwise from north of an orientation, written as an input."""
    return AZIMUTHS[work.input_word("", key)]


def terrain(work: Worksheet) -> str:
    """The terrain given, or open country with a word on it."""
    if work.word("site.terrain"):
        return work.input_word("", "site.terrain")
    leave_out(work, f"No terrain is given (site.terrain): {TERRAIN} is taken.")
    return TERRAIN


def leave_out(work: Worksheet, why: str) -> None:
    """Name once what a calculation leaves out or takes for want of a value."""
    if why not in work.leaves_out:
        work.leaves_out.append(why)


def exposure_factor(work: Worksheet) -> float:
    """Rain exposure factor of ASHRAE 160 by terrain and building height; the highest where no height is given.

    Its table ends with one factor for all buildings above the last height: the sheet says so.
    """
    (row,) = work.practice.table("terrain").where(terrain=terrain(work))
    height = work.given("building.height")
    tall = height.value if height is not None else math.inf
    last = work.shown(EXPOSURE[-2][0], HEIGHT)
    if height is None:
        leave_out(work, f"No height is given (building.height): the exposure factor above {last} is taken.")
    else:
        work.input("h", "building.height")
        if tall > EXPOSURE[-2][0]:
            leave_out(
                work, f"Rain exposure above {last}: one factor for every height, as the table ends there."
            )
    column = next(name for limit, name in EXPOSURE if tall <= limit)
    return work.table_input("FE", "terrain", row, column, "rain exposure factor")


def roughness(work: Worksheet) -> float:
    """Wind at the top of the parapet over that at 10 m in open country, by ISO 15927-3, written on the sheet.

    Raises:
        Unknown: a height is not given.
    """
    work.require("building.height", "parapet.height")
    height = work.input("h", "building.height") + work.input("hp", "parapet.height")
    (row,) = work.practice.table("terrain").where(terrain=terrain(work))
    factor, rough, least = (
        work.table_input(symbol, "terrain", row, column, title)
        for symbol, column, title in (
            ("KR", "terrain_factor", "terrain factor"),
            ("z0", "roughness", "roughness length of the terrain"),
            ("zmin", "least_height", "height below which the wind is taken as at it"),
        )
    )
    found = float(roughness_coefficient(height, factor, rough, least))
    formula = "CR = KR ln(z/z0), z = h + hp (ISO 15927-3, clause 5)"
    return work.step("CR", "terrain roughness coefficient", found, NUMBER, formula)


def rain_on_wall(work: Worksheet, weather: Weather, azimuth: float) -> NDArray[np.float64] | None:
    """Rain on the outer face in each hour [kg/m²] by ASHRAE 160; None where the file has no rain."""
    if weather.rain_mm is None:
        return None
    exposure = exposure_factor(work)
    deposition = work.practice_input("FD", "rain.deposition")
    load = deposited_rain(weather, weather.rain_mm, azimuth, exposure, deposition)
    work.step("nc", "hours of rain in the file", float((weather.rain_mm > 0).sum()), NUMBER, "count")
    return load


def deposited_rain(
    weather: Weather, rain_mm: NDArray[np.float64], azimuth: float, exposure: float, deposition: float
) -> NDArray[np.float64]:
    """Rain on a vertical face in each hour by ASHRAE 160 [kg/m²], of rain on the level [mm] and the wind of a year."""
    incidence = weather.wind_direction - azimuth
    return np.asarray(rain_deposition(weather.wind_speed, incidence, rain_mm, exposure, deposition))
