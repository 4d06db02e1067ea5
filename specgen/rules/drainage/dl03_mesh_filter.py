"""DL03: a drainage mesh has a filter fabric toward the plaster.

Looks at the filter fabric of a drainage layer of kind mesh. Mortar pressed through the lath fills an open
mesh.

Right::

    - role: drainage layer
      kind: mesh
      filter_fabric: yes

Wrong::

    - role: drainage layer
      kind: mesh
      filter_fabric: no
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of
from specgen.rules.remedy import Remedy, SetKind

RULE = rule_of(
    "drainage.filter",
    severity=Severity.RISK,
    remedy="Use a mesh with a filter fabric bonded to the face toward the plaster.",
)
REMEDIES: tuple[Remedy, ...] = ((SetKind("drainage layer", "dimpled sheet"),),)
check = Held(RULE.holds, wrong="the drainage mesh has no filter fabric toward the plaster")
