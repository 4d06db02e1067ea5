"""What the hours of real weather bring to each face of a parapet: plaster, roof side, coping, room, still air.

Each face is a `Face` of arrays. Convection and long waves stand apart; the sun comes by a Perez sky, the sky's long waves
from the weather file or an estimate, driving rain by two laws. What each rests on is written on the sheet.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields
from typing import Final, TypeAlias

from specgen.arrays import NDArray, np
from specgen.design.driving_rain import LEAVES_OUT as OF_RAIN
from specgen.design.facing import degrees, leave_out
from specgen.design.hourly_rain import (
    GREATER,
    SEED,
    TO_SI,
    DrivenRain,
    Law,
    RainYear,
    driven_rain,
    rain_factors,
    rain_year,
    say_driven_rain,
)
from specgen.design.outdoor_hours import (
    NIGHT_SUN,
    outdoor_vapor,
    sky_waves,
    sun_at_night,
    sunlight,
)
from specgen.design.worksheet import DIFFERENCE, SHARE, TEMPERATURE, Unit, Worksheet
from specgen.model.source import Source, Status
from specgen.model.weather import Weather
from specgen.physics.films import INDOORS, convection_outdoors, rising_air, vapor_film
from specgen.physics.gap_air import wind_pressure
from specgen.physics.heat_moisture.faces import Face
from specgen.physics.indoor_air import by_outdoors, class_vapor, daily_mean
from specgen.physics.moist_air import saturation_pressure
from specgen.physics.sky import OFF_BY, black_body, insulated_surface, longwave_on_face, sky_temperature

Hours: TypeAlias = "NDArray[np.float64]"
WALL: Final = 90.0
LEVEL: Final = 45.0  # degrees of tilt below which warm air rises off a face
RISES: Final = 8  # of that air and the face's temperature: within 0.01 W/(m²·K)
DARK_MEMBRANES: Final = ("EPDM", "SBS-modified bitumen")
SKY = Source(
    "Li, Jiang and Coimbra, Solar Energy 144",
    "2017",
    "emissivity of the clear sky from the dew point, as public text quotes it",
    Status.PRACTICE,
)
HEAT = Unit("heat flux", "Btu/(h·ft2)", "W/m2")
FILMS = Source("ISO 6946", "", "surface resistances: convection outdoors 4 + 4 v, indoors 2.5", Status.MEMORY)
ROOF: Final = "α E + ε Ls + hc (Ta − Tr) = ε σ Tr⁴"
LEAVES_OUT: Final = (
    "Long waves: the sky sends evenly from all its parts; what the plaster looks down on is black and as warm as the "
    "air, what the roof side looks down on is a black roof that hands nothing inward.",
    "Shade of other buildings and of the coping; snow on the roof and on the coping.",
    "Convection by wind follows its speed alone, not its direction to the face; a warm wall drives none of its own.",
)


@dataclass(frozen=True)
class Skin:
    """A face as light and long waves see it: absorptance for the sun and emittance [-]."""

    absorptance: float
    emittance: float


@dataclass(frozen=True)
class Outdoors:
    """What all outdoor faces of a year share.

    reflectance is that of ground and roof [-]; wind_ratio the wind at the top of the wall over that of the record [-];
    cover the cloud taken where a record tells neither infrared radiation nor cloud [-].
    """

    weather: Weather
    reflectance: float
    wind_ratio: float
    cover: float


@dataclass(frozen=True, eq=False)
class WallFaces:
    """The faces of one year, and the rain driven onto the two upright ones.

    gap_wind: wind pressure along the drainage gap behind the plaster, positive where it helps the stack [Pa], (hours,).
    """

    plaster: Face
    roof_side: Face
    coping: Face
    room: Face
    still: Face
    on_plaster: DrivenRain
    on_roof_side: DrivenRain
    year: RainYear
    gap_wind: Hours


def outdoor_face(
    here: Outdoors,
    tilt: float,
    azimuth: float,
    skin: Skin,
    rain: Hours | None = None,
    around_c: Hours | None = None,
) -> Face:
    """A face in sun, wind, rain and under the sky.

    Args:
        here: the year and what surrounds the wall.
        tilt, azimuth: tilt from horizontal and direction of the face [°].
        skin: absorptance and emittance.
        rain: rain on it [kg/(m²·s)], (hours,); none where it is left out.
        around_c: temperature of what it looks down on [°C], (hours,); that of the air where it is left out.
    """
    weather = here.weather
    from_sky, _ = sky_waves(weather, here.cover)
    around = weather.temp_c if around_c is None else around_c
    sun = skin.absorptance * sunlight(weather, tilt, azimuth, here.reflectance)
    longwave = np.asarray(longwave_on_face(from_sky, around, tilt))
    convection = np.asarray(convection_outdoors(weather.wind_speed * here.wind_ratio))
    if tilt < LEVEL:
        convection = _with_rising_air(weather.temp_c, convection, sun, longwave, skin.emittance)
    return Face(
        air_c=weather.temp_c,
        vapor_pa=outdoor_vapor(weather),
        convection=convection,
        vapor_film=np.asarray(vapor_film(convection, weather.pressure_pa)),
        sun=sun,
        longwave=longwave,
        rain=np.zeros(weather.hours) if rain is None else rain,
        emittance=skin.emittance,
    )


def _with_rising_air(air: Hours, wind: Hours, sun: Hours, longwave: Hours, emittance: float) -> Hours:
    """The greater of the wind's convection and that of air rising from a level face which hands nothing inward."""
    convection = wind
    for _ in range(RISES):
        surface = np.asarray(insulated_surface(air, convection, sun, longwave, emittance))
        convection = np.maximum(wind, (convection + np.asarray(rising_air(surface - air))) / 2.0)
    return convection


def roof_surface(here: Outdoors, skin: Skin) -> Hours:
    """Temperature of a level, insulated roof without storage in every hour [°C]: hot in the sun, cold at night."""
    level = outdoor_face(here, 0.0, 0.0, skin)
    found = insulated_surface(level.air_c, level.convection, level.sun, level.longwave, skin.emittance)
    return np.asarray(found)


def sheltered_face(air_c: Hours, vapor_pa: Hours, emittance: float, total_pa: Hours | float) -> Face:
    """A face in still air with everything around it as warm as the air: in a room, in a cavity.

    Args:
        air_c, vapor_pa: air temperature [°C] and vapor pressure [Pa], (hours,).
        emittance: of the face [-].
        total_pa: pressure of the air [Pa].
    """
    convection = np.full(air_c.shape, INDOORS)
    film = np.broadcast_to(np.asarray(vapor_film(INDOORS, total_pa)), air_c.shape)
    dark = np.zeros(air_c.shape)
    waves = np.asarray(black_body(air_c))
    return Face(air_c, vapor_pa, convection, np.array(film), dark, waves, dark, emittance)


def room_air(work: Worksheet, weather: Weather) -> tuple[Hours, Hours]:
    """Temperature [°C] and vapor pressure [Pa] of the room in every hour, written on the sheet.

    The project's own indoor temperature with its humidity or humidity class; what it does not give follows the daily mean
    outdoors by EN 15026, annex C, normal occupancy, and is named among what is left out.
    """
    table, outdoors = "indoor_occupancy", np.asarray(daily_mean(weather.temp_c))
    (row,) = work.practice.table(table).where(occupancy="normal")

    def follows(what: str, *columns: str) -> Hours:
        titles = ("outdoor air, cold end", f"{what} there", "outdoor air, warm end", f"{what} there")
        ends = [
            work.table_input("", table, row, column, title)
            for title, column in zip(titles, columns, strict=True)
        ]
        return np.asarray(by_outdoors(outdoors, (ends[0], ends[1]), (ends[2], ends[3])))

    if work.given("building.indoor_temp"):
        air = np.full(weather.hours, work.input("θi", "building.indoor_temp"))
    else:
        leave_out(work, "No indoor temperature is given (building.indoor_temp): EN 15026, annex C, is taken.")
        air = follows("indoor air", "temp_cold", "indoor_cold", "temp_warm", "indoor_warm")
    saturated = np.asarray(saturation_pressure(air))
    if work.given("building.indoor_humidity"):
        return air, work.input("φi", "building.indoor_humidity") * saturated
    if work.word("building.indoor_class"):
        name = work.input_word("", "building.indoor_class")
        (of_class,) = work.practice.table("humidity_classes").where(**{"class": name})
        title = f"vapor pressure excess of class {name}"
        excess = work.table_input("Δp", "humidity_classes", of_class, "excess", title)
        damp = np.asarray(daily_mean(outdoor_vapor(weather)))
        return air, np.asarray(class_vapor(outdoors, damp, air, excess))
    leave_out(
        work,
        "No indoor humidity is given (building.indoor_humidity, indoor_class): that of EN 15026, annex C, for normal "
        "occupancy is taken.",
    )
    return air, follows(
        "indoor humidity", "humid_cold", "humidity_cold", "humid_warm", "humidity_warm"
    ) * saturated


def wall_faces(
    work: Worksheet,
    weather: Weather,
    law: Law = GREATER,
    seed: int = SEED,
    dark_membrane: bool | None = None,
    azimuth: float | None = None,
) -> WallFaces:
    """Every face of a parapet in one year of weather, with what it rests on written on the sheet.

    Args:
        work: the sheet.
        weather: the year.
        law: of driving rain; by default the one with more in the year.
        seed: of rain that is made from monthly depths.
        dark_membrane: whether the roof side is dark; by default by the kind of its membrane.
        azimuth: where the plaster looks to [°]; by default the orientation of the parapet.

    Raises:
        Unknown: orientation or height is not given, or there is no rain.
        PhysicsError: the hours are out of the range of a formula.
    """
    work.require("parapet.orientation", "building.height", "parapet.height")
    for line in (*LEAVES_OUT, *OF_RAIN):
        leave_out(work, line)
    out = degrees(work, "parapet.orientation") if azimuth is None else azimuth
    back = (out + 180.0) % 360.0
    year = rain_year(work, weather, seed)
    factors = rain_factors(work)
    here = Outdoors(
        weather,
        work.practice_input("ρ", "drive.ground_reflectance"),
        factors.roughness,
        work.practice.quantity("sky.cloud").value,
    )
    _say_sky(work, here)
    skins = _skins(work, dark_membrane)
    on_plaster, on_back = (driven_rain(year, side, factors, law) for side in (out, back))
    say_driven_rain(work, on_plaster, "plaster", law)
    say_driven_rain(work, on_back, "roof side", law)
    tilt, toward = _coping_slope(work, out)
    roof = roof_surface(here, skins["membrane"])
    work.step("Tr", "roof at its hottest in the year", float(roof.max()), TEMPERATURE, ROOF)
    work.step("", "roof at its coldest", float(roof.min()), TEMPERATURE, ROOF)
    on_top = year.rain_mm * np.cos(np.radians(tilt)) * TO_SI
    total = weather.pressure_pa
    vapor = outdoor_vapor(weather)
    return WallFaces(
        plaster=outdoor_face(here, WALL, out, skins["plaster"], on_plaster.taken),
        roof_side=outdoor_face(here, WALL, back, skins["membrane"], on_back.taken, roof),
        coping=outdoor_face(here, tilt, toward, skins["coping"], on_top),
        room=sheltered_face(*room_air(work, weather), skins["plaster"].emittance, total),
        still=sheltered_face(weather.temp_c, vapor, skins["plaster"].emittance, total),
        on_plaster=on_plaster,
        on_roof_side=on_back,
        year=year,
        gap_wind=_gap_wind(work, here, out),
    )


def _gap_wind(work: Worksheet, here: Outdoors, azimuth: float) -> Hours:
    """Wind pressure along the gap [Pa]: with the stack where the wind blows onto the plaster, else against it."""
    weather = here.weather
    helps = work.practice_input("ΔC1", "gap.wind_with")
    opposes = work.practice_input("ΔC2", "gap.wind_against")
    onto = np.cos(np.radians(weather.wind_direction - azimuth)) > 0.0
    pressure = np.asarray(wind_pressure(weather.wind_speed * here.wind_ratio, 1.0))
    return np.asarray(pressure * np.where(onto, helps, -opposes))


def _skins(work: Worksheet, dark_membrane: bool | None) -> dict[str, Skin]:
    """Absorptance of each face by its color, emittance of all."""
    emittance = work.practice_input("ε", "faces.emittance")
    plaster = work.practice_input("αp", "vapor.absorptance")
    if dark_membrane is None:
        part = work.parapet.part("roof turn-up")
        kind = part.kind if part is not None else work.word("building.roof_membrane")
        dark_membrane = kind in DARK_MEMBRANES
        shade = "dark" if dark_membrane else "light"
        leave_out(work, f"The color of the roof side: by the kind of its membrane it is taken as {shade}.")
    membrane = work.practice_input(
        "αm", "faces.absorptance_dark" if dark_membrane else "drive.membrane_absorptance"
    )
    colors = {
        "light": "faces.absorptance_light",
        "medium": "vapor.absorptance",
        "dark": "faces.absorptance_dark",
    }
    if work.word("coping.color"):
        color = work.input_word("", "coping.color")
    else:
        color = "dark"
        leave_out(work, "No color of the coping is given (coping.color): a dark one is taken.")
    coping = work.practice_input("αc", colors[color])
    return {
        name: Skin(alpha, emittance)
        for name, alpha in (("plaster", plaster), ("membrane", membrane), ("coping", coping))
    }


def _coping_slope(work: Worksheet, out: float) -> tuple[float, float]:
    """Tilt of the coping top and where it looks to [°]; level where it falls to both sides or nothing is given."""
    toward = work.word("coping.slope_toward")
    if toward not in ("roof", "outer face") or not work.given("coping.slope"):
        return 0.0, out
    tilt = float(np.degrees(np.arctan(work.input("m", "coping.slope"))))
    return tilt, out if toward == "outer face" else (out + 180.0) % 360.0


def _say_sky(work: Worksheet, here: Outdoors) -> None:
    """What the long waves of the sky rest on, how cold it is, and a word where hours and sun do not agree."""
    weather = here.weather
    from_sky, basis = sky_waves(weather, here.cover)
    source = work.cite(SKY) if weather.longwave is None else ""
    work.cite(FILMS)
    work.step_word("", "long waves of the sky", basis, "", source)
    if weather.longwave is None:
        near = work.shown(OFF_BY, HEAT)
        leave_out(work, f"Weather file without infrared radiation: the long waves of the sky are {basis}.")
        leave_out(
            work,
            f"Such an estimate of a clear sky is within some {near} of measurements; clouds add to that.",
        )
    colder = float((weather.temp_c - np.asarray(sky_temperature(from_sky))).mean())
    work.step("ΔTs", "sky colder than the air, mean of the year", colder, DIFFERENCE, "Ta − (Ls/σ)^¼")
    night = sun_at_night(weather)
    if night > NIGHT_SUN:
        share = work.shown(night, SHARE)
        leave_out(
            work,
            f"{share} of the sun of the weather file falls while it is below the horizon: its hours are not standard "
            "time, or latitude, longitude or time zone are wrong.",
        )


def years(weather: Weather | Sequence[Weather], count: int) -> tuple[Weather, ...]:
    """So many years in a row: one with its further years, or several in their order, and then again from the first.

    A year stays a record of its own, so that its days and its sun are its own, leap years too. Of more years than are
    asked for the first are taken.

    Raises:
        ValueError: no weather, or no years.
    """
    files = (weather, *weather.further) if isinstance(weather, Weather) else tuple(weather)
    if not files or count < 1:
        raise ValueError(f"{count} years of {len(files)} weather files: at least one of each is wanted")
    return tuple(files[number % len(files)] for number in range(count))


def join(faces: Sequence[Face]) -> Face:
    """The hours of several years at one face, one after the other.

    Raises:
        ValueError: there are none, or their emittances differ.
    """
    emittances = {face.emittance for face in faces}
    if len(emittances) != 1:
        raise ValueError(f"{len(emittances)} emittances at one face: one is wanted")
    series = {
        one.name: np.concatenate([getattr(face, one.name) for face in faces])
        for one in fields(Face)
        if one.name != "emittance"
    }
    return Face(**series, emittance=emittances.pop())


def faces_of_years(
    files: Sequence[Weather], make: Callable[[Weather], WallFaces]
) -> tuple[tuple[Weather, WallFaces], ...]:
    """The faces of every year in a row; a year that comes again is made once."""
    made: dict[int, WallFaces] = {}
    for weather in files:
        if id(weather) not in made:
            made[id(weather)] = make(weather)
    return tuple((weather, made[id(weather)]) for weather in files)
