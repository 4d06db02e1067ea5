"""Walls proposed from facts: searched, assessed, the front of those that nothing beats, and why the others fell."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from specgen.assessment import Assessment
from specgen.design.progress import in_turn, part
from specgen.files.marks import InputError, InputProblem
from specgen.model.project import Project
from specgen.practice.entries import Practice
from specgen.propose.build import Builder
from specgen.propose.choices import DRAINS, FACE, MEMBRANES, PATHS, TOP, Choice, Option
from specgen.propose.constraints import Constraint, constraints
from specgen.propose.front import front
from specgen.propose.measure import SUBSTITUTES, Measure
from specgen.propose.offers import Offers
from specgen.propose.quantities import Prices
from specgen.propose.search import Count, Left, Leftover, TooManyLeftError, joined, search_blocks, walls_in
from specgen.propose.trial import Bench, Tried

SPARE_LETTERS = 1  # a wall may ask for so many letters more than the one with the fewest
MOST_LETTERS = 12
MOST_LEFT = 200_000  # walls left by the constraints that are kept
NEEDED = "needed to propose a wall"


@dataclass
class Found:
    """What a search found, and what it took."""

    offers: Offers
    bench: Bench
    count: Count
    left: int  # walls that no constraint excludes
    letters: int  # the fewest that a wall asks for
    by_results: Counter[str] = field(default_factory=Counter)  # walls that fell by rules on their results
    front: tuple[Tried, ...] = ()
    groups: list[tuple[tuple[int, ...], list[Tried]]] = field(
        default_factory=list
    )  # places, and what was tried there
    best: Tried | None = None  # the wall with the fewest faults, where none is without
    beaten: int = 0  # walls without fault that another beats or equals

    @property
    def choices(self) -> tuple[Choice, ...]:
        """What the facts left open."""
        return self.offers.choices

    @property
    def fallen(self) -> Mapping[str, int]:
        """How many walls each reason removed, the most first."""
        return dict((self.count.fallen + self.by_results).most_common())

    def beside(self, one: Tried) -> Mapping[str, Beside]:
        """By choice, what else was tried in its place: what is equal in everything, and what comes next."""
        found: dict[str, Beside] = {}
        for places, tried in self.groups:
            for place in places:
                found[self.choices[place].name] = _beside(one, place, places, tried)
        return found


@dataclass(frozen=True)
class Beside:
    """What could stand in place of an option: options equal in everything, and the next best with what is worse of it."""

    equal: tuple[str, ...]
    next_best: str = ""
    worse: str = ""


def _beside(one: Tried, place: int, places: tuple[int, ...], tried: Sequence[Tried]) -> Beside:
    """What a group tried with another option at one place and the same elsewhere in the group, or nearly so."""

    def apart(other: Tried) -> int:
        return sum(other.wall[at] is not one.wall[at] for at in places)

    others = sorted((other for other in tried if other.wall[place] is not one.wall[place]), key=apart)
    own = next((other for other in tried if apart(other) == 0), one)
    equal = [
        o.wall[place].label for o in others if o.standing.good and _key(o) == _key(own) and apart(o) <= _NEAR
    ]
    others = [other for other in others if other.wall[place].label not in equal]
    rest = [other for other in others if other.standing.good and _key(other) != _key(own)]
    fallen = [other for other in others if not other.standing.good]
    if rest:
        titles = [
            mine.title
            for mine, its in zip(own.measures, rest[0].measures, strict=True)
            if mine.amount is not None
            and its.amount is not None
            and mine.amount != its.amount
            and (its.amount < mine.amount) != (mine.better == "less")
        ]
        return Beside(
            _once(equal),
            rest[0].wall[place].label,
            ", ".join(titles) or "nothing, but a choice beside it differs",
        )
    if fallen:
        code, name = fallen[0].standing.fails[0]
        return Beside(_once(equal), fallen[0].wall[place].label, f"it falls by rule {code}, {name}")
    return Beside(_once(equal))


_NEAR = 2  # places of a group in which an option that is called equal may differ


def _once(labels: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(labels))


class Proposer:
    """Proposes walls for a project.

    Args:
        project: the facts.
        practice: by which walls are made: as shipped, with what an office lays over it.
        assessed: assesses a project.
        prices: of parts, where somebody gives them.
        workers: processes that assess; None: one a core.
        only: options by choice that are searched, all where a choice is not named.
    """

    def __init__(
        self,
        project: Project,
        practice: Practice,
        assessed: Callable[[Project], Assessment],
        prices: Prices | None = None,
        workers: int | None = None,
        only: Mapping[str, tuple[str, ...]] | None = None,
    ) -> None:
        refuse_unready(project)
        self.project, self.practice, self.assessed, self.prices = project, practice, assessed, prices
        self.workers, self.only = workers, only
        self.offers = Offers(project, practice, only)
        self._walls = Leftover(())

    def again(self, project: Project) -> Proposer:
        """The same for another project."""
        return Proposer(project, self.practice, self.assessed, self.prices, self.workers, self.only)

    @cached_property
    def bench(self) -> Bench:
        """Assesses the walls."""
        builder = Builder(self.offers)
        first = tuple(choice.options[0] for choice in self.offers.choices)
        return Bench(builder, self.assessed(builder.project(first)), self.prices, self.workers)

    @cached_property
    def constraints(self) -> tuple[Constraint, ...]:
        """What excludes options together."""
        return constraints(self.offers, self.bench.builder, self.bench.base)

    def propose(self) -> Found:
        """The front, from the fewest letters on that leave a wall without fault."""
        found, letters = self._searched(0), 0
        while letters < MOST_LETTERS:
            if found.left:
                self._decide(found)
                if found.front or self.bench.shared_faults():
                    return found
            if not _letters_matter(found):
                return found
            letters += 1
            found = self._searched(letters)
        return found

    def every_wall(self, letters: int) -> list[Tried]:
        """Every wall that the constraints leave, each assessed: what the search is held against."""
        _, left = self._left(letters)
        return self._with_substitutes(self.bench.try_all(list(left.walls())), left)

    def _left(self, letters: int) -> tuple[Count, Leftover]:
        count = Count(walls_in(self.offers.choices))
        try:
            left = search_blocks(self.offers.choices, self.constraints, letters, count, MOST_LEFT)
        except TooManyLeftError:
            raise InputError([_too_open(self.project)]) from None
        return count, left

    def _searched(self, letters: int) -> Found:
        count, self._walls = self._left(letters)
        return Found(self.offers, self.bench, count, len(self._walls), letters)

    def _decide(self, found: Found) -> None:
        """Assess the walls that are left, group by group, and keep those that nothing beats."""
        if found.letters < MOST_LETTERS and (spare := self._left(found.letters + SPARE_LETTERS)):
            count, self._walls = spare
            found.count, found.left = count, len(self._walls)
        kept: list[tuple[Left, ...]] = []
        blocks = self._walls.blocks
        for place, block in enumerate(blocks):
            with part(place / len(blocks), (place + 1) / len(blocks)):
                kept.append(self._kept(found, kept, block))
        tried = self.bench.try_all(list(Leftover(tuple(kept)).walls()))
        for wall in tried:
            if not wall.standing.good:
                found.by_results[_result(wall.standing.fails[0])] += 1
        found.best = min(tried, key=lambda one: len(one.standing.fails))
        good = [one for one in tried if one.standing.good]
        found.front = front(self._with_substitutes(good, self._walls))
        found.beaten += len(good) - len(found.front)

    def _kept(self, found: Found, kept: list[tuple[Left, ...]], block: tuple[Left, ...]) -> tuple[Left, ...]:
        """What of a block goes on: group by group, beside the first that is kept of each block before."""
        before = [one[0] for one in kept]
        behind = [one[0] for one in self._walls.blocks[len(kept) + 1 :]]
        walls = [joined((*before, one, *behind)) for one in block]
        first = sum(len(one.wall) for one in before)
        own = range(first, first + len(block[0].wall))
        start: dict[int, Option] = {}
        for group in in_turn((MEMBRANES, PATHS, TOP, FACE, DRAINS)):
            if places := tuple(place for place in self._places(group) if place in own):
                walls, start = self._narrowed(found, walls, places, start, len(self._walls) // len(block))
        chosen = {one.wall[own.start : own.stop] for one in walls}
        return tuple(one for one in block if one.wall in chosen)

    def _places(self, group: str) -> tuple[int, ...]:
        return tuple(place for place, one in enumerate(self.offers.choices) if one.group == group)

    def _narrowed(
        self, found: Found, walls: list[Left], places: tuple[int, ...], start: dict[int, Option], share: int
    ) -> tuple[list[Left], dict[int, Option]]:
        """The walls whose options in a group are beaten by none, the rest of the wall the same for all of them.

        Each stands for ``share`` walls, which differ in other blocks.
        """
        by_options: dict[tuple[int, ...], list[Left]] = {}
        for one in walls:
            by_options.setdefault(tuple(id(one.wall[place]) for place in places), []).append(one)
        chosen = [_nearest(group, start, places) for group in by_options.values()]
        tried = self.bench.try_all(chosen)
        shared = set.intersection(*(set(one.standing.fails) for one in tried))
        good = []
        for options, wall in zip(by_options, tried, strict=True):
            extra = [fault for fault in wall.standing.fails if fault not in shared]
            if not extra:
                good.append((options, wall))
                continue
            found.by_results[_result(extra[0])] += share * len(by_options[options])
        if not good:  # each has a fault of its own: those with the fewest go on, to be told at the end
            fewest = min(len(one.standing.fails) for one in tried)
            good = [
                (o, one)
                for o, one in zip(by_options, tried, strict=True)
                if len(one.standing.fails) == fewest
            ]
        marked = self._with_substitutes([one for _, one in good], self._walls)
        fallen = [one for one in tried if all(one.wall != other.wall for other in marked)]
        found.groups.append((places, [*marked, *fallen]))
        ahead = front(marked)
        kept = {tuple(id(one.wall[place]) for place in places) for one in ahead}
        found.beaten += share * sum(len(by_options[options]) for options, _ in good if options not in kept)
        start = {**start, **{place: ahead[0].wall[place] for place in places}}
        return [one for options in by_options if options in kept for one in by_options[options]], start

    def _with_substitutes(self, tried: Sequence[Tried], left: Leftover) -> list[Tried]:
        """The walls with the count of other options that would fit in place of one of theirs."""
        out = []
        for one in tried:
            count = sum(
                option is not one.wall[place]
                and left.holds((*one.wall[:place], option, *one.wall[place + 1 :]))
                for place, choice in enumerate(self.offers.choices)
                for option in choice.options
                if choice.group != DRAINS  # another opening is no substitute of a product
            )
            out.append(one.with_measure(Measure(SUBSTITUTES, "more", count, str(count))))
        return out


def _result(fault: tuple[str, str]) -> str:
    return f"result: rule {fault[0]}, {fault[1]}"


def _nearest(group: list[Left], start: Mapping[int, Option], places: tuple[int, ...]) -> Left:
    """Of the walls with the same options in a group, the one whose other options are those found best before."""
    outside = {place: option for place, option in start.items() if place not in places}
    return max(group, key=lambda one: sum(one.wall[place] is option for place, option in outside.items()))


def _key(one: Tried) -> tuple[float | None, ...]:
    return tuple(measure.amount for measure in one.measures)


def _letters_matter(found: Found) -> bool:
    """Whether a wall fell only because it asks for more letters."""
    return any(reason.startswith("letters: ") for reason in found.count.fallen)


def refuse_unready(project: Project) -> None:
    """Stop where a fact is open without which no wall can be proposed.

    Raises:
        InputError: names each.
    """
    problems = []
    if project.building.word("roof_membrane") is None:
        mark = project.building.at("roof_membrane")
        problems.append(
            InputProblem(mark, f"`building.roof_membrane` is {NEEDED}", "state the membrane of the roof")
        )
    for parapet in project.parapets:
        if parapet.part("framing") is None:
            fix = "add to its `build_up` a line `- {role: framing, kind: …}`"
            problems.append(
                InputProblem(parapet.mark, f"parapet `{parapet.name}`: its backup wall is {NEEDED}", fix)
            )
    if problems:
        raise InputError(problems)


def _too_open(project: Project) -> InputProblem:
    what = f"more than {MOST_LEFT:,} walls are left before anything is calculated"
    return InputProblem(
        project.parapets[0].mark, what, "state one of the parts: the barrier, or the metal of the coping"
    )
