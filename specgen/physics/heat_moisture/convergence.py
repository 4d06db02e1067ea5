"""The check of cells and steps that runs itself: the same wall and hours with cells and steps of half the size."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from specgen.arrays import NDArray, np
from specgen.physics.errors import PhysicsError, check_range
from specgen.physics.heat_moisture.faces import Face
from specgen.physics.heat_moisture.grid import Gap, Grid, Layer, grid
from specgen.physics.heat_moisture.simulate import Run, Source, simulate

Array: TypeAlias = "NDArray[np.float64]"

ORDER: Final = 1.0
"""Order that the scheme is trusted with: it is of second order but where faces saturate and rain runs off."""


@dataclass(frozen=True)
class Compared:
    """One result by the cells and steps asked for and by half of them, in its unit."""

    name: str
    unit: str
    value: float
    finer: float
    order: float

    @property
    def difference(self) -> float:
        """By how much half the cells and steps move it."""
        return self.finer - self.value

    @property
    def limit(self) -> float:
        """Where ever finer cells and steps would lead: Richardson's extrapolation."""
        shrinks: float = 2.0**self.order
        return self.value + self.difference * shrinks / (shrinks - 1.0)

    @property
    def uncertainty(self) -> float:
        """How far the value is from that limit, without sign."""
        return abs(self.limit - self.value)


@dataclass(frozen=True)
class Convergence:
    """What cells and steps leave uncertain over a span of hours; nodes and turns of Newton of both runs."""

    hours: int
    nodes: tuple[int, int]
    turns: tuple[int, int]
    results: tuple[Compared, ...]

    def of(self, name: str) -> Compared:
        """A result by its name.

        Raises:
            PhysicsError: there is none of that name.
        """
        for one in self.results:
            if one.name == name:
                return one
        raise PhysicsError(f"no result {name}: {', '.join(one.name for one in self.results)}")


def converged(
    parts: Sequence[Layer | Gap],
    outside: Face,
    inside: Face,
    *,
    finer: float = 1.0,
    finer_steps: int = 1,
    watch: Sequence[str] = (),
    sources: Sequence[Source] = (),
    start_c: float = 20.0,
    start_humidity: float = 0.8,
    start: tuple[Array, Array] | None = None,
    gap_wind: Mapping[str, Array] | None = None,
    gap_air: Mapping[str, tuple[Array, Array]] | None = None,
    order: float = ORDER,
) -> Convergence:
    """Run a wall as asked and with cells and steps of half the size, over the hours of its faces (a last year, say).

    Results: of each part that holds water the most and the last of it [kg/m²]; at the outer face of each part in
    ``watch`` the highest and the mean relative humidity [-], the highest and the lowest temperature [°C].

    Args:
        parts, finer: as `grid.grid` takes them.
        outside, inside, finer_steps, sources, start_c, start_humidity, gap_wind, gap_air: as `simulate.simulate` does.
        start: end of a run of these parts and cells to go on from.
        watch: names of parts.
        order: how fast differences are taken to shrink with cells and steps.

    Raises:
        PhysicsError: no part of a name; whatever `simulate.simulate` raises.

    Reference: Richardson, The approximate arithmetical solution by finite differences (1911) (M).
    """
    check_range("order of the scheme [-]", order, 0.5, 4.0, "schemes")
    walls = grid(parts, finer), grid(parts, 2.0 * finer)
    begins = None if start is None else (start, resampled(start, *walls))
    runs = tuple(
        simulate(
            wall,
            outside,
            inside,
            watch=[wall.first[wall.named(name)] for name in watch],
            sources=sources,
            start_c=start_c,
            start_humidity=start_humidity,
            start=None if begins is None else begins[at],
            gap_wind=gap_wind,
            gap_air=gap_air,
            finer_steps=finer_steps * (at + 1),
        )
        for at, wall in enumerate(walls)
    )
    one, two = (list(_results(run, watch)) for run in runs)
    return Convergence(
        int(runs[0].water.shape[0]),
        (walls[0].nodes, walls[1].nodes),
        (runs[0].balance.turns, runs[1].balance.turns),
        tuple(
            Compared(name, unit, value, halved, order)
            for (name, unit, value), (_, _, halved) in zip(one, two, strict=True)
        ),
    )


def resampled(state: tuple[Array, Array], wall: Grid, other: Grid) -> tuple[Array, Array]:
    """The state of a wall at the nodes of another of the same parts, straight lines between nodes of a part.

    Raises:
        PhysicsError: other parts.
    """
    if [part.name for part in wall.parts] != [part.name for part in other.parts]:
        raise PhysicsError("a state can be taken over between walls of the same parts alone")
    taken = []
    for values in state:
        new = np.empty(other.nodes)
        for number in range(len(wall.parts)):
            here, there = (slice(each.first[number], each.last[number] + 1) for each in (wall, other))
            if here.stop - here.start == there.stop - there.start == 2:
                new[there] = values[here]
            else:
                new[there] = np.interp(other.depth[there], wall.depth[here], values[here])
        taken.append(new)
    return taken[0], taken[1]


def _results(run: Run, watch: Sequence[str]) -> Iterator[tuple[str, str, float]]:
    for number, part in enumerate(run.grid.parts):
        if isinstance(part, Layer) and part.stores and part.material.water.any():
            yield f"most water in {part.name}", "kg/m²", float(run.water[:, number].max())
            yield f"last water in {part.name}", "kg/m²", float(run.water[-1, number])
    for place, name in enumerate(watch):
        humidity, temps = run.humidity[:, place], run.temp_c[:, place]
        yield f"highest humidity at {name}", "-", float(humidity.max())
        yield f"mean humidity at {name}", "-", float(humidity.mean())
        yield f"highest temperature at {name}", "°C", float(temps.max())
        yield f"lowest temperature at {name}", "°C", float(temps.min())
