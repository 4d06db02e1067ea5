"""TF04: the membrane under metal stands the heat.

Under a metal coping the flashing needs a stated service temperature. The usual test of thermal stability is
made far below what dark metal reaches, so the manufacturer's own value is asked for. A self-adhered sheet wants a grade
whose adhesive does not flow; a sheet that is welded, vulcanized or cured stands what metal of this color reaches.

Right::

    - role: top flashing
      kind: self-adhered butyl
      service_temperature: 240 degF

Wrong::

    - role: top flashing
      kind: self-adhered SBS
      service_temperature: 180 degF
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "flashing.service_temperature",
    name="flashing service temperature",
    severity=Severity.RISK,
    remedy="Use a high-temperature grade and state the manufacturer's service temperature.",
)
check = Held(RULE.holds)
