"""Air through the drainage gap under sun and wind, and the vapor it carries off."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.arrays import ArrayLike, np
from specgen.design.drive_study import Sky, say_dew_points, weather_climate
from specgen.design.facing import degrees, roughness
from specgen.design.gap_path import gap_height, gap_losses
from specgen.design.worksheet import (
    CONDENSATE,
    NUMBER,
    PRESSURE,
    RESISTANCE,
    TEMPERATURE,
    VAPOR_PRESSURE,
    Unit,
    Worksheet,
    calculation,
)
from specgen.model.calculation import CalcTable
from specgen.model.source import Source, Status
from specgen.model.weather import Weather
from specgen.physics.constants import AIR_DENSITY_20C
from specgen.physics.gap_air import Loss, stack_pressure, wind_pressure
from specgen.physics.gap_balance import WetGap, balances, wet_gap
from specgen.physics.moist_air import saturation_pressure
from specgen.physics.sol_air import sol_air
from specgen.physics.steady import thermal_resistance
from specgen.units.quantity import Quantity

SUBJECT = "gap ventilation"
TITLE = "Ventilation of the drainage gap by sun and wind"
SETS = (
    "velocity",
    "air_changes",
    "removed",
    "velocity_with",
    "velocity_against",
    "removed_low",
    "removed_high",
    "still_wind",
)
VELOCITY = Unit("speed", "ft/s", "m/s")
WIND = Unit("speed", "mph", "m/s")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
SECONDS_PER_HOUR, HOURS_PER_DAY = 3600.0, 24
PLATES = Source(
    "Fluid Mechanics, White", "", "laminar flow between parallel plates, f Re = 96", Status.MEMORY
)
STACK = Source(
    "ASHRAE Handbook of Fundamentals",
    "",
    "ventilation and infiltration, stack and wind pressure",
    Status.MEMORY,
)
VALIDITY = (
    "A gap open at bottom and top, laminar (Reynolds on twice the gap to 2300; a stronger drive counts as that one); "
    "moist air at sea level; outlets free as stated. Wind by a range of pressure coefficients for outlets above each "
    "other on one face, not measured on this building. Air changes are those of the gap's own volume: a low gap "
    "changes its air more often than a story-high one at the same velocity, so compare the velocity."
)
LEAVES_OUT = (
    "The shape of dimples, filaments and grooves, which slow the air more than plane faces do.",
    "Mortar and folded fabric in the gap: it is taken as clear over its whole depth.",
    "Gusts: the wind is steady over the afternoon or the hour, and they move air also where its mean does not.",
    "Heat that passes into the wall behind, and heat stored in the plaster.",
    "Water that cannot follow: the back of the plaster is taken as wet, and the air leaves saturated at the temperature "
    "of the gap. Both raise what is carried off, up to what the heat of the sun evaporates; no bound is proved.",
)
BALANCE = "(Te - Tg)/R = (|q|/H) (ρ c (Tg - To) + L (pg - po)/(Rv Tg))"
USED = "Δp = 12 μ H v/b² + ½ ρ v² Σ ζ/r², Δp = Δps + Δpw, ζ = 1/Cd²"


@dataclass(frozen=True)
class Gap:
    """Depth and height [m], losses, resistance from the sol-air temperature to the gap [m²·K/W], the coefficients
    of a wind that helps the stack and of one against it [-]."""

    depth: float
    height: float
    losses: tuple[Loss, ...]
    resistance: float
    helps: float
    opposes: float

    def balances(self, face: float, air: float, outside: float, wind: float) -> tuple[WetGap, ...]:
        """Every state in which it closes, of one hour."""
        return balances(face, air, outside, wind, self.depth, self.height, self.losses, self.resistance)

    def balance(self, face: ArrayLike, air: ArrayLike, outside: ArrayLike, wind: ArrayLike) -> WetGap:
        """The gap with a face, air, outdoor vapor pressure and wind pressure."""
        return wet_gap(face, air, outside, wind, self.depth, self.height, self.losses, self.resistance)


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Velocity and air changes in the gap, and the vapor removed in a sun-heated afternoon from a soaked plaster.

    Formulas: Δps = g H (ρo - ρg), Δpw = ½ ρ U² ΔCp, summed; Δp = 12 μ H v/b² + ½ ρ v² Σ ζ/r²; heat of the face =
    heat of the air + heat of evaporation; m = (|q|/H) (pg - po)/(Rv Tg) τ.

    Given: site.temp_summer, and site.dew_point_summer and the weather file where there are some; the depth of
    the drainage layer, whether it is open at the top, the height of the plastered face; orientation for a
    year. Of practice: outlets, wind and its coefficients, afternoon design state. Makes a
    table of the wind and, with weather, of the months. Unknown where the gap is not open at the top or a
    datum is missing.
    """
    work.require("drainage layer.depth", "drainage layer.open_at_top", "site.temp_summer")
    depth, height = work.input("b", "drainage layer.depth"), gap_height(work)
    losses = gap_losses(work)
    if losses is None:
        raise work.stop("not covered: the gap is not open at bottom and top, its air stands still")
    air = work.input("To", "site.temp_summer")
    face = _face(work, air)
    helps = work.practice_input("ΔC1", "gap.wind_with")
    opposes = work.practice_input("ΔC2", "gap.wind_against")
    gap = Gap(depth, height, losses, _resistance(work), helps, opposes)
    outside = _outside(work, air)
    _afternoon(work, gap, face, air, outside)
    _year(work, gap)


def _face(work: Worksheet, air: float) -> float:
    irradiance = work.practice_input("E", "vapor.irradiance")
    absorptance = work.practice_input("α", "vapor.absorptance")
    film = work.practice_input("ho", "vapor.film_coefficient")
    face = float(sol_air(air, absorptance, irradiance, film))
    return work.step(
        "Te", "sol-air temperature of the face", face, TEMPERATURE, "Te = To + α E/ho, ΔR = 0 for a wall"
    )


def _resistance(work: Worksheet) -> float:
    """From the sol-air temperature to the gap: film and plaster."""
    film = 1.0 / work.practice.quantity("vapor.film_coefficient").value
    part = work.parapet.part("plaster")
    if part is None:
        raise work.stop("plaster: a layer with `role: plaster` in the build-up")
    (row,) = work.practice.table("materials").where(role="plaster", kind=part.kind)
    if part.has("thickness"):
        thickness = work.part_input("d", f"thickness of {part.id}", part, "thickness")
    else:
        thickness = work.table_input("d", "materials", row, "thickness", f"thickness of {part.id}")
    conductivity = work.table_input(
        "λ", "materials", row, "conductivity", f"thermal conductivity of {part.id}"
    )
    total = film + float(thermal_resistance(thickness, conductivity))
    return work.step("R", "thermal resistance from the sun to the gap", total, RESISTANCE, "R = 1/ho + d/λ")


def _outside(work: Worksheet, air: float) -> float:
    if work.given("site.dew_point_summer"):
        dew = work.input("Td", "site.dew_point_summer")
    else:
        span = work.practice_input("ΔT", "drive.daily_range")
        why = "No summer dew point is given (site.dew_point_summer): the air is taken as saturated at the day's lowest."
        dew = work.assume("Td", "dew point", air - span, TEMPERATURE, why)
    outside = float(min(saturation_pressure(dew), saturation_pressure(air)))
    return work.step("po", "vapor pressure outdoors", outside, VAPOR_PRESSURE, "psat(Td) (ISO 13788)")


def _afternoon(work: Worksheet, gap: Gap, face: float, air: float, outside: float) -> None:
    wind, seconds = work.practice_input("U", "gap.wind_speed"), work.practice_input("τ", "vapor.sun_hours")
    helps, opposes = float(wind_pressure(wind, gap.helps)), -float(wind_pressure(wind, gap.opposes))
    calm, aided, braked = (gap.balance(face, air, outside, pressure) for pressure in (0.0, helps, opposes))
    if calm.limited or aided.limited or braked.limited:
        work.leaves_out.append(
            "The drive is more than that of laminar flow: it is counted as far as that goes."
        )
    work.cite(STACK)
    work.cite(PLATES)
    warm = float(calm.temp_c)
    work.step("Tg", "temperature of the wet gap, no wind", warm, TEMPERATURE, BALANCE)
    pressure, formula = float(saturation_pressure(warm)), "psat(Tg) (ISO 13788)"
    work.step("pg", "vapor pressure in the gap, saturated", pressure, VAPOR_PRESSURE, formula)
    work.step(
        "Δps",
        "stack pressure, no wind",
        float(calm.stack_pa),
        PRESSURE,
        "Δps = g H (ρo - ρg), ρ = (P - 0.378 p)/(Ra T)",
    )
    work.step("Δp1", "wind pressure, wind that helps", helps, PRESSURE, "Δpw = ½ ρ U² ΔC1")
    work.step("Δp2", "wind pressure, wind against", opposes, PRESSURE, "Δpw = -½ ρ U² ΔC2")
    for name, words, one in (
        ("velocity", "no wind", calm),
        ("velocity_with", "wind that helps", aided),
        ("velocity_against", "wind against the stack; below 0 the air goes down", braked),
    ):
        title = f"velocity of the air in the gap, {words}"
        work.result(name, "v", title, float(one.flow.velocity_m_s), VELOCITY, USED)
    changes = float(calm.flow.air_changes_per_h)
    work.result(
        "air_changes", "n", "air changes of the gap in an hour, no wind", changes, NUMBER, "n = 3600 v/H"
    )
    removed = [float(one.removed) * seconds for one in (calm, aided, braked)]
    against = gap.balances(face, air, outside, opposes)
    if len(against) > 1:
        work.leaves_out.append(
            f"The wind against the stack leaves the gap {len(against)} states, of which the air takes one: "
            + "; ".join(_state(work, one, seconds) for one in against)
            + "."
        )
    every = [*removed, *(float(one.removed) * seconds for one in against)]
    still = _still_wind(work, gap, face, air, outside)
    # Where the range holds a wind that stops the air, nothing is carried off in it.
    least = 0.0 if still <= wind else min(every)
    for name, words, value in (
        ("removed", "vapor that the air can carry off in one afternoon, no wind", removed[0]),
        ("removed_low", "the least over the range of the wind", least),
        ("removed_high", "the most over the range of the wind", max(every)),
    ):
        work.result(name, "m", words, value, CONDENSATE, "m = (|q|/H) (pg - po)/(Rv Tg) τ")
    work.tables.append(_wind_table(work, (calm, aided, braked), removed))


def _state(work: Worksheet, one: WetGap, seconds: float) -> str:
    """One state of the gap in words."""
    temp, speed, mass = (
        work.quantity(value, unit).text
        for value, unit in (
            (float(one.temp_c), TEMPERATURE),
            (float(one.flow.velocity_m_s), VELOCITY),
            (float(one.removed) * seconds, CONDENSATE),
        )
    )
    return f"{temp}, {speed}, {mass} carried off"


def _still_wind(work: Worksheet, gap: Gap, face: float, air: float, outside: float) -> float:
    # Air that stands still carries no heat away: its stack is that of a wet gap as warm as the face.
    hot = float(stack_pressure(gap.height, face, air, saturation_pressure(face), outside))
    still = float(np.sqrt(2.0 * hot / (AIR_DENSITY_20C * gap.opposes)))
    formula = "U0 = √(2 Δps/(ρ ΔC2)), Δps with Tg = Te, saturated"
    return work.result(
        "still_wind", "U0", "wind against the stack that holds the air still", still, WIND, formula
    )


def _wind_table(work: Worksheet, found: tuple[WetGap, ...], removed: list[float]) -> CalcTable:
    rows: list[tuple[Quantity | str, ...]] = [
        (
            name,
            work.quantity(float(one.temp_c), TEMPERATURE),
            work.quantity(float(one.flow.velocity_m_s), VELOCITY),
            work.quantity(float(one.flow.air_changes_per_h), NUMBER),
            work.quantity(mass, CONDENSATE),
        )
        for name, one, mass in zip(
            ("no wind", "wind that helps", "wind against"), found, removed, strict=True
        )
    ]
    heads = ("afternoon", "gap", "velocity", "air changes in an hour", "vapor carried off")
    return CalcTable("wind", "The afternoon with and without wind", heads, tuple(rows))


def _year(work: Worksheet, gap: Gap) -> None:
    """What the air can carry off in a day, month by month, where there is weather and the face is known."""
    weather = work.project.weather
    if weather is None:
        work.leaves_out.append("No weather file is named (site.weather): one afternoon alone is calculated.")
        return
    if not work.word("parapet.orientation") or not work.given("building.height"):
        work.leaves_out.append(
            "The year of the weather file is left out: it needs parapet.orientation and building.height."
        )
        return
    azimuth, ratio = degrees(work, "parapet.orientation"), roughness(work)
    capacity = _hourly(work, gap, weather, azimuth, ratio) * SECONDS_PER_HOUR * HOURS_PER_DAY
    means = [float(capacity[weather.month == month].mean()) for month in range(1, len(MONTHS) + 1)]
    work.leaves_out.append(f"One typical year ({weather.name}): indicative, not a record of extremes.")
    formula = "mean of Σ m Δt over the days, each hour with its sun, wind and humidity"
    work.step(
        "my",
        "vapor that the air can carry off in a day, mean of the year",
        float(capacity.mean()),
        CONDENSATE,
        formula,
    )
    title = f"the same in the month with the least, {MONTHS[int(np.argmin(means))]}"
    work.step("mm", title, min(means), CONDENSATE, formula)
    rows: list[tuple[Quantity | str, ...]] = [
        (name, work.quantity(value, CONDENSATE)) for name, value in zip(MONTHS, means, strict=True)
    ]
    note = "Plaster wet in every hour; the wind helps where it blows onto the face, else it is against the stack."
    heads = ("month", "carried off in a day")
    work.tables.append(
        CalcTable("months", "Drying capacity of the gap in a mean day", heads, tuple(rows), note)
    )


def _hourly(work: Worksheet, gap: Gap, weather: Weather, azimuth: float, ratio: float) -> np.ndarray:
    quantity = work.practice.quantity
    sky = Sky(
        work.practice_input("ρ", "drive.ground_reflectance"),
        quantity("vapor.absorptance").value,
        quantity("drive.membrane_absorptance").value,
        quantity("vapor.film_coefficient").value,
    )
    climate = weather_climate(weather, azimuth, sky)
    say_dew_points(work, weather)
    onto = np.cos(np.radians(weather.wind_direction - azimuth)) > 0.0
    sign = np.where(onto, gap.helps, -gap.opposes)
    wind = np.asarray(wind_pressure(weather.wind_speed * ratio, 1.0)) * sign
    return np.asarray(gap.balance(climate.face_c, climate.air_c, climate.outdoor_pa, wind).removed)
