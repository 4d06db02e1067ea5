"""Hours of sun and air on both faces of a parapet, and the vapor that many build-ups let through in them.

Arrays first: every hour of every drainage layer with every barrier in one call of the physics room. Hours run along the
first axis, drainage layers along the second, barriers along the third.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeAlias

from specgen.arrays import NDArray, np
from specgen.design.outdoor_hours import outdoor_vapor, over_ice, sun_over
from specgen.design.worksheet import TEMPERATURE, Worksheet
from specgen.model.weather import Weather
from specgen.physics.films import vapor_film
from specgen.physics.gap_air import Loss, gap_flow, stack_pressure, vapor_conductance
from specgen.physics.hygro_hourly import DriveSummary, InwardDrive, inward_drive, summary
from specgen.physics.moist_air import saturation_pressure
from specgen.physics.reservoir import HourlyUptake, hourly_uptake, stored_water
from specgen.physics.sol_air import design_day_temperature, sol_air
from specgen.physics.sun import (
    SunPosition,
    clear_sky,
    days_since_2000,
    declination,
    extraterrestrial,
    sun_at_solar_time,
)
from specgen.physics.sun_on_face import irradiance_on_face

Hours: TypeAlias = "NDArray[np.float64]"
WALL = 90.0  # degrees of tilt
SUMMER_DAY = {True: 202, False: 21}  # 21 July north of the equator, 21 January south of it
SECONDS_PER_HOUR = 3600.0
COUNTS_AS_WET = 1e-6  # kg/m²; on calm nights both sides balance, and rounding alone leaves traces


@dataclass(frozen=True)
class Sky:
    """What decides the sun on the two faces: reflectance in front of them, absorptances, film [W/(m²·K)]."""

    reflectance: float
    plaster_absorptance: float
    membrane_absorptance: float
    film: float


@dataclass(frozen=True)
class Climate:
    """Hourly air [°C], vapor pressure [Pa], sol-air temperatures of the outer and the roof-side face [°C]."""

    air_c: Hours
    outdoor_pa: Hours
    face_c: Hours
    back_c: Hours


@dataclass(frozen=True)
class ParapetWall:
    """Resistances from the plaster in: thermal [m²·K/W] and vapor [m²·s·Pa/kg].

    Drainage layers (l,) with their depth [m]; barriers (b,); behind is all between barrier and membrane. height is that
    of the gap [m]; losses are of its outlets, or None where the gap is closed.
    """

    plaster_r: float
    layer_r: Hours
    layer_z: Hours
    layer_depth: Hours  # 0: no gap, nothing is ventilated
    barrier_r: float
    barrier_z: Hours
    behind_r: float
    behind_z: float
    membrane_r: float
    height: float
    losses: tuple[Loss, ...] | None = None


@dataclass(frozen=True)
class Temperatures:
    """Back of the plaster and back of the membrane [°C], (hours, layers)."""

    plaster_c: Hours
    membrane_c: Hours


def design_day(
    latitude: float,
    azimuth: float,
    top_c: float,
    span: float,
    dew_c: float,
    tau: tuple[float, float],
    sky: Sky,
) -> Climate:
    """A clear summer day of 24 mid-hours in solar time, its dew point constant but not above the air.

    Args:
        latitude: degrees north.
        azimuth: where the plaster looks to, degrees from north.
        top_c: highest temperature [°C].
        span: highest less lowest temperature [K].
        dew_c: dew point [°C].
        tau: clear-sky optical depths for beam and diffuse.
        sky: reflectance, absorptances, film.
    """
    day = SUMMER_DAY[latitude >= 0.0]
    hour = np.arange(24) + 0.5
    sun = sun_at_solar_time(declination(days_since_2000(2001, day, 12.0)), latitude, hour)
    beam, diffuse = clear_sky(sun.elevation, day, *tau)
    air = np.asarray(design_day_temperature(top_c, span, hour))
    vapor = np.minimum(saturation_pressure(dew_c), saturation_pressure(air))
    outside = np.full(hour.shape, extraterrestrial(day))
    return _climate(air, vapor, sun, np.asarray(beam), np.asarray(diffuse), outside, azimuth, sky)


def weather_climate(weather: Weather, azimuth: float, sky: Sky) -> Climate:
    """Every hour of a weather year; the sun stands where it does in the middle of the hour."""
    outside = np.asarray(extraterrestrial(weather.day_of_year))
    vapor = outdoor_vapor(weather)
    return _climate(weather.temp_c, vapor, sun_over(weather), weather.dni, weather.dhi, outside, azimuth, sky)


def say_dew_points(work: Worksheet, weather: Weather) -> None:
    """Write on a sheet how the dew points of a weather file below 0 °C are read."""
    freezing = work.quantity(0.0, TEMPERATURE).text
    word = "over ice" if over_ice(weather) else "over water"
    work.step_word(
        "", f"dew points of the weather file below {freezing}", word, "nearest to its relative humidity"
    )


def _climate(
    air: Hours,
    vapor: Hours,
    sun: SunPosition,
    beam: Hours,
    diffuse: Hours,
    outside: Hours,
    azimuth: float,
    sky: Sky,
) -> Climate:
    faces = []
    for facing, absorptance in (
        (azimuth, sky.plaster_absorptance),
        ((azimuth + 180.0) % 360.0, sky.membrane_absorptance),
    ):
        light = irradiance_on_face(sun, beam, diffuse, WALL, facing, sky.reflectance, outside)
        faces.append(np.asarray(sol_air(air, absorptance, light, sky.film)))
    return Climate(air, vapor, *faces)


def temperatures(wall: ParapetWall, climate: Climate, film: float) -> Temperatures:
    """Quasi-steady temperatures: T = Te + (Tr − Te) ΣR/Rtotal."""
    outside = 1.0 / film + wall.plaster_r
    total = outside + wall.layer_r + wall.barrier_r + wall.behind_r + wall.membrane_r + 1.0 / film
    face, step = climate.face_c[:, None], (climate.back_c - climate.face_c)[:, None]
    inner = total - wall.membrane_r - 1.0 / film
    return Temperatures(face + step * outside / total, face + step * inner / total)


def ventilation(wall: ParapetWall, climate: Climate, plaster_c: Hours, gap_pa: Hours) -> Hours:
    """Vapor conductance of the gap by its stack effect [kg/(m²·s·Pa)], (hours, layers, barriers); no wind.

    gap_pa is the vapor pressure in the gap [Pa], (hours, layers, barriers): moist air is lighter.
    """
    out = np.zeros(gap_pa.shape)
    at = wall.layer_depth > 0.0
    if wall.losses is None or not at.any():
        return out
    gap_c, (air, vapor) = (
        plaster_c[:, at, None],
        (one[:, None, None] for one in (climate.air_c, climate.outdoor_pa)),
    )
    pressure = stack_pressure(wall.height, gap_c, air, gap_pa[:, at], vapor)
    flow = gap_flow(pressure, wall.layer_depth[at, None], wall.height, wall.losses)
    out[:, at] = vapor_conductance(flow.flow_m2_s, wall.height, gap_c)
    return out


ROUNDS = 3  # of the gap's vapor and its flow: within 2 % of the vapor of any hour, 0.4 % of a day's removal


def drive(
    wall: ParapetWall, climate: Climate, film: float, humidity: Hours | float, start: Hours | float = 0.0
) -> InwardDrive:
    """Vapor and condensate of every hour, layer and barrier.

    Args:
        wall: the build-ups.
        climate: the hours.
        film: surface coefficient of both faces [W/(m²·K)].
        humidity: of the plaster's pores, (hours,) or one number; below zero: no more vapor than outdoors.
        start: condensate at the start [kg/m²], (layers, barriers) or one number.
    """
    temps = temperatures(wall, climate, film)
    saturated = np.asarray(saturation_pressure(temps.plaster_c))
    moist = np.broadcast_to(np.asarray(humidity, dtype=np.float64).reshape(-1, 1), temps.plaster_c.shape)
    outdoors = np.minimum(climate.outdoor_pa[:, None] / saturated, 1.0)
    pores = np.where(moist < 0.0, outdoors, moist)[:, :, None]
    behind = (wall.barrier_z + wall.behind_z)[None, :]
    gap_pa = np.broadcast_to(climate.outdoor_pa[:, None, None], (*temps.plaster_c.shape, behind.size))
    for _ in range(ROUNDS if wall.losses is not None and (wall.layer_depth > 0.0).any() else 1):
        flow = inward_drive(
            temps.plaster_c[:, :, None],
            pores,
            temps.membrane_c[:, :, None],
            climate.outdoor_pa,
            wall.layer_z[:, None],
            ventilation(wall, climate, temps.plaster_c, gap_pa),
            behind,
            start,
        )
        gap_pa = (gap_pa + np.asarray(flow.gap_pa)) / 2.0
    return flow


DRY = -1.0  # humidity of plaster that holds no free water: its pores have the vapor of the outdoor air


@dataclass(frozen=True)
class DayResult:
    """The wet day and the dry days after it, arrays (layers, barriers).

    inward is vapor that enters the gap from the plaster, behind what passes the barrier [kg/m² in the day];
    condensate the most on the membrane [kg/m²]; wet_hours those of the wet day; peak the greatest hourly flow through
    the barrier [kg/(m²·s)]; left what remains after the dry days, dry_after the hours until none is left, or -1.
    """

    inward: Hours
    behind: Hours
    condensate: Hours
    wet_hours: NDArray[np.int64]
    peak: Hours
    left: Hours
    dry_after: NDArray[np.int64]


def wet_day(wall: ParapetWall, climate: Climate, film: float, days: int) -> DayResult:
    """The design day with soaked plaster, then days of the same weather with dry plaster."""
    wet = drive(wall, climate, film, 1.0)
    end = wet.condensate[-1]
    repeated = Climate(
        *(
            np.tile(series, days)
            for series in (climate.air_c, climate.outdoor_pa, climate.face_c, climate.back_c)
        )
    )
    after = drive(wall, repeated, film, DRY, end)
    gone = after.condensate <= COUNTS_AS_WET
    first = np.where(gone.any(axis=0), gone.argmax(axis=0) + 1, -1)
    return DayResult(
        np.maximum(wet.through_layer, 0.0).sum(axis=0) * SECONDS_PER_HOUR,
        np.maximum(wet.through_barrier, 0.0).sum(axis=0) * SECONDS_PER_HOUR,
        wet.condensate.max(axis=0),
        (wet.condensate > COUNTS_AS_WET).sum(axis=0),
        wet.through_barrier.max(axis=0),
        after.condensate[-1],
        np.where(end > COUNTS_AS_WET, first, 0),
    )


def year(wall: ParapetWall, climate: Climate, film: float, humidity: Hours | float) -> DriveSummary:
    """Totals of a weather year."""
    flow = drive(wall, climate, film, humidity)
    wet = (flow.condensate > COUNTS_AS_WET).sum(axis=0)
    return replace(summary(flow), wet_hours=wet)


@dataclass(frozen=True)
class Plaster:
    """Thickness [m], A [kg/(m²·√s)], free saturation [kg/m³], vapor resistance of the whole layer [m²·s·Pa/kg]."""

    thickness: float
    absorption: float
    free_saturation: float
    vapor: float


def plaster_water(
    plaster: Plaster, climate: Climate, plaster_c: Hours, rain: Hours, film: float
) -> HourlyUptake:
    """Water in the plaster hour by hour: rain taken up, and drying outward.

    Drying: g = (psat(T) − p_o)/(1/β + Z/2), the water lying in the middle of the plaster on average, and β by the Lewis
    relation (`physics.films.vapor_film`); the whole film is taken as convective.
    """
    beta = float(vapor_film(film))
    drive_pa = np.maximum(np.asarray(saturation_pressure(plaster_c)) - climate.outdoor_pa, 0.0)
    drying = drive_pa / (1.0 / beta + plaster.vapor / 2.0) * SECONDS_PER_HOUR
    return hourly_uptake(rain, plaster.absorption, plaster.thickness, plaster.free_saturation, drying)


def pore_humidity(plaster: Plaster, water: HourlyUptake, wet_share: float) -> Hours:
    """1 while the plaster holds more than a share of its free saturation, else DRY."""
    capacity = float(stored_water(plaster.thickness, plaster.free_saturation))
    return np.where(water.stored > wet_share * capacity, 1.0, DRY)
