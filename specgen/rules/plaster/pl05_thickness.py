"""PL05: the plaster is thick enough.

Holds the stated thickness against its requirement.

Right::

    - role: plaster
      kind: portland cement plaster
      thickness: 7/8 in

Wrong::

    - role: plaster
      kind: portland cement plaster
      thickness: 3/8 in
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL05",
    name="plaster thickness",
    title="The plaster is thick enough",
    severity=Severity.RISK,
    applies_to="plaster",
    reason="Thin plaster cracks over the lath.",
    basis=("plaster.thickness",),
    remedy="Specify the thickness of three coats over metal lath.",
    options=(Option("thickness", "length", "plaster.thickness", "least thickness over metal lath"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated thickness."""
    plaster = wall.part("plaster")
    if plaster is None or wall.requirement("plaster.thickness") is None:
        yield not_applicable("no plaster is described")
    else:
        yield hold(wall, "plaster.thickness", plaster)
