"""WB11: wood under the barrier is dry when it is covered.

Holds the moisture content at which the wood may be covered against its requirement.

Right::

    - role: barrier
      kind: self-adhered
      substrate_moisture: 15 %

Wrong::

    - role: barrier
      kind: self-adhered
      substrate_moisture: 25 %
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "barrier.substrate_moisture",
    name="moisture of the substrate",
    severity=Severity.RISK,
    remedy="Let the wood dry, measure it, and cover it then.",
)
check = Held(RULE.holds)
