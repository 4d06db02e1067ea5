"""TF09: the flashing is tested for heat, cold, peel, and fasteners, a roof sheet by its own standard.

Holds what the project states of the flashing against the requirements of its kind. What is not stated is left to the
sections.

Right::

    - role: top flashing
      kind: self-adhered butyl
      flexible_at: -20 degF

Wrong::

    - role: top flashing
      kind: self-adhered butyl
      flexible_at: 25 degF
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "flashing.product_standard",
    "flashing.thermal_level",
    "flashing.liquid_thermal_level",
    "flashing.flexible_at",
    "flashing.peel",
    "flashing.nail_sealability",
    "flashing.liquid_nail_sealability",
    name="flashing tested",
    severity=Severity.RISK,
    reason="The membrane under the coping is the roof of the parapet; heat, cold, and fasteners are what opens it.",
    remedy="Use a flashing whose test report meets the value, and name the report.",
)
check = Held(RULE.holds, if_stated=True)
