"""PL12: a gap stays open between the plaster and the coping.

Holds the stated gap against its requirement.

Right::

    - role: plaster
      kind: portland cement plaster
      coping_clearance: 1/2 in

Wrong::

    - role: plaster
      kind: portland cement plaster
      coping_clearance: 0 in
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "plaster.coping_clearance",
    name="plaster and coping",
    severity=Severity.RISK,
    remedy="Lower the casing bead, and leave the gap open behind the leg of the coping.",
)
check = Held(RULE.holds)
