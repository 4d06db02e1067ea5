"""What the sun makes of the air temperature at a face: sol-air temperature; design-day air."""

from __future__ import annotations

from typing import Final

from specgen.arrays import ArrayLike, np
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


def sol_air(temp_c: ArrayLike, absorptance: ArrayLike, irradiance: ArrayLike, film: ArrayLike) -> Floats:
    """Sol-air temperature of a face that loses nothing to the sky by itself: t = to + α E / ho.

    Args:
        temp_c: outdoor air temperature [°C].
        absorptance: absorptance for sunlight [-], 0 to 1.
        irradiance: irradiance on the face [W/m²].
        film: film coefficient ho, convection and radiation [W/(m²·K)], 1 to 100. All broadcast.

    Returns:
        Sol-air temperature [°C].

    >>> sol_air(30.0, 0.9, 800.0, 18.0)
    70.0

    Reference: ASHRAE Handbook of Fundamentals, nonresidential cooling load calculations, sol-air temperature.
    """
    air = check_range("air temperature [°C]", temp_c, -60.0, 60.0, "outdoor air")
    alpha = check_range("absorptance [-]", absorptance, 0.0, 1.0, "a fraction")
    sun = check_range("irradiance [W/m²]", irradiance, 0.0, 1500.0, "below the solar constant")
    ho = check_range("film coefficient [W/(m²·K)]", film, 1.0, 100.0, "still air to storm")
    return plain(air + alpha * sun / ho)


def design_day_temperature(max_c: ArrayLike, daily_range: ArrayLike, hour: ArrayLike) -> Floats:
    """Air temperature at an hour of a design day: t = t_max - f(hour) x daily range.

    f is `DAILY_RANGE_FRACTIONS`, linear between hours. The figures carry status M (see there).

    Args:
        max_c: highest temperature of the day [°C].
        daily_range: highest less lowest [K], 0 to 40.
        hour: standard time [h], 0 to 24. All broadcast.

    Returns:
        Temperature [°C].

    >>> design_day_temperature(35.0, 10.0, 5.0), design_day_temperature(35.0, 10.0, 14.5)
    (25.0, 35.0)

    Reference: ASHRAE Handbook of Fundamentals, climatic design information, table 6 (from memory).
    """
    top = check_range("highest temperature [°C]", max_c, -60.0, 60.0, "outdoor air")
    span = check_range("daily range [K]", daily_range, 0.0, 40.0, "outdoor air")
    at = check_range("hour [h]", hour, 0.0, 24.0, "hours of a day")
    hours = np.arange(25)
    fractions = np.array((DAILY_RANGE_FRACTIONS[-1], *DAILY_RANGE_FRACTIONS))
    return plain(top - span * np.interp(at, hours, fractions))
