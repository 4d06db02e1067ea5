"""WB09: the barrier seals around the lath fasteners.

Looks at the tested sealability around fasteners, where lath is fastened through the barrier.

Right::

    - role: barrier
      kind: self-adhered
      nail_sealability: passes

Wrong::

    - role: barrier
      kind: self-adhered
      nail_sealability: fails
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "barrier.nail_sealability",
    name="barrier around fasteners",
    severity=Severity.RISK,
    remedy="Use a barrier that passes the test, or seal each fastener with the sealant that the manufacturer names.",
)
check = Held(RULE.holds, wrong="the barrier failed the test of sealability around fasteners")
