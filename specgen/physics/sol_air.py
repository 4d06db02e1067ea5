"""What sun and sky make of the air temperature at a face: sol-air temperature; design-day air."""

from __future__ import annotations

from typing import Final

from specgen.arrays import ArrayLike, np
from specgen.physics.constants import STEFAN_BOLTZMANN, ZERO_CELSIUS
from specgen.physics.errors import Floats, check_range, plain

# fmt: off
DAILY_RANGE_FRACTIONS: Final = (
    0.88, 0.92, 0.95, 0.98, 1.00, 0.98, 0.91, 0.74, 0.55, 0.38, 0.23, 0.13,
    0.05, 0.00, 0.00, 0.06, 0.14, 0.24, 0.39, 0.50, 0.59, 0.68, 0.75, 0.82,
)
# fmt: on
"""Part of the daily range below the day's maximum at hours 1 to 24, standard time [-].
ASHRAE Handbook of Fundamentals, climatic design information, table 6. Status M: from memory, and the same
figures in several public programs that name that table."""


def sky_temperature(temp_c: ArrayLike) -> Floats:
    """Temperature of a clear sky as a black body: T_sky = 0.0552 T^1.5, both in kelvin.

    Parameters
    ----------
    temp_c : float or array
        Outdoor air temperature [°C], -40 to 50.

    Returns
    -------
    float or array
        Sky temperature [°C].

    Raises
    ------
    OutOfRange, NotFinite

    Examples
    --------
    >>> round(sky_temperature(20.0), 1)
    3.9

    References
    ----------
    Swinbank, Quarterly Journal of the Royal Meteorological Society 89 (1963) 339-348.
    """
    t = check_range("air temperature [°C]", temp_c, -40.0, 50.0, "Swinbank 1963, stretched to cold")
    return plain(0.0552 * (t + ZERO_CELSIUS) ** 1.5 - ZERO_CELSIUS)


def longwave_loss(temp_c: ArrayLike, sky_c: ArrayLike, tilt: ArrayLike) -> Floats:
    """Long-wave loss of a black face at air temperature, ground and surroundings at air temperature too.

    ΔR = σ (T⁴ - T_sky⁴) (1 + cos Σ) / 2. A wall sees half the sky. ASHRAE takes 63 W/m² for a roof and 0 for
    a wall whose warm surroundings make up for the sky; pass those instead to follow it.

    Parameters
    ----------
    temp_c : float or array
        Air temperature [°C].
    sky_c : float or array
        Sky temperature [°C] (`sky_temperature`).
    tilt : float or array
        Tilt of the face [°], 0 to 180. All broadcast.

    Returns
    -------
    float or array
        Loss ΔR [W/m²] for emittance 1.

    Raises
    ------
    OutOfRange, NotFinite

    Examples
    --------
    >>> round(longwave_loss(20.0, 20.0, 0.0), 1)
    0.0

    References
    ----------
    ASHRAE Handbook of Fundamentals, sol-air temperature; Stefan-Boltzmann law.
    """
    air = check_range("air temperature [°C]", temp_c, -60.0, 100.0, "outdoor air") + ZERO_CELSIUS
    sky = check_range("sky temperature [°C]", sky_c, -120.0, 60.0, "clear to overcast") + ZERO_CELSIUS
    slope = np.radians(check_range("tilt [°]", tilt, 0.0, 180.0, "0 up, 90 wall, 180 down"))
    return plain(STEFAN_BOLTZMANN * (air**4 - sky**4) * (1.0 + np.cos(slope)) / 2.0)


def sol_air(
    temp_c: ArrayLike,
    absorptance: ArrayLike,
    irradiance: ArrayLike,
    film: ArrayLike,
    emittance: ArrayLike,
    loss: ArrayLike,
) -> Floats:
    """Sol-air temperature: t = to + α E / ho - ε ΔR / ho.

    Parameters
    ----------
    temp_c : float or array
        Outdoor air temperature [°C].
    absorptance : float or array
        Absorptance for sunlight [-], 0 to 1.
    irradiance : float or array
        Irradiance on the face [W/m²].
    film : float or array
        Film coefficient ho, convection and radiation [W/(m²·K)], 1 to 100.
    emittance : float or array
        Long-wave emittance [-], 0 to 1.
    loss : float or array
        Long-wave loss ΔR [W/m²] (`longwave_loss`). All broadcast.

    Returns
    -------
    float or array
        Sol-air temperature [°C].

    Raises
    ------
    OutOfRange, NotFinite

    Examples
    --------
    >>> sol_air(30.0, 0.9, 800.0, 18.0, 0.9, 0.0)
    70.0

    References
    ----------
    ASHRAE Handbook of Fundamentals, nonresidential cooling load calculations, sol-air temperature.
    """
    air = check_range("air temperature [°C]", temp_c, -60.0, 60.0, "outdoor air")
    alpha = check_range("absorptance [-]", absorptance, 0.0, 1.0, "a fraction")
    sun = check_range("irradiance [W/m²]", irradiance, 0.0, 1500.0, "below the solar constant")
    ho = check_range("film coefficient [W/(m²·K)]", film, 1.0, 100.0, "still air to storm")
    eps = check_range("emittance [-]", emittance, 0.0, 1.0, "a fraction")
    away = check_range("long-wave loss [W/m²]", loss, -300.0, 300.0, "sky against air")
    return plain(air + (alpha * sun - eps * away) / ho)


def design_day_temperature(max_c: ArrayLike, daily_range: ArrayLike, hour: ArrayLike) -> Floats:
    """Air temperature at an hour of a design day: t = t_max - f(hour) x daily range.

    f is `DAILY_RANGE_FRACTIONS`, linear between hours. The figures carry status M (see there).

    Parameters
    ----------
    max_c : float or array
        Highest temperature of the day [°C].
    daily_range : float or array
        Highest less lowest [K], 0 to 40.
    hour : float or array
        Standard time [h], 0 to 24. All broadcast.

    Returns
    -------
    float or array
        Temperature [°C].

    Raises
    ------
    OutOfRange, NotFinite

    Examples
    --------
    >>> design_day_temperature(35.0, 10.0, 5.0), design_day_temperature(35.0, 10.0, 14.5)
    (25.0, 35.0)

    References
    ----------
    ASHRAE Handbook of Fundamentals, climatic design information, table 6 (from memory).
    """
    top = check_range("highest temperature [°C]", max_c, -60.0, 60.0, "outdoor air")
    span = check_range("daily range [K]", daily_range, 0.0, 40.0, "outdoor air")
    at = check_range("hour [h]", hour, 0.0, 24.0, "hours of a day")
    hours = np.arange(25)
    fractions = np.array((DAILY_RANGE_FRACTIONS[-1], *DAILY_RANGE_FRACTIONS))
    return plain(top - span * np.interp(at, hours, fractions))
