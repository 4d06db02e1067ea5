"""Steady heat and vapor flow through layers between two environments, and where vapor condenses.

Layers are listed from the first environment to the second. Planes are counted from 0, the surface toward the
first environment, to n, the surface toward the second: plane k lies between layer k-1 and layer k.

Method: ISO 13788. Temperatures follow the thermal resistances. The vapor pressure is a string pulled tight
below the saturation pressures at the planes, its ends held by the vapor pressures of the two environments
(the tangent construction: the lower convex hull of the points). Where the string touches saturation, vapor
condenses; the rate is the flow arriving less the flow leaving.

Left out, as in the standard: latent heat, liquid transport, air flow through the layers, storage, vapor
resistance of the surface air films, and properties that change with moisture. Saturation is tested at
planes only: it bends between them, so a layer with a large share of the temperature drop needs `subdivide`.
A layer of infinite vapor resistance is refused: give a large finite one (an sd of 1500 m stands for sheet
metal, ISO 10456, from memory), which lets through next to nothing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import Final

from specgen.arrays import ArrayLike
from specgen.physics.elementwise import between
from specgen.physics.errors import Floats, OutOfRange, check_range, plain
from specgen.physics.moist_air import saturation_pressure
from specgen.physics.taut_string import Depths, taut_string

_POSITIVE = math.ulp(0.0)
_THICKNESS = (1e-7, 10.0, "a coat to a thick wall")
_CONDUCTIVITY = (1e-3, 1e3, "vacuum insulation to metal")
_FINITE_VAPOR = "0 or more and finite; for sheet metal give a large finite value such as sd 1500 m"


MOST_LAYERS: Final = 100
"""Most layers that `subdivide` takes: a longer list is a mistake, for thin slices are what `subdivide` itself makes."""


def thermal_resistance(thickness_m: ArrayLike, conductivity: ArrayLike) -> Floats:
    """Thermal resistance of a homogeneous layer: R = d / λ.

    Args:
        thickness_m: thickness [m], 1e-7 to 10.
        conductivity: thermal conductivity [W/(m·K)], 1e-3 to 1e3. The two broadcast.

    Returns:
        Resistance [m²·K/W].

    >>> thermal_resistance(0.1, 0.04)
    2.5

    Reference: ISO 6946, thermal resistance of homogeneous layers.
    """
    d = check_range("thickness [m]", thickness_m, *_THICKNESS)
    k = check_range("conductivity [W/(m·K)]", conductivity, *_CONDUCTIVITY)
    return plain(d / k)


def resistance_from_permeance(permeance: ArrayLike) -> Floats:
    """Vapor resistance of a sheet of known permeance: Z = 1 / W.

    Args:
        permeance: vapor permeance [kg/(m²·s·Pa)], above 0. One perm is about 57.2e-12.

    Returns:
        Vapor resistance [m²·s·Pa/kg].

    >>> resistance_from_permeance(2e-10)
    5000000000.0

    Reference: ISO 12572, definition of permeance.
    """
    source = "above 0; a vapor-tight layer still needs a number, such as sd 1500 m for sheet metal"
    return plain(1.0 / check_range("permeance [kg/(m²·s·Pa)]", permeance, 1e-20, math.inf, source))


@dataclass(frozen=True)
class Layers:
    """Layers from the first environment to the second.

    Attributes:
        names: of the layers, length n.
        thermal: thermal resistances [m²·K/W], 0 or more, length n.
        vapor: vapor resistances [m²·s·Pa/kg], 0 or more; at least one above 0, length n.

    Raises:
        NotFinite: a property is blank, NaN or infinite: the message names the layer.
        OutOfRange: a property is negative, nothing resists vapor, or there is no layer.
        ValueError: the three tuples differ in length.
    """

    names: tuple[str, ...]
    thermal: tuple[float, ...]
    vapor: tuple[float, ...]

    def __post_init__(self) -> None:
        if not len(self.names) == len(self.thermal) == len(self.vapor):
            raise ValueError("names, thermal and vapor of the layers differ in length")
        for name, r, z in zip(self.names, self.thermal, self.vapor, strict=True):
            check_range(f"thermal resistance of {name} [m²·K/W]", r, 0.0, math.inf, "0 or more and finite")
            check_range(f"vapor resistance of {name} [m²·s·Pa/kg]", z, 0.0, math.inf, _FINITE_VAPOR)
        if math.fsum(self.vapor) <= 0.0:
            raise OutOfRange(
                "total vapor resistance [m²·s·Pa/kg]", 0.0, _POSITIVE, math.inf, "one layer resists"
            )

    def reversed(self) -> Layers:
        """Return the same layers seen from the other side."""
        return Layers(self.names[::-1], self.thermal[::-1], self.vapor[::-1])


def subdivide(layers: Layers, max_fraction: float) -> Layers:
    """Cut each layer into equal slices so that none holds more than a fraction of all thermal resistance.

    Saturation pressure is convex in temperature, so the straight chord between two planes lies above it and
    hides condensation inside a thick layer. Slices keep their layer's name.

    Args:
        layers: at most `MOST_LAYERS`.
        max_fraction: largest share of the total thermal resistance in one slice [-], above 0 to 1.

    >>> len(subdivide(Layers(("wool", "board"), (3.0, 1.0), (1e9, 1e9)), 0.25).names)
    4

    Reference: ISO 13788:2012, subdivision of layers of high thermal resistance.
    """
    check_range("number of layers [-]", len(layers.names), 1, MOST_LAYERS, "layers of one wall")
    check_range("max_fraction [-]", max_fraction, 1e-4, 1.0, "a share of the whole; 10 000 slices are plenty")
    slice_r = max_fraction * math.fsum(layers.thermal)
    counts = [max(1, math.ceil(r / slice_r - 1e-9)) if slice_r > 0.0 else 1 for r in layers.thermal]

    def spread(values: tuple[float, ...]) -> tuple[float, ...]:
        return tuple(v / n for v, n in zip(values, counts, strict=True) for _ in range(n))

    names = tuple(name for name, n in zip(layers.names, counts, strict=True) for _ in range(n))
    return Layers(names, spread(layers.thermal), spread(layers.vapor))


@dataclass(frozen=True)
class Side:
    """Air on one side: temperature [°C], vapor pressure [Pa], film resistance [m²·K/W].

    Give a sun-heated face its sol-air temperature, with the film resistance that belongs to it.
    """

    temp_c: float
    vapor_pa: float
    film: float


@dataclass(frozen=True)
class Plane:
    """A wet plane: its number, its neighbours, its temperature [°C], and its rate [kg/(s·m²)].

    The rate is positive where vapor condenses and negative where the plane dries.
    """

    number: int
    between: tuple[str, str]
    temp_c: float
    rate: float


@dataclass(frozen=True)
class Profile:
    """Steady state of a set of layers.

    Attributes:
        temp_c, saturation_pa, vapor_pa: temperature [°C], saturation pressure [Pa] and vapor pressure [Pa] at
            planes 0 to n, length n + 1.
        heat_flux: heat flow from the first environment to the second [W/m²].
        vapor_in, vapor_out: vapor flow from the first environment into plane 0, and out of plane n into the
            second [kg/(s·m²)], positive from first to second. They differ by what stays in the layers.
        planes: planes where vapor condenses or a wet plane dries, in order.
        surface_wet: the face toward the first or second environment, or a plane with no vapor resistance
            before it, is below the dew point of that air. It then stands at saturation and its own rate is
            outside this method.
    """

    temp_c: tuple[float, ...]
    saturation_pa: tuple[float, ...]
    vapor_pa: tuple[float, ...]
    heat_flux: float
    vapor_in: float
    vapor_out: float
    planes: tuple[Plane, ...]
    surface_wet: tuple[bool, bool]

    @property
    def condensing(self) -> float:
        """Sum of the condensing rates [kg/(s·m²)], drying planes not counted against them."""
        return math.fsum(plane.rate for plane in self.planes if plane.rate > 0.0)


def steady_state(layers: Layers, first: Side, second: Side, wet: Sequence[int] = ()) -> Profile:
    """Temperatures, vapor pressures and condensation of layers between two environments.

    q = (t1 - t2) / (Rs1 + ΣR + Rs2). The vapor pressure is the lower convex hull of the saturation pressures
    over the summed vapor resistance; g = -Δp / ΔZ between planes; a plane gains g_in - g_out. A plane named
    in `wet` stands at saturation whatever the hull says, and may dry.

    Args:
        layers: the wall, from the first environment to the second.
        first, second: environments before the first and after the last layer.
        wet: inner planes (1 to n - 1) that hold liquid water already.

    Raises:
        OutOfRange, NotFinite: a temperature outside -40 to 100 °C, a negative resistance or pressure, a plane
            that is not inside.

    >>> wall = Layers(("wool", "board"), (2.0, 0.1), (1e9, 1e11))
    >>> state = steady_state(wall, Side(20.0, 1200.0, 0.13), Side(-5.0, 320.0, 0.04))
    >>> [(plane.number, plane.between) for plane in state.planes]
    [(1, ('wool', 'board'))]

    Reference: ISO 13788:2012, clause 6 (steady state of one month).
    """
    temps, heat_flux = _temperatures(layers, first, second)
    saturation = tuple(float(saturation_pressure(temp)) for temp in temps)
    depths = _depths(layers, saturation, first, second, wet)
    vertices = taut_string(depths)
    z = [depths.z[vertex] for vertex in vertices]
    p = [depths.upper[vertex] for vertex in vertices]
    flows = [-(p1 - p0) / (z1 - z0) for (z0, p0), (z1, p1) in pairwise(zip(z, p, strict=True))]
    return Profile(
        temp_c=temps,
        saturation_pa=saturation,
        vapor_pa=tuple(float(between(node, z, p)) for node in accumulate(layers.vapor, initial=0.0)),
        heat_flux=heat_flux,
        vapor_in=flows[0],
        vapor_out=flows[-1],
        planes=_planes(layers, temps, depths, vertices, flows),
        surface_wet=depths.surface_wet,
    )


def _temperatures(layers: Layers, first: Side, second: Side) -> tuple[tuple[float, ...], float]:
    for which, side in (("first", first), ("second", second)):
        check_range(f"temperature of the {which} side [°C]", side.temp_c, -math.inf, math.inf, "finite")
        check_range(f"vapor pressure of the {which} side [Pa]", side.vapor_pa, 0.0, math.inf, "not negative")
        check_range(f"film resistance of the {which} side [m²·K/W]", side.film, 0.0, math.inf, "not negative")
    r = [first.film + inner for inner in accumulate(layers.thermal, initial=0.0)]
    total = r[-1] + second.film
    check_range("total thermal resistance [m²·K/W]", total, _POSITIVE, math.inf, "something resists heat")
    temps = tuple(first.temp_c + (second.temp_c - first.temp_c) * at / total for at in r)
    return temps, (first.temp_c - second.temp_c) / total


def _depths(
    layers: Layers, saturation: Sequence[float], first: Side, second: Side, wet: Sequence[int]
) -> Depths:
    nodes = list(accumulate(layers.vapor, initial=0.0))
    z: list[float] = []  # each depth once
    plane: list[int] = []  # of each depth the plane where the saturation is lowest, which is the coldest
    depth_of: list[int] = []
    for number, node in enumerate(nodes):
        if not z or node != z[-1]:
            z.append(node)
            plane.append(number)
        elif saturation[number] < saturation[plane[-1]]:
            plane[-1] = number
        depth_of.append(len(z) - 1)
    last = len(z) - 1
    upper = [saturation[k] for k in plane]
    surface_wet = (first.vapor_pa > upper[0], second.vapor_pa > upper[last])
    upper[0] = min(first.vapor_pa, upper[0])
    upper[last] = min(second.vapor_pa, upper[last])
    wet_depths = set()
    for number in wet:
        check_range("wet plane", number, 1, len(nodes) - 2, "a plane between two layers")
        depth = depth_of[number]
        nearer = min(z[depth], z[last] - z[depth])
        check_range("vapor resistance between wet plane and air", nearer, _POSITIVE, math.inf, "ISO 13788")
        plane[depth] = number
        wet_depths.add(depth)
    held = tuple(sorted({0, last} | wet_depths))
    return Depths(tuple(z), tuple(upper), tuple(plane), held, surface_wet)


def _planes(
    layers: Layers,
    temps: Sequence[float],
    depths: Depths,
    vertices: list[int],
    flows: Sequence[float],
) -> tuple[Plane, ...]:
    planes = []
    for i, depth in enumerate(vertices[1:-1]):
        number = depths.plane[depth]
        neighbours = (layers.names[number - 1], layers.names[number])
        planes.append(Plane(number, neighbours, temps[number], flows[i] - flows[i + 1]))
    return tuple(planes)
