"""RT15: the base flashing is a sheet of its standard, as thick as single-ply flashing is.

Holds product standard and thickness that the project states. What is not stated is left to the sections.

Right::

    - role: roof turn-up
      kind: EPDM
      product_standard: ASTM D4637
      thickness: 60 mil

Wrong::

    - role: roof turn-up
      kind: EPDM
      thickness: 45 mil
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "turnup.product_standard",
    "turnup.thickness",
    name="sheet of the base flashing",
    severity=Severity.RISK,
    reason="The base flashing stands in the sun and is bent, kicked, and cut more than the field of the roof.",
    remedy="Use a reinforced sheet of that thickness, reported by the standard of its kind.",
)
check = Held(RULE.holds, if_stated=True)
