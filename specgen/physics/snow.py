"""Snow that drifts against the roof side of a parapet: depth, surcharge and width.

The formulas of ASCE 7 are in feet and pounds; they are kept so, and the values around them converted.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from specgen.physics.errors import check_range

FOOT = 0.3048  # m
PSF = 47.880258980335  # Pa
PCF = PSF / FOOT  # N/m³
_GREATEST_DENSITY = 30.0  # lb/ft³
_WIDEST = 8.0  # times the height above the balanced snow


@dataclass(frozen=True)
class ParapetDrift:
    """Snow at a parapet.

    ``balanced`` [m] lies everywhere; ``height`` [m] is that of the drift above it, at the parapet; ``width`` [m] is how
    far the drift reaches into the roof; ``surcharge`` [Pa] its load at the parapet, above that of the balanced snow.
    """

    balanced: float
    height: float
    width: float
    surcharge: float

    @property
    def depth(self) -> float:
        """Snow at the parapet, all of it [m]."""
        return self.balanced + self.height


def snow_density(ground: float) -> float:
    """Specific weight of snow [N/m³]: 0.13 pg + 14 lb/ft³, at most 30.

    Args:
        ground: ground snow load [Pa], 0 to 20,000.

    Raises:
        OutOfRange: a value outside its range.

    Reference: ASCE 7-16 and 7-22 Eq. 7.7-1.

    >>> round(snow_density(25.0 * PSF) / PCF, 2)
    17.25
    """
    check_range("ground snow load [Pa]", ground, 0.0, 2e4, "ASCE 7, chapter 7")
    return min(0.13 * ground / PSF + 14.0, _GREATEST_DENSITY) * PCF


def leeward_drift(ground: float, fetch: float, importance: float) -> float:
    """Height of a leeward drift [m], hd = √Is (0.43 lu^(1/3) (pg + 10)^(1/4) - 1.5) ft, ASCE 7-16.

    Args:
        ground: ground snow load pg [Pa], 0 to 20,000.
        fetch: length of roof upwind of the drift lu [m], 1 to 1,000.
        importance: importance factor Is [-], 0.5 to 1.5.

    Raises:
        OutOfRange: a value outside its range.

    Reference: ASCE 7-16 Figure 7.6-1; ASCE 7-10 Figure 7-9 without Is.

    >>> round(leeward_drift(25.0 * PSF, 40.0 * FOOT, 1.0) / FOOT, 2)
    2.08
    """
    _check(ground, fetch)
    check_range("importance factor Is [-]", importance, 0.5, 1.5, "ASCE 7-16, Table 1.5-2")
    feet = 0.43 * (fetch / FOOT) ** (1 / 3) * (ground / PSF + 10.0) ** 0.25 - 1.5
    return float(sqrt(importance) * max(feet, 0.0) * FOOT)


def leeward_drift_by_wind(ground: float, fetch: float, winter_wind: float) -> float:
    """Height of a leeward drift [m], hd = 1.5 √(pg^0.74 lu^0.70 W2^1.7 / γ) ft, ASCE 7-22.

    Args:
        ground: ground snow load pg [Pa], 0 to 20,000.
        fetch: length of roof upwind of the drift lu [m], 1 to 1,000.
        winter_wind: winter wind parameter W2 [-], 0.1 to 1.

    Raises:
        OutOfRange: a value outside its range.

    Reference: ASCE 7-22 Eq. 7.6-1.

    >>> round(leeward_drift_by_wind(63.0 * PSF, 40.0 * FOOT, 0.45) / FOOT, 2)
    2.72
    """
    _check(ground, fetch)
    check_range("winter wind parameter W2 [-]", winter_wind, 0.1, 1.0, "ASCE 7-22, Figure 7.6-1")
    load, density = ground / PSF, snow_density(ground) / PCF
    return 1.5 * sqrt(load**0.74 * (fetch / FOOT) ** 0.70 * winter_wind**1.7 / density) * FOOT


def parapet_drift(
    ground: float, flat_roof: float, drift: float, parapet: float, no_drift: float
) -> ParapetDrift:
    """The drift at a parapet: no higher than what stands free above the balanced snow, then wider instead.

    Args:
        ground: ground snow load [Pa], above 0 and at most 20,000.
        flat_roof: balanced snow load of the roof [Pa], 0 to 40,000.
        drift: height of the drift if nothing limits it [m], 0 to 20; against a parapet a share of the leeward one.
        parapet: height of the parapet above the roof [m], 0.01 to 20.
        no_drift: free height over the depth of the balanced snow below which no drift forms [-], 0 to 1.

    Raises:
        OutOfRange: a value outside its range.

    Reference: ASCE 7-16 and 7-22, 7.7.1 and 7.8.
    """
    check_range("ground snow load [Pa]", ground, 1.0, 2e4, "ASCE 7, chapter 7")
    check_range("flat roof snow load [Pa]", flat_roof, 0.0, 4e4, "ASCE 7, 7.3")
    check_range("height of the drift [m]", drift, 0.0, 20.0, "ASCE 7, 7.7")
    check_range("height of the parapet [m]", parapet, 0.01, 20.0, "a parapet")
    check_range("free height over balanced depth [-]", no_drift, 0.0, 1.0, "ASCE 7, 7.7.1")
    density = snow_density(ground)
    balanced = flat_roof / density
    free = parapet - balanced
    if free <= no_drift * balanced or drift == 0.0:
        return ParapetDrift(balanced, 0.0, 0.0, 0.0)
    if drift <= free:
        return ParapetDrift(balanced, drift, 4.0 * drift, drift * density)
    width = min(4.0 * drift**2 / free, _WIDEST * free)
    return ParapetDrift(balanced, free, width, free * density)


def _check(ground: float, fetch: float) -> None:
    check_range("ground snow load [Pa]", ground, 0.0, 2e4, "ASCE 7, chapter 7")
    check_range("length of roof upwind of the drift [m]", fetch, 1.0, 1000.0, "ASCE 7, 7.7.1")
