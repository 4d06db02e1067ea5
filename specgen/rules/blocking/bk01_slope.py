"""BK01: the membrane under the coping slopes to the roof.

The top flashing lies on the blocking and takes its slope. Holds the slope of the blocking against its requirement.

Right::

    - role: blocking
      kind: preservative-treated wood
      slope: 1/2 in/ft

Wrong::

    - role: blocking
      kind: preservative-treated wood
      slope: 1/16 in/ft
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="BK01",
    name="slope under the membrane",
    title="The blocking slopes to the roof under the membrane",
    severity=Severity.RISK,
    applies_to="blocking",
    reason="A level membrane under the coping holds the water of every leaking joint.",
    basis=("blocking.slope",),
    remedy="Set the blocking, or tapered shims on it, to the slope of the coping.",
    options=(Option("slope", "slope", "blocking.slope", "least slope under the membrane"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The slope of the blocking."""
    blocking = wall.part("blocking")
    if blocking is None:
        yield not_applicable("no blocking is described")
    else:
        yield hold(wall, "blocking.slope", blocking)
