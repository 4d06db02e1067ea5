"""WB11: wood under the barrier is dry when it is covered.

Holds the moisture content at which the wood may be covered against its requirement.

Right::

    - role: barrier
      kind: self-adhered
      substrate_moisture: 15 %

Wrong::

    - role: barrier
      kind: self-adhered
      substrate_moisture: 25 %
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="WB11",
    name="moisture of the substrate",
    title="Wood under the barrier is dry when it is covered",
    severity=Severity.RISK,
    applies_to="barrier",
    reason="Water closed in behind the barrier rots the wood and breaks the bond.",
    basis=("field.wood_moisture",),
    remedy="Let the wood dry, measure it, and cover it then.",
    options=(Option("moisture", "ratio", "field.wood_moisture", "highest moisture content of covered wood"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The planned moisture content, where the barrier stands on wood."""
    barrier = wall.barrier
    if barrier is None or wall.requirement("barrier.substrate_moisture") is None:
        yield not_applicable("the barrier does not stand on wood")
    else:
        yield hold(wall, "barrier.substrate_moisture", barrier)
