"""PL13: plaster cures before other work loads it.

Holds the age of the plaster at which coping, sealant and anchors load it against its requirement.

Right::

    - role: plaster
      kind: portland cement plaster
      cure_before_load: 14 days

Wrong::

    - role: plaster
      kind: portland cement plaster
      cure_before_load: 2 days
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL13",
    name="curing before load",
    title="Plaster cures before other work loads it",
    severity=Severity.RISK,
    applies_to="plaster",
    reason="Plaster loaded before it has cured cracks and loses its bond to the lath.",
    basis=("plaster.cure_before_load",),
    remedy="Move the work that loads the plaster to a later day.",
    options=(Option("age", "time", "plaster.cure_before_load", "least age of the plaster"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The planned age."""
    plaster = wall.part("plaster")
    if plaster is None or wall.requirement("plaster.cure_before_load") is None:
        yield not_applicable("no plaster is described")
    else:
        what = "the age of the plaster when other work loads it"
        yield hold(wall, "plaster.cure_before_load", plaster, what=what)
