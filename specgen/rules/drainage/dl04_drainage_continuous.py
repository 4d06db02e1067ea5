"""DL04: the drainage layer runs without a break.

Looks at `continuous`: from the top to the outlet, and around inside and outside corners. Water stops where
the gap stops.

Right::

    - role: drainage layer
      kind: dimpled sheet
      continuous: yes

Wrong::

    - role: drainage layer
      kind: dimpled sheet
      continuous: no
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "drainage.continuous",
    name="drainage layer continuous",
    severity=Severity.DEFECT,
    remedy="Run the drainage layer from the top to the outlet, and around every corner.",
)
check = Held(RULE.holds, wrong="the drainage layer does not run unbroken from the top to the outlet")
