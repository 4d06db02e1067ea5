"""DL08: the drainage layer reaches the upper edge of the plaster.

Looks at `reaches_top`. Most water enters at the top; plaster that stands directly on the barrier there wets it.

Right::

    - role: drainage layer
      kind: dimpled sheet
      reaches_top: yes

Wrong::

    - role: drainage layer
      kind: dimpled sheet
      reaches_top: no
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "drainage.reaches_top",
    name="drainage up to the top",
    severity=Severity.DEFECT,
    remedy="Carry the drainage layer up to the casing bead under the coping.",
)
check = Held(RULE.holds, wrong="the drainage layer ends below the upper edge of the plaster")
