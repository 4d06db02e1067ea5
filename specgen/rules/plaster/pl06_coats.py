"""PL06: the plaster over metal lath has enough coats.

Holds the stated number of coats against its requirement.

Right::

    - role: plaster
      kind: portland cement plaster
      coats: 3

Wrong::

    - role: plaster
      kind: portland cement plaster
      coats: 2
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL06",
    name="plaster coats",
    title="The plaster over metal lath has enough coats",
    severity=Severity.RISK,
    applies_to="plaster",
    reason="The full thickness laid in fewer coats sags and cracks.",
    basis=("plaster.coats",),
    remedy="Apply scratch, brown and finish coat.",
    options=(Option("coats", "number", "plaster.coats", "least number of coats over metal lath"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated number of coats, where there is lath."""
    plaster = wall.part("plaster")
    if plaster is None or wall.requirement("plaster.coats") is None:
        yield not_applicable("no plaster over lath is described")
    else:
        yield hold(wall, "plaster.coats", plaster)
