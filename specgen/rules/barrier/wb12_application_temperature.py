"""WB12: the barrier is not applied in the cold.

Holds the lowest temperature of air and substrate at which the project applies the barrier against its
requirement. The limit of the manufacturer governs where it is higher.

Right::

    - role: barrier
      kind: self-adhered
      application_temperature: 45 degF

Wrong::

    - role: barrier
      kind: self-adhered
      application_temperature: 25 degF
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "barrier.application_temperature",
    severity=Severity.RISK,
    remedy="Wait for warmer days, heat the work, or waive this rule with the data sheet of a barrier made for the cold.",
)
check = Held(RULE.holds)
