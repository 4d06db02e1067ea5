"""WB13: open parapet tops are covered at the end of each day.

Looks at `temporary_cover`. Between sheathing and coping the wall stands open to the sky.

Right::

    - role: barrier
      kind: self-adhered
      temporary_cover: yes

Wrong::

    - role: barrier
      kind: self-adhered
      temporary_cover: no
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "barrier.temporary_cover",
    severity=Severity.RISK,
    remedy="Plan a cover of each open top for the end of each day, and name who sets it.",
)
check = Held(RULE.holds, wrong="open parapet tops are not covered at the end of the day")
