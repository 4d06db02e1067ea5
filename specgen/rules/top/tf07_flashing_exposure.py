"""TF07: the flashing is covered before its exposure limit.

Compares the exposure the manufacturer allows with the exposure the project plans until the coping covers the flashing.

Right::

    - role: top flashing
      kind: self-adhered butyl
      exposure_limit: 60 days
      planned_exposure: 30 days

Wrong::

    - role: top flashing
      kind: self-adhered butyl
      exposure_limit: 30 days
      planned_exposure: 60 days
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "flashing.exposure",
    severity=Severity.RISK,
    remedy="Choose a flashing that may stay exposed as long as planned, or plan the coping earlier.",
    basis=("flashing.exposure",),
)
check = Held(RULE.holds, left={"planned_exposure": "covered within the time that its manufacturer states"})
