"""CP02: the coping slopes to the roof.

Holds slope and direction against their requirements. Water that stands finds the joints, and runoff to the
outside streaks and wets the plaster.

Right::

    - role: coping
      kind: formed metal
      slope: 1/2 in/ft
      slope_toward: roof

Wrong::

    - role: coping
      kind: formed metal
      slope: 1/8 in/ft
      slope_toward: outer face
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="CP02",
    name="coping slope",
    title="The coping slopes to the roof",
    severity=Severity.RISK,
    applies_to="coping",
    reason="Water that stands on the top finds the joints, and runoff down the plaster wets it.",
    basis=("coping.slope", "coping.slope_toward"),
    remedy="Slope the top of the coping toward the roof.",
    options=(Option("slope", "slope", "coping.slope", "least slope of the top"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Slope and direction."""
    coping = wall.part("coping")
    if coping is None:
        yield not_applicable("no coping is described")
    else:
        yield hold(wall, "coping.slope", coping)
        yield hold(wall, "coping.slope_toward", coping)
