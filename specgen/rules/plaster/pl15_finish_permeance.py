"""PL15: a finish that is not of cement lets vapor out.

Holds the stated vapor permeance of an acrylic finish or an elastomeric coating against its requirement.

Right::

    - role: plaster
      kind: portland cement plaster
      finish: acrylic finish
      finish_permeance: 20 perm

Wrong::

    - role: plaster
      kind: portland cement plaster
      finish: acrylic finish
      finish_permeance: 3 perm
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "plaster.finish_permeance",
    name="finish lets vapor out",
    severity=Severity.RISK,
    remedy="Use a cement finish, or a finish whose tested permeance is higher.",
)
check = Held(RULE.holds)
