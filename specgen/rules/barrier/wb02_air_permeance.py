"""WB02: the barrier material is tight to air.

Holds the stated air permeance against the requirement on the air barrier material. A value measured at
another pressure than the requirement names is not compared.

Right::

    - role: barrier
      kind: fluid-applied
      air_permeance: 0.002 cfm/ft2 @ 75 Pa

Wrong::

    - role: barrier
      kind: fluid-applied
      air_permeance: 0.02 cfm/ft2 @ 75 Pa
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "barrier.air_permeance",
    name="barrier air permeance",
    severity=Severity.DEFECT,
    remedy="Use a barrier whose tested air permeance is within the limit, and state the test report's value.",
)
check = Held(RULE.holds, needed=True)
