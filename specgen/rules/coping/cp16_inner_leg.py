"""CP16: the interior face of the coping laps the roof turn-up far enough.

Holds the stated lap of the interior face against practice. A lap not stated is no finding here.

Right::

    - role: coping
      kind: formed metal
      inner_leg: 3 in

Wrong::

    - role: coping
      kind: formed metal
      inner_leg: 1 in
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "coping.inner_leg",
    name="coping interior face",
    severity=Severity.RISK,
    remedy="Lengthen the interior face of the coping.",
)
check = Held(RULE.holds, if_stated=True)
