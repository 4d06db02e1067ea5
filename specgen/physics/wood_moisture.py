"""Water that wood holds in air of a given humidity."""

from __future__ import annotations

from typing import Final

from specgen.arrays import ArrayLike, NDArray, np
from specgen.physics.errors import check_range

FIT: Final = (
    (330.0, 0.452, 0.00415),
    (0.791, 0.000463, -0.000000844),
    (6.34, 0.000775, -0.0000935),
    (1.09, 0.0284, -0.0000904),
)
"""W, K, K1 and K2 of the sorption model as second-degree polynomials of the temperature in °F."""
FREEZING_F: Final = 32.0
F_PER_K: Final = 1.8


def equilibrium_moisture(relative_humidity: ArrayLike, temp_c: ArrayLike = 20.0) -> NDArray[np.float64]:
    """Equilibrium moisture content of wood of any species, water over oven-dry mass [-].

    Formula: M = 18/W (K φ/(1 − K φ) + (K1 K φ + 2 K1 K2 K² φ²)/(1 + K1 K φ + K1 K2 K² φ²)), two hydrates.

    Args:
        relative_humidity: φ [-], 0 to 1.
        temp_c: temperature [°C], -30 to 100. Below freezing it is the fit carried on.

    Returns:
        Moisture content [-]; between sorption and desorption, as wood in use.

    Raises:
        OutOfRange: a value outside its range.

    >>> round(float(equilibrium_moisture(0.5, 21.1)), 3)
    0.092

    Reference: Hailwood and Horrobin (1946), coefficients of the USDA Forest Products Laboratory, FPL 190 (1973) and
        Wood Handbook, chapter 4, equation 4-5 (P).
    """
    phi = check_range("relative humidity [-]", relative_humidity, 0.0, 1.0, "Wood Handbook, chapter 4")
    celsius = check_range("temperature [°C]", temp_c, -30.0, 100.0, "Wood Handbook, chapter 4")
    fahrenheit = F_PER_K * celsius + FREEZING_F
    w, k, k1, k2 = (a + b * fahrenheit + c * fahrenheit**2 for a, b, c in FIT)
    kh = k * phi
    hydrates = (k1 * kh + 2.0 * k1 * k2 * kh**2) / (1.0 + k1 * kh + k1 * k2 * kh**2)
    return np.asarray(18.0 / w * (kh / (1.0 - kh) + hydrates))
