"""PL12: a gap stays open between the plaster and the coping.

Holds the stated gap against its requirement.

Right::

    - role: plaster
      kind: portland cement plaster
      coping_clearance: 1/2 in

Wrong::

    - role: plaster
      kind: portland cement plaster
      coping_clearance: 0 in
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL12",
    name="plaster and coping",
    title="A gap stays open between the plaster and the coping",
    severity=Severity.RISK,
    applies_to="plaster",
    reason="Plaster that touches the coping cracks with its movement and closes the gap.",
    basis=("plaster.coping_clearance",),
    remedy="Lower the casing bead, and leave the gap open behind the leg of the coping.",
    options=(Option("gap", "length", "plaster.coping_clearance", "least gap below the coping"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated gap."""
    plaster = wall.part("plaster")
    if plaster is None or wall.requirement("plaster.coping_clearance") is None:
        yield not_applicable("no plaster ends under a coping")
    else:
        yield hold(wall, "plaster.coping_clearance", plaster)
