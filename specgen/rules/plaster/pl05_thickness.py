"""PL05: the plaster is thick enough.

Holds the stated thickness against its requirement.

Right::

    - role: plaster
      kind: portland cement plaster
      thickness: 7/8 in

Wrong::

    - role: plaster
      kind: portland cement plaster
      thickness: 3/8 in
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "plaster.thickness",
    name="plaster thickness",
    severity=Severity.RISK,
    remedy="Specify the thickness of three coats over metal lath.",
)
check = Held(RULE.holds)
