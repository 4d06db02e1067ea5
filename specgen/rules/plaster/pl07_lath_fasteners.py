"""PL07: lath is fastened into the framing, through the drainage gap.

Holds what the fasteners are driven into, their spacing and their embedment against their requirements; where
the calculation of the lath fasteners is finished, its result counts as well. A fastener that crosses a gap
carries the plaster on a lever.

Right::

    - role: lath
      kind: self-furred expanded metal lath
      fasteners_into: framing
      fastener_spacing: 6 in
      fastener_embedment: 1 in

Wrong::

    - role: lath
      kind: self-furred expanded metal lath
      fasteners_into: sheathing only
      fastener_spacing: 12 in
      fastener_embedment: 1/4 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of
from specgen.rules.rule import RuleResult, fail
from specgen.rules.wall import Wall
from specgen.units.compare import computed_at_most

RULE = rule_of(
    "lath.fasteners_into",
    "lath.fastener_spacing",
    "lath.fastener_embedment",
    severity=Severity.DEFECT,
    remedy="Use longer fasteners into the framing, closer together, and have an engineer calculate them.",
)
FASTENERS = Held(RULE.holds, together="lath fasteners are not fully stated")
SUBJECT = "lath fasteners"


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each stated value; what is not stated in one finding; the calculation's result."""
    yield from FASTENERS(wall)
    lath, calculation = wall.part("lath"), wall.calculations.get(SUBJECT)
    use = calculation.result("use") if calculation is not None else None
    if lath is not None and use is not None and not computed_at_most(use.value, 1.0):
        yield fail("the calculated lath fasteners do not hold the plaster", lath.mark, lath.id)
