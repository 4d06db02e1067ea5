"""A wall whose temperature and humidity were measured for five months, and what the scheme makes of it.

The data are open and not part of this project: "TRH-database" (CC BY 4.0), building R1, wall US1: gypsum board, painted;
plastic vapor barrier; 100 mm of glass wool between studs; 50 mm of mineral wool as wind barrier; a cavity of 5 to
20 mm; 75 to 85 mm of brick; north; readings each ten minutes from December 18, 2020 to May 15, 2021, by probe. Held are
the room and the cavity as measured; compared is the plane between glass wool and wind barrier. The file gives names and
thicknesses of the materials, no properties: those here are common handbook values (M).

``SPECGEN_MEASURED_WALL`` names the folder with the four files of that wall; without it there is nothing to compare.
"""

from __future__ import annotations

import csv
import os
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import numpy as np

from specgen.physics.heat_moisture.faces import Array, Face
from specgen.physics.heat_moisture.grid import Layer, grid
from specgen.physics.heat_moisture.porous import PorousMaterial, film, tabulate
from specgen.physics.heat_moisture.simulate import simulate
from specgen.physics.moist_air import saturation_pressure

FOLDER = os.environ.get("SPECGEN_MEASURED_WALL")
ROOM, CAVITY, PLANE = "sisailma.csv", "tuuletusvali.csv", "rajapinta_lammoneriste_tuulensuoja.csv"
SETTLING = 24 * 7
"""Hours at the start that are not compared: the probes were just put in, and the start of the wall is unknown."""
WOOL = PorousMaterial("glass wool", 20.0, 840.0, 0.036, 1.2, 1.2, 0.2, 40.0)
BARRIER = PorousMaterial("mineral wool board", 60.0, 840.0, 0.033, 1.3, 1.3, 0.3, 40.0)
GYPSUM = PorousMaterial("gypsum board", 700.0, 1000.0, 0.21, 10.0, 8.0, 8.0, 350.0)
PLASTIC = film("plastic vapor barrier", 2e-10 / 50.0, 1e-3)


@dataclass(frozen=True, eq=False)
class Measured:
    """Hours of a probe: temperature [°C] and relative humidity [-]."""

    temp_c: Array
    humidity: Array


@dataclass(frozen=True)
class Compared:
    """Hours compared; mean and root mean square of scheme less probe: temperature [K] and humidity [% RH]."""

    hours: int
    bias_k: float
    spread_k: float
    bias_rh: float
    spread_rh: float
    swing_k: float
    swing_rh: float


FOUND = Compared(3392, -0.57, 0.61, -0.2, 2.7, 5.4, 7.4)
"""What was found when the data were at hand; the test holds a new run to it."""


def read(path: Path) -> Measured:
    """Means of the hours of a file, missing hours filled on a straight line.

    >>> read(Path("nowhere"))
    Traceback (most recent call last):
    ...
    FileNotFoundError: [Errno 2] No such file or directory: 'nowhere'
    """
    with path.open(encoding="utf-8", newline="") as lines:
        rows = list(csv.reader(lines))[1:]
    first = datetime.fromisoformat(rows[0][0])
    hour = np.array([int((datetime.fromisoformat(row[0]) - first).total_seconds() // 3600) for row in rows])
    values = np.array([[float(row[1]), float(row[2])] for row in rows])
    good = np.isfinite(values).all(axis=1)
    count = np.bincount(hour[good], minlength=hour[-1] + 1)
    mean = [
        np.bincount(hour[good], values[good, column], hour[-1] + 1) / np.maximum(count, 1)
        for column in (0, 1)
    ]
    there = np.flatnonzero(count)
    at = np.arange(hour[-1] + 1)
    temp, humidity = (np.interp(at, there, one[there]) for one in mean)
    return Measured(temp, np.clip(humidity / 100.0, 0.0, 1.0))


def face(air: Measured, hours: int, convection: float) -> Face:
    """A face in measured air; long waves stand in the film, for what the face sees has the temperature of its air."""
    zero = np.zeros(hours)
    vapor = air.humidity[:hours] * np.array([float(saturation_pressure(t)) for t in air.temp_c[:hours]])
    return Face(air.temp_c[:hours], vapor, zero + convection, zero + 3e-8, zero, zero, zero, 0.0)


def compared(folder: Path) -> Compared:
    """The plane between glass wool and wind barrier, by the scheme and by its probe."""
    room, cavity, plane = (read(folder / name) for name in (ROOM, CAVITY, PLANE))
    hours = min(one.temp_c.size for one in (room, cavity, plane))
    wall = grid(
        [
            Layer("wind barrier", tabulate(BARRIER), 0.05),
            Layer("glass wool", tabulate(WOOL), 0.1),
            Layer("plastic", PLASTIC),
            Layer("gypsum board", tabulate(GYPSUM), 0.013),
        ]
    )
    run = simulate(
        wall,
        face(cavity, hours, 7.7),
        face(room, hours, 7.7),
        watch=(wall.last[0],),
        start_c=float(plane.temp_c[0]),
        start_humidity=float(plane.humidity[0]),
        finer_steps=4,
    )
    # The last part of an hour against the mean of the hour and the next.
    late = slice(SETTLING, hours - 1)
    probe_c = 0.5 * (plane.temp_c[: hours - 1] + plane.temp_c[1:hours])[SETTLING:]
    probe_rh = 0.5 * (plane.humidity[: hours - 1] + plane.humidity[1:hours])[SETTLING:]
    off_k = run.temp_c[late, 0] - probe_c
    off_rh = 100.0 * (run.humidity[late, 0] - probe_rh)
    return Compared(
        off_k.size,
        float(off_k.mean()),
        float(np.sqrt((off_k**2).mean())),
        float(off_rh.mean()),
        float(np.sqrt((off_rh**2).mean())),
        float(probe_c.std()),
        100.0 * float(probe_rh.std()),
    )
