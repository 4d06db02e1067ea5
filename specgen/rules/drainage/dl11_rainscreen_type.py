"""DL11: the drainage layer is a material made for the gap behind cladding.

Holds the stated type of the drainage material against that of its kind. What is not stated is left to the sections.

Right::

    - role: drainage layer
      kind: mesh
      rainscreen_type: type A

Wrong::

    - role: drainage layer
      kind: mesh
      rainscreen_type: type C
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "drainage.rainscreen_type",
    name="drainage material",
    severity=Severity.RISK,
    remedy="Use a drainage layer that is sold under the type of its kind, or correct the kind.",
)
check = Held(RULE.holds, if_stated=True)
