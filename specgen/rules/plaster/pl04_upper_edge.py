"""PL04: the upper edge of the plaster ends in a casing bead.

Looks at how the plaster ends under the coping. Sealed to the coping or turned over the top, it closes the
gap that must drain and breathe.

Right::

    - role: plaster
      kind: portland cement plaster
      top_edge: casing bead

Wrong::

    - role: plaster
      kind: portland cement plaster
      top_edge: sealed to coping
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL04",
    name="plaster upper edge",
    title="The upper edge of the plaster ends in a casing bead",
    severity=Severity.RISK,
    applies_to="plaster",
    reason="The upper edge must not be sealed to what drains.",
    basis=("plaster.top_edge",),
    remedy="End the plaster in a casing bead under the coping and leave the gap behind it open.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated upper edge."""
    plaster = wall.part("plaster")
    if plaster is None or wall.requirement("plaster.top_edge") is None:
        yield not_applicable("no plaster ends under a coping")
    else:
        yield hold(wall, "plaster.top_edge", plaster)
