"""WB03: the barrier is covered before its exposure limit.

Compares the exposure the manufacturer allows with the exposure the project plans. Sunlight degrades the barrier
while it waits for the plaster.

Right::

    - role: barrier
      kind: fluid-applied
      exposure_limit: 180 days
      planned_exposure: 60 days

Wrong::

    - role: barrier
      kind: fluid-applied
      exposure_limit: 30 days
      planned_exposure: 60 days
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of
from specgen.rules.remedy import Remedy, SetValue, Stated

RULE = rule_of(
    "barrier.exposure",
    name="barrier exposure",
    severity=Severity.RISK,
    remedy="Choose a barrier that may stay exposed as long as planned, or plan its covering earlier.",
    basis=("barrier.exposure",),
)
REMEDIES: tuple[Remedy, ...] = (
    (SetValue("barrier", "planned_exposure", Stated("barrier", "exposure_limit")),),
)
check = Held(RULE.holds, left={"planned_exposure": "covered within the time that its manufacturer states"})
