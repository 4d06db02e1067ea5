"""DL10: a drainage mesh keeps its depth after the plaster is pressed on.

Holds the depth that the mock-up shows behind the finished plaster against the drainage depth. Mortar that
passes the fabric takes the depth that the product data state.

Right::

    - role: drainage layer
      kind: mesh
      depth: 3/8 in
      depth_after_plaster: 1/4 in

Wrong::

    - role: drainage layer
      kind: mesh
      depth: 3/8 in
      depth_after_plaster: 1/8 in
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "drainage.depth_after_plaster",
    name="mesh after plastering",
    severity=Severity.RISK,
    remedy="Use a mesh with a tighter fabric or a greater depth, and measure again on the mock-up.",
    basis=("drainage.after_plaster", "drainage.depth"),
)
check = Held(RULE.holds)
