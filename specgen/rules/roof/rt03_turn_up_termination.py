"""RT03: the upper edge of the roof turn-up ends under a lap.

Holds the stated termination against its requirement. A bar that relies on its sealant is a risk; an edge left
exposed is a defect. How far the top flashing laps over the turn-up is looked at by LP01.

Right::

    - role: roof turn-up
      kind: TPO
      termination: under the top flashing

Wrong::

    - role: roof turn-up
      kind: TPO
      termination: exposed edge
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import absent, hold
from specgen.rules.rule import Option, Rule, RuleResult
from specgen.rules.wall import Wall

RULE = Rule(
    code="RT03",
    name="turn-up termination",
    title="The upper edge of the roof turn-up is lapped",
    severity=Severity.RISK,
    applies_to="roof turn-up",
    reason="An edge that rests on a bead of sealant opens long before the membrane is worn out.",
    basis=("turnup.termination",),
    remedy="End the turn-up under the top flashing, or under a counterflashing.",
    options=(Option("termination", "words", "turnup.termination", "terminations that count as lapped"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated termination against its requirement."""
    turn_up = wall.part("roof turn-up")
    if turn_up is None:
        yield absent(wall, "roof turn-up")
    else:
        exposed = turn_up.word("termination") == "exposed edge"
        severity = Severity.DEFECT if exposed else Severity.RISK
        yield hold(wall, "turnup.termination", turn_up, severity=severity)
