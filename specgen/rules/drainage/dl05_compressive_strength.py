"""DL05: the drainage layer holds its depth under lath fasteners.

Holds the stated compressive strength against its requirement, where lath is fastened through the layer. The
floor is a choice of this tool; the fasteners press harder at a point, so look at the mock-up as well.

Right::

    - role: drainage layer
      kind: dimpled sheet
      compressive_strength: 5000 psf

Wrong::

    - role: drainage layer
      kind: dimpled sheet
      compressive_strength: 40 psf
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="DL05",
    name="drainage layer strength",
    title="The drainage layer holds its depth under lath fasteners",
    severity=Severity.RISK,
    applies_to="drainage layer",
    reason="A layer that the lath fasteners crush leaves no gap at each fastener.",
    basis=("drainage.compressive_strength",),
    remedy="Use a drainage layer of higher compressive strength, and state the value of its test report.",
    options=(Option("strength", "pressure", "drainage.compressive_strength", "least compressive strength"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated compressive strength against its requirement."""
    layer = wall.part("drainage layer")
    if layer is None or wall.requirement("drainage.compressive_strength") is None:
        yield not_applicable("no lath is fastened through a drainage layer")
    else:
        yield hold(wall, "drainage.compressive_strength", layer)
