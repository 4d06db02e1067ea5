"""PL13: plaster cures before other work loads it.

Holds the age of the plaster at which coping, sealant and anchors load it against its requirement.

Right::

    - role: plaster
      kind: portland cement plaster
      cure_before_load: 14 days

Wrong::

    - role: plaster
      kind: portland cement plaster
      cure_before_load: 2 days
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "plaster.cure_before_load",
    name="curing before load",
    severity=Severity.RISK,
    remedy="Move the work that loads the plaster to a later day.",
)
check = Held(RULE.holds, what="the age of the plaster when other work loads it")
