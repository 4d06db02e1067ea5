"""A wall of layers, membranes and gaps cut into nodes: fine at every face, coarse between."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from specgen.arrays import NDArray, np
from specgen.physics.constants import AIR_DENSITY_20C, AIR_VISCOSITY_20C
from specgen.physics.errors import PhysicsError, check_range
from specgen.physics.gap_air import Loss, balance_terms
from specgen.physics.gap_balance import laminar_pressure
from specgen.physics.heat_moisture.porous import Tabulated, air_permeability, film

Array: TypeAlias = "NDArray[np.float64]"

FIRST: Final = 5e-4
GROWTH: Final = 1.6
"""Cell at a face [m], and each cell over its neighbor toward the face [-]."""
JOINED: Final = " + "
"""Between the names of membranes that are one for the nodes."""
STILL: Final = 1.25
"""Convection through still air between upright faces [W/(m²·K)], where it is more than conduction. ISO 6946 (M)."""
DEW: Final = 0.05
"""Dew that lies on the outside of a membrane before it runs off [kg/m²]: a film of 0.05 mm (M)."""
AIR_CONDUCTIVITY: Final = 0.025
"""Thermal conductivity of still air near 10 °C [W/(m·K)]. DIN EN 12524, gases, air."""


@dataclass(frozen=True, eq=False)
class Layer:
    """A layer of material, or of a membrane made by `porous.film`; thickness [m], which a membrane needs none of."""

    name: str
    material: Tabulated
    thickness: float = 1.0

    @property
    def stores(self) -> bool:
        """Whether it holds heat or water; a membrane does not."""
        return self.material.heat > 0.0


@dataclass(frozen=True)
class Gap:
    """A gap of air between two layers: depth and height [m].

    losses are of the outlets of a gap whose air is driven by stack and wind, None where it is not. exchange is air
    from outside besides [m³/(m² wall · s)]. emittance: mutual emittance of its faces [-]. holds: water that each face
    keeps before it runs down [kg/m²]; what runs down leaves the wall.
    """

    name: str
    depth: float
    height: float
    losses: tuple[Loss, ...] | None = None
    exchange: float = 0.0
    emittance: float = 0.82
    holds: float = 0.05


@dataclass(frozen=True, eq=False)
class Grid:
    """What the loops read (`march`), with the place of each node and the span of each layer.

    depth (n,): distance from the outer face [m], membranes without extent. first, last: node at the outer and inner
    face of each part, in the order of the parts.
    """

    parts: tuple[Layer | Gap, ...]
    depth: Array
    first: tuple[int, ...]
    last: tuple[int, ...]
    materials: tuple[Tabulated, ...]
    links: NDArray[np.int64]
    layers: NDArray[np.int64]
    spans: Array
    films: Array
    gaps: Array

    @property
    def nodes(self) -> int:
        """Number of nodes."""
        return int(self.depth.size)

    def named(self, name: str) -> int:
        """The number of a part, or of the membranes that it was joined to.

        Raises:
            PhysicsError: there is none of that name.
        """
        for number, part in enumerate(self.parts):
            if name in part.name.split(JOINED):
                return number
        raise PhysicsError(f"the wall has no layer {name}: {', '.join(part.name for part in self.parts)}")


def cells(thickness: float, finer: float = 1.0) -> Array:
    """Sizes of the cells of a layer [m], alike from both faces: the first `FIRST`, each `GROWTH` times the one before.

    Args:
        thickness: of the layer [m].
        finer: cells so many times as small, and so many times as many.

    >>> cells(0.0022).round(5).tolist()
    [0.00042, 0.00068, 0.00068, 0.00042]
    """
    check_range("thickness [m]", thickness, 1e-5, 5.0, "a layer of a wall")
    growth = GROWTH ** (1.0 / finer)
    half = [FIRST / finer]
    while sum(half) + 0.5 * half[-1] * growth < thickness / 2.0:
        half.append(half[-1] * growth)
    sizes = np.array(half + half[::-1])
    return np.asarray(sizes * thickness / sizes.sum())


def grid(parts: Sequence[Layer | Gap], finer: float = 1.0) -> Grid:
    """The nodes of a wall, its parts from outside to inside. Membranes that touch each other are joined to one.

    Raises:
        PhysicsError: no part, a gap at an end or beside a gap, or two parts of one name.
    """
    joined = _joined(parts)
    for place, part in enumerate(joined):
        beside = joined[place - 1 : place] + joined[place + 1 : place + 2]
        if isinstance(part, Gap) and (len(beside) < 2 or any(isinstance(one, Gap) for one in beside)):
            raise PhysicsError(f"{part.name}: a gap needs a layer on either side")
    if not joined or len({part.name for part in joined}) < len(joined):
        raise PhysicsError("a wall needs a layer, and each of its layers a name of its own")
    materials: list[Tabulated] = []
    links: list[int] = []
    layers: list[int] = []
    spans: list[float] = []
    depth, first, last = [0.0], [], []
    gaps: list[tuple[float, ...]] = []
    for number, part in enumerate(joined):
        first.append(len(links))
        if isinstance(part, Gap):
            gaps.append(_gap(part))
            sizes, kind, extent = np.array([part.depth]), -len(gaps), 1.0
        else:
            if not any(part.material is one for one in materials):
                materials.append(part.material)
            kind = next(at for at, one in enumerate(materials) if one is part.material)
            sizes = cells(part.thickness, finer) if part.stores else np.array([1.0])
            extent = 1.0 if part.stores else 0.0
        for size in sizes:
            links.append(kind)
            layers.append(number)
            spans.append(float(size))
            depth.append(depth[-1] + float(size) * extent)
        last.append(len(links))
    films = np.zeros(len(depth))
    for number, part in enumerate(joined):
        if isinstance(part, Gap):
            films[first[number]] = films[last[number]] = part.holds
    for node, part in ((0, joined[0]), (-1, joined[-1])):
        if isinstance(part, Layer) and not part.stores:
            films[node] = DEW
    return Grid(
        joined,
        np.array(depth),
        tuple(first),
        tuple(last),
        tuple(materials),
        np.array(links, dtype=np.int64),
        np.array(layers, dtype=np.int64),
        np.array(spans),
        films,
        np.array(gaps).reshape(-1, 9),
    )


def _joined(parts: Sequence[Layer | Gap]) -> tuple[Layer | Gap, ...]:
    out: list[Layer | Gap] = []
    for part in parts:
        before = out[-1] if out else None
        thin = isinstance(part, Layer) and not part.stores
        if thin and isinstance(before, Layer) and not before.stores:
            out[-1] = _both(before, part)  # type: ignore[arg-type]
        else:
            out.append(part)
    return tuple(out)


def _both(one: Layer, other: Layer) -> Layer:
    """Two membranes in contact as one: their resistances in series."""
    name = f"{one.name}{JOINED}{other.name}"
    heat = 1.0 / one.material.conductivity[0] + 1.0 / other.material.conductivity[0]
    product = one.material.vapor * other.material.vapor
    total = one.material.vapor + other.material.vapor
    made = film(name, 0.0, float(heat))
    vapor = np.divide(product, total, out=np.zeros(product.shape), where=total > 0.0)
    return Layer(name, Tabulated(name, 0.0, made.water, made.liquid, vapor, made.conductivity, 0.0))


def _gap(part: Gap) -> tuple[float, ...]:
    """Half of the gap's still air stands between its middle and either face; what stirs its heat stirs its vapor."""
    d = check_range("depth of the gap [m]", part.depth, 1e-4, 1.0, "a gap, not a room")
    check_range("height of the gap [m]", part.height, 1e-3, 500.0, "a building")
    check_range("mutual emittance [-]", part.emittance, 0.0, 1.0, "definition")
    check_range("air exchange [m³/(m²·s)]", part.exchange, 0.0, 1.0, "gaps")
    check_range("water that a face holds [kg/m²]", part.holds, 0.0, 1.0, "films on faces")
    stirred = max(1.0, STILL * float(d) / AIR_CONDUCTIVITY)
    beta = 2.0 * air_permeability(20.0) * stirred / float(d)
    convection = 2.0 * AIR_CONDUCTIVITY * stirred / float(d)
    still = (beta, convection, part.emittance, part.height, part.depth)
    if part.losses is None:
        return (*still, 0.0, 0.0, 0.0, part.exchange)
    friction, loss = balance_terms(part.depth, part.height, part.losses, AIR_DENSITY_20C, AIR_VISCOSITY_20C)
    most = laminar_pressure(part.depth, part.height, part.losses)
    return (*still, float(friction), float(loss), most, part.exchange)
