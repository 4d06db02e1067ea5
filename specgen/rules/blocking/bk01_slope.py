"""BK01: the blocking slopes to the roof under the membrane.

The top flashing lies on the blocking and takes its slope. Holds the slope of the blocking against its requirement.

Right::

    - role: blocking
      kind: preservative-treated wood
      slope: 1/2 in/ft

Wrong::

    - role: blocking
      kind: preservative-treated wood
      slope: 1/16 in/ft
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "blocking.slope",
    name="slope under the membrane",
    severity=Severity.RISK,
    remedy="Set the blocking, or tapered shims on it, to the slope of the coping.",
)
check = Held(RULE.holds)
