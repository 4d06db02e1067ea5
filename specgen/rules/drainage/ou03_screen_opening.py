"""OU03: the insect screen of the weep screed is fine enough.

Holds the size of the openings of the screen against its requirement. That there is a screen at all is OU01.

Right::

    - role: weep screed
      kind: perforated weep screed
      screen_opening: 1/16 in

Wrong::

    - role: weep screed
      kind: perforated weep screed
      screen_opening: 1/4 in
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="OU03",
    name="insect screen of the outlet",
    title="The insect screen of the weep screed is fine enough",
    severity=Severity.RISK,
    applies_to="weep screed",
    reason="Insects pass a coarse screen and close the gap with their nests.",
    basis=("outlet.screen_opening",),
    remedy="Use a finer screen.",
    options=(Option("opening", "length", "outlet.screen_opening", "largest opening of the screen"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated size of the openings."""
    screed = wall.part("weep screed")
    if screed is None or wall.requirement("weep.screen_opening") is None:
        yield not_applicable("no weep screed is described")
    else:
        yield hold(wall, "weep.screen_opening", screed)
