"""What a year of weather brings before any face is asked: sun over the place, vapor of the air, long waves of the sky."""

from __future__ import annotations

from typing import TypeAlias

from specgen.arrays import NDArray, np
from specgen.model.weather import Weather
from specgen.physics.moist_air import LOWEST_C, frost_points, saturation_over_water, saturation_pressure
from specgen.physics.sky import black_body, clear_sky_emissivity, sky_emissivity
from specgen.physics.sun import SunPosition, days_since_2000, extraterrestrial, sun_position
from specgen.physics.sun_on_face import irradiance_on_face

Hours: TypeAlias = "NDArray[np.float64]"
COLUMN = "infrared radiation of the weather file"
BY_CLOUD = "estimated from the dew point and the cloud cover of the weather file"
BY_DEFAULT = "estimated from the dew point and a cloud cover of {cover:g}, as the weather file has none"
BELOW_HORIZON = -4.0  # degrees; an hour in which the sun rises has its middle no lower
NIGHT_SUN = 0.01  # share of the year's sun on the level below that, above which hours or place must be wrong


def sun_over(weather: Weather) -> SunPosition:
    """Where the sun stands in the middle of every hour."""
    utc = weather.hour - 0.5 - weather.place.time_zone
    days = days_since_2000(2000 if weather.hours > 8760 else 2001, weather.day_of_year, utc)
    return sun_position(days, weather.place.latitude, weather.place.longitude)


def over_ice(weather: Weather) -> bool:
    """Whether the dew points of a weather file below 0 °C are over ice."""
    return frost_points(weather.temp_c, weather.dew_point_c, weather.rh)


def outdoor_vapor(weather: Weather) -> Hours:
    """Vapor pressure of the air of every hour [Pa], from its dew point, at most saturated.

    Below -40 °C, where the formulas end, it is that of -40 °C: 13 Pa, nearly nothing.
    """
    over = saturation_pressure if over_ice(weather) else saturation_over_water
    dew, air = (np.maximum(one, LOWEST_C) for one in (weather.dew_point_c, weather.temp_c))
    return np.minimum(over(dew), saturation_pressure(air))


def sunlight(weather: Weather, tilt: float, azimuth: float, reflectance: float) -> Hours:
    """Sun on a face in every hour [W/m²]: direct, diffuse by a Perez sky, and from the ground.

    Args:
        weather: the year.
        tilt, azimuth: tilt from horizontal and direction of the face [°].
        reflectance: of what the face looks down on [-].
    """
    outside = np.asarray(extraterrestrial(weather.day_of_year))
    light = irradiance_on_face(
        sun_over(weather), weather.dni, weather.dhi, tilt, azimuth, reflectance, outside
    )
    return np.asarray(light)


def sky_waves(weather: Weather, cover: float) -> tuple[Hours, str]:
    """Long waves that the sky sends onto the level in every hour [W/m²], and what they rest on.

    Args:
        weather: the year; its infrared radiation is taken where it has any.
        cover: cloud cover taken where it has neither that nor cloud [-].
    """
    if weather.longwave is not None:
        return weather.longwave, COLUMN
    clear = clear_sky_emissivity(weather.dew_point_c)
    cloud = cover if weather.cloud is None else weather.cloud
    sent = np.asarray(sky_emissivity(clear, cloud)) * black_body(weather.temp_c)
    return sent, BY_DEFAULT.format(cover=cover) if weather.cloud is None else BY_CLOUD


def sun_at_night(weather: Weather) -> float:
    """Share of the year's sun on the level that falls while the sun is well below the horizon [-]; 0 without sun."""
    down = np.asarray(sun_over(weather).elevation) < BELOW_HORIZON
    total = float(weather.ghi.sum())
    return float(weather.ghi[down].sum()) / total if total > 0.0 else 0.0
