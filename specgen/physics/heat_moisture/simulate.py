"""Heat and moisture through a wall, hour by hour, and the balance that proves the sums."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from specgen.arrays import ArrayLike, NDArray, np
from specgen.physics.constants import ZERO_CELSIUS
from specgen.physics.errors import PhysicsError, check_array, check_range
from specgen.physics.heat_moisture.compiled import COMPILED
from specgen.physics.heat_moisture.faces import Face
from specgen.physics.heat_moisture.grid import Gap, Grid
from specgen.physics.heat_moisture.porous import humidity, potential_at, potentials, suction

Array: TypeAlias = "NDArray[np.float64]"

IN_RAIN: Final = 4
"""Parts that an hour with rain, and the hour after it, begin with."""
BY_HAND: Final = 300
"""Steps up to which one wall goes through `march` in plain Python; beyond, where Numba is missing, through `many`."""
CLOSED: Final = 1e-6
"""Share of what passed within which mass and energy of a run must close."""


class Unsolved(PhysicsError):  # noqa: N818 - the name reads as the statement it makes
    """The wall cannot be solved from an hour on; the message names layer and hour."""


@dataclass(frozen=True, eq=False)
class Source:
    """Water offered at the outer face of the part named, in each hour [kg/(m²·s)]; what it does not take runs off."""

    part: str
    water: Array


@dataclass(frozen=True)
class Balance:
    """Mass [kg/m²] and energy [J/m²] of a run: what came in less what is stored, and what passed through faces and gaps.

    came: by the ways of `TALLY`. steps and turns of Newton are counted.
    """

    came: Mapping[str, float]
    mass_left: float
    mass_passed: float
    heat_left: float
    heat_passed: float
    steps: int
    turns: int

    @property
    def mass_error(self) -> float:
        """What is left over what passed [-]."""
        return abs(self.mass_left) / max(self.mass_passed, 1e-3)

    @property
    def heat_error(self) -> float:
        """What is left over what passed [-]."""
        return abs(self.heat_left) / max(self.heat_passed, 1e3)


@dataclass(frozen=True, eq=False)
class Run:
    """The hours of a wall.

    temp_c, humidity (hours, places): of the places watched, in their order. water (hours, parts): in each part of the
    grid [kg/m²]. taken (hours, 1 + sources): water that the outer face and each source took [kg/m²] in the hour;
    one more column, the last, where it rains on the inner face.
    profile_hours (rows,) with profile_c, profile_humidity (rows, nodes). end: temperatures [K] and potentials to go on
    from.
    """

    grid: Grid
    temp_c: Array
    humidity: Array
    water: Array
    taken: Array
    profile_hours: NDArray[np.int64]
    profile_c: Array
    profile_humidity: Array
    end: tuple[Array, Array]
    balance: Balance


def simulate(
    wall: Grid,
    outside: Face,
    inside: Face,
    *,
    watch: Sequence[int] = (),
    sources: Sequence[Source] = (),
    start_c: Array | float = 20.0,
    start_humidity: Array | float = 0.8,
    start: tuple[Array, Array] | None = None,
    gap_wind: Mapping[str, Array] | None = None,
    gap_air: Mapping[str, tuple[Array, Array]] | None = None,
    profile_every: int = 0,
    finer_steps: int = 1,
) -> Run:
    """Solve a wall through all hours of its faces.

    Conservation of water and energy at each node, backward in time, in hours or less:

        Δw = Δt Σ g,   g = δ Δp/dx + ΔΦ/dx
        Δ(ρ c θ + w c_w θ) = Δt Σ q,   q = λ ΔT/dx + g_v (L + c_v θ) + g_l c_w θ

    Args:
        wall: the nodes (`grid.grid`).
        outside, inside: hours at the two faces.
        watch: nodes whose temperature and humidity are kept for every hour.
        sources: water that leaks in.
        start_c, start_humidity: at the start, one number or one for each node; ``start``, the end of another run,
            stands in their place.
        gap_wind: wind pressure along a gap of that name [Pa], (hours,); none where it is not named.
        gap_air: temperature [°C] and vapor pressure [Pa] of the air that enters a gap, that of ``outside`` unless named.
        profile_every: hours between the profiles that are kept, 0 for none.
        finer_steps: each hour in so many times more steps.

    Raises:
        Unsolved: layer and hour at which no step of half a second closes both balances.
        PhysicsError: arrays that do not fit each other, or a balance that does not close.

    Reference: EN 15026:2007, with the sensible heat of moving water added; freezing, air flow through layers, gravity and
        hysteresis are left out.
    """
    from specgen.physics.heat_moisture.march import march

    ready = prepare(
        wall, outside, inside, watch, sources, (start_c, start_humidity), start, gap_wind, gap_air, profile_every,
        finer_steps,
    )  # fmt: skip
    if not COMPILED and ready.steps.sum() > BY_HAND:
        from specgen.physics.heat_moisture.many import march_many

        ((hour, node),) = march_many([ready])
    else:
        hour, node = march(
            ready.temps, ready.ys, ready.tables, suction(potentials()), ready.heats, ready.exponents, wall.links,
            wall.spans, wall.films, ready.takes, wall.gaps, ready.outer, ready.inner, ready.emits,
            ready.airs, ready.offered, ready.steps, ready.staged, ready.watched, wall.layers, ready.seen_t, ready.seen_y,
            ready.water, ready.kept, ready.profile_t, ready.profile_y, ready.taken, ready.tally,
        )  # fmt: skip
    return read(ready, hour, node)


@dataclass(frozen=True, eq=False)
class Ready:
    """A wall and its hours as the loops read them, and the arrays they write into (`march`)."""

    wall: Grid
    temps: Array
    ys: Array
    tables: Array
    heats: Array
    exponents: Array
    takes: NDArray[np.int64]
    outer: Array
    inner: Array
    emits: Array
    airs: Array
    offered: Array
    steps: NDArray[np.int64]
    staged: NDArray[np.bool_]
    watched: NDArray[np.int64]
    kept: NDArray[np.int64]
    seen_t: Array
    seen_y: Array
    water: Array
    profile_t: Array
    profile_y: Array
    taken: Array
    tally: Array


def prepare(
    wall: Grid,
    outside: Face,
    inside: Face,
    watch: Sequence[int] = (),
    sources: Sequence[Source] = (),
    start_air: tuple[Array | float, Array | float] = (20.0, 0.8),
    start: tuple[Array, Array] | None = None,
    gap_wind: Mapping[str, Array] | None = None,
    gap_air: Mapping[str, tuple[Array, Array]] | None = None,
    profile_every: int = 0,
    finer_steps: int = 1,
) -> Ready:
    """What `simulate` is given, checked and as arrays; ``start_air`` is temperature [°C] and humidity at the start."""
    from specgen.physics.heat_moisture.march import TALLY

    hours = int(np.size(outside.air_c))
    outer, inner = _face(outside, hours, "outside"), _face(inside, hours, "inside")
    temps, ys = _start(wall, *start_air) if start is None else (start[0].copy(), start[1].copy())
    takes, offered = _water(wall, outside, inside, sources, hours)
    wet = _wet(offered)
    watched = np.array(tuple(watch), dtype=np.int64)
    if watched.size and not (watched.min() >= 0 and watched.max() < wall.nodes):
        raise PhysicsError(f"no node {watched.max()} of a wall of {wall.nodes} to watch")
    kept = np.full(hours, -1, dtype=np.int64)
    at = np.arange(profile_every - 1, hours, profile_every) if profile_every else np.arange(0)
    kept[at] = np.arange(at.size)
    return Ready(
        wall,
        temps,
        ys,
        _tables(wall),
        np.array([one.heat for one in wall.materials], dtype=np.float64),
        np.array([one.vapor_exponent for one in wall.materials], dtype=np.float64),
        takes,
        outer,
        inner,
        np.array([outside.emittance, inside.emittance], dtype=np.float64),
        _airs(wall, outer, gap_wind or {}, gap_air or {}),
        offered,
        np.where(wet, IN_RAIN, 1).astype(np.int64) * finer_steps,
        ~wet,
        watched,
        kept,
        np.zeros((hours, watched.size)),
        np.zeros((hours, watched.size)),
        np.zeros((hours, len(wall.parts))),
        np.zeros((at.size, wall.nodes)),
        np.zeros((at.size, wall.nodes)),
        np.zeros((hours, offered.shape[1])),
        np.zeros(len(TALLY)),
    )


def read(ready: Ready, hour: int, node: int) -> Run:
    """What the loops wrote, as a `Run`; hour and node are where they could not go on, -1 where they could.

    Raises:
        Unsolved: they could not.
        PhysicsError: a balance does not close.
    """
    from specgen.physics.heat_moisture.march import TALLY

    wall, seen_t, temps = ready.wall, ready.seen_t, ready.temps
    if hour >= 0:
        name = wall.parts[int(wall.layers[min(node, wall.nodes - 2)])].name
        raise Unsolved(f"{name}: the wall cannot be solved at hour {hour + 1} of {ready.steps.size}")
    balance = _balance(dict(zip(TALLY, ready.tally.tolist(), strict=True)))
    for one, kind in (
        (seen_t, "temperature"),
        (ready.water, "water"),
        (temps, "temperature"),
        (ready.ys, "moisture"),
    ):
        if not np.isfinite(one).all():
            raise Unsolved(f"{kind} is no number at hour {int(np.argwhere(~np.isfinite(one))[0][0]) + 1}")
    profile_c = ready.profile_t - ZERO_CELSIUS
    return Run(
        wall,
        seen_t - ZERO_CELSIUS,
        humidity(ready.seen_y, seen_t - ZERO_CELSIUS),
        ready.water,
        ready.taken,
        np.flatnonzero(ready.kept >= 0),
        profile_c,
        humidity(ready.profile_y, profile_c),
        (temps, ready.ys),
        balance,
    )


def _face(face: Face, hours: int, name: str) -> Array:
    ranges = (
        ("air temperature [°C]", face.air_c, -90.0, 70.0),
        ("vapor pressure [Pa]", face.vapor_pa, 0.0, 2e4),
        ("convection [W/(m²·K)]", face.convection, 0.0, 1e7),
        ("vapor film [kg/(m²·s·Pa)]", face.vapor_film, 0.0, 1.0),
        ("sun absorbed [W/m²]", face.sun, 0.0, 1600.0),
        ("long waves [W/m²]", face.longwave, 0.0, 1000.0),
    )
    columns = [
        _hourly(f"{title} {name}", one, low, high, hours, "faces of walls")
        for title, one, low, high in ranges
    ]
    columns[0] = columns[0] + ZERO_CELSIUS
    return np.ascontiguousarray(np.stack(columns, axis=1))


def _hourly(name: str, value: ArrayLike, low: float, high: float, hours: int, source: str) -> Array:
    """One number for each hour, or one for all of them."""
    series = check_array(name, value, low, high, source)
    if series.ndim > 1 or series.size not in (1, hours):
        raise PhysicsError(f"{name}: {series.size} hours where the air outside has {hours}")
    return np.broadcast_to(series.reshape(-1), (hours,))


def _start(wall: Grid, temp_c: Array | float, rh: Array | float) -> tuple[Array, Array]:
    temps = np.array(
        np.broadcast_to(
            check_range("temperature at the start [°C]", temp_c, -40.0, 80.0, "walls"), wall.nodes
        ),
        dtype=np.float64,
    )
    ys = np.array(np.broadcast_to(potential_at(rh, temps), wall.nodes), dtype=np.float64)
    return temps + ZERO_CELSIUS, ys


def _water(
    wall: Grid, outside: Face, inside: Face, sources: Sequence[Source], hours: int
) -> tuple[NDArray[np.int64], Array]:
    """Column of the water offered to each node, and the water (hours, columns)."""
    takes = np.full(wall.nodes, -1, dtype=np.int64)
    takes[0] = 0
    rain = [_hourly("rain [kg/(m²·s)] outside", outside.rain, 0.0, 0.2, hours, "rain")]
    for number, source in enumerate(sources, 1):
        node = wall.first[wall.named(source.part)]
        if takes[node] >= 0:
            raise PhysicsError(f"{source.part}: water is offered to this face twice")
        takes[node] = number
        rain.append(_hourly(f"leak [kg/(m²·s)] at {source.part}", source.water, 0.0, 0.2, hours, "leaks"))
    beyond = _hourly("rain [kg/(m²·s)] inside", inside.rain, 0.0, 0.2, hours, "rain")
    if (beyond > 0.0).any():
        takes[-1] = len(rain)
        rain.append(beyond)
    return takes, np.ascontiguousarray(np.stack(rain, axis=1))


def _wet(offered: Array) -> NDArray[np.bool_]:
    wet = np.asarray((offered > 0.0).any(axis=1))
    after = np.zeros(wet.shape, dtype=np.bool_)
    after[1:] = wet[:-1]
    return wet | after


def _tables(wall: Grid) -> Array:
    return np.ascontiguousarray(
        [np.stack((one.water, one.liquid, one.vapor, one.conductivity), axis=1) for one in wall.materials]
    )


def _airs(
    wall: Grid, outside: Array, wind: Mapping[str, Array], air: Mapping[str, tuple[Array, Array]]
) -> Array:
    names = [part.name for part in wall.parts if isinstance(part, Gap)]
    for name in (*wind, *air):
        if name not in names:
            raise PhysicsError(f"the wall has no gap {name}")
    columns = []
    for name in names:
        hours = outside.shape[0]
        kelvin, vapor = outside[:, 0], outside[:, 1]
        if name in air:
            warm = _hourly(f"air into {name} [°C]", air[name][0], -90.0, 80.0, hours, "gaps of walls")
            kelvin = warm + ZERO_CELSIUS
            vapor = _hourly(
                f"vapor pressure of the air into {name} [Pa]", air[name][1], 0.0, 2e4, hours, "gaps"
            )
        along = _hourly(f"wind along {name} [Pa]", wind.get(name, 0.0), -1e4, 1e4, hours, "wind on buildings")
        columns += [kelvin, vapor, along]
    return np.ascontiguousarray(np.stack(columns, axis=1)) if columns else np.zeros((outside.shape[0], 0))


def _balance(came: dict[str, float]) -> Balance:
    mass = sum(
        came[way] for way in ("vapor from outside", "vapor from inside", "vapor from gaps", "water taken")
    )
    heat = sum(
        came[way] for way in ("heat from outside", "heat from inside", "heat of gaps", "heat of water")
    )
    balance = Balance(
        came,
        mass - came["water stored"],
        came["vapor passed"],
        heat - came["heat stored"],
        came["heat passed"],
        int(came["steps"]),
        int(came["turns"]),
    )
    for name, error in (("water", balance.mass_error), ("heat", balance.heat_error)):
        if not error <= CLOSED:
            raise PhysicsError(
                f"the balance of {name} is open by {error:.2g} of what passed, limit {CLOSED:g}"
            )
    return balance
