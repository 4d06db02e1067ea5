"""PL11: plaster does not touch the roof membrane.

Looks at `touches_roofing`: at the turn-up, at a lower roof, and where plaster runs down the roof side.

Right::

    - role: plaster
      kind: portland cement plaster
      touches_roofing: no

Wrong::

    - role: plaster
      kind: portland cement plaster
      touches_roofing: yes
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL11",
    name="plaster and roof membrane",
    title="Plaster does not touch the roof membrane",
    severity=Severity.DEFECT,
    applies_to="plaster",
    reason="Plaster on the roof membrane wicks water and abrades the membrane.",
    basis=("plaster.touches_roofing",),
    remedy="End the plaster above the membrane in a weep screed, and lap the barrier over a flashing between them.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Whether they touch."""
    plaster = wall.part("plaster")
    if plaster is None or wall.requirement("plaster.touches_roofing") is None:
        yield not_applicable("no plaster is described")
    else:
        wrong = "plaster touches the roof membrane"
        what = "whether the plaster touches the roof membrane"
        yield hold(wall, "plaster.touches_roofing", plaster, wrong, what=what)
