"""RT01: the roof membrane is bonded to the parapet.

Looks at how the base flashing is attached. Behind a loose or mechanically fastened membrane one breach feeds the
whole wall.

Right::

    - role: roof turn-up
      kind: TPO
      attachment: fully adhered

Wrong::

    - role: roof turn-up
      kind: TPO
      attachment: loose
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "turnup.attachment",
    name="base flashing attachment",
    severity=Severity.DEFECT,
    remedy="Fully adhere the membrane on the parapet, or use a fluid-applied one.",
)
check = Held(RULE.holds, needed=True)
