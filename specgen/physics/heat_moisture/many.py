"""The scheme of `march` for many walls at once, in NumPy: where Numba is missing, and as a second way of solving.

Arrays hold the walls along their last axis; Python loops over hours, turns of Newton and levels of the elimination,
never over walls or nodes. Each wall keeps its own step and is held once it is solved, so that it turns out the same
as alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from specgen.physics.errors import PhysicsError
from specgen.physics.heat_moisture import flows, nodes
from specgen.physics.heat_moisture.compiled import plain
from specgen.physics.heat_moisture.elimination import eliminate
from specgen.physics.heat_moisture.faces import Face
from specgen.physics.heat_moisture.grid import Grid
from specgen.physics.heat_moisture.march import (
    FIRST_STAGE,
    FREE,
    GUESS,
    HEAT_CLOSED,
    HOUR,
    MASS_CLOSED,
    MOST_TURNS,
    ON,
    SHORTEST,
    TALLY,
)
from specgen.physics.heat_moisture.porous import HIGHEST, LOWEST, POINTS, SCALE, potentials, suction
from specgen.physics.heat_moisture.simulate import Ready, Run, Source, prepare, read

Array = NDArray[np.float64]
CW, T0, STEPS = flows.CW, flows.T0, flows.STEPS
pore_vapor, film_water, pores = plain(flows.pore_vapor), plain(flows.film_water), plain(flows.pores)
through, across, into_face = plain(flows.through), plain(flows.across), plain(flows.into_face)
accepted, gap_exchange = plain(flows.accepted), plain(flows.gap_exchange)
stopped = plain(nodes.stopped)
COUNTED: Final = 11
"""Ways of `TALLY` that each step adds to."""


def simulate_many(
    walls: Sequence[Grid],
    outsides: Sequence[Face],
    insides: Sequence[Face],
    *,
    watch: Sequence[int] = (),
    sources: Sequence[Sequence[Source]] | None = None,
    start_c: float = 20.0,
    start_humidity: float = 0.8,
    profile_every: int = 0,
    finer_steps: int = 1,
) -> list[Run]:
    """Solve walls of one structure through the same number of hours (`simulate.simulate`), each with its own faces.

    They have as many parts and cells, gaps at the same places; materials, permeances, sizes of cells, faces and sources
    may differ. Water is that of `march` to 1e-6 of it, temperature to 1e-4 K.

    Raises:
        Unsolved: layer and hour of the first wall that cannot be solved.
        PhysicsError: walls of several structures, arrays that do not fit, or a balance that does not close.
    """
    given = sources if sources is not None else [()] * len(walls)
    ready = [
        prepare(
            wall, outside, inside, watch, leaks, (start_c, start_humidity), None, None, None, profile_every, finer_steps
        )
        for wall, outside, inside, leaks in zip(walls, outsides, insides, given, strict=True)
    ]  # fmt: skip
    return [read(one, *ended) for one, ended in zip(ready, march_many(ready), strict=True)]


def march_many(walls: Sequence[Ready]) -> list[tuple[int, int]]:
    """All hours of all walls, written into their arrays.

    Returns:
        Of each wall (-1, -1), or the hour and the node at which no step could be solved.
    """
    batch = _Batch(walls)
    with np.errstate(invalid="ignore", over="ignore", divide="ignore"):
        for hour in range(walls[0].steps.size):
            batch.begin(hour)
            while batch.active.any():
                batch.step()
            batch.keep(hour)
    batch.close()
    return batch.ended


class _Batch:
    """Walls side by side: what they are made of, how they stand, and the hour they are in."""

    def __init__(self, walls: Sequence[Ready]) -> None:
        self.walls = walls
        grids = [one.wall for one in walls]
        first = grids[0]
        for one, ready in zip(grids, walls, strict=True):
            alike = one.nodes == first.nodes and ((one.links < 0) == (first.links < 0)).all()
            if not alike or (one.layers != first.layers).any() or ready.steps.size != walls[0].steps.size:
                raise PhysicsError("walls that are solved together have the same parts, cells and hours")
        count = len(walls)
        self.ended = [(-1, -1)] * count
        self._materials(grids)
        self.gap_links = [(-1 - int(link), at) for at, link in enumerate(first.links) if link < 0]
        self.gaps = np.stack([one.gaps for one in grids], axis=-1)
        self.films = np.stack([one.films for one in grids], axis=-1)
        self.filmed = np.flatnonzero((self.films > 0.0).any(axis=1))
        self.emits = np.stack([one.emits for one in walls], axis=-1)
        self.takes = np.stack([one.takes for one in walls], axis=-1)
        self.starts = np.flatnonzero(np.diff(first.layers, prepend=-1))
        self.temps = np.stack([one.temps for one in walls], axis=-1)
        self.ys = np.stack([one.ys for one in walls], axis=-1)
        self.flows = np.zeros((first.gaps.shape[0], count))
        self.start_t, self.start_y = self.temps.copy(), self.ys.copy()
        self.tally = np.zeros((len(TALLY), count))
        self.last = np.zeros(count)
        self.carried = np.zeros((2, first.nodes, count))
        self._stand()
        self.first_water, self.first_heat = self.water[0].sum(axis=0), self.heat[0].sum(axis=0)

    def _materials(self, grids: Sequence[Grid]) -> None:
        """Tables of all materials in one, and of each link where its rows begin; a gap is a link that nothing passes."""
        suctions = suction(potentials())
        self.suctions, self.rises = suctions, np.append(np.diff(suctions), 0.0)
        offset, kinds, spans, heats, exponents = 0, [], [], [], []
        for one, ready in zip(grids, self.walls, strict=True):
            kind = np.maximum(one.links, 0)
            kinds.append((kind + offset) * POINTS)
            offset += len(one.materials)
            spans.append(np.where(one.links < 0, np.inf, one.spans))
            heats.append(ready.heats[kind])
            exponents.append(ready.exponents[kind])
        rows = np.concatenate([one.tables.reshape(-1, 4) for one in self.walls])
        self.table = np.ascontiguousarray(rows.T)
        self.kinds, self.spans = np.stack(kinds, axis=-1), np.stack(spans, axis=-1)
        self.heats, self.exponents = np.stack(heats, axis=-1), np.stack(exponents, axis=-1)
        self.half = np.where(np.isinf(self.spans), 0.0, 0.5 * self.spans)

    def begin(self, hour: int) -> None:
        """What this hour brings to the walls that can still be solved."""
        walls = self.walls
        self.hour = hour
        self.outer = np.stack([one.outer[hour] for one in walls], axis=-1)
        self.inner = np.stack([one.inner[hour] for one in walls], axis=-1)
        self.airs = np.stack([one.airs[hour] for one in walls], axis=-1)
        self.offer = np.zeros(self.takes.shape)
        for at, one in enumerate(walls):
            column = self.takes[:, at]
            self.offer[:, at] = np.where(column >= 0, one.offered[hour][column], 0.0)
        self.whole = HOUR / np.array([one.steps[hour] for one in walls], dtype=np.float64)
        self.staged = np.array([one.staged[hour] for one in walls])
        self.dt = self.whole.copy()
        self.done = np.array([0.0 if ended[0] < 0 else HOUR for ended in self.ended])
        self.active = self.done < HOUR

    def step(self) -> None:
        """One step of each wall whose hour is not over; a wall that cannot be solved begins it again, shorter."""
        active = self.active
        dt = self.dt = np.where(active, np.minimum(self.dt, HOUR - self.done), 0.0)
        twice = active & self.staged & (dt == self.whole)
        ahead = np.where(twice, FIRST_STAGE, 1.0)
        guess = GUESS * ahead * (active & (dt == self.last))
        back_t, back_y = self.start_t, self.start_y
        self.start_t = np.where(active, self.temps, back_t)
        self.start_y = np.where(active, self.ys, back_y)
        kept = (self.water, self.heat)
        self.before = np.stack((self.water[0], self.heat[0])) - self.carried
        self.temps += guess * (self.temps - back_t)
        self.ys += guess * (self.ys - back_y)
        self.last = np.where(active, dt, self.last)
        came, took, left = np.zeros((COUNTED, dt.size)), np.zeros(self.takes.shape), self.carried
        failed, worst = np.zeros(dt.size, dtype=np.bool_), np.zeros(dt.size, dtype=np.int64)
        for stage in range(2 if twice.any() else 1):
            on = active if stage == 0 else twice & ~failed
            if stage == 1:
                gone = np.stack((self.water[0], self.heat[0])) - self.before - left
                self.before += np.where(on, ON * gone, 0.0)
                self.temps += np.where(on, GUESS * (self.temps - self.start_t), 0.0)
                self.ys += np.where(on, GUESS * (self.ys - self.start_y), 0.0)
            lasts = np.where(on, ahead * dt, 0.0)
            open_, now, passed, at = self._turns(on, lasts)
            left = np.where(on, now, left)
            failed, worst = failed | open_, np.where(open_, at, worst)
            share = np.where(twice & (stage == 0), ON, 1.0)
            came += np.where(on, share * passed, 0.0)
            took += share * lasts * np.minimum(flows.TAKING * self.suction, self.offer)
        self._end(active & ~failed, failed, came, took, left)
        if failed.any():
            self._restore(failed, kept)
        for at_wall in np.flatnonzero(failed & (self.dt < SHORTEST)):
            self.ended[at_wall] = (self.hour, int(worst[at_wall]))
            self.done[at_wall] = HOUR
        self.active = self.done < HOUR - 1e-6

    def _end(self, solved: Any, failed: Any, came: Array, took: Array, left: Array) -> None:
        """What a step adds to the sums of the walls that are solved, and the length of the next."""
        self.tally[15] += failed
        self.last[failed] = 0.0
        self.tally[:COUNTED] += np.where(solved, came, 0.0)
        self.tally[11] += solved
        self.carried = np.where(solved, left, self.carried)
        for row, columns in enumerate(self.takes):
            for at in np.flatnonzero((columns >= 0) & solved & (took[row] != 0.0)).tolist():
                self.walls[at].taken[self.hour, columns[at]] += took[row, at]
        self.done += np.where(solved, self.dt, 0.0)
        self.dt = np.where(failed, 0.25 * self.dt, np.minimum(2.0 * self.dt, self.whole))

    def _turns(self, active: Any, dt: Array) -> tuple[Any, Array, Array, Any]:
        """Newton: which walls stay open, what is left of each balance, what passed, and the worst node of each wall."""
        before = np.zeros(dt.size)
        for turn in range(MOST_TURNS):
            left, blocks, passed = self._assemble(dt, turn > FREE)
            off = np.maximum(np.abs(left[0]) / MASS_CLOSED, np.abs(left[1]) / HEAT_CLOSED)
            most = off.max(axis=0)
            open_ = active & ~(most <= 1.0)
            if not open_.any():
                break
            self.tally[12] += open_
            part = np.where((turn > 7) & (most > before), 0.5, 1.0)
            before = most
            self._move(eliminate(*blocks, left), np.where(open_, part, 0.0))
        return open_, left, passed, off.argmax(axis=0)

    def _move(self, changes: Array, part: Array) -> None:
        """The unknowns less a part of their changes (`nodes.moved`); walls of part 0 stay as they are."""
        moves = np.where(part > 0.0, part * changes, 0.0)
        self.temps -= np.clip(moves[0], -nodes.MOST_KELVIN, nodes.MOST_KELVIN)
        old = self.ys
        new = old - np.clip(moves[1], -nodes.MOST_POTENTIAL, nodes.MOST_POTENTIAL)
        rows = self.filmed
        has = self.films[rows] > 0.0
        for bend in (flows.FILM_SPAN, 0.0):
            new[rows] = np.where(has, stopped(old[rows], new[rows], bend), new[rows])
        bends = self.offer / (flows.TAKING * SCALE)
        new = np.where(self.offer > 0.0, stopped(old, new, bends), new)
        self.ys = np.clip(new, LOWEST, HIGHEST)

    def _stand(self) -> None:
        """Places in the tables, vapor with its slopes, and what each node stores of water and heat with theirs."""
        place = (self.ys - LOWEST) * STEPS
        at = np.clip(np.where(np.isfinite(place), place, 0.0).astype(np.int64), 0, POINTS - 2)
        share = self.share = place - at
        rise = self.rises[at]
        self.suction, self.steep = self.suctions[at] + share * rise, STEPS * rise
        self.vapor = pore_vapor(self.temps, self.suction, self.steep)
        self.ends = []
        water, slope = film_water(self.ys, self.films)
        dry = np.zeros(water.shape)
        self.layered = np.zeros(self.half.shape)
        for side in (slice(None, -1), slice(1, None)):
            rows = self.kinds + at[side]
            low, high = self.table.take(rows, axis=1), self.table.take(rows + 1, axis=1)
            steep = high[0] - low[0]
            holds = self.half * (low[0] + share[side] * steep)
            self.layered += holds
            water[side] += holds
            slope[side] += STEPS * self.half * steep
            dry[side] += self.half * self.heats
            self.ends.append(pores(low, high, share[side], self.exponents, self.temps[side]))
        t = self.temps - T0
        self.water = (water, slope)
        self.heat = ((dry + CW * water) * t, dry + CW * water, CW * slope * t)

    def _restore(self, back: Any, kept: Any) -> None:
        """Walls that are as they were before the step."""
        self.temps = np.where(back, self.start_t, self.temps)
        self.ys = np.where(back, self.start_y, self.ys)
        self.water, self.heat = (
            tuple(np.where(back, old, new) for old, new in zip(was, now, strict=True))
            for was, now in zip(kept, (self.water, self.heat), strict=True)
        )

    def _assemble(self, dt: Array, held: bool) -> tuple[Array, tuple[Array, Array, Array], Array]:
        """What is left of both balances (2, nodes, walls), the blocks (2, 2, nodes, walls), and the flows of `TALLY`."""
        self._stand()
        left = np.stack((self.water[0], self.heat[0])) - self.before
        diagonal = np.zeros((2, 2, *self.temps.shape))
        lower, upper = np.zeros(diagonal.shape), np.zeros(diagonal.shape)
        diagonal[0, 1], diagonal[1, 0], diagonal[1, 1] = self.water[1], *self.heat[1:]
        passed = np.zeros((COUNTED, dt.size))
        t, vapor = self.temps, self.vapor
        before, behind = tuple(one[:-1] for one in vapor), tuple(one[1:] for one in vapor)
        g, g_t1, g_y1, g_t2, g_y2, q, q_t1, q_y1, q_t2, q_y2 = through(
            dt / self.spans, t[:-1], before, self.ends[0], t[1:], behind, self.ends[1]
        )
        flow = np.stack((g, q))
        left[:, :-1] += flow
        left[:, 1:] -= flow
        own, other = np.array(((g_t1, g_y1), (q_t1, q_y1))), np.array(((g_t2, g_y2), (q_t2, q_y2)))
        diagonal[:, :, :-1] += own
        upper[:, :, :-1] = other
        diagonal[:, :, 1:] -= other
        lower[:, :, 1:] = -own
        self._gaps(dt, held, left, (lower, diagonal, upper), passed)
        for side, i in ((0, 0), (1, -1)):
            face = (self.outer, self.inner)[side]
            g, g_t, g_y, q, q_t, q_y = into_face(
                dt, face, self.emits[side], t[i], tuple(one[i] for one in vapor)
            )
            left[:, i] -= g, q
            diagonal[:, :, i] -= ((g_t, g_y), (q_t, q_y))
            passed[[side, 5, 6 + side, 10]] += g, np.abs(g), q, np.abs(q)
        self._waters(dt, left, diagonal, passed)
        return left, (lower, diagonal, upper), passed

    def _gaps(
        self, dt: Array, held: bool, left: Array, blocks: tuple[Array, Array, Array], passed: Array
    ) -> None:
        lower, diagonal, upper = blocks
        t, vapor = self.temps, self.vapor
        for x, i in self.gap_links:
            j = i + 1
            gap, (air_k, air_pa, wind) = self.gaps[x], self.airs[3 * x : 3 * x + 3]
            exchange = gap_exchange(
                gap, self.flows[x], t[i], t[j], vapor[0][i], vapor[0][j], air_k, air_pa, wind
            )
            if held:
                exchange = (self.flows[x], 0.0, 0.0)
            self.flows[x] = exchange[0]
            given = across(dt, gap, exchange, air_k, air_pa, t[i], vapor[0][i], t[j], vapor[0][j])
            for (at, other, beside), face in zip(((i, j, upper), (j, i, lower)), given, strict=True):
                g, q, g_t, own, cross, q_t, q_cross_t, q_own, q_cross = face
                near, far = (vapor[1][at], vapor[2][at]), (vapor[1][other], vapor[2][other])
                left[:, at] += g, q
                diagonal[0, :, at] += g_t + own * near[0], own * near[1]
                diagonal[1, :, at] += q_t + q_own * near[0], q_own * near[1]
                beside[0, :, at] += g_t + cross * far[0], cross * far[1]
                beside[1, :, at] += q_cross_t + q_cross * far[0], q_cross * far[1]
                passed[[2, 8]] -= g, q
                passed[[5, 10]] += np.abs(g), np.abs(q)

    def _waters(self, dt: Array, left: Array, diagonal: Array, passed: Array) -> None:
        g, slope = accepted(self.suction, self.steep, self.offer)
        g, slope = dt * g, dt * slope
        rain = np.zeros(g.shape, dtype=np.bool_)
        rain[0] = g[0] > 0.0
        h = CW * (np.where(rain, self.outer[0], self.temps) - T0)
        left[0] -= g
        left[1] -= g * h
        diagonal[0, 1] -= slope
        diagonal[1, 1] -= slope * h
        diagonal[1, 0] -= np.where(rain, 0.0, g * CW)
        for way, flow in ((3, g), (4, dt * self.offer), (9, g * h), (5, np.abs(g)), (10, np.abs(g * h))):
            passed[way] += flow.sum(axis=0)

    def keep(self, hour: int) -> None:
        """The state at the end of the hour, into the arrays of the walls."""
        layers = np.add.reduceat(self.layered, self.starts, axis=0)
        for at, one in enumerate(self.walls):
            one.water[hour] = layers[:, at]
            one.seen_t[hour], one.seen_y[hour] = self.temps[one.watched, at], self.ys[one.watched, at]
            if one.kept[hour] >= 0:
                one.profile_t[one.kept[hour]], one.profile_y[one.kept[hour]] = (
                    self.temps[:, at],
                    self.ys[:, at],
                )

    def close(self) -> None:
        """The end of each wall and its sums."""
        self.tally[13] += self.water[0].sum(axis=0) - self.first_water
        self.tally[14] += self.heat[0].sum(axis=0) - self.first_heat
        for at, one in enumerate(self.walls):
            one.temps[:], one.ys[:], one.tally[:] = self.temps[:, at], self.ys[:, at], self.tally[:, at]
