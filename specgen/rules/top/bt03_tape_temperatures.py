"""BT03: the bridging tape sticks where it is laid and holds where it stays.

Holds what the project states of the cold in which a tape is applied and of the heat in which it serves. Under metal in
the sun a tape meets the temperature of the flashing beside it. What is not stated is left to the sections.

Right::

    - role: bridging tape
      kind: butyl tape
      application_temperature: 45 degF
      service_temperature: 240 degF

Wrong::

    - role: bridging tape
      kind: butyl tape
      application_temperature: 20 degF
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "tape.application_temperature",
    "tape.service_temperature",
    name="temperatures of the tape",
    severity=Severity.RISK,
    reason="A tape laid cold never wets its substrate, and one that is too hot lets go under its own lap.",
    remedy="Take a tape that is made for these temperatures, or warm the place until it sticks.",
)
check = Held(RULE.holds, if_stated=True)
