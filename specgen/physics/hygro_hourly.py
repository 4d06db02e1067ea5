"""Inward vapor drive through a parapet, hour by hour, and condensate on the back of the roof membrane.

The wet plaster is a source at its own temperature. Vapor passes the drainage layer, loses some to the
ventilated gap, passes the barrier and the wall, and meets a roof membrane that lets nothing through:

    plaster p_s ──Z_layer── gap p_g ──Z_barrier── back of membrane p_m
                              └──K── outdoor air p_o

Each hour is quasi-steady, so all hours of all parapets are one array operation. Only the water on the
membrane remembers: it condenses while p_m would exceed saturation at the membrane, and evaporates later.
Hygroscopic storage of sheathing and framing is left out: with it, peaks are lower and drying slower.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, TypeAlias

from specgen.arrays import ArrayLike, NDArray, np
from specgen.physics.errors import PhysicsError, check_array
from specgen.physics.moist_air import saturation_pressure

SECONDS_PER_HOUR: Final = 3600.0

_RESISTANCE: Final = (1e3, 1e15, "vapor resistance of a layer with its air film")
_FACE: Final = (-60.0, 100.0, "surfaces under sun and night sky")

Array: TypeAlias = "NDArray[np.float64]"


@dataclass(frozen=True)
class InwardDrive:
    """Vapor flows and condensate, arrays of shape (hours, ...).

    through_layer is positive inward, ventilated positive outward to the air, through_barrier positive toward
    the membrane [kg/(m²·s)], means over the hour. gap_pa is the vapor pressure in the gap [Pa]. condensate is
    the water on the membrane at the end of the hour [kg/m²]. through_layer = ventilated + through_barrier.
    """

    through_layer: Array
    ventilated: Array
    through_barrier: Array
    gap_pa: Array
    condensate: Array


@dataclass(frozen=True)
class DriveSummary:
    """Over the whole record, arrays of shape (...): condensed, evaporated and greatest condensate [kg/m²].

    wet_hours counts the hours that end with water on the membrane. greatest_day is the most that condensed in
    24 hours in a row [kg/m²].
    """

    condensed: Array
    evaporated: Array
    greatest: Array
    wet_hours: NDArray[np.int64]
    greatest_day: Array


def inward_drive(
    plaster_c: ArrayLike,
    plaster_humidity: ArrayLike,
    membrane_c: ArrayLike,
    outdoor_pa: ArrayLike,
    layer_resistance: ArrayLike,
    ventilation: ArrayLike,
    barrier_resistance: ArrayLike,
    initial: ArrayLike = 0.0,
) -> InwardDrive:
    """Hourly vapor flow and condensate behind a vapor-tight roof membrane.

    With p_m = p_sat(θ_m):

        p_g = (p_s/Z_l + K p_o + p_m/Z_b)/(1/Z_l + K + 1/Z_b),   g = (p_g − p_m)/Z_b

    The water on the membrane follows m ← max(0, m + g Δt), Δt one hour; where the water runs out within the hour
    its mean flow is what was left, and p_g is balanced again with it.

    Args:
        plaster_c: temperature of the plaster [°C], shape (hours, ...).
        plaster_humidity: relative humidity in its pores [-]: 1 where it is saturated, shape (hours, ...).
        membrane_c: temperature of the roof membrane [°C], shape (hours, ...).
        outdoor_pa: outdoor vapor pressure [Pa], shape (hours, ...).
        layer_resistance: vapor resistance from the plaster to the gap Z_l [m²·s·Pa/kg].
        ventilation: vapor conductance of gap ventilation K [kg/(m²·s·Pa)], 0 for a closed gap
            (`gap_air.vapor_conductance`), shape (hours, ...) or broadcast.
        barrier_resistance: vapor resistance from the gap to the back of the membrane Z_b [m²·s·Pa/kg].
        initial: water on the membrane at the start [kg/m²].

    Raises:
        PhysicsError: `plaster_c` has no axis of hours.

    Hourly arrays broadcast from the left (hours first), properties over the remaining axes. Condensation in
    the gap itself, frost and water that runs down the membrane are left out.

    Four hours of sun on wet plaster, then a cold night; a mesh (low resistance) and a tight sheet:

    >>> drive = inward_drive([45, 50, 45, 40, 10, 5], 1.0, [25, 25, 25, 22, 14, 12], 1200.0,
    ...                      [5e8, 5e11], 0.0, 2e9)
    >>> drive.condensate[3].round(4).tolist()
    [0.0385, 0.0002]

    Reference: Steady vapor diffusion as ISO 13788, applied hour by hour (P).
    """
    humidity = check_array("relative humidity of the plaster [-]", plaster_humidity, 0.0, 1.0, "definition")
    outdoor = check_array("outdoor vapor pressure [Pa]", outdoor_pa, 0.0, 2e4, "outdoor air")
    z_layer = check_array(
        "vapor resistance of the drainage layer [m²·s·Pa/kg]", layer_resistance, *_RESISTANCE
    )
    z_barrier = check_array("vapor resistance of the barrier [m²·s·Pa/kg]", barrier_resistance, *_RESISTANCE)
    k = check_array(
        "vapor conductance of ventilation [kg/(m²·s·Pa)]", ventilation, 0.0, 1.0, "gap ventilation"
    )
    start = check_array("water on the membrane [kg/m²]", initial, 0.0, 1e3, "definition")
    plaster = check_array("plaster temperature [°C]", plaster_c, *_FACE)
    membrane = check_array("membrane temperature [°C]", membrane_c, *_FACE)
    if plaster.ndim == 0:
        raise PhysicsError("plaster temperature needs an axis of hours")
    hourly = (plaster, humidity, membrane, outdoor, k)
    sides = [a.shape[1:] for a in hourly] + [a.shape for a in (z_layer, z_barrier, start)]
    shape = (plaster.shape[0], *np.broadcast_shapes(*sides))
    # Left in their own shapes: of a year of many build-ups, most series vary along one axis or two.
    plaster, humidity, membrane, outdoor, k = (_along_hours(a, shape) for a in hourly)
    source = humidity * np.asarray(saturation_pressure(plaster))
    back = np.asarray(saturation_pressure(membrane))
    supply = source / z_layer + k * outdoor
    outward = 1.0 / z_layer + k
    gap = np.add(supply, back / z_barrier, out=np.empty(shape))
    gap /= outward + 1.0 / z_barrier
    inward = gap - back
    inward /= z_barrier
    condensate, ran_out = _accumulate(inward * SECONDS_PER_HOUR, start)
    np.divide(start, -SECONDS_PER_HOUR, out=inward[:1], where=ran_out[:1])
    np.divide(condensate[:-1], -SECONDS_PER_HOUR, out=inward[1:], where=ran_out[1:])
    np.subtract(supply, inward, out=gap, where=ran_out)
    np.divide(gap, outward, out=gap, where=ran_out)
    through = source - gap
    through /= z_layer
    vented = gap - outdoor
    vented *= k
    return InwardDrive(through, vented, inward, gap, condensate)


def summary(drive: InwardDrive) -> DriveSummary:
    """Totals of a record of hours.

    >>> drive = inward_drive([45] * 4 + [5] * 20, 1.0, 20.0, 900.0, 5e8, 0.0, 2e9)
    >>> total = summary(drive)
    >>> bool(total.condensed > 0), bool(abs(total.condensed - total.evaporated - drive.condensate[-1]) < 1e-12)
    (True, True)
    """
    gained = np.maximum(drive.through_barrier, 0.0) * SECONDS_PER_HOUR
    lost = np.maximum(-drive.through_barrier, 0.0) * SECONDS_PER_HOUR
    running = np.concatenate((np.zeros((1, *gained.shape[1:])), np.cumsum(gained, axis=0)))
    window = min(24, gained.shape[0])
    return DriveSummary(
        gained.sum(axis=0),
        lost.sum(axis=0),
        drive.condensate.max(axis=0),
        (drive.condensate > 0.0).sum(axis=0),
        (running[window:] - running[:-window]).max(axis=0),
    )


def _accumulate(change: Array, start: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Content after each step of m ← max(0, m + change) along the first axis, and whether it ran out in the step.

    The steps overwrite ``change``, which nobody reads after them.
    """
    ran_out = np.empty(change.shape, dtype=np.bool_)
    content: Array = start
    for hour in range(change.shape[0]):
        step = change[hour, ...]
        np.add(content, step, out=step)
        np.less(step, 0.0, out=ran_out[hour, ...])
        content = np.maximum(step, 0.0, out=step)
    return change, ran_out


def _along_hours(values: Array, shape: tuple[int, ...]) -> Array:
    """Values whose first axis, if any, counts hours, with the axes they lack put in behind it."""
    if values.ndim and values.shape[0] != shape[0]:
        raise PhysicsError(f"hourly series differ in length: {values.shape[0]} and {shape[0]} hours")
    missing = (1,) * (len(shape) - values.ndim) if values.ndim else ()
    return values.reshape(values.shape[:1] + missing + values.shape[1:])
