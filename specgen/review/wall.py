"""What a change does to the wall as a whole: rules, paths and calculations run again with it in place.

A change is anything that makes another project of the project: a submitted product, a substitution, an edit. One
change is weighed alone; several are weighed in every combination that matters, for two that are each fine may not
be fine together.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import combinations
from typing import ClassVar

from specgen.explain.bench import Bench, Effect, Pair, rank
from specgen.model.finding import Finding, Outcome
from specgen.model.project import Project

MOST_TOGETHER = 3  # combinations of more changes than this are weighed only as the whole


@dataclass(frozen=True)
class Change:
    """One change by name. ``parapets`` are those it reaches; empty: all."""

    name: str
    made: Callable[[Project], Project]
    parapets: tuple[str, ...] = ()

    def reaches(self, parapet: str) -> bool:
        """Whether the change is made at this parapet."""
        return not self.parapets or parapet in self.parapets


@dataclass(frozen=True)
class WallEffect:
    """What changes do together at one parapet."""

    parapet: str
    effect: Effect

    @property
    def worse(self) -> tuple[Finding, ...]:
        """The findings that are new, or heavier than before."""
        return (*self.effect.breaks, *(pair.after for pair in self.effect.alters if _heavier(pair)))

    @property
    def broken(self) -> tuple[Finding, ...]:
        """The new or heavier findings that stand for certain."""
        return tuple(one for one in self.worse if one.outcome is Outcome.FAIL)

    @property
    def unknown(self) -> tuple[Finding, ...]:
        """The new findings that wait for a value which nobody has stated."""
        return tuple(one for one in self.worse if one.open)


def _heavier(pair: Pair) -> bool:
    return rank(pair.after) > rank(pair.before)


@dataclass(frozen=True)
class Combination:
    """A least set of changes that together raise a finding; no smaller part of the set raises it."""

    changes: tuple[str, ...]
    parapet: str
    finding: Finding
    SPREAD_PLAIN: ClassVar = ("finding",)


def wall_effects(
    bench: Bench, changes: Sequence[Change], at: Collection[str] | None = None
) -> tuple[WallEffect, ...]:
    """What the changes do together, at each parapet that one of them reaches.

    Args:
        bench: assesses the project as it stands.
        changes: made one after the other.
        at: names of the parapets that are looked at; None for all.
    """
    return tuple(
        _effect_at(bench, changes, parapet.name)
        for parapet in bench.assessment.project.parapets
        if (at is None or parapet.name in at) and any(change.reaches(parapet.name) for change in changes)
    )


def least_sets(bench: Bench, changes: Sequence[Change]) -> tuple[Combination, ...]:
    """The least sets of changes that raise each finding, from single changes up to :data:`MOST_TOGETHER` together.

    A finding that only the whole raises is told with all changes. One that a change raises and another mends does
    not stand in the whole: it is told for the set that raises it.

    Args:
        bench: assesses the project as it stands.
        changes: with different names.

    Raises:
        ValueError: two changes have one name.
    """
    if len({change.name for change in changes}) != len(changes):
        raise ValueError("two changes have one name")
    found: dict[tuple[str, tuple[str, ...]], list[frozenset[str]]] = {}
    out: list[Combination] = []
    for group in _groups(changes):
        names = frozenset(change.name for change in group)
        for one in wall_effects(bench, group):
            for finding in one.worse:
                key = (one.parapet, _key(finding))
                known = found.setdefault(key, [])
                if not any(smaller <= names for smaller in known):
                    known.append(names)
                    out.append(Combination(tuple(change.name for change in group), one.parapet, finding))
    return tuple(out)


def least_set_for(
    bench: Bench, changes: Sequence[Change], parapet: str, finding: Finding
) -> tuple[Change, ...]:
    """One least set of changes that raises a finding which all of them together raise.

    Each change is left out once of all of them: those without which the finding is gone are in every set that raises
    it. Where they raise it by themselves they are the one least set; these trials are the same for every finding of a
    wall. Else changes are left out one after the other for as long as the finding stays.

    Args:
        bench: assesses the project as it stands.
        changes: all of them.
        parapet: where the finding is.
        finding: new in the whole.
    """
    key = _key(finding)
    kept = [change for change in changes if change.reaches(parapet)]

    def raised(some: Sequence[Change]) -> bool:
        return bool(some) and any(_key(one) == key for one in _effect_at(bench, some, parapet).worse)

    needed = [one for one in kept if not raised([other for other in kept if other is not one])]
    if raised(needed):
        return tuple(needed)
    for change in tuple(kept):
        fewer = [one for one in kept if one is not change]
        if change not in needed and raised(fewer):
            kept = fewer
    return tuple(kept)


def _effect_at(bench: Bench, changes: Sequence[Change], parapet: str) -> WallEffect:
    def made() -> Project:
        return reduce(lambda project, change: change.made(project), changes, bench.assessment.project)

    return WallEffect(parapet, bench.tried(tuple(changes), parapet, made))


def _key(finding: Finding) -> tuple[str, str, str]:
    return finding.code, finding.layer, finding.attribute


def _groups(changes: Sequence[Change]) -> Iterator[tuple[Change, ...]]:
    for size in range(1, min(MOST_TOGETHER, len(changes)) + 1):
        yield from combinations(changes, size)
    if len(changes) > MOST_TOGETHER:
        yield tuple(changes)
