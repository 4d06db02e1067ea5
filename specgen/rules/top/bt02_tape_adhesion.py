"""BT02: the bridging tape sticks, new and old.

Holds what the project states of the adhesion in peel, when the tape is new and after aging in heat, against the
requirements. What is not stated is left to the sections.

Right::

    - role: bridging tape
      kind: butyl tape
      peel_aged: 3 lbf/in

Wrong::

    - role: bridging tape
      kind: butyl tape
      peel_aged: 1 lbf/in
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "tape.peel",
    "tape.peel_aged",
    name="adhesion of the tape",
    severity=Severity.RISK,
    reason="A tape whose adhesive is weak, or weak once it has aged, lets go at its edge first.",
    remedy="Take a tape whose test report meets the value.",
)
check = Held(RULE.holds, if_stated=True)
