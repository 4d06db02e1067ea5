"""What excludes options together before anything is calculated: chemistry, laps, order of work, requirements.

Each builds the parts of a few choices alone and asks what judges them in any project: the table of pairs, the joints,
the order of work, the judge of requirements. What it finds is kept by the options, so that a search asks once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from specgen.assessment import Assessment
from specgen.model.finding import Outcome, Severity
from specgen.model.project import Component, Parapet, Stated, Value
from specgen.model.requirement import Requirement
from specgen.paths.contacts import contacts
from specgen.paths.graph import Node, WallGraph, wall_of
from specgen.paths.joint import judge_joint
from specgen.paths.sequence import sequence
from specgen.paths.shapes import Break
from specgen.practice.entries import Practice
from specgen.propose.arranged import SEAL
from specgen.propose.build import Builder
from specgen.propose.choices import AIR, GROUPS, OPEN_LETTER, PRIMER, TAPE, Choice, Lap, Option
from specgen.propose.drained import SCUPPERS
from specgen.propose.offers import Offers
from specgen.propose.openings import Openings, asked
from specgen.propose.plastered import FACING
from specgen.requirements.catalogue_file import load_catalogue
from specgen.requirements.judge import Standing, judge
from specgen.wall.change import with_values
from specgen.wall.facts import CONDITIONS
from specgen.wall.place import Place, family


@dataclass(frozen=True)
class Verdict:
    """Why options fall together, "" where they do not, and how many letters of manufacturers they ask for."""

    falls: str = ""
    letters: int = 0


FINE = Verdict()


@dataclass
class Constraint:
    """What is asked of some choices, by their places in the list of choices."""

    scope: tuple[int, ...]
    ask: Callable[..., Verdict]
    known: dict[tuple[Option, ...], Verdict] = field(default_factory=dict)

    def verdict(self, options: tuple[Option, ...]) -> Verdict:
        """What is found of these options, one for each choice of the scope."""
        found = self.known.get(options)
        if found is None:
            found = self.known[options] = self.ask(*options)
        return found


def constraints(offers: Offers, builder: Builder, base: Assessment | None) -> tuple[Constraint, ...]:
    """Every constraint between the choices of a project.

    Args:
        offers: the choices.
        builder: makes the parts.
        base: an assessment of one of the walls, for the requirements that hold whatever is chosen.
    """
    maker = _Maker(offers, builder, base)
    return tuple(maker.all())


class _Maker:
    def __init__(self, offers: Offers, builder: Builder, base: Assessment | None) -> None:
        self.offers, self.builder = offers, builder
        self.practice: Practice = offers.practice
        self.choices: Sequence[Choice] = offers.choices
        self.at = {choice.name: place for place, choice in enumerate(self.choices)}
        self.holds = {  # the choice that puts in, or leaves out, a part of a role
            part.role: place
            for place, choice in reversed(list(enumerate(self.choices)))
            for option in choice.options
            for part in option.parts
        }
        self.base = base
        self._made: dict[tuple[Option, ...], tuple[Component, ...]] = {}
        self._bared: dict[tuple[str, ...], Parapet] = {}

    def all(self) -> Iterator[Constraint]:
        for place, choice in enumerate(self.choices):
            yield Constraint((place,), _offered(choice.name))
            if choice.name in GROUPS:
                asked = tuple(self._always(choice.name))
                if asked:
                    yield Constraint((place,), self._required(asked))
        if PRIMER in self.at:
            ends = [self.at[role] for role in ("barrier", "sheathing") if role in self.at]
            yield Constraint(tuple(sorted((*ends, self.at[PRIMER]))), self._primed_substrate)
        if AIR in self.at:
            yield Constraint((self.at[AIR],), self._by_rule("PA05"))
            for place in (place for name, place in self.at.items() if name.endswith(f" / {SEAL}")):
                yield Constraint((self.at[AIR], place), _sealed)
        for name in self.at:
            upper, _, lower = name.partition(" / ")
            if lower:
                yield from self._lap(name, upper, lower)
        yield from self._contacts()
        if "coping" in self.at and "cleat" in self.at:
            yield Constraint(tuple(sorted((self.at["coping"], self.at["cleat"]))), _one_metal)
        yield from self._of_scuppers()
        laps = tuple(place for name, place in self.at.items() if " / " in name)
        if laps:
            yield Constraint(laps, self._ordered)

    def _of_scuppers(self) -> Iterator[Constraint]:
        """What excludes scuppers, where there are any; with a part that is stated, what excludes them by themselves."""
        if SCUPPERS not in self.at:
            return
        openings = None if self.base is None else Openings(self.builder, self.base, self.choices)
        for names, ask in asked(openings, self.builder):
            scope = tuple(self.at[name] for name in names if name in self.at)
            yield Constraint(scope, partial(_because, ask))

    # What is offered, and what requirements ask whatever is chosen

    def _always(self, role: str) -> Iterator[Requirement]:
        """The requirements on a word of a role that hold whatever else is chosen."""
        if self.base is None:
            return
        own = f"{role} is "  # a condition on the part itself holds for each of its options or for none
        free = {
            entry.name
            for entry in load_catalogue()
            if all(one.startswith(own) and self._same(role, one) for one in entry.when) and entry.method == ""
        }
        for one in self.base.requirements.of_role(role):
            kind = one.attribute == "kind" or self._is_word(role, one.attribute)
            limit = one.floor if one.origin.kind == "choice" else one.limit
            if one.name in free and kind and limit is not None and not one.layers:
                yield replace(one, limit=limit)

    def _same(self, role: str, condition: str) -> bool:
        """Whether a condition on a part answers alike for each of its options."""
        answers = set()
        for option in self.choices[self.at[role]].options:
            wall = self.builder.parapet(self._bare(role), (option,))
            answers.add(CONDITIONS[condition](Place(self.offers.project, wall, self.practice, {})))
        return len(answers) == 1

    def _is_word(self, role: str, attribute: str) -> bool:
        known = self.practice.vocabulary.roles[role].fields.get(attribute)
        return known is not None and known.type == "word"

    def _required(self, asked: tuple[Requirement, ...]) -> Callable[..., Verdict]:
        def ask(option: Option) -> Verdict:
            for part in self._parts(option):
                for one in asked:
                    stated = Stated(part.kind) if one.attribute == "kind" else part.stated(one.attribute)
                    if stated is None:
                        continue
                    if judge(one, stated, self.practice).standing is Standing.MISSED:
                        return Verdict(f"requirement: {one.title} of the {one.role}")
            return FINE

        return ask

    def _parts(self, *options: Option) -> tuple[Component, ...]:
        """The parts of options as they would stand: those that are stated with what is added to them."""
        if options not in self._made:
            self._made[options] = self._made_of(options)
        return self._made[options]

    def _made_of(self, options: tuple[Option, ...]) -> tuple[Component, ...]:
        wall = self.builder.parapet(self._bare(), options)
        wanted = {part.id for option in options for part in option.parts}
        return tuple(part for part in wall.components() if part.id in wanted)

    def _bare(self, *roles: str) -> Parapet:
        """The facts' parapet with its stated parts of some roles alone, and none of its laps."""
        here = self.offers.pattern
        if roles not in self._bared:
            self._bared[roles] = replace(
                here,
                build_up=tuple(part for part in here.build_up if not roles or part.role in roles),
                top=tuple(part for part in here.top if not roles or part.role in roles),
                transitions=(),
            )
        return self._bared[roles]

    # Laps

    def _lap(self, name: str, upper: str, lower: str) -> Iterator[Constraint]:
        roles = ("barrier", "top flashing", lower) if upper == FACING else (upper, lower)
        ends = [self.at[role] for role in roles if role in self.at]
        yield Constraint((self.at[name],), self._order_alone)
        ends += [self.holds[SEAL]] if lower == SEAL and SEAL in self.holds else []
        scope = tuple(sorted((*ends, self.at[name])))
        yield Constraint(scope, self._whole_lap)

    def _whole_lap(self, *options: Option) -> Verdict:
        option = next((one for one in options if one.lap is not None), None)
        if option is None or option.lap is None:
            return FINE
        return self._judged_lap(option.lap, option, tuple(one for one in options if one is not option))

    def _by_rule(self, code: str) -> Callable[..., Verdict]:
        """What a rule of the book finds of options, with the rest as in the first wall."""

        def ask(*options: Option) -> Verdict:
            if self.base is None:
                return FINE
            entry = next(one for one in self.base.book if one.rule.code == code)
            made = self.builder.parapet(self.offers.pattern, self._beside_first(options))
            wall = next(one for one in self.base.walls if one.parapet.name == made.name)
            for found in entry.check(replace(wall, parapet=made)):
                severity = found.severity or entry.rule.severity
                if found.outcome is Outcome.FAIL and severity is not Severity.QUERY:
                    return Verdict(f"rule {code}, {entry.rule.name}")
            return FINE

        return ask

    def _beside_first(self, options: tuple[Option, ...]) -> tuple[Option, ...]:
        """Some options, and the first of every other choice."""
        return tuple(
            next((one for one in options if one in choice.options), choice.options[0])
            for choice in self.choices
        )

    def _judged_lap(self, lap: Lap, option: Option, ends: tuple[Option, ...]) -> Verdict:
        if lap.primer and not self._primed(lap, ends):
            return Verdict("primers: one that nothing asks for")
        also = ("barrier", "framing", "top flashing") if FACING in (lap.first, lap.second) else ()
        bare = self._bare(lap.first, lap.second, *also)
        graph = self._approved(self.builder.parapet(bare, (*ends, option)))
        one, other = graph.nodes.get(lap.first), graph.nodes.get(lap.second)
        if one is None or other is None:
            return FINE
        found = judge_joint(graph, "water", one, other).breaks
        broken = [fault for fault in found if fault.standing == "broken" or fault.cause == "primer"]
        if broken:
            return Verdict(_reason(broken[0]))
        if any(fault.standing == "confirm" for fault in found):
            return Verdict(OPEN_LETTER)
        tape = next((node for node in graph.nodes.values() if node.role == TAPE), None)
        if tape is None:
            return FINE
        if (direct := graph.meet(one, other)) is not None and direct.answer == "allowed":
            return Verdict("not offered: a tape between two that bond to each other")
        asked = {side.family for side in (one, other) if self._asks(tape, side)}
        return Verdict("", len(asked))

    def _order_alone(self, option: Option) -> Verdict:
        lap = option.lap
        if lap is None:
            return FINE
        rows = self.practice.table("control_laps")
        lower = lap.second if lap.upper == lap.first else lap.first
        if rows.where(upper=lower, lower=lap.upper) and not rows.where(upper=lap.upper, lower=lower):
            return Verdict("paths: a lap that runs against the water")
        return FINE

    def _approved(self, wall: Parapet) -> WallGraph:
        """The graph of a wall whose tapes are as wide as they must be, and approved for both sides."""
        made = (family(self.practice, part) for part in wall.components() if part.role != TAPE)
        families = tuple(one for one in made if one)
        values: dict[str, Value] = {
            "each_side": self.practice.quantity("tape.each_side"),
            "compatible_with": families,
        }
        top = tuple(with_values(part, values, "") if part.role == TAPE else part for part in wall.top)
        laps = tuple(
            joint
            if joint.has("lap")
            else with_values(joint, {"lap": self.practice.quantity("flashing.lap_barrier")}, "")
            for joint in wall.transitions
        )
        return wall_of(self.offers.project, replace(wall, top=top, transitions=laps), self.practice)

    def _primed(self, lap: Lap, ends: tuple[Option, ...]) -> bool:
        """Whether the primer of a lap is asked for under what is stuck there."""
        made = {part.role: family(self.practice, part) for part in self._parts(*ends)}
        made |= {
            part.role: family(self.practice, part)
            for part in self.offers.pattern.components()
            if part.role not in made
        }
        lower = lap.second if lap.upper == lap.first else lap.first
        stuck = self.practice.kind(TAPE, lap.tape).family if lap.tape else made.get(lap.upper)
        on = (lap.first, lap.second) if lap.tape else (lower,)
        rows = self.practice.table("primers")
        return any(rows.where(primer=lap.primer, adhesive=stuck, substrate=made.get(role)) for role in on)

    def _primed_substrate(self, *options: Option) -> Verdict:
        """The primer under the barrier: one that is asked for, or none where none is."""
        wall = self.builder.parapet(self._bare("barrier", "sheathing", "framing"), options)
        barrier = wall.part("barrier")
        below = wall.part("sheathing") or wall.part("framing")
        if barrier is None or below is None:
            return FINE
        pair = {"adhesive": family(self.practice, barrier), "substrate": family(self.practice, below)}
        needed = {str(row["primer"]) for row in self.practice.table("primers").where(need="required", **pair)}
        given = next((option.lap.primer for option in options if option.lap is not None), "")
        if given and given not in needed:
            return Verdict("primers: one that nothing asks for")
        return Verdict("primers: one that is missing or harms") if needed and not given else FINE

    def _asks(self, tape: Node, side: Node) -> bool:
        """Whether a tape is approved for one side by a letter of its manufacturer alone."""
        if tape.family == side.family:
            return False
        rows = self.practice.table("compatibility")
        pairs = ((tape.family, side.family), (side.family, tape.family))
        return not any(
            rows.where(adjacency="contact", judgement="allowed", one=one, other=other) for one, other in pairs
        )

    # Parts that touch, and the order of work

    def _contacts(self) -> Iterator[Constraint]:
        """A constraint for each pair that meets in the wall of the first options."""
        seen = set()
        for wall in self._walls_of_other_roles():
            roles = {part.id: part.role for part in wall.components()}
            for one in contacts(self.offers.project, wall, self.practice):
                pair = (roles[one.first], roles[one.second])
                scope = tuple(sorted({self.holds[role] for role in pair if role in self.holds}))
                key = (pair, one.adjacency)
                if scope and key not in seen:
                    seen.add(key)
                    yield Constraint(scope, self._touching(pair, one.adjacency))

    def _walls_of_other_roles(self) -> Iterator[Parapet]:
        """The wall of the first options, and for each role that is not in it a wall that has it."""
        first = tuple(choice.options[0] for choice in self.choices)
        wall = self.builder.parapet(self.offers.pattern, first)
        yield wall
        seen = {part.role for part in wall.components()}
        for option in (option for choice in self.choices for option in choice.options):
            if new := {part.role for part in option.parts} - seen:
                seen |= new
                yield self.builder.parapet(self.offers.pattern, self._beside_first((option,)))

    def _touching(self, pair: tuple[str, str], adjacency: str) -> Callable[..., Verdict]:
        def ask(*options: Option) -> Verdict:
            wall = self._approved(self.builder.parapet(self._bare(*pair), tuple(options))).parapet
            for one in contacts(self.offers.project, wall, self.practice):
                parts = [wall.by_id(name) for name in (one.first, one.second)]
                if one.adjacency != adjacency or tuple(part.role for part in parts if part) != pair:
                    continue
                answer = one.judgement.answer if one.judgement else "allowed"
                if answer in ("not allowed", "with separation"):
                    return Verdict(f"chemistry: {pair[0]} on {pair[1]}, {adjacency}")
                if answer == "confirm":
                    return Verdict(OPEN_LETTER)
            return FINE

        return ask

    def _ordered(self, *laps: Option) -> Verdict:
        others = tuple(choice.options[0] for choice in self.choices if choice.options[0].lap is None)
        wall = self.builder.parapet(self.offers.pattern, (*others, *laps))
        return (
            Verdict("order of work: no order serves every lap")
            if sequence(wall, self.practice).cycle
            else FINE
        )


def _offered(name: str) -> Callable[..., Verdict]:
    fallen = Verdict(f"not offered: another {name}")
    return lambda option: fallen if option.refused else FINE


def _because(ask: Callable[..., str], *options: Option) -> Verdict:
    return Verdict(ask(*options))


def _sealed(path: Option, lap: Option) -> Verdict:
    """A lap with the seal where there is one, and none where there is not."""
    fits = bool(path.parts) == (lap.lap is not None)
    return FINE if fits else Verdict("paths: a lap with a seal that is not there, or none with one that is")


def _one_metal(*options: Option) -> Verdict:
    metals = {
        value for option in options for part in option.parts for name, value in part.values if name == "metal"
    }
    return FINE if len(metals) < 2 else Verdict("not offered: a cleat of another metal than the coping")


def _reason(fault: Break) -> str:
    words = {
        "chemistry": "chemistry: two that may not touch at a lap",
        "primer": "primers: one that is missing or harms",
    }
    return words.get(fault.cause, f"paths: {fault.cause} at a lap")
