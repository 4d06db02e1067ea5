"""BK06: treated blocking is treated for exterior use.

Holds the use category that the project states. What is not stated is left to the sections.

Right::

    - role: blocking
      kind: preservative-treated wood
      use_category: UC3B

Wrong::

    - role: blocking
      kind: preservative-treated wood
      use_category: UC2
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "blocking.use_category",
    name="use category of the treatment",
    severity=Severity.RISK,
    remedy="Order wood treated for exterior use, with the tag of the treating plant.",
)
check = Held(RULE.holds, if_stated=True)
