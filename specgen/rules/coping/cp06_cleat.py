"""CP06: a continuous cleat holds the exterior face of a metal coping.

Looks for a cleat and at its kind. Wind pulls at the face along its whole length; cleats with gaps leave the
pieces between them loose.

Right::

    - role: cleat
      kind: continuous

Wrong::

    - role: cleat
      kind: intermittent
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of
from specgen.rules.remedy import AddPart, Remedy
from specgen.rules.rule import RuleResult, fail
from specgen.rules.wall import Wall

RULE = rule_of(
    "cleat.kind",
    name="continuous cleat",
    severity=Severity.RISK,
    remedy="Hold the exterior face with a continuous cleat, one gauge heavier than the coping.",
)
REMEDIES: tuple[Remedy, ...] = ((AddPart("cleat", "continuous", before=("coping",)),),)
CLEAT = Held(RULE.holds, what="the cleat of the coping")


def check(wall: Wall) -> Iterator[RuleResult]:
    """Presence and kind of the cleat."""
    coping = wall.part("coping")
    if coping is not None and wall.kind(coping).metal and wall.part("cleat") is None:
        message = "no cleat holds the exterior face of the coping"
        yield fail(message, coping.mark, coping.id, without=("cleat",))
    else:
        yield from CLEAT(wall)
