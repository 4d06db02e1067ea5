"""A year of hourly weather, as a weather file gives it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from specgen.arrays import NDArray, np

Hours: TypeAlias = "NDArray[np.float64]"
Counts: TypeAlias = "NDArray[np.int64]"


@dataclass(frozen=True)
class WeatherPlace:
    """Where the record was taken: degrees north and east, hours ahead of universal time, metres above sea level."""

    name: str
    latitude: float
    longitude: float
    time_zone: float
    elevation_m: float


@dataclass(frozen=True, eq=False)
class Weather:
    """8760 or 8784 hours in local standard time, each array of shape (hours,) and read-only.

    ``hour`` is the hour that ends then, 1 to 24; ``year`` the year each month was taken from. Temperatures in °C,
    ``rh`` from 0 to 1, pressure in Pa, wind in m/s and in degrees clockwise from north (where it comes from),
    irradiance in W/m², rain in mm of the hour or None where the file has none. ``longwave`` is what the sky sends onto
    the level in long waves [W/m²], ``cloud`` the share of the sky that opaque clouds cover (all clouds where the file
    does not tell which are opaque), 0 to 1; each None where the file has none. ``notes`` say what was filled or read
    otherwise than written. ``further`` are other years at the same place that the project names behind this one.
    """

    place: WeatherPlace
    format: str
    path: str
    year: Counts
    month: Counts
    day: Counts
    hour: Counts
    temp_c: Hours
    dew_point_c: Hours
    rh: Hours
    pressure_pa: Hours
    wind_speed: Hours
    wind_direction: Hours
    ghi: Hours
    dni: Hours
    dhi: Hours
    rain_mm: Hours | None
    notes: tuple[str, ...] = ()
    sha256: str = ""  # of the bytes of the file
    longwave: Hours | None = None
    cloud: Hours | None = None
    further: tuple[Weather, ...] = ()

    @property
    def name(self) -> str:
        """The file's own name; the folder it lies in says nothing to a reader elsewhere."""
        return self.path.replace("\\", "/").rpartition("/")[2]

    @property
    def hours(self) -> int:
        """Hours of the record."""
        return int(self.temp_c.size)

    @property
    def day_of_year(self) -> Counts:
        """1 for 1 January, to 365 or 366."""
        return np.arange(self.hours, dtype=np.int64) // 24 + 1
