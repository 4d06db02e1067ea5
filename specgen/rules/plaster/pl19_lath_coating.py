"""PL19: metal lath is heavy enough, and galvanized heavily enough.

Holds the stated weight and the stated zinc coating against their requirements. What is not stated is left to the
sections.

Right::

    - role: lath
      kind: self-furred expanded metal lath
      coating: G60

Wrong::

    - role: lath
      kind: self-furred expanded metal lath
      coating: G40
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "lath.coating",
    "lath.weight",
    severity=Severity.RISK,
    remedy="Use heavier lath, or lath of a heavier zinc coating.",
)
check = Held(RULE.holds, if_stated=True)
