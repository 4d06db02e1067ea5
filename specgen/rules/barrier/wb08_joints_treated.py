"""WB08: joints of the substrate are reinforced before a fluid-applied barrier covers them.

Looks at `joints_treated`. A film bridges no crack wider than its test; sheets bridge joints by themselves.

Right::

    - role: barrier
      kind: fluid-applied
      joints_treated: yes

Wrong::

    - role: barrier
      kind: fluid-applied
      joints_treated: no
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="WB08",
    name="joints under the barrier",
    title="Joints of the substrate are reinforced before a fluid-applied barrier covers them",
    severity=Severity.RISK,
    applies_to="barrier",
    reason="A film without reinforcement cracks over a joint that moves.",
    basis=("barrier.joints_treated",),
    remedy="Reinforce each joint and corner with the fabric or sealant that the maker of the barrier names.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Whether the joints are treated."""
    barrier = wall.barrier
    if barrier is None or wall.requirement("barrier.joints_treated") is None:
        yield not_applicable("no fluid-applied barrier is described")
    else:
        wrong = "the joints under the fluid-applied barrier are not reinforced"
        yield hold(wall, "barrier.joints_treated", barrier, wrong)
