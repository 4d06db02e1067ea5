"""WB16: the wet film of a fluid-applied barrier dries to the film that is asked for.

Holds the wet film that the project states against its requirement: the dry film divided by the solids by volume.
Where neither is stated, the sections leave the wet film to the manufacturer.

Right::

    - role: barrier
      kind: fluid-applied
      thickness: 40 mil
      solids: 50 %
      wet_film: 80 mil

Wrong::

    - role: barrier
      kind: fluid-applied
      thickness: 40 mil
      solids: 50 %
      wet_film: 40 mil
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "barrier.wet_film",
    severity=Severity.RISK,
    remedy="Apply the wet film that dries to the thickness asked for, in more than one coat where it would sag.",
)
check = Held(RULE.holds, if_stated=True)
