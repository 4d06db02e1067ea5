"""Driving rain on the outer face of a parapet, onto the coping and over its drip.

From the rain and wind of a typical year: the annual indices of ISO 15927-3, and the hourly load by exposure and
deposition (ASHRAE 160). Without hourly rain, from a design event that the user gives.
"""

from __future__ import annotations

from dataclasses import dataclass

from specgen.arrays import NDArray, np
from specgen.design.facing import WATER, degrees, exposure_factor, rain_on_wall, roughness
from specgen.design.worksheet import FLOW, HEIGHT, NUMBER, Unit, Worksheet, calculation
from specgen.model.source import Source, Status
from specgen.model.weather import Weather
from specgen.physics.rain import (
    airfield_annual_index,
    coping_runoff,
    hourly_index,
    rain_deposition,
    wall_index,
)

SUBJECT = "driving rain"
TITLE = "Driving rain on the parapet and its coping"
SETS = ("load_total", "load_peak", "airfield_index", "wall_index", "over_drip_peak")
SECONDS_PER_HOUR = 3600.0
INDEX = Source("ISO 15927-3", "2009", "clauses 3 and 5", Status.MEMORY)
LOAD = Source("ASHRAE Standard 160", "", "rain deposition", Status.MEMORY)
RATE = Unit("rainfall intensity", "in/h", "mm/h")
VALIDITY = (
    "Vertical faces; wind of at most 100 m/s at 10 m in open country and rain of at most 500 mm in an hour. One typical "
    "year is indicative: ISO 15927-3 asks for ten years or more, and its spell index is not stated."
)
LEAVES_OUT = (
    "Rain that runs down from above, splashes off, or is blown upward at the edge.",
    "Topography: CT = 1. Obstructions near the wall: O = 1, the most severe.",
    "Wind between the hours: hourly means hide gusts and short showers.",
    "What the coping keeps off the face below its drip.",
)


@dataclass(frozen=True)
class Fall:
    """Rain on level ground and on the outer face, each hour [kg/m²].

    level_rate and face_rate are the greatest rate on level ground and the one on the face at that time, face_peak the
    greatest on the face [kg/(m²·h)]. azimuth is where the face looks to [°], None in an event.
    """

    level: NDArray[np.float64]
    face: NDArray[np.float64]
    level_rate: float
    face_rate: float
    face_peak: float
    azimuth: float | None


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Rain on the outer face, annual indices, and water over the outer drip of the coping.

    Formulas: I = 2/9 v r^(8/9) cos(D - θ), IA = Σ max(I, 0)/N, IWA = IA CR CT O W, CR = KR ln(z/z0) (ISO 15927-3,
    clauses 3 and 5); r = FE FD FL U cosθ Rh, FL = 0.2 kg·s/(m³·mm) (ASHRAE Standard 160); q = r w + rd s.

    Given: the weather file with hourly rain, or site.rain_event with its time and wind; building.height;
    orientation, thickness, and the coping with its slope. Of practice: terrain, exposure and deposition
    factors. Unknown without hourly rain and without an event.
    """
    fall = rainfall(work)
    _load(work, fall)
    if work.project.weather is not None and fall.azimuth is not None:
        _indices(work, work.project.weather, fall)
    else:
        for name in ("airfield_index", "wall_index"):
            work.result_word(name, "annual index of ISO 15927-3", "not stated: no hourly rain of a year")
    _coping(work, fall)


def rainfall(work: Worksheet) -> Fall:
    """The hours of rain of the weather file, or those of the event given.

    Raises:
        Unknown: neither is there, or the event is not whole.
    """
    weather = work.project.weather
    if weather is not None and weather.rain_mm is not None:
        work.require("parapet.orientation")
        azimuth = degrees(work, "parapet.orientation")
        load = rain_on_wall(work, weather, azimuth)
        assert load is not None
        work.leaves_out.append(f"One typical year ({weather.name}): indicative, not a record of extremes.")
        work.leaves_out += [f"Weather file: {note}." for note in weather.notes]
        work.step_word("", "what the rain is taken from", "typical year", "")
        wettest = int(np.argmax(weather.rain_mm))
        rates = float(weather.rain_mm[wettest]), float(load[wettest]), float(load.max())
        return Fall(weather.rain_mm, load, *rates, azimuth)
    if not work.given("site.rain_event"):
        why = "has no hourly rain" if weather is not None else "is not named (site.weather)"
        raise work.stop(f"site.rain_event: the weather file {why}, and no event is given")
    return _event(work)


def _event(work: Worksheet) -> Fall:
    work.require("site.rain_event", "site.rain_event_time", "site.rain_event_wind")
    depth, time = work.input("Re", "site.rain_event"), work.input("te", "site.rain_event_time")
    wind = work.input("U", "site.rain_event_wind")
    hours = time / SECONDS_PER_HOUR
    rate = depth * 1e3 / hours
    work.step("Rh", "rain of the event in an hour", rate / 1e3 / SECONDS_PER_HOUR, RATE, "Rh = Re/te")
    factor, deposition = exposure_factor(work), work.practice_input("FD", "rain.deposition")
    face = float(rain_deposition(wind, 0.0, rate, factor, deposition))
    # The last part of an hour carries its share, so that the sums are those of the event.
    shares = np.append(np.ones(int(hours)), hours - int(hours))
    shares = shares[shares > 0.0]
    work.step_word("", "what the rain is taken from", "design event", "wind square to the wall")
    return Fall(rate * shares, face * shares, rate, face, face, None)


def _load(work: Worksheet, fall: Fall) -> None:
    source = work.cite(LOAD)
    formula = "r = FE FD FL U cosθ Rh (ASHRAE Standard 160)"
    work.step("ΣR", "rain on level ground", float(fall.level.sum()), WATER, "Σ Rh", source)
    total, most = float(fall.face.sum()), fall.face_peak
    work.result("load_total", "Σr", "rain on the outer face, in all", total, WATER, formula)
    work.result("load_peak", "r", "rain on the outer face in an hour at its heaviest", most, WATER, formula)


def _indices(work: Worksheet, weather: Weather, fall: Fall) -> None:
    work.cite(INDEX)
    assert fall.azimuth is not None
    # Calm hours carry no direction; their index is zero with the wind speed.
    hourly = hourly_index(weather.wind_speed, weather.wind_direction, fall.level, fall.azimuth)
    airfield = float(airfield_annual_index(hourly, weather.hours / 8760.0))
    title = "annual index in open country, one typical year"
    work.result("airfield_index", "IA", title, airfield, WATER, "IA = Σ max(I, 0)/N (ISO 15927-3, clause 3)")
    cr = roughness(work)
    share = work.practice_input("W", "rain.wall_factor")
    index = float(wall_index(airfield, cr, 1.0, 1.0, share))
    formula = "IWA = IA CR CT O W (ISO 15927-3, clause 5)"
    work.result("wall_index", "IWA", "annual index of the wall, one typical year", index, WATER, formula)


SHARE_OUT = {"roof": 0.0, "both sides": 0.5, "outer face": 1.0}


def _coping(work: Worksheet, fall: Fall) -> None:
    """Water of the wettest hour that runs over the outer drip of one 10 ft piece."""
    if not work.given("parapet.thickness"):
        why = "not stated: the thickness of the parapet is not given (parapet.thickness)"
        work.result_word("over_drip_peak", "water over the outer drip", why)
        return
    width = work.input("w", "parapet.thickness")
    if work.word("coping.slope_toward"):
        share = SHARE_OUT[work.input_word("", "coping.slope_toward")]
    else:
        why = "Where the coping drains to is not given (coping.slope_toward): all its water is taken to run outward."
        share = work.assume("s", "share of the water over the outer drip", 1.0, NUMBER, why)
    rise = 0.0
    if work.given("coping.slope"):
        rise = work.step("s", "rise of the top", width * work.input("m", "coping.slope"), HEIGHT, "s = w m")
    runoff = coping_runoff(width, fall.level_rate, share, rise, fall.face_rate)
    if work.given("coping.piece_length"):
        piece = work.input("l", "coping.piece_length")
    else:
        piece = work.practice_input("l", "coping.piece_length")
    flow = float(runoff.over_drip) * piece / SECONDS_PER_HOUR * 1e-3
    title = "water over the outer drip of one piece of coping in the wettest hour"
    work.result("over_drip_peak", "q", title, flow, FLOW, "q = (r w + rd s) share l, 1 kg is 1 L")
