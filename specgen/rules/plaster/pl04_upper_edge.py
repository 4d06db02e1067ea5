"""PL04: the upper edge of the plaster ends in a casing bead.

Looks at how the plaster ends under the coping. Sealed to the coping or turned over the top, it closes the
gap that must drain and breathe.

Right::

    - role: plaster
      kind: portland cement plaster
      top_edge: casing bead

Wrong::

    - role: plaster
      kind: portland cement plaster
      top_edge: sealed to coping
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "plaster.top_edge",
    name="plaster upper edge",
    severity=Severity.RISK,
    remedy="End the plaster in a casing bead under the coping and leave the gap behind it open.",
)
check = Held(RULE.holds)
