"""PL11: plaster does not touch the roof membrane.

Looks at `touches_roofing`: at the base flashing, at a lower roof, and where plaster runs down the roof side.

Right::

    - role: plaster
      kind: portland cement plaster
      touches_roofing: no

Wrong::

    - role: plaster
      kind: portland cement plaster
      touches_roofing: yes
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "plaster.touches_roofing",
    name="plaster and roof membrane",
    severity=Severity.DEFECT,
    remedy="End the plaster above the membrane in a weep screed, and lap the barrier over a flashing between them.",
)
check = Held(
    RULE.holds,
    wrong="plaster touches the roof membrane",
    what="whether the plaster touches the roof membrane",
)
