"""Walls assessed as any project is, in as many processes as this one may use cores."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Sequence
from dataclasses import dataclass, replace

from specgen.assessment import Assessment
from specgen.propose.build import Builder, Wall
from specgen.propose.choices import DRAINS, MEMBRANES
from specgen.propose.measure import Measure, Standing, measures, omitted, standing
from specgen.propose.quantities import Prices
from specgen.propose.search import Left

FEW = 24  # walls that one process assesses sooner than another is started
_WORK: dict[str, object] = {}  # what the processes that are forked find


@dataclass(frozen=True)
class Tried:
    """A wall with what its assessment says."""

    wall: Wall
    letters: int
    standing: Standing
    measures: tuple[Measure, ...]

    def with_measure(self, more: Measure) -> Tried:
        """The same with one more measure, which takes the place of one with its title."""
        kept = tuple(one for one in self.measures if one.title != more.title)
        return replace(self, measures=(*kept, more))


class Bench:
    """Assesses walls, each once.

    Args:
        builder: makes the projects.
        base: an assessment of one of the walls; the others take over what holds.
        prices: of parts, where somebody gives them.
        workers: how many processes; None: one a core.
    """

    def __init__(
        self, builder: Builder, base: Assessment, prices: Prices | None, workers: int | None = None
    ) -> None:
        self.builder, self.base, self.prices = builder, base, prices
        self.workers = workers if workers is not None else _cores()
        self._known: dict[Wall, Tried] = {}
        self.failing: dict[
            Wall, tuple[Measure, ...]
        ] = {}  # what single omissions do, by the options that lap
        self._laps = [
            place
            for place, choice in enumerate(builder.offers.choices)
            if choice.group in (MEMBRANES, DRAINS) or " / " in choice.name
        ]

    def lapped(self, wall: Wall) -> Wall:
        """The options of a wall that put in laps, or what meets in them."""
        return tuple(wall[place] for place in self._laps)

    @property
    def tried(self) -> int:
        """How many walls were assessed."""
        return len(self._known)

    def shared_faults(self) -> set[tuple[str, str]]:
        """The faults of every wall that was assessed: no choice mends them."""
        faults = [set(one.standing.fails) for one in self._known.values()]
        return set.intersection(*faults) if faults else set()

    def assessed(self, wall: Wall) -> Assessment:
        """The whole assessment of one wall."""
        return self.base.again(self.builder.project(wall))

    def try_all(self, walls: Sequence[Left]) -> list[Tried]:
        """The walls in their order, each assessed."""
        new = list({one.wall: one for one in walls if one.wall not in self._known}.values())
        if len(new) >= FEW and self.workers > 1 and "fork" in multiprocessing.get_all_start_methods():
            found = self._forked(new)
        else:
            found = _assess_each(self, new)
        for left, tried in zip(new, found, strict=True):
            self._known[left.wall] = replace(tried, wall=left.wall)
        return [self._known[one.wall] for one in walls]

    def _forked(self, new: Sequence[Left]) -> list[Tried]:
        """Each process a share of neighbors: what one wall works out, the next takes over."""
        size = -(-len(new) // (2 * self.workers))
        shares = [range(start, min(start + size, len(new))) for start in range(0, len(new), size)]
        _WORK.update(bench=self, new=new)
        try:
            with multiprocessing.get_context("fork").Pool(self.workers) as pool:
                parts = pool.map(_share, shares, chunksize=1)
        finally:
            _WORK.clear()
        return [one for part in parts for one in part]


def _share(places: range) -> list[Tried]:
    bench, new = _WORK["bench"], _WORK["new"]
    assert isinstance(bench, Bench) and isinstance(new, list)
    return [replace(one, wall=()) for one in _assess_each(bench, [new[place] for place in places])]


def _assess_each(bench: Bench, walls: Sequence[Left]) -> list[Tried]:
    found, last = [], bench.base
    for one in walls:
        last = last.again(bench.builder.project(one.wall))
        key = bench.lapped(one.wall)
        failing = bench.failing[key] = bench.failing.get(key) or omitted(last)
        found.append(
            Tried(one.wall, one.letters, standing(last), measures(last, one.letters, bench.prices, failing))
        )
    return found


def _cores() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
