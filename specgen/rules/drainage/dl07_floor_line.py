"""DL07: the drainage gap passes the line where the parapet meets the wall below, or drains out there.

Looks at `floor_line`: the gap runs past into the gap of the wall below, or an outlet drains it there. A gap
that stops at the line empties into the wall.

Right::

    - role: drainage layer
      kind: dimpled sheet
      floor_line: runs past

Wrong::

    - role: drainage layer
      kind: dimpled sheet
      floor_line: stops
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "drainage.floor_line",
    name="drainage at the floor line",
    severity=Severity.DEFECT,
    remedy="Run the drainage layer on into the wall below, or set an outlet at the line.",
)
check = Held(RULE.holds, wrong="the drainage gap stops where the parapet meets the wall below")
