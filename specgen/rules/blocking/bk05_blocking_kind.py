"""BK05: the blocking below the coping is there, and does not rot.

Looks for blocking where a cleat holds a metal coping on a framed parapet; none is a question. A parapet of concrete or
masonry may take the cleat itself. Untreated wood is a risk: the top is where the wall is wet first.

Right::

    - role: blocking
      kind: preservative-treated wood

Wrong::

    - role: blocking
      kind: untreated wood
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.facts import solid_framing

RULE = Rule(
    name="kind of the blocking",
    severity=Severity.RISK,
    applies_to="blocking",
    reason="The cleat holds no better than the wood it is fastened to, and the top is wet first.",
    basis=("blocking.described", "blocking.treated"),
    remedy="Describe blocking of preservative-treated wood or of plywood below the coping.",
)
UNTREATED = "untreated wood"


@each_layer("blocking")
def _kind(wall: Wall, blocking: Component) -> Iterator[RuleResult]:
    say, basis = fail if blocking.kind == UNTREATED else ok, ("blocking.treated",)
    yield say(f"the blocking is {blocking.kind}", blocking.at("kind"), blocking.id, basis=basis)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Whether blocking is described, and its kind."""
    coping = wall.part("coping")
    held = coping is not None and wall.kind(coping).metal and wall.part("cleat") is not None
    if wall.part("blocking") is not None:
        yield from _kind(wall)
    elif not held or solid_framing(wall):
        yield not_applicable("no cleat of a metal coping stands on a framed parapet")
    else:
        message, basis = "the cleat of the coping has no blocking to be fastened to", ("blocking.described",)
        yield fail(message, severity=Severity.QUERY, basis=basis, without=("blocking",))
