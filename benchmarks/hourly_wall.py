"""The wall and the hours that the benchmarks of the hourly model run: a parapet of 50 to 200 nodes, years of weather.

The hours are a real year of a warm, humid place with rain in each of its hours, out of the weather files that the
package pvlib carries, ten years by repeating. The face looks south-west; a hundredth of its rain gets behind the plaster.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
import pvlib
from numpy.typing import NDArray

from specgen.intake.weather import load_weather
from specgen.physics.gap_air import Loss
from specgen.physics.heat_moisture.faces import Face
from specgen.physics.heat_moisture.grid import Gap, Grid, Layer, grid
from specgen.physics.heat_moisture.porous import PorousMaterial, film, tabulate
from specgen.physics.heat_moisture.simulate import Source
from specgen.physics.moist_air import vapor_pressure
from specgen.physics.rain import rain_deposition
from specgen.physics.sun import days_since_2000, extraterrestrial, sun_position
from specgen.physics.sun_on_face import irradiance_on_face

WEATHER = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
AZIMUTH = 225.0
LEAK = 0.01
FINER = {50: 1.0, 100: 2.0, 200: 4.4}
"""How much finer than usual the wall is cut to have about so many nodes."""
SIGMA = 5.67e-8


@dataclass(frozen=True)
class Case:
    """A wall and its hours."""

    wall: Grid
    outside: Face
    inside: Face
    sources: tuple[Source, ...]


def parapet(finer: float, plaster: float = 0.022) -> Grid:
    """Plaster, sheet, drained gap, barrier, plywood, wool, plywood, roof membrane."""
    cement = tabulate(PorousMaterial("plaster", 1860, 840, 0.72, 33, 6, 35, 210, 0.042, 0.002))
    plywood = tabulate(PorousMaterial("plywood", 500, 1600, 0.13, 200, 70, 75, 400, 0.004, 0.0002))
    wool = tabulate(PorousMaterial("wool", 30, 840, 0.036, 1.2, 1.0, 0.2, 300))
    parts = [
        Layer("plaster", cement, plaster),
        Layer("sheet", film("sheet", 3e-12, 0.01)),
        Gap("gap", 0.008, 1.0, (Loss(2.8, 0.3),) * 2),
        Layer("barrier", film("barrier", 6e-10, 0.003)),
        Layer("sheathing", plywood, 0.0127),
        Layer("cavity", wool, 0.14),
        Layer("roof sheathing", plywood, 0.0127),
        Layer("roof membrane", film("roof membrane", 1e-13, 0.01)),
    ]
    return grid(parts, finer)


@lru_cache(maxsize=1)
def _year() -> tuple[Face, Face, NDArray[np.float64]]:
    weather = load_weather(WEATHER)
    place = weather.place
    middle = np.asarray(weather.hour) - 0.5 - place.time_zone
    sun = sun_position(
        days_since_2000(2001, weather.day_of_year.astype(float), middle), place.latitude, place.longitude
    )
    top = extraterrestrial(weather.day_of_year)
    one = np.ones(weather.hours)
    vapor = np.asarray(vapor_pressure(weather.temp_c, weather.rh))
    sky = SIGMA * (weather.temp_c + 273.15 - 10.0) ** 4
    dry = np.zeros(weather.hours)
    assert weather.rain_mm is not None
    turned = (weather.wind_direction - AZIMUTH + 180.0) % 360.0 - 180.0
    rain = np.asarray(rain_deposition(weather.wind_speed, turned, weather.rain_mm, 1.0, 0.5)) / 3600.0
    faces = []
    for tilt, absorbed, wet in ((90.0, 0.6, rain), (90.0, 0.9, dry)):
        azimuth = AZIMUTH if tilt == 90.0 and absorbed == 0.6 else AZIMUTH - 180.0
        light = np.asarray(
            irradiance_on_face(sun, weather.dni, weather.dhi, tilt, azimuth, 0.2, top), dtype=np.float64
        )
        film_h = 4.0 + 4.0 * weather.wind_speed
        faces.append(
            Face(weather.temp_c, vapor, film_h, 7e-9 * film_h, absorbed * light, sky * one, wet, 0.9)
        )
    return faces[0], faces[1], rain


def case(finer: float, years: int = 1, leak: float = LEAK) -> Case:
    """The parapet and so many years of the same weather."""
    outer, inner, rain = _year()
    faces = [
        Face(
            *(np.tile(getattr(one, name), years) for name in list(one.__dataclass_fields__)[:-1]),
            one.emittance,
        )
        for one in (outer, inner)
    ]
    return Case(parapet(finer), faces[0], faces[1], (Source("barrier", np.tile(leak * rain, years)),))
