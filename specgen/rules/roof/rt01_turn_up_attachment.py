"""RT01: the roof membrane is bonded to the parapet.

Looks at how the turn-up is attached. Behind a loose or mechanically fastened membrane one breach feeds the
whole wall.

Right::

    - role: roof turn-up
      kind: TPO
      attachment: fully adhered

Wrong::

    - role: roof turn-up
      kind: TPO
      attachment: loose
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import absent, hold
from specgen.rules.rule import Option, Rule, RuleResult
from specgen.rules.wall import Wall

RULE = Rule(
    code="RT01",
    name="turn-up attachment",
    title="The roof membrane is bonded to the parapet",
    severity=Severity.DEFECT,
    applies_to="roof turn-up",
    reason="Behind a loose membrane a breach feeds the whole wall.",
    basis=("turnup.attachment",),
    remedy="Fully adhere the membrane on the parapet, or use a fluid-applied one.",
    options=(Option("attachment", "words", "turnup.attachment", "attachments that count as bonded"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated attachment against its requirement."""
    turn_up = wall.part("roof turn-up")
    yield hold(wall, "turnup.attachment", turn_up) if turn_up else absent(wall, "roof turn-up")
