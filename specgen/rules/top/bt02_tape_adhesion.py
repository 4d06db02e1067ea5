"""BT02: the bridging tape is applied where it sticks, and sticks when it is old.

Holds what the project states of the temperature at application, and of the adhesion in peel when the tape is new and
after aging in heat, against the requirements. What is not stated is left to the sections. The limit of the
manufacturer governs where it is stricter.

Right::

    - role: bridging tape
      kind: butyl tape
      application_temperature: 40 degF
      peel_aged: 3 lbf/in

Wrong::

    - role: bridging tape
      kind: butyl tape
      application_temperature: 20 degF
      peel_aged: 1 lbf/in
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "tape.application_temperature",
    "tape.peel",
    "tape.peel_aged",
    name="adhesion of the tape",
    severity=Severity.RISK,
    reason="A tape that was cold when it was pressed on, or whose adhesive has aged, lets go at its edge first.",
    remedy="Wait for warmer days, heat the work, or take a tape whose test report meets the value.",
)
check = Held(RULE.holds, if_stated=True)
