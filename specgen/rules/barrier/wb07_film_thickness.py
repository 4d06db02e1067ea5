"""WB07: the film of a fluid-applied barrier is as thick as its manufacturer states.

Asks for two values: the dry film thickness of the project, and the least that the manufacturer states for this use.
Tests of tightness, adhesion and crack bridging hold for the film they were made on.

Right::

    - role: barrier
      kind: fluid-applied
      thickness: 40 mil
      least_thickness: 40 mil

Wrong::

    - role: barrier
      kind: fluid-applied
      thickness: 20 mil
      least_thickness: 40 mil
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "barrier.film_thickness",
    severity=Severity.RISK,
    remedy="Specify the thickness the manufacturer states, and check the wet film as it is applied.",
    basis=("barrier.film_thickness",),
)
check = Held(
    RULE.holds,
    together="dry film thickness is not fully stated",
    left={"least_thickness": "the film of the assembly whose test reports are accepted"},
)
