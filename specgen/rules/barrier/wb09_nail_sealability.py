"""WB09: the barrier seals around the lath fasteners.

Looks at the tested sealability around fasteners, where lath is fastened through the barrier.

Right::

    - role: barrier
      kind: self-adhered
      nail_sealability: passes

Wrong::

    - role: barrier
      kind: self-adhered
      nail_sealability: fails
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="WB09",
    name="barrier around fasteners",
    title="The barrier seals around the lath fasteners",
    severity=Severity.RISK,
    applies_to="barrier",
    reason="Each lath fastener is a hole in the barrier.",
    basis=("barrier.nail_sealability",),
    remedy="Use a barrier that passes the test, or seal each fastener with the sealant that the maker names.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated result of the test."""
    barrier = wall.barrier
    if barrier is None or wall.requirement("barrier.nail_sealability") is None:
        yield not_applicable("no lath is fastened through the barrier")
    else:
        wrong = "the barrier failed the test of sealability around fasteners"
        yield hold(wall, "barrier.nail_sealability", barrier, wrong)
