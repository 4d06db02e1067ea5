"""CP21: a fastener through the top of a metal coping is closed and lets the metal move.

CP11 asks for no fastener on the top. Where a project has them all the same (`exposed_fasteners: yes`), this rule holds
what they are: the fastener, its gasket, its hole, and its spacing. What is not stated is left to the sections.

Right::

    - role: coping
      kind: formed metal
      exposed_fasteners: yes
      top_fastener: stainless steel screw
      top_fastener_gasket: EPDM washer
      top_fastener_hole: slotted
      top_fastener_spacing: 18 in

Wrong::

    - role: coping
      kind: formed metal
      exposed_fasteners: yes
      top_fastener: nail
      top_fastener_gasket: none
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "coping.top_fastener",
    "coping.top_fastener_gasket",
    "coping.top_fastener_hole",
    "coping.top_fastener_spacing",
    name="fasteners through the coping",
    severity=Severity.RISK,
    reason="Each one is a hole in the roof of the parapet, which its washer alone closes while the metal moves below it.",
    remedy="Take stainless steel screws with EPDM or silicone washers in slotted or oversize holes, or none at all.",
)
check = Held(RULE.holds, if_stated=True)
