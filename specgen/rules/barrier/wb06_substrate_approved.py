"""WB06: the manufacturer of the barrier approves its substrate in writing.

Looks at `substrate_approved`. Without the letter the bond to this substrate is a hope.

Right::

    - role: barrier
      kind: self-adhered
      substrate_approved: yes

Wrong::

    - role: barrier
      kind: self-adhered
      substrate_approved: no
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "barrier.substrate_approved",
    name="substrate of the barrier",
    severity=Severity.QUERY,
    remedy="Ask the manufacturer for the letter, and name the substrate and the primer in it.",
)
check = Held(RULE.holds, wrong="the manufacturer of the barrier has not approved the substrate in writing")
