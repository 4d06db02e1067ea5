"""WB03: the barrier is covered before its exposure limit.

Compares the exposure the maker allows with the exposure the project plans. Sunlight degrades the barrier
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

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import absent, hold, not_stated
from specgen.rules.remedy import Remedy, SetValue, Stated
from specgen.rules.rule import Rule, RuleResult
from specgen.rules.wall import Wall

RULE = Rule(
    code="WB03",
    name="barrier exposure",
    title="The barrier is covered before its exposure limit",
    severity=Severity.RISK,
    applies_to="barrier",
    reason="Sunlight degrades the barrier while it waits for the cladding.",
    basis=("barrier.exposure",),
    remedy="Choose a barrier that may stay exposed as long as planned, or plan its covering earlier.",
)
REMEDIES: tuple[Remedy, ...] = (
    (SetValue("barrier", "planned_exposure", Stated("barrier", "exposure_limit")),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The allowed exposure against the planned exposure."""
    barrier = wall.barrier
    if barrier is None:
        yield absent(wall, "barrier")
    elif not barrier.has("planned_exposure"):
        yield not_stated("planned exposure of the barrier", barrier, "planned_exposure", barrier.id)
    else:
        yield hold(wall, "barrier.exposure", barrier)
