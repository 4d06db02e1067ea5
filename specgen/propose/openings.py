"""What excludes scuppers: openings the rain does not pass or the parapet has no room for, sleeves that may not touch."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from specgen.assessment import Assessment
from specgen.design.scuppers import SUBJECT, calculate
from specgen.model.finding import Outcome
from specgen.paths.graph import virtual, wall_of
from specgen.practice.compatibility import Adjacency
from specgen.propose.build import Builder
from specgen.propose.choices import OPEN_LETTER, Choice, Option
from specgen.propose.drained import OVERFLOWS, SCUPPERS, SLEEVE, draining
from specgen.units.compare import computed_at_most

RULES = ("SC01", "SC02", "SC03", "SC06", "SC07", "SC09", "SC11", "MV02")
PONDING = "SC09"  # asks for the depth that the roof is designed for
LARGER = "not offered: a larger opening than the rain asks for"
DEEPER = (
    "not offered: an opening that leaves the water deeper, where nobody says what the roof is designed for"
)
NO_ROOM = "scuppers: no room for them along the parapet"


class Openings:
    """Judges openings by the rules of the book, each on the calculation made anew for them.

    Args:
        builder: makes the scuppers.
        base: an assessment of one of the walls.
        choices: all of them, with the options that are searched.
    """

    def __init__(self, builder: Builder, base: Assessment, choices: Sequence[Choice]) -> None:
        self.builder, self.base = builder, base
        self._options = {choice.name: choice.options for choice in choices}
        self._drain = {one.name for one in draining(builder.offers)}
        self._rules = [entry for entry in base.book if entry.rule.code in RULES]
        self._known: dict[tuple[Option, Option], str] = {}
        # The depth of water over blocked drains, where nobody says what the roof is designed for.
        self._depth: dict[tuple[Option, Option], float | None] = {}

    def primary(self, option: Option) -> str:
        """Why a number of scuppers of one size falls; "" where it does not."""
        overflows = self._options[OVERFLOWS]
        if not any(self._passes(option, other) for other in overflows):
            return self._why(option, overflows[-1])
        for smaller in self._options[SCUPPERS]:
            if smaller is option:
                break
            if smaller.numbers == option.numbers and any(self._passes(smaller, one) for one in overflows):
                return LARGER
        return ""

    def pair(self, option: Option, overflow: Option) -> str:
        """Why scuppers and their overflows fall together; "" where they do not."""
        if not self._passes(option, overflow):
            return self._why(option, overflow)
        passing = [one for one in self._options[OVERFLOWS] if self._passes(option, one)]
        depths = [self._depth[option, one] for one in passing]
        if (
            None in depths
        ):  # the depth that the roof is designed for decides, and the smallest opening keeps to it
            return "" if overflow is passing[0] else LARGER
        least = min(one for one in depths if one is not None)
        best = next(
            one for one, depth in zip(passing, depths, strict=True) if computed_at_most(depth or 0.0, least)
        )
        if overflow is best:
            return ""
        return LARGER if passing.index(overflow) > passing.index(best) else DEEPER

    def _passes(self, option: Option, overflow: Option) -> bool:
        return not self._why(option, overflow)

    def _why(self, option: Option, overflow: Option) -> str:
        key = (option, overflow)
        if key not in self._known:
            self._depth[key] = None
            self._known[key] = next(self._faults(option, overflow), "")
        return self._known[key]

    def _faults(self, option: Option, overflow: Option) -> Iterator[str]:
        for wall in self.base.walls:
            if wall.parapet.name not in self._drain:
                continue
            made = self.builder.with_scuppers(replace(wall.parapet, scuppers=()), (option, overflow))
            if wall.parapet.has("length") and not any(one.has("position") for one in made.scuppers):
                yield NO_ROOM
            worked = {SUBJECT: calculate(wall.project, made, wall.practice)}
            at = replace(wall, parapet=made, calculations=worked)
            for entry in self._rules:
                found = [one.outcome for one in entry.check(at)]
                if Outcome.FAIL in found:
                    yield f"rule {entry.rule.code}, {entry.rule.name}"
                depth = worked[SUBJECT].result("water_depth") if entry.rule.code == PONDING else None
                if Outcome.UNKNOWN in found and depth is not None:
                    self._depth[option, overflow] = max(self._depth[option, overflow] or 0.0, depth.value)


def asked(
    openings: Openings | None, builder: Builder
) -> Iterator[tuple[tuple[str, ...], Callable[..., str]]]:
    """The choices of each question, in their order, and what answers it with why they fall, or with ""."""
    if openings is not None:
        yield (SCUPPERS,), openings.primary
        yield (SCUPPERS, OVERFLOWS), openings.pair
    for role in ("coping", "roof turn-up", "barrier"):
        yield (role, SLEEVE), partial(_meets, builder, role)


def _meets(builder: Builder, role: str, *options: Option) -> str:
    """Why a sleeve falls with a part that it touches, or with the coping in whose runoff it stands."""
    pattern = builder.offers.pattern
    adjacency: Adjacency = "runoff" if role == "coping" else "contact"
    layers, top = (
        tuple(one for one in parts if one.role == role) for parts in (pattern.build_up, pattern.top)
    )
    bare = replace(pattern, build_up=layers, top=top, transitions=())
    graph = wall_of(builder.offers.project, builder.parapet(bare, options), builder.practice)
    families = [value for one in options for _, name, value in one.of_scuppers if name == "sleeve_family"]
    sleeve = virtual(graph, "sleeve", str(families[0]))
    for node in graph.with_role([role]):
        metal = node.part.word("metal") if node.part is not None and role == "coping" else None
        one = replace(node, family=metal) if metal else node
        known = graph.meet(one, sleeve, adjacency)
        if known is not None and known.answer in ("not allowed", "with separation"):
            return f"chemistry: the sleeve of a scupper {'below' if role == 'coping' else 'at'} the {role}"
        if known is not None and known.answer == "confirm":
            return OPEN_LETTER
    return ""
