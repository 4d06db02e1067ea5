"""CP02: the coping slopes to the roof.

Holds slope and direction against their requirements. Water that stands finds the joints, and runoff to the
outside streaks and wets the plaster.

Right::

    - role: coping
      kind: formed metal
      slope: 1/2 in/ft
      slope_toward: roof

Wrong::

    - role: coping
      kind: formed metal
      slope: 1/8 in/ft
      slope_toward: outer face
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "coping.slope",
    "coping.slope_toward",
    name="coping slope",
    severity=Severity.RISK,
    remedy="Slope the top of the coping toward the roof.",
    reason="Water that stands on the top finds the joints, and runoff down the plaster wets it.",
)
check = Held(RULE.holds)
