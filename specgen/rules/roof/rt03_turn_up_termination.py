"""RT03: the upper edge of the roof turn-up is lapped.

Holds the stated termination against its requirement. A bar that relies on its sealant is a risk; an edge left
exposed is a defect. How far the top flashing laps over the base flashing is looked at by LP01.

Right::

    - role: roof turn-up
      kind: TPO
      termination: under the top flashing

Wrong::

    - role: roof turn-up
      kind: TPO
      termination: exposed edge
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "turnup.termination",
    name="base flashing termination",
    severity=Severity.RISK,
    remedy="End the base flashing under the top flashing, or under a counterflashing.",
)
check = Held(RULE.holds, graver="exposed edge")
