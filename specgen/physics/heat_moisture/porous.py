"""Materials that hold water: what a handbook states of one, as tables over its suction.

The moisture of a place is told by one number from bone dry to saturated and beyond, the potential y with suction
s = s0 sinh(y): like a logarithm where the material is dry, straight in s where it is wet, and below zero where water
stands under pressure. Water content, liquid transport and vapor permeability of a material are tables over y, read
between their points on a straight line, so their slopes are exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final, TypeAlias

from specgen.arrays import NDArray, np
from specgen.physics.constants import GAS_CONSTANT_VAPOR, ZERO_CELSIUS
from specgen.physics.errors import OutOfRange, PhysicsError, check_range

Array: TypeAlias = "NDArray[np.float64]"

SCALE: Final = 1e5
"""Suction s0 at which the potential turns from straight to logarithmic [Pa]: that of pores some 1 µm wide."""
LOWEST: Final = -2.5
HIGHEST: Final = 10.5
POINTS: Final = 2601
"""First and last potential of a table and its number of points: pressure to 0.6 MPa, suction to 1.8 GPa (0.2 % RH)."""
REFERENCE_C: Final = 20.0
"""Temperature at which humidity and suction are taken to belong together in a sorption curve [°C]."""
WATER: Final = 1000.0
"""Density of water in the pores [kg/m³], as EN 15026 takes it."""
PRESSED: Final = 1e-8
"""Water that a saturated material takes up more for each pascal of pressure, over its saturated content [1/Pa]."""
TIGHTEST: Final = 1e-17
"""Permeance of a sheet that lets nothing through [kg/(m²·s·Pa)]: a gram in a century; between two of none no air has a
humidity."""
VAPOR_IN_AIR: Final = 2e-7
"""Vapor permeability of still air, 2.0e-7 T^0.81/P (Schirmer; ISO 12572 has the like) [kg·K^-0.81/(m·s)]."""


@dataclass(frozen=True)
class PorousMaterial:
    """One material as handbooks state it; SI throughout.

    density [kg/m³] and heat_capacity [J/(kg·K)] dry; conductivity dry [W/(m·K)] and its rise for each kg/m³ of water;
    vapor resistance factors of the dry cup (about 25 % RH) and the wet cup (about 75 % RH) [-]; water at 80 % RH and at
    free saturation [kg/m³]; water absorption coefficient A [kg/(m²·√s)], 0 for one that takes up no liquid.
    ``sorption`` may give more of the curve: pairs of relative humidity [-] and water [kg/m³], rising, below free
    saturation; it then stands in place of the curve through ``water_80``.
    """

    name: str
    density: float
    heat_capacity: float
    conductivity: float
    resistance_dry: float
    resistance_wet: float
    water_80: float
    free_saturation: float
    absorption: float = 0.0
    conductivity_rise: float = 0.0
    sorption: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, eq=False)
class Tabulated:
    """A material over `potentials()`: arrays of `POINTS`.

    water [kg/m³]; liquid, the potential of liquid flow Φ with g = (Φ1 − Φ2)/dx [kg/(m·s)]; vapor, permeability at
    `REFERENCE_C` [kg/(m·s·Pa)]; conductivity [W/(m·K)]. heat is the dry heat capacity of the volume [J/(m³·K)].
    vapor_exponent: vapor permeability follows (T/T0)^n, taken along its tangent.
    """

    name: str
    heat: float
    water: Array
    liquid: Array
    vapor: Array
    conductivity: Array
    vapor_exponent: float = 0.81


def potentials() -> Array:
    """The potentials y of the tables [-], (POINTS,)."""
    return np.linspace(LOWEST, HIGHEST, POINTS)


def suction(potential: Array | float) -> Array:
    """Suction s = s0 sinh(y) [Pa], negative for water under pressure."""
    return np.asarray(SCALE * np.sinh(potential))


def humidity(potential: Array | float, temp_c: Array | float = REFERENCE_C) -> Array:
    """Relative humidity over a meniscus of that potential, φ = exp(−s/(ρ R_v T)) (Kelvin) [-]; 1 at no suction.

    >>> float(humidity(potential_at(0.8)).round(9))
    0.8
    """
    kelvin = np.asarray(temp_c) + ZERO_CELSIUS
    return np.exp(-np.maximum(suction(potential), 0.0) / (WATER * GAS_CONSTANT_VAPOR * kelvin))


def potential_at(relative_humidity: Array | float, temp_c: Array | float = REFERENCE_C) -> Array:
    """Potential of a relative humidity above 0 [-], the inverse of `humidity`."""
    rh = check_range("relative humidity [-]", relative_humidity, 2e-3, 1.0, "tables of materials")
    kelvin = np.asarray(temp_c) + ZERO_CELSIUS
    return np.arcsinh(-WATER * GAS_CONSTANT_VAPOR * kelvin * np.log(rh) / SCALE)


@lru_cache(maxsize=512)
def tabulate(material: PorousMaterial) -> Tabulated:
    """A material of handbook numbers as tables.

    Sorption: w = wf (b − 1) φ/(b − φ), b so that w(0.8) = w80, or the curve through ``sorption``. Liquid: diffusivity
    D = 3.8 (A/wf)² 1000^(w/wf − 1), so Φ(w) = ∫ D dw. Vapor: δ = δ_air/μ, μ from the dry to the wet cup on a
    straight line of 1/μ in φ through 25 % and 75 % RH, level beyond. Conductivity λ + rise · w.

    Raises:
        OutOfRange: a number that no such material has.
        PhysicsError: the sorption curve falls, or passes free saturation.

    Reference: Künzel, Simultaneous heat and moisture transport in building components (1995), for the sorption curve
        and the diffusivity from A (P).
    """
    check_range("density [kg/m³]", material.density, 5.0, 9000.0, "building materials")
    check_range("heat capacity [J/(kg·K)]", material.heat_capacity, 300.0, 5000.0, "building materials")
    check_range("thermal conductivity [W/(m·K)]", material.conductivity, 0.005, 400.0, "building materials")
    check_range("water absorption coefficient [kg/(m²·√s)]", material.absorption, 0.0, 5.0, "materials")
    y = potentials()
    phi = humidity(y)
    water = _sorption(material, phi)
    full = material.free_saturation
    diffusivity = 3.8 * (material.absorption / full) ** 2
    liquid = diffusivity * full / np.log(1000.0) * (1000.0 ** (water / full - 1.0) - 1e-3)
    water = water * (1.0 + PRESSED * np.maximum(-suction(y), 0.0))
    liquid = liquid + _pressed_flow(y, liquid)
    openness = np.interp(phi, (0.25, 0.75), (1.0 / material.resistance_dry, 1.0 / material.resistance_wet))
    return Tabulated(
        material.name,
        material.density * material.heat_capacity,
        water,
        liquid,
        air_permeability(REFERENCE_C) * openness,
        material.conductivity + material.conductivity_rise * np.minimum(water, full),
    )


def air_permeability(temp_c: float) -> float:
    """Vapor permeability of still air at one atmosphere, δ = 2.0e-7 T^0.81/P [kg/(m·s·Pa)].

    >>> round(air_permeability(20.0) * 1e12, 1)
    196.6

    Reference: Schirmer's diffusion coefficient as used in Künzel (1995) (M).
    """
    return float(VAPOR_IN_AIR * (temp_c + ZERO_CELSIUS) ** 0.81 / 101325.0)


def film(name: str, permeance: float, resistance: float, humid_permeance: float | None = None) -> Tabulated:
    """A sheet or membrane without storage as a material of unit thickness (1 m between its nodes).

    Args:
        name: for messages.
        permeance: vapor permeance, dry side [kg/(m²·s·Pa)].
        resistance: thermal resistance [m²·K/W], above 0.
        humid_permeance: permeance where the mean humidity is high, None where it does not change; between 25 % and
            75 % RH on a straight line.
    """
    check_range("vapor permeance [kg/(m²·s·Pa)]", permeance, 0.0, 1.0, "membranes")
    r = check_range("thermal resistance [m²·K/W]", resistance, 1e-6, 100.0, "membranes")
    y = potentials()
    wet = permeance if humid_permeance is None else humid_permeance
    vapor = np.maximum(np.interp(humidity(y), (0.25, 0.75), (permeance, wet)), TIGHTEST)
    zero = np.zeros(y.shape)
    return Tabulated(name, 0.0, zero, zero, vapor, np.full(y.shape, 1.0 / r), 0.0)


def _sorption(material: PorousMaterial, phi: Array) -> Array:
    full = check_range("free saturation [kg/m³]", material.free_saturation, 0.01, 1000.0, "pores")
    if not material.sorption:
        at_80 = check_range("water at 80 % RH [kg/m³]", material.water_80, 1e-6, 1000.0, "pores")
        if at_80 >= 0.8 * full:
            raise OutOfRange(
                "water at 80 % RH over free saturation [-]", float(at_80 / full), 0.0, 0.8, "curve"
            )
        b = 0.8 * (full - at_80) / (0.8 * full - at_80)
        return np.asarray(full * (b - 1.0) * phi / (b - phi))
    at = np.array([(0.0, 0.0), *material.sorption, (1.0, full)])
    if (np.diff(at, axis=0) <= 0.0).any():
        raise PhysicsError(f"{material.name}: the sorption curve does not rise to free saturation")
    return np.asarray(np.interp(phi, at[:, 0], at[:, 1]))


def _pressed_flow(y: Array, liquid: Array) -> Array:
    """What pressure adds to the liquid potential beyond saturation: the conductivity just below it goes on."""
    wet = np.searchsorted(y, 0.0)
    conductivity = (liquid[wet] - liquid[wet + 1]) / (suction(y[wet + 1]) - suction(y[wet]))
    return np.asarray(conductivity * np.maximum(-suction(y), 0.0))
