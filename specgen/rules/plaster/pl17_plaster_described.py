"""PL17: a face that is plaster has its plaster and its lath described.

Looks at both faces. A face stated as stucco without plaster in the build-up on that side, and plaster in front of a
drainage layer or of the barrier without lath, are questions: no rule can look at what is not described. Plaster that is
turned over the top comes down the roof side as well.

Right::

    inner_face: roof membrane

Wrong::

    inner_face: stucco
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    severity=Severity.QUERY,
    applies_to="plaster",
    reason="What is not described is built as someone else decides, and no rule looks at it.",
    basis=("plaster.described",),
    remedy="Describe plaster, lath and drainage layer of each plastered face, or correct the face.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The plaster of each face, then the lath."""
    if not wall.plastered:
        yield not_applicable("no face of the parapet is plaster")
        return
    lacking = list(_lacking(wall))
    yield from lacking
    if not lacking:
        yield ok("the plaster of each face is described")


def _lacking(wall: Wall) -> Iterator[RuleResult]:
    parapet, plasters = wall.parapet, wall.parapet.all_of("plaster")
    order = [part.role for part in parapet.build_up]
    if parapet.word("outer_face") == "stucco" and not plasters:
        message = "the outer face is stucco, and no plaster is described"
        yield fail(message, parapet.at("outer_face"), without=("plaster",))
    core = order.index("framing") if "framing" in order else len(order)
    if parapet.word("inner_face") == "stucco":
        over = any(plaster.word("top_edge") == "turned over the top" for plaster in plasters)
        if "plaster" not in order[core:] and not over:
            message = "the roof-side face is stucco, and no plaster is described on that side"
            yield fail(message, parapet.at("inner_face"), without=("plaster",))
    if plasters and "lath" not in order:
        face = order[:core] if "plaster" in order[:core] else order[core:]
        loose = next((role for role in ("drainage layer", "barrier") if role in face), None)
        if loose is not None:
            message = f"no lath holds the plaster in front of the {loose}"
            yield fail(message, plasters[0].mark, plasters[0].id, without=("lath",))
