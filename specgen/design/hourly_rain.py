"""Rain for the hourly balance: of the weather file, or made from monthly depths; what the wind drives onto a face.

Never dry in silence: without rain from a file or from the project the sheet stops and says what is missing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final, Literal, TypeAlias

from specgen.arrays import NDArray, np
from specgen.design.facing import WATER, deposited_rain, exposure_factor, leave_out, roughness
from specgen.design.worksheet import NUMBER, Worksheet
from specgen.model.weather import Weather
from specgen.physics.rain import hourly_index, wall_index
from specgen.physics.rain_hours import may_rain, rain_hours, rain_weight
from specgen.units.months import months

Hours: TypeAlias = "NDArray[np.float64]"
Law: TypeAlias = Literal["greater", "ISO 15927-3", "ASHRAE 160"]
ISO: Final = "ISO 15927-3"
ASHRAE: Final = "ASHRAE 160"
GREATER: Final = "greater"
SEED: Final = 1
SEEDS: Final = (1, 2, 3)
"""The seed of made rain where none is chosen, and those with which what rests on made rain is run again."""
MONTHLY = "site.rain_months"
FILE_RAIN = "rain of the weather file"
SECONDS_PER_HOUR = 3600.0
TO_SI = 1.0 / SECONDS_PER_HOUR  # kg/m² of an hour, as mm of rain, to kg/(m²·s)


@dataclass(frozen=True, eq=False)
class RainYear:
    """A year of weather that has rain, and what that rests on; seed is None where it was measured."""

    weather: Weather
    basis: str
    seed: int | None

    @property
    def rain_mm(self) -> Hours:
        """Rain of each hour on the level [mm]."""
        assert self.weather.rain_mm is not None
        return self.weather.rain_mm


@dataclass(frozen=True, eq=False)
class DrivenRain:
    """Rain on a vertical face by both laws, each hour [kg/(m²·s)]; ``law`` names the one that is taken."""

    iso: Hours
    ashrae: Hours
    law: str

    @property
    def taken(self) -> Hours:
        """By the law that is taken [kg/(m²·s)]."""
        return self.iso if self.law == ISO else self.ashrae

    def year(self, law: str) -> float:
        """Sum of the year by a law [kg/m²]."""
        hours = self.iso if law == ISO else self.ashrae
        return math.fsum(hours.tolist()) * SECONDS_PER_HOUR


def rain_year(work: Worksheet, weather: Weather, seed: int = SEED) -> RainYear:
    """The year with its own hours of rain, or with hours made from the monthly depths of the project.

    What the rain rests on is written on the sheet; made rain is named among what the calculation leaves out as well.

    Args:
        work: the sheet.
        weather: the year.
        seed: of made rain, 0 or more.

    Raises:
        Unknown: the file has no usable rain, and the project gives no monthly depths.
        PhysicsError: the depth of a month does not fit in its hours.
    """
    if weather.rain_mm is not None:
        work.step_word("", "what the rain is taken from", FILE_RAIN, "hour by hour")
        return RainYear(weather, FILE_RAIN, None)
    if work.word(MONTHLY) is None:
        raise work.stop(f"{MONTHLY}: {work.title_of(MONTHLY)}, as the weather file has no usable hourly rain")
    depths = [one.value * 1e3 for one in months(work.input_word("R", MONTHLY), "length")]
    wet_hour = work.practice_input("r", "rain.wet_hour") * 1e3
    weight = rain_weight(weather.rh, weather.wind_speed, weather.cloud)
    allowed = may_rain(weather.temp_c, weather.dni)
    made = rain_hours(depths, weather.month, weight, allowed, wet_hour, seed)
    made.flags.writeable = False
    basis = f"rain made from monthly totals, seed {seed}"
    work.step_word(
        "", "what the rain is taken from", basis, "damp, windy, covered hours without sunshine, by chance"
    )
    work.step("ΣR", "rain of the year on level ground", math.fsum(made.tolist()), WATER, "sum of the months")
    work.step(
        "nw", "hours of rain that were made", float((made > 0.0).sum()), NUMBER, "n = R/r in each month"
    )
    leave_out(
        work, f"The weather file has no usable hourly rain: {basis}. Other seeds give other hours of rain."
    )
    return RainYear(replace(weather, rain_mm=made), basis, seed)


@dataclass(frozen=True)
class RainFactors:
    """What turns rain and wind of open country into rain on a wall [-]: CR and W (ISO), FE and FD (ASHRAE)."""

    roughness: float
    wall: float
    exposure: float
    deposition: float


def rain_factors(work: Worksheet) -> RainFactors:
    """The factors of both laws, written on the sheet.

    Raises:
        Unknown: a height is not given.
    """
    return RainFactors(
        roughness(work),
        work.practice_input("W", "rain.wall_factor"),
        exposure_factor(work),
        work.practice_input("FD", "rain.deposition"),
    )


def driven_rain(year: RainYear, azimuth: float, factors: RainFactors, law: Law = GREATER) -> DrivenRain:
    """Rain that the wind drives onto a vertical face, by ISO 15927-3 and by ASHRAE 160.

    I = 2/9 v r^(8/9) cos(D − θ) where positive, I_W = I CR CT O W hour by hour, CT = O = 1 (ISO 15927-3);
    r = FE FD FL U cosθ Rh (ASHRAE 160).

    Args:
        year: with its rain.
        azimuth: direction of the face [°].
        factors: of both laws.
        law: the one that is taken; of the greater the sum of the year decides.
    """
    weather = year.weather
    blown = hourly_index(weather.wind_speed, weather.wind_direction, year.rain_mm, azimuth)
    iso = wall_index(np.maximum(blown, 0.0), factors.roughness, 1.0, 1.0, factors.wall)
    load = deposited_rain(weather, year.rain_mm, azimuth, factors.exposure, factors.deposition)
    both = DrivenRain(np.asarray(iso) * TO_SI, load * TO_SI, ISO)
    if law == GREATER:
        law = max((ASHRAE, ISO), key=both.year)
    return replace(both, law=law)


def say_driven_rain(work: Worksheet, rain: DrivenRain, face: str, law: Law) -> None:
    """Both sums of the year on a sheet, and which is taken."""
    for symbol, name, formula in (
        ("ΣIW", ISO, "Σ max(I, 0) CR CT O W, CT = O = 1"),
        ("Σr", ASHRAE, "Σ FE FD FL U cosθ Rh"),
    ):
        title = f"rain driven onto the {face} in the year by {name}"
        work.step(symbol, title, rain.year(name), WATER, formula)
    why = "the greater of the year" if law == GREATER else "as chosen"
    work.step_word("", f"law of driving rain that is taken on the {face}", rain.law, why)
