"""FR03: a stated thickness of sheathing is the one that the sections ask for, or more.

Right::

    - role: sheathing
      kind: glass-mat gypsum
      thickness: 5/8 in

Wrong::

    - role: sheathing
      kind: glass-mat gypsum
      thickness: 1/2 in
"""

from __future__ import annotations

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "sheathing.thickness",
    severity=Severity.RISK,
    basis=("sheathing.gypsum_thickness", "sheathing.wood_thickness"),
    remedy="Use a board of the thickness asked for.",
)
check = Held(RULE.holds, if_stated=True)
