"""BK04: plywood blocking is thick enough to hold fasteners.

Holds the thickness of plywood blocking against its requirement.

Right::

    - role: blocking
      kind: plywood
      thickness: 3/4 in

Wrong::

    - role: blocking
      kind: plywood
      thickness: 3/8 in
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "blocking.thickness",
    name="plywood blocking",
    severity=Severity.RISK,
    remedy="Use thicker plywood, or solid wood.",
)
check = Held(RULE.holds)
