"""Where no wall fits: the fewest facts to give up, each set tried."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from specgen.model.project import Parapet, Project, Record
from specgen.propose.choices import GROUPS, text
from specgen.propose.measure import standing
from specgen.propose.proposals import Found, Proposer
from specgen.wall.change import TRIED, AnyRecord, with_parapets

MOST = 2  # facts given up together
MOST_SETS = 40  # of so many that are tried; those that help by themselves come first
_PLACE = (
    "place",
    "climate_zone",
    "code",
    "country",
    "jurisdiction",
)  # a project has these and cannot give them up


@dataclass(frozen=True)
class GiveUp:
    """Facts without which a wall fits, and what fits then, in words."""

    facts: tuple[str, ...]
    then: str


@dataclass(frozen=True)
class _Fact:
    """A stated fact, and the project without it."""

    name: str
    without: Callable[[Project], Project]
    of_parts: bool  # whether what is searched changes with it


def least_given_up(proposer: Proposer, found: Found) -> tuple[GiveUp, ...]:
    """The smallest sets of facts without which some wall has no defect and no risk.

    Args:
        proposer: what found no wall.
        found: what it found; its best wall is tried with each fact left open.
    """
    facts = tuple(_facts(proposer.project))
    helps = [one for one in facts if not one.of_parts and _eases(found, one)]
    parts = [one for one in facts if one.of_parts]
    alone = {one.name: _tried(proposer, (one,)) for one in (*parts, *helps)}
    fitting = [given for one in (*parts, *helps) if (given := _given(alone[one.name], (one,))) is not None]
    if fitting:
        return tuple(fitting)
    better = [one for one in (*parts, *helps) if _lies(alone[one.name]) < _lies(found)] or parts
    sets = list(combinations(better, MOST))[:MOST_SETS]
    pairs = (_given(_tried(proposer, pair), pair) for pair in sets)
    return tuple(one for one in pairs if one is not None)


def _eases(found: Found, fact: _Fact) -> bool:
    """Whether the best wall has fewer faults where a value is left open; where no wall was left, parts alone decide."""
    if found.best is None:
        return False
    project = fact.without(found.bench.builder.project(found.best.wall))
    return len(standing(found.bench.base.again(project)).fails) < len(found.best.standing.fails)


def _lies(found: Found) -> tuple[bool, int]:
    """How far a search is from a wall that fits: none is left at all, then the faults of the nearest."""
    return found.best is None, len(found.best.standing.fails) if found.best else 0


def _tried(proposer: Proposer, facts: tuple[_Fact, ...]) -> Found:
    project = proposer.project
    for one in facts:
        project = one.without(project)
    return proposer.again(project).propose()


def _given(found: Found, facts: tuple[_Fact, ...]) -> GiveUp | None:
    if not found.front:
        return None
    wall = zip(found.choices, found.front[0].wall, strict=True)
    first = "; ".join(f"{choice.name}: {option.label}" for choice, option in wall if option.lap is None)
    return GiveUp(tuple(one.name for one in facts), first)


def _facts(project: Project) -> Iterator[_Fact]:
    yield from _parts(project)
    for what, record in (("site", project.site), ("building", project.building)):
        for name in record.values:
            if str(record.at(name)) != str(TRIED) and name in record.marks and name not in _PLACE:
                if name in ("roof_membrane", "roof_membrane_family"):
                    continue
                yield _Fact(f"{what}.{name}: {text(record.values[name])}", _without_value(what, name), False)
    for name, value in project.parapets[0].values.items():
        if name in project.parapets[0].marks:
            drains = name == "drained_area"  # scuppers are searched for it
            yield _Fact(f"parapet.{name}: {text(value)}", _without_value("parapet", name), drains)


def _parts(project: Project) -> Iterator[_Fact]:
    """The stated parts and laps that a proposal could choose itself, and the membrane of the roof."""
    here = project.parapets[0]
    for part in here.components():
        if part.role in GROUPS and part.mark != TRIED:
            yield _Fact(f"{part.id}: {part.kind}", _without_part(part.id), True)
    for joint in here.transitions:
        ends = (joint.first, joint.second)
        yield _Fact(f"lap {' / '.join(ends)}", _without_lap(ends), True)


def _without_value(what: str, name: str) -> Callable[[Project], Project]:
    def without(project: Project) -> Project:
        if what == "parapet":
            return with_parapets(
                project, lambda one: _less(one, name), tuple(one.name for one in project.parapets)
            )
        record: Record = getattr(project, what)
        changed = _less(record, name)
        return replace(project, site=changed) if what == "site" else replace(project, building=changed)

    return without


def _less(record: AnyRecord, name: str) -> AnyRecord:
    return replace(record, values={key: value for key, value in record.values.items() if key != name})


def _without_part(part_id: str) -> Callable[[Project], Project]:
    def changed(parapet: Parapet) -> Parapet:
        laps = (
            one for one in parapet.transitions if part_id not in (one.first, one.second, one.word("tape"))
        )
        return replace(
            parapet,
            build_up=tuple(one for one in parapet.build_up if one.id != part_id),
            top=tuple(one for one in parapet.top if one.id != part_id),
            transitions=tuple(laps),
        )

    return lambda project: with_parapets(project, changed, tuple(one.name for one in project.parapets))


def _without_lap(ends: tuple[str, str]) -> Callable[[Project], Project]:
    def changed(parapet: Parapet) -> Parapet:
        laps = tuple(one for one in parapet.transitions if (one.first, one.second) != ends)
        return replace(parapet, transitions=laps)

    return lambda project: with_parapets(project, changed, tuple(one.name for one in project.parapets))
