"""RT04: the substrate of the turn-up is approved in writing.

Looks whether the project records that the membrane's maker accepts the substrate on the parapet for this
attachment.

Right::

    - role: roof turn-up
      kind: TPO
      substrate_approved: yes

Wrong::

    - role: roof turn-up
      kind: TPO
      substrate_approved: no
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import absent, hold
from specgen.rules.rule import Rule, RuleResult
from specgen.rules.wall import Wall

RULE = Rule(
    code="RT04",
    name="turn-up substrate",
    title="The maker of the roof membrane accepts the substrate on the parapet",
    severity=Severity.QUERY,
    applies_to="roof turn-up",
    reason="Adhesive that holds on the roof board may not hold on the parapet's sheathing.",
    basis=("turnup.substrate",),
    remedy="Ask the maker of the membrane for a letter on this substrate and this attachment, and record it.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The recorded approval."""
    turn_up = wall.part("roof turn-up")
    if turn_up is None:
        yield absent(wall, "roof turn-up")
    else:
        wrong = "the maker of the roof membrane has not approved the substrate on the parapet"
        yield hold(wall, "turnup.substrate", turn_up, wrong)
