"""TF11: a fastener through the flat top is of a metal that lasts, below a gasket.

TF05 asks for no fastener through the flashing on the flat top. Where there are some all the same
(`fasteners_through: yes`), as where a coping of stone or a curb is fastened down, this rule holds what they are: the
fastener and its gasket. What is not stated is left to the sections.

Right::

    - role: top flashing
      kind: self-adhered butyl
      fasteners_through: yes
      through_fastener: stainless steel screw
      through_fastener_gasket: EPDM washer
      through_fastener_spacing: 18 in

Wrong::

    - role: top flashing
      kind: self-adhered butyl
      fasteners_through: yes
      through_fastener_gasket: none
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "flashing.through_fastener",
    "flashing.through_fastener_gasket",
    "flashing.through_fastener_spacing",
    name="what is fastened through the flat top",
    severity=Severity.RISK,
    remedy="Take stainless steel screws below EPDM or silicone washers.",
)
check = Held(RULE.holds, if_stated=True)
