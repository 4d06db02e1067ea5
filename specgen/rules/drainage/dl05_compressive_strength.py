"""DL05: the drainage layer holds its depth under lath fasteners.

Holds the stated compressive strength against its requirement, where lath is fastened through the layer. The
floor is a choice of this tool; the fasteners press harder at a point, so look at the mock-up as well.

Right::

    - role: drainage layer
      kind: dimpled sheet
      compressive_strength: 5000 psf

Wrong::

    - role: drainage layer
      kind: dimpled sheet
      compressive_strength: 40 psf
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "drainage.compressive_strength",
    name="drainage layer strength",
    severity=Severity.RISK,
    remedy="Use a drainage layer of higher compressive strength, and state the value of its test report.",
)
check = Held(RULE.holds)
