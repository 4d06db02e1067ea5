"""WB08: joints of the substrate are reinforced before a fluid-applied barrier covers them.

Looks at `joints_treated`. A film bridges no crack wider than its test; sheets bridge joints by themselves.

Right::

    - role: barrier
      kind: fluid-applied
      joints_treated: yes

Wrong::

    - role: barrier
      kind: fluid-applied
      joints_treated: no
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "barrier.joints_treated",
    name="joints under the barrier",
    severity=Severity.RISK,
    remedy="Reinforce each joint and corner with the fabric or sealant that the manufacturer of the barrier names.",
)
check = Held(RULE.holds, wrong="the joints under the fluid-applied barrier are not reinforced")
