"""A wet drainage gap under sun and wind: how warm it gets, how fast its air moves, and what that air carries off.

Heat from the face warms the air on its way and evaporates the water; both cool the gap and slow the stack. Heat,
pressure and vapor are balanced together, so that no more water leaves than there is heat to evaporate it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from specgen.arrays import ArrayLike, np
from specgen.physics.constants import (
    AIR_DENSITY_20C,
    AIR_VISCOSITY_20C,
    LATENT_HEAT_VAPORISATION_0C,
    SPECIFIC_HEAT_DRY_AIR,
)
from specgen.physics.errors import Floats, check_finite, check_range, plain
from specgen.physics.gap_air import (
    LAMINAR_REYNOLDS_LIMIT,
    GapFlow,
    Loss,
    gap_flow,
    pressure_used,
    stack_pressure,
    vapor_conductance,
)
from specgen.physics.moist_air import dew_point, saturation_pressure

HALVINGS: Final = 40
"""Of the span between dew point and face: to 1e-10 K."""


STEPS: Final = 800
"""Of the same span, between which `balances` looks for a change of sign."""

COLDEST: Final = -39.9
"""Dew point [°C] below which air is as good as dry, and `dew_point` ends."""


@dataclass(frozen=True)
class WetGap:
    """A gap in balance.

    temp_c is its temperature [°C], stack_pa and drive_pa the stack pressure and its sum with the wind's [Pa], flow the
    air, removed the vapor carried off [kg/(m²·s)] (negative: brought), limited whether the drive was counted only as
    far as laminar flow goes.
    """

    temp_c: Floats
    stack_pa: Floats
    drive_pa: Floats
    flow: GapFlow
    removed: Floats
    limited: Floats


def laminar_pressure(gap_m: float, height_m: float, losses: Sequence[Loss]) -> float:
    """The pressure that drives a gap of 0.1 mm to 1 m at `LAMINAR_REYNOLDS_LIMIT` [Pa].

    >>> round(laminar_pressure(0.01, 1.0, [Loss(2.8, 0.3)] * 2), 1)
    117.0
    """
    check_range("gap [m]", gap_m, 1e-4, 1.0, "a gap, not a room")
    speed = LAMINAR_REYNOLDS_LIMIT * AIR_VISCOSITY_20C / (AIR_DENSITY_20C * 2.0 * gap_m)
    return float(pressure_used(speed, gap_m, height_m, losses))


@dataclass(frozen=True)
class _Faced:
    """A gap with a wet face, air and wind; sizes and resistance as in `wet_gap`."""

    face: Floats
    air: Floats
    vapor: Floats
    wind: Floats
    gap_m: float
    height_m: float
    losses: Sequence[Loss]
    resistance: float

    @classmethod
    def checked(
        cls,
        face_c: ArrayLike,
        outdoor_c: ArrayLike,
        outdoor_pa: ArrayLike,
        wind_pa: ArrayLike,
        gap_m: float,
        height_m: float,
        losses: Sequence[Loss],
        resistance: float,
    ) -> _Faced:
        """What cannot be is refused, as `wet_gap` says."""
        face = check_range("sol-air temperature of the face [°C]", face_c, -60.0, 110.0, "sun-heated faces")
        air = check_range("outdoor air temperature [°C]", outdoor_c, -60.0, 60.0, "outdoor air")
        vapor = check_range("outdoor vapor pressure [Pa]", outdoor_pa, 0.1, 2e4, "outdoor air")
        wind = check_finite("wind pressure [Pa]", wind_pa)
        r = float(check_range("thermal resistance to the gap [m²·K/W]", resistance, 1e-3, 10.0, "a cladding"))
        check_range("sol-air temperature less air temperature [K]", face - air, -1e-6, 110.0, "sun on a face")
        face, air, vapor, wind = np.broadcast_arrays(face, air, vapor, wind)
        return cls(face, air, vapor, wind, gap_m, height_m, losses, r)

    @property
    def ends(self) -> tuple[Floats, Floats]:
        """The coldest and the warmest that the gap can be [°C]: dew point or air, and face."""
        dew = np.asarray(dew_point(np.maximum(self.vapor, saturation_pressure(COLDEST))))
        return np.minimum(dew, self.air), np.maximum(self.face, self.air)

    def state(self, temp: Floats) -> WetGap:
        """Air flow and vapor at one temperature of the gap, whether the heat closes or not."""
        most = laminar_pressure(self.gap_m, self.height_m, self.losses)
        full = np.asarray(saturation_pressure(temp))
        stack = np.asarray(stack_pressure(self.height_m, temp, self.air, full, self.vapor))
        drive = np.clip(stack + self.wind, -most, most)
        flow = gap_flow(drive, self.gap_m, self.height_m, self.losses)
        carried = np.asarray(vapor_conductance(flow.flow_m2_s, self.height_m, temp))
        limited = plain(np.abs(stack + self.wind) > most)
        return WetGap(temp, plain(stack), plain(drive), flow, plain(carried * (full - self.vapor)), limited)

    def surplus(self, temp: Floats) -> Floats:
        """Heat that comes in at one temperature of the gap, less what leaves [W/m²]."""
        tried = self.state(temp)
        per_area = np.abs(tried.flow.flow_m2_s) / self.height_m
        sensible = per_area * AIR_DENSITY_20C * SPECIFIC_HEAT_DRY_AIR * (temp - self.air)
        return (self.face - temp) / self.resistance - sensible - LATENT_HEAT_VAPORISATION_0C * tried.removed

    def balanced(self, low: Floats, high: Floats) -> WetGap:
        """The state between two temperatures where the heat closes."""
        for _ in range(HALVINGS):
            middle = (low + high) / 2.0
            warmer = self.surplus(middle) > 0.0
            low, high = np.where(warmer, middle, low), np.where(warmer, high, middle)
        return self.state(plain((low + high) / 2.0))


def wet_gap(
    face_c: ArrayLike,
    outdoor_c: ArrayLike,
    outdoor_pa: ArrayLike,
    wind_pa: ArrayLike,
    gap_m: float,
    height_m: float,
    losses: Sequence[Loss],
    resistance: float,
) -> WetGap:
    """Temperature, air flow and vapor removed of a gap whose face is wet.

    Heat: (Te - T)/R = (|q|/H) [ρ c (T - To) + L (psat(T) - po)/(Rv T)]. Pressure: stack of the moist air and wind summed,
    used up as in `gap_air.gap_flow`. Solved by halving T between the dew point and the face.

    Args:
        face_c, outdoor_c: sol-air temperature of the face Te and air temperature To [°C]; the face is not
            colder than the air.
        outdoor_pa: outdoor vapor pressure po [Pa], at most that of saturation at To.
        wind_pa: wind pressure between the outlets [Pa], positive upward (`gap_air.wind_pressure`).
        gap_m, height_m: clear gap and its height H [m].
        losses: of the outlets.
        resistance: thermal resistance from the sol-air temperature to the gap R [m²·K/W].

    One node: face, water and air of the gap at one temperature, its air leaves saturated. Heat into the wall behind is
    left out. A drive above that of laminar flow is counted as that, which gives less air than there is. Near a wind that
    turns the air around several states close: this is one of them, `balances` finds them all.

    >>> gap = wet_gap(60.0, 35.0, 2400.0, 0.0, 0.011, 0.9, [Loss(2.8, 0.3)] * 2, 0.09)
    >>> round(gap.temp_c, 1), round(gap.flow.velocity_m_s, 3), round(gap.removed * 3600 * 1e3)
    (44.9, 0.104, 221)

    Reference: Conservation of heat and vapor; ASHRAE Handbook of Fundamentals, psychrometrics and ventilation
        (M).
    """
    faced = _Faced.checked(face_c, outdoor_c, outdoor_pa, wind_pa, gap_m, height_m, losses, resistance)
    return faced.balanced(*faced.ends)


def balances(
    face_c: float,
    outdoor_c: float,
    outdoor_pa: float,
    wind_pa: float,
    gap_m: float,
    height_m: float,
    losses: Sequence[Loss],
    resistance: float,
) -> tuple[WetGap, ...]:
    """Every state of a wet gap in which heat, pressure and vapor close, coldest first; arguments of `wet_gap`.

    One, but near a wind that stops the air three: air that falls cold and fast, air that nearly stands, air that rises.
    """
    faced = _Faced.checked(face_c, outdoor_c, outdoor_pa, wind_pa, gap_m, height_m, losses, resistance)
    low, high = faced.ends
    temps = np.linspace(low, high, STEPS + 1)
    left_over = np.asarray(faced.surplus(temps))
    at = np.nonzero((left_over[:-1] > 0.0) != (left_over[1:] > 0.0))[0]
    found = []
    for place in at:
        ends = (temps[place], temps[place + 1])
        found.append(faced.balanced(*(ends if left_over[place] > 0.0 else ends[::-1])))
    return tuple(found)
