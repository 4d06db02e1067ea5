"""The order of work that laps and build-up imply, with trades, hold points, and a cycle where there is none."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import ClassVar

from specgen.model.project import Component, Parapet, Transition
from specgen.model.source import Source
from specgen.paths.tapes import TAPE_ROLE
from specgen.practice.entries import Practice
from specgen.wall.order import nearest, stated_order

CORE_ROLES = ("framing", "sheathing")


@dataclass(frozen=True)
class Hold:
    """One inspection: a component that is in place, and what is looked for, from the table ``hold_points``."""

    component: str
    look_for: str
    measured: tuple[str, ...] = ()  # attributes measured here, beside those of the part's installation


@dataclass(frozen=True)
class Step:
    """One component in the order of work. ``after`` are the components that must be in place before it."""

    component: str
    trade: str
    after: tuple[str, ...]
    holds: tuple[Hold, ...] = ()  # inspected before this step covers it
    ALSO_PLAIN: ClassVar = ("hold_point",)

    @property
    def hold_point(self) -> str:
        """The inspections as one phrase; empty if there is none."""
        texts = [f"{hold.component}: {hold.look_for}" for hold in self.holds]
        return f"inspect {'; '.join(texts)}" if texts else ""


@dataclass(frozen=True)
class Cycle:
    """Components that wait for each other; each stands before the next, the last before the first."""

    components: tuple[str, ...]
    trades: tuple[str, ...]

    @property
    def text(self) -> str:
        """Who waits for whom."""
        named = [f"{part} ({trade})" for part, trade in zip(self.components, self.trades, strict=True)]
        return "no order of work: " + " before ".join([*named, named[0]])


@dataclass(frozen=True)
class Sequence:
    """The order of work at one parapet. With a cycle, ``steps`` holds what could still be ordered before it."""

    parapet: str
    steps: tuple[Step, ...]
    cycle: Cycle | None
    hold_source: Source  # of the hold points

    @property
    def handovers(self) -> int:
        """How often one trade gives the wall to another."""
        return sum(one.trade != other.trade for one, other in pairwise(self.steps))


def sequence(parapet: Parapet, practice: Practice) -> Sequence:
    """Order the components of a parapet.

    Before another goes: the lower sheet of each lap; a tape after the lower and before the upper sheet; inner
    layers before outer ones on each side of the framing; the top from below upward; and what a role comes
    ``after`` by the vocabulary. A stated lap decides over the order of the lists between the two it joins, since
    the lap is the stronger statement. An order of work that the
    parapet states is kept where no lap and no layer speaks against it.

    Args:
        parapet: its components and transitions.
        practice: trades, roles, hold points.

    Returns:
        A topological order, the same for the same parapet: among what is ready, nearest to the framing first.
    """
    parts = list(parapet.components())
    before = orders(parapet, practice)
    stated = () if against_order(parapet, practice) else _stated_pairs(parapet)
    done = order([part.id for part in parts], (*before, *stated), _ranks(parapet))
    rest = {part.id for part in parts} - set(done)
    trade = {part.id: practice.vocabulary.roles[part.role].trade_of(part.kind) for part in parts}
    found = find_cycle(rest, before) if rest else ()
    cycle = Cycle(found, tuple(trade[one] for one in found)) if found else None
    holds = _hold_points(parapet, practice, done)
    after: dict[str, list[str]] = {one: [] for one in trade}
    for first, then in sorted(before):
        after[then].append(first)
    steps = tuple(Step(one, trade[one], tuple(after[one]), holds.get(one, ())) for one in done)
    return Sequence(parapet.name, steps, cycle, practice.table("hold_points").source)


def order(names: Iterable[str], before: Iterable[tuple[str, str]], rank: dict[str, int]) -> tuple[str, ...]:
    """A topological order; among what is ready the lowest rank first. Names in or behind a cycle are left out."""
    waits: dict[str, set[str]] = {name: set() for name in names}
    frees: dict[str, set[str]] = {name: set() for name in waits}
    for first, then in before:
        waits[then].add(first)
        frees[first].add(then)
    ready = [(rank[name], name) for name, needs in waits.items() if not needs]
    heapq.heapify(ready)
    out = []
    while ready:
        _, name = heapq.heappop(ready)
        out.append(name)
        for then in frees[name]:
            waits[then].discard(name)
            if not waits[then]:
                heapq.heappush(ready, (rank[then], then))
    return tuple(out)


def find_cycle(names: Iterable[str], before: Iterable[tuple[str, str]]) -> tuple[str, ...]:
    """A shortest cycle among names that have no order, turned so that its first name is the least.

    Returns:
        Names, each before the next and the last before the first; empty if there is no cycle.
    """
    known = set(names)
    then: dict[str, dict[str, None]] = {name: {} for name in known}
    for first, second in sorted(set(before)):
        if first in known and second in known:
            then[first][second] = None
    least: tuple[str, ...] = ()
    for name in sorted(known):
        cycle = _back_to(name, then, len(least) or len(known))
        if cycle and (not least or (len(cycle), cycle) < (len(least), least)):
            least = cycle
    return least


def _back_to(start: str, then: Mapping[str, Mapping[str, None]], most: int) -> tuple[str, ...]:
    """The shortest way from a name back to itself over at most so many names, breadth first."""
    ways: dict[str, tuple[str, ...]] = {start: (start,)}
    queue = [start]
    for name in queue:
        if start in then[name]:
            return ways[name]
        if len(ways[name]) < most:
            for following in then[name]:
                if following not in ways:
                    ways[following] = (*ways[name], following)
                    queue.append(following)
    return ()


def orders(parapet: Parapet, practice: Practice) -> tuple[tuple[str, str], ...]:
    """Every pair (first, then) that laps, tapes, build-up, top and vocabulary ask for, of components that are there."""
    here = {part.id for part in parapet.components()}
    laps = [pair for pair in _laps(parapet) if here.issuperset(pair)]
    decided = {frozenset(pair) for pair in laps}
    named = {
        joint.word("tape") for joint in parapet.transitions
    }  # a tape goes where its lap is, not where it is listed
    top = [part.id for part in parapet.top if part.id not in named]
    listed = (*_faces(parapet, practice), *combinations(top, 2))
    after = _after(parapet, practice)
    weaker = (pair for pair in (*listed, *after) if frozenset(pair) not in decided)
    return tuple(dict.fromkeys((*laps, *weaker)))


def _laps(parapet: Parapet) -> Iterator[tuple[str, str]]:
    """Lower before upper, the tape between them; a tape that is no component of the parapet orders nothing."""
    for joint in parapet.transitions:
        tape = parapet.by_id(joint.word("tape") or "")
        real = tape is not None and tape.role == TAPE_ROLE
        yield from (pair for pair in _lap_pairs(joint) if real or joint.word("tape") not in pair)


def _core(parapet: Parapet) -> int:
    """Where in the build-up the work starts: the framing, else the sheathing, else the innermost layer."""
    for role in CORE_ROLES:
        for index, part in enumerate(parapet.build_up):
            if part.role == role:
                return index
    return max(len(parapet.build_up) - 1, 0)


def _faces(parapet: Parapet, practice: Practice) -> Iterator[tuple[str, str]]:
    """Inner before outer, on each side of the core; pieces at an edge are not bound by the list."""
    core = _core(parapet)
    outward = list(reversed(parapet.build_up[: core + 1]))
    roofward = list(parapet.build_up[core:])
    for side in (outward, roofward):
        bound = [part.id for part in side if not practice.vocabulary.roles[part.role].edge]
        yield from combinations(bound, 2)


def _after(parapet: Parapet, practice: Practice) -> Iterator[tuple[str, str]]:
    for part in parapet.components():
        for role in practice.vocabulary.roles[part.role].after:
            for earlier in parapet.all_of(role):
                yield earlier.id, part.id


def _ranks(parapet: Parapet) -> dict[str, int]:
    """Layers by their distance from the core, the outer side first; the top as soon as what it stands on is done.

    An open top lets rain into the wall: it comes before every layer but the first on each side.
    """
    core = _core(parapet)
    places = sorted((abs(index - core), index) for index in range(len(parapet.build_up)))
    core_parts = [parapet.build_up[index].id for distance, index in places if distance <= 1]
    others = [parapet.build_up[index].id for distance, index in places if distance > 1]
    ids = [*core_parts, *(part.id for part in parapet.top), *others]
    return {name: place for place, name in enumerate(ids)}


def _stated_pairs(parapet: Parapet) -> tuple[tuple[str, str], ...]:
    """Each component that the stated order of work names, before the next."""
    return tuple(pairwise(name for name in stated_order(parapet) if parapet.by_id(name)))


def against_order(parapet: Parapet, practice: Practice) -> tuple[tuple[str, str, Transition | None], ...]:
    """What the stated order of work turns around.

    Returns:
        The part that must come first, the one that must follow, and their lap. Where no two parts are turned around by
        themselves, those that are by way of parts which the order does not name.
    """
    at = {name: place for place, name in enumerate(stated_order(parapet))}
    if not at:
        return ()
    laps = {pair: joint for joint in parapet.transitions for pair in _lap_pairs(joint)}
    known = orders(parapet, practice)
    turned = [pair for pair in known if _turned(pair, at)]
    if not turned:
        then: dict[str, list[str]] = {}
        for first, second in known:
            then.setdefault(first, []).append(second)
        turned = [pair for name in at for pair in _followers(name, then) if _turned(pair, at)]
    return tuple((*pair, laps.get(pair)) for pair in turned)


def _turned(pair: tuple[str, str], at: Mapping[str, int]) -> bool:
    first, then = pair
    return first in at and then in at and at[first] > at[then]


def _followers(name: str, then: Mapping[str, list[str]]) -> Iterator[tuple[str, str]]:
    """A component with each that must follow it, directly or by way of others."""
    found, queue = {name}, [name]
    for one in queue:
        for following in then.get(one, ()):
            if following not in found:
                found.add(following)
                queue.append(following)
                yield name, following


def _lap_pairs(joint: Transition) -> Iterator[tuple[str, str]]:
    upper, tape = joint.word("upper"), joint.word("tape")
    if upper is not None:
        lower = joint.second if upper == joint.first else joint.first
        yield lower, upper
        if tape is not None:
            yield lower, tape
            yield tape, upper


def _hold_points(parapet: Parapet, practice: Practice, done: tuple[str, ...]) -> dict[str, tuple[Hold, ...]]:
    """For each step, what must be inspected before it; each inspection stands before the first that covers it."""
    holds: dict[str, tuple[Hold, ...]] = {}
    seen = set()
    parts = {part.id: part for part in parapet.components()}
    place = {one: number for number, one in enumerate(done)}
    for number, one in enumerate(done):
        rows = practice.table("hold_points").where(before=parts[one].role)
        of_kinds = {(row["inspect"], row["kind"]) for row in rows if "kind" in row}
        for row in rows:
            more = row.get("rated") if parapet.flag("fire_rated") else None
            look_for = f"{row['look_for']}, {more}" if more else str(row["look_for"])
            for covered in _covered(parapet, parts[one], str(row["inspect"])):
                wanted = covered.kind if (covered.role, covered.kind) in of_kinds else None
                key = covered.id, look_for
                if row.get("kind") == wanted and place.get(covered.id, number) < number and key not in seen:
                    seen.add(key)
                    measured = tuple(str(row["measured"]).split(", ")) if row.get("measured") else ()
                    holds[one] = (*holds.get(one, ()), Hold(covered.id, look_for, measured))
    return holds


def _covered(parapet: Parapet, part: Component, role: str) -> tuple[Component, ...]:
    """What a part covers of a role: the nearest; of tapes those at the laps it lies over, and at the top every one."""
    if role != TAPE_ROLE:
        return nearest(parapet, part, role)
    under = {joint.word("tape") for joint in parapet.transitions if joint.word("upper") == part.id}
    return tuple(tape for tape in parapet.all_of(role) if part in parapet.top or tape.id in under)


def sequence_lines(found: Sequence) -> list[str]:
    """The order of work as text: a line a step, its trade, its hold point, and the cycle if there is one."""
    lines = [f"order of work at {found.parapet}:"]
    for number, step in enumerate(found.steps, start=1):
        if step.hold_point:
            lines.append(f"     hold: {step.hold_point}")
        lines.append(f"  {number:2}. {step.component} ({step.trade})")
    if found.cycle:
        lines.append(f"  {found.cycle.text}")
    if any(step.hold_point for step in found.steps):
        lines.append(f"  hold points: {found.hold_source}")
    return lines


def sequence_md(found: Sequence) -> list[str]:
    """The order of work as a Markdown heading and table; a bar in a name is escaped.

    >>> from specgen.model.source import Source, Status
    >>> steps = (Step("framing", "framer", ()), Step("barrier", "carpenter", ("framing",), (Hold("framing", "plumb"),)))
    >>> source = Source("common practice", "", "inspections", Status.PRACTICE)
    >>> print(*sequence_md(Sequence("P-1", steps, None, source))[2:6], sep=chr(10))
    | step | component | trade | after | hold point before this step |
    |---|---|---|---|---|
    | 1 | framing | framer | | |
    | 2 | barrier | carpenter | framing | inspect framing: plumb |
    """
    lines = [f"## Order of work at {found.parapet}", ""]
    lines += ["| step | component | trade | after | hold point before this step |", "|---|---|---|---|---|"]
    for number, step in enumerate(found.steps, start=1):
        cells = (str(number), step.component, step.trade, ", ".join(step.after), step.hold_point)
        lines.append("|" + "|".join(f" {cell} " if cell else " " for cell in map(_cell, cells)) + "|")
    if found.cycle:
        lines += ["", found.cycle.text]
    if any(step.hold_point for step in found.steps):
        lines += ["", f"Hold points: {found.hold_source}"]
    return [*lines, ""]


def _cell(words: str) -> str:
    return words.replace("|", "\\|")
