"""RT04: the manufacturer of the roof membrane accepts the substrate on the parapet.

Looks whether the project records that the membrane's manufacturer accepts the substrate on the parapet for this
attachment.

Right::

    - role: roof turn-up
      kind: TPO
      substrate_approved: yes

Wrong::

    - role: roof turn-up
      kind: TPO
      substrate_approved: no
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "turnup.substrate",
    name="base flashing substrate",
    severity=Severity.QUERY,
    remedy="Ask the manufacturer of the membrane for a letter on this substrate and this attachment, and record it.",
)
check = Held(
    RULE.holds,
    wrong="the manufacturer of the roof membrane has not approved the substrate on the parapet",
)
