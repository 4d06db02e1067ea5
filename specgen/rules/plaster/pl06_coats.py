"""PL06: the plaster over metal lath has enough coats.

Holds the stated number of coats against its requirement.

Right::

    - role: plaster
      kind: portland cement plaster
      coats: 3

Wrong::

    - role: plaster
      kind: portland cement plaster
      coats: 2
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "plaster.coats",
    name="plaster coats",
    severity=Severity.RISK,
    remedy="Apply scratch, brown and finish coat.",
)
check = Held(RULE.holds)
