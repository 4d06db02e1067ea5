"""Plaster as a reservoir: capillary uptake of rain, storage and runoff.

Water enters as a sharp wet front that advances with the square root of time (the absorption coefficient A of
ISO 15148). A rain weaker than the plaster can drink is absorbed whole; a stronger one leaves a film, and
what the plaster cannot drink runs off.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from specgen.arrays import ArrayLike, NDArray, np
from specgen.physics.elementwise import sqrt
from specgen.physics.errors import Floats, PhysicsError, check_array, check_range

SECONDS_PER_HOUR: Final = 3600.0

_ABSORPTION: Final = (1e-6, 10.0, "porous building materials")
_THICKNESS: Final = (1e-4, 2.0, "a layer of a wall")
_SATURATION: Final = (1.0, 1000.0, "water content cannot exceed the density of water")


@dataclass(frozen=True)
class HourlyUptake:
    """Water balance of each hour, arrays of the rain's shape [kg/m²].

    absorbed + runoff = rain; stored is the content at the end of the hour; dried is what left.
    """

    absorbed: NDArray[np.float64]
    runoff: NDArray[np.float64]
    dried: NDArray[np.float64]
    stored: NDArray[np.float64]


def uptake(absorption: ArrayLike, time_s: ArrayLike) -> Floats:
    """Water drawn in by a thick layer in contact with water, m = A √t.

    Args:
        absorption: water absorption coefficient A [kg/(m²·√s)].
        time_s: time in contact with water [s].

    Returns:
        Water per area [kg/m²].

    >>> round(uptake(0.02, 3600.0), 9)
    1.2

    Reference: ISO 15148, water absorption coefficient by partial immersion (M).
    """
    a = check_range("absorption coefficient [kg/(m²·√s)]", absorption, *_ABSORPTION)
    t = check_range("time [s]", time_s, 0.0, math.inf, "definition")
    return a * sqrt(t)


def stored_water(thickness_m: ArrayLike, free_saturation: ArrayLike) -> Floats:
    """Water that a layer holds when freely saturated, d·w_f [kg/m²].

    Args:
        thickness_m: thickness d [m].
        free_saturation: water content at free saturation w_f [kg/m³].

    >>> round(stored_water(0.022, 200.0), 9)
    4.4
    """
    d = check_range("thickness [m]", thickness_m, *_THICKNESS)
    w = check_range("free saturation [kg/m³]", free_saturation, *_SATURATION)
    return d * w


def time_to_saturation(absorption: ArrayLike, thickness_m: ArrayLike, free_saturation: ArrayLike) -> Floats:
    """Time in contact with water until the wet front reaches the back of a layer, t = (d w_f/A)² [s].

    >>> round(time_to_saturation(0.02, 0.022, 200.0) / 3600, 2)
    13.44
    """
    a = check_range("absorption coefficient [kg/(m²·√s)]", absorption, *_ABSORPTION)
    return (stored_water(thickness_m, free_saturation) / a) ** 2


def hourly_uptake(
    rain: ArrayLike,
    absorption: ArrayLike,
    thickness_m: ArrayLike,
    free_saturation: ArrayLike,
    drying: ArrayLike = 0.0,
    initial: ArrayLike = 0.0,
) -> HourlyUptake:
    """Water taken up hour by hour under a rain load.

    With m in the layer the front can drink at the rate A²/(2m). Rain at the rate R is absorbed whole until
    m_p = A²/(2R); from then on m = A √(t₀ + t), where t₀ = (m/A)² is the time at which the same content would
    have been reached under water. The layer fills at d·w_f. Drying acts after the rain of the hour.

    Args:
        rain: rain that lands on the face in each hour [kg/m²], shape (hours, ...).
        absorption, thickness_m, free_saturation: a [kg/(m²·√s)], d [m], w_f [kg/m³].
        drying: water that the weather can remove in each hour [kg/m²]; no more than is stored leaves, shape
            (hours, ...) or broadcast.
        initial: water at the start [kg/m²].

    Not covered: redistribution after the rain, films that bridge cracks, rain that splashes off.

    >>> result = hourly_uptake([0.5, 10.0, 0.0], 0.02, 0.022, 200.0)
    >>> result.absorbed.round(3).tolist(), result.runoff.round(3).tolist()
    ([0.5, 0.8, 0.0], [0.0, 9.2, 0.0])

    Reference: Hall & Hoff, Water Transport in Brick, Stone and Concrete: sharp front, constant supply (M).
    """
    supply = np.atleast_1d(check_array("rain on the face [kg/m²]", rain, 0.0, 1000.0, "rain of one hour"))
    a = check_array("absorption coefficient [kg/(m²·√s)]", absorption, *_ABSORPTION)
    capacity = np.asarray(stored_water(thickness_m, free_saturation))
    leaving = check_array("drying [kg/m²]", drying, 0.0, math.inf, "definition")
    start = check_array("water at the start [kg/m²]", initial, 0.0, math.inf, "definition")
    check_range("water at the start over capacity [-]", start / capacity, 0.0, 1.0, "layer filled at d·w_f")
    side = np.broadcast_shapes(supply.shape[1:], a.shape, capacity.shape, start.shape, leaving.shape[1:])
    shape = (supply.shape[0], *side)
    supply, leaving = _along_hours(supply, shape), _along_hours(leaving, shape)
    absorbed, dried, stored = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    content = np.broadcast_to(start, side).astype(np.float64)
    for hour in range(shape[0]):
        absorbed[hour] = _one_hour(supply[hour], content, a, capacity)
        content = content + absorbed[hour]
        dried[hour] = np.minimum(content, leaving[hour])
        content = content - dried[hour]
        stored[hour] = content
    return HourlyUptake(absorbed, supply - absorbed, dried, stored)


def _one_hour(
    supply: NDArray[np.float64],
    content: NDArray[np.float64],
    absorption: NDArray[np.float64],
    capacity: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Water absorbed in an hour by a layer that holds `content` [kg/m²]."""
    rate = supply / SECONDS_PER_HOUR
    keeps_up = 2.0 * rate * (content + supply) <= absorption**2
    safe = np.where(keeps_up, 1.0, rate)
    knee = np.maximum(absorption**2 / (2.0 * safe), content)
    rest = np.maximum(SECONDS_PER_HOUR - (knee - content) / safe, 0.0)
    drunk = np.where(keeps_up, supply, np.sqrt(knee**2 + absorption**2 * rest) - content)
    # The front law meets the supply exactly at the knee; rounding must not create water.
    return np.clip(np.minimum(drunk, capacity - content), 0.0, supply)


def _along_hours(values: NDArray[np.float64], shape: tuple[int, ...]) -> NDArray[np.float64]:
    """Broadcast values whose first axis, if any, counts hours."""
    if values.ndim and values.shape[0] != shape[0]:
        raise PhysicsError(f"hourly series differ in length: {values.shape[0]} and {shape[0]} hours")
    missing = (1,) * (len(shape) - values.ndim) if values.ndim else ()
    return np.broadcast_to(values.reshape(values.shape + missing), shape)
