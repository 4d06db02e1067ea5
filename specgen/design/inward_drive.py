"""Vapor driven inward hour by hour: plaster wetted by rain, then heated by the sun.

A built-in design day from the site's temperatures and latitude, and, where the project names a weather file, its whole
year. The wall as specified, and a comparison of four drainage layers with four classes of barrier.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeAlias

from specgen.arrays import NDArray, np
from specgen.design.condensate import say_limit_met, stated_limit
from specgen.design.drive_study import (
    Climate,
    DayResult,
    Hours,
    ParapetWall,
    Sky,
    design_day,
    plaster_water,
    pore_humidity,
    say_dew_points,
    temperatures,
    weather_climate,
    wet_day,
    year,
)
from specgen.design.drive_tables import HOUR, day_table, year_table
from specgen.design.drive_walls import plaster_properties, walls
from specgen.design.facing import degrees, rain_on_wall
from specgen.design.vapor_layers import read_layers
from specgen.design.worksheet import (
    CONDENSATE,
    TEMPERATURE,
    VAPOR_FLOW,
    VAPOR_PRESSURE,
    Unit,
    Worksheet,
    calculation,
)
from specgen.model.calculation import CalcTable
from specgen.model.source import Source, Status
from specgen.model.weather import Weather
from specgen.physics.moist_air import saturation_pressure

SUBJECT = "inward drive"
ANGLE = Unit("angle", "deg", "deg")
TITLE = "Vapor driven inward hour by hour from wet plaster"
SETS = (
    "face_peak",
    "vapor_in",
    "vapor_behind",
    "vapor_peak",
    "condensate_day",
    "wet_hours",
    "dry_after",
    "left_after",
    "limit_met",
)
SOLAR = Source(
    "ASHRAE Handbook of Fundamentals", "2013", "clear-sky irradiance, sol-air temperature", Status.STANDARD
)
SKY = Source(
    "Perez, Ineichen, Seals, Michalsky and Stewart, Solar Energy 44",
    "1990",
    "sky by its clearness and brightness; coefficients of all sites as the package pvlib holds them",
    Status.PRACTICE,
)
DIFFUSION = Source("ISO 13788", "2012", "steady diffusion, applied hour by hour", Status.PRACTICE)
VALIDITY = (
    "One-dimensional, each hour in steady state; faces between -60 and 100 °C. A comparison of build-ups in a stated "
    "day and year, not a forecast of the water in the wall."
)
LEAVES_OUT = (
    "Storage of heat, and of vapor in sheathing and framing: with it peaks are lower and drying is slower.",
    "Condensate on the barrier, in the sheathing and in the gap: all vapor that passes the barrier reaches the membrane.",
    "Wind in the gap, and its cooling by the air: an open gap is taken as warm as the back of the plaster, which the "
    "stack of `gap ventilation` is not.",
    "Air that moves through joints and framing, rain that leaks through.",
    "A sky other than the mean of those of its clearness and brightness that were measured.",
    "Long-wave loss to the sky: the roof membrane is colder on clear nights than is taken here.",
    "The color of the membrane: a light one is taken. A dark one is warmer, and less condenses on its back.",
    "Shade of other buildings and of the coping.",
    "Vapor permeances are those of the dry cup where no other is given; damp sheathing lets more through.",
    "What sets the limit on the drainage layer: `vapor drive` does, and takes the greater of its afternoon and this day.",
    "The build-ups of the comparison keep everything but drainage layer and barrier of the wall as specified.",
)


@dataclass(frozen=True)
class Setting:
    """What holds for every build-up: the hours, the surface coefficient [W/(m²·K)], the dry days."""

    climate: Climate
    sky: Sky
    azimuth: float
    days: int


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Hourly inward vapor drive and the condensate on the back of the roof membrane.

    Formulas: sol-air temperature (ASHRAE Handbook of Fundamentals); steady diffusion as in ISO 13788, hour by
    hour: p_g = (p_s/Z_l + K p_o + p_m/Z_b)/(1/Z_l + K + 1/Z_b), g = (p_g - p_m)/Z_b, m = max(0, m + g Δt).

    Given: site.temp_summer, site.latitude, and the weather file if there is one; orientation and build-up, and
    condensate_limit where there is one. Of practice: design day, material properties, classes of barrier. Makes
    the tables ``design day`` and, with weather, ``year``. Unknown where a datum is missing.
    """
    layers = read_layers(work)
    found = setting(work)
    specified, compared = walls(work, layers)
    day = wet_day(specified, found.climate, found.sky.film, found.days)
    _day_results(work, found, day)
    say_limit_met(work, "mc ≤ mx", float(day.condensate[0, 0]), stated_limit(work, "mx"))
    work.tables.append(day_table(work, wet_day(compared, found.climate, found.sky.film, found.days)))
    if work.project.weather is not None:
        work.tables += _year(work, found, specified, compared, work.project.weather)
    else:
        work.leaves_out.append("No weather file is named (site.weather): the design day alone is calculated.")


def setting(work: Worksheet) -> Setting:
    """The design day of a parapet, with what it stands on written on the sheet.

    Raises:
        Unknown: a datum is missing; those missing so far are named too.
    """
    by_file = work.project.weather is not None and not work.given("site.latitude")
    work.require("site.temp_summer", *(() if by_file else ("site.latitude",)), "parapet.orientation")
    azimuth = degrees(work, "parapet.orientation")
    latitude = _latitude(work)
    top = work.input("To", "site.temp_summer")
    span = work.practice_input("ΔT", "drive.daily_range")
    dew = _dew_point(work, top - span)
    tau = work.practice_input("τb", "drive.tau_beam"), work.practice_input("τd", "drive.tau_diffuse")
    sky = Sky(
        work.practice_input("ρ", "drive.ground_reflectance"),
        work.practice_input("αp", "vapor.absorptance"),
        work.practice_input("αm", "drive.membrane_absorptance"),
        work.practice_input("ho", "vapor.film_coefficient"),
    )
    days = round(work.practice_input("nd", "drive.drying_days") / 86_400.0)
    return Setting(design_day(latitude, azimuth, top, span, dew, tau, sky), sky, azimuth, days)


def _latitude(work: Worksheet) -> float:
    """Degrees north: the site's, or else that of the station of the weather file."""
    weather = work.project.weather
    if work.given("site.latitude") or weather is None:
        return float(np.degrees(work.input("φ", "site.latitude")))
    why = f"No latitude is given (site.latitude): that of the weather file's station is taken, {weather.place.name}."
    return float(
        np.degrees(work.assume("φ", "latitude", float(np.radians(weather.place.latitude)), ANGLE, why))
    )


def _dew_point(work: Worksheet, lowest: float) -> float:
    if work.given("site.dew_point_summer"):
        return work.input("Td", "site.dew_point_summer")
    why = (
        "No summer dew point is given (site.dew_point_summer): the air is taken as saturated at the lowest temperature "
        "of the day."
    )
    return work.assume("Td", "dew point", lowest, TEMPERATURE, why)


def _day_results(work: Worksheet, hours: Setting, day: DayResult) -> None:
    climate = hours.climate
    work.cite(SOLAR)
    work.cite(SKY)
    formula = "Te = To + α E/ho, ΔR = 0 for a wall, greatest of the day"
    work.result(
        "face_peak",
        "Te",
        "highest sol-air temperature of the plaster",
        climate.face_c.max(),
        TEMPERATURE,
        formula,
    )
    work.step(
        "Tr", "highest sol-air temperature of the roof side", climate.back_c.max(), TEMPERATURE, formula
    )
    pressure = float(saturation_pressure(climate.face_c.max()))
    title = "saturation pressure at that temperature of the plaster"
    work.step("ps", title, pressure, VAPOR_PRESSURE, "psat(Te) (ISO 13788)")
    work.cite(DIFFUSION)
    for name, symbol, title, values, unit, formula in _readings(day, hours.days):
        value = float(values[0, 0]) * (3600.0 if unit is HOUR else 1.0)
        work.result(name, symbol, title, value, unit, formula)
    dry = int(day.dry_after[0, 0])
    word = f"{dry} h" if dry >= 0 else f"not within {hours.days} days"
    work.result_word("dry_after", "time until no condensate is left, plaster dry", word)


Reading: TypeAlias = "tuple[str, str, str, NDArray[Any], Unit, str]"


def _readings(day: DayResult, days: int) -> tuple[Reading, ...]:
    """Name, symbol, title, values, unit and formula of the results of the design day."""
    into, through = "Gi = Σ max(gl, 0) Δt, gl = (ps - pg)/Zl", "Gb = Σ max(g, 0) Δt, g = (pg - pm)/Zb"
    most, left = "most condensate on the back of the roof membrane", f"condensate left after {days} dry days"
    return (
        ("vapor_in", "Gi", "vapor from the plaster into the gap in the day", day.inward, CONDENSATE, into),
        ("vapor_behind", "Gb", "vapor through the barrier in the day", day.behind, CONDENSATE, through),
        ("vapor_peak", "g", "greatest hourly flow through the barrier", day.peak, VAPOR_FLOW, "(pg - pm)/Zb"),
        ("condensate_day", "mc", most, day.condensate, CONDENSATE, "m = max(0, m + g Δt)"),
        ("wet_hours", "nw", "hours of the day that end with condensate", day.wet_hours, HOUR, "m > 1 mg/m²"),
        ("left_after", "ml", left, day.left, CONDENSATE, "pores at the outdoor vapor pressure"),
    )


def _year(
    work: Worksheet, hours: Setting, specified: ParapetWall, compared: ParapetWall, weather: Weather
) -> list[CalcTable]:
    climate = weather_climate(weather, hours.azimuth, hours.sky)
    say_dew_points(work, weather)
    film = hours.sky.film
    work.leaves_out.append(
        f"Weather of one typical year ({weather.name}, {weather.place.name}): indicative, not a record."
    )
    work.leaves_out += [f"Weather file: {note}." for note in weather.notes]
    title = "Typical year, plaster soaked in every hour: upper bound"
    tables = [year_table(work, "year, soaked", title, year(compared, climate, film, 1.0))]
    humidity = _rain_humidity(work, hours, specified, climate, weather)
    if humidity is not None:
        total = year(specified, climate, film, humidity)
        unit, formula = CONDENSATE, "Σ max(g, 0) Δt over the year"
        work.step(
            "my",
            "condensed in the typical year as specified, plaster wetted by rain",
            float(total.condensed[0, 0]),
            unit,
            formula,
        )
        title = "Typical year, plaster wetted by its rain"
        tables.append(year_table(work, "year, rain", title, year(compared, climate, film, humidity)))
    return tables


def _rain_humidity(
    work: Worksheet, hours: Setting, wall: ParapetWall, climate: Climate, weather: Weather
) -> Hours | None:
    rain = rain_on_wall(work, weather, hours.azimuth)
    plaster = plaster_properties(work) if rain is not None else None
    if rain is None or plaster is None:
        return None
    share = work.practice_input("s", "drive.wet_share")
    warm = temperatures(wall, climate, hours.sky.film).plaster_c[:, 0]
    water = plaster_water(plaster, climate, warm, rain, hours.sky.film)
    humidity = pore_humidity(plaster, water, share)
    work.step(
        "nr",
        "hours of the year in which the plaster is wet",
        float((humidity > 0).sum()) * 3600.0,
        HOUR,
        "water over the share s of free saturation",
    )
    return humidity
