"""OU03: the insect screen of the weep screed is fine enough.

Holds the size of the openings of the screen against its requirement. That there is a screen at all is OU01.

Right::

    - role: weep screed
      kind: perforated weep screed
      screen_opening: 1/16 in

Wrong::

    - role: weep screed
      kind: perforated weep screed
      screen_opening: 1/4 in
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "weep.screen_opening",
    name="insect screen of the outlet",
    severity=Severity.RISK,
    remedy="Use a finer screen.",
)
check = Held(RULE.holds)
