"""CP06: a continuous cleat holds the outer leg of a metal coping.

Looks for a cleat and at its kind. Wind pulls at the face along its whole length; cleats with gaps leave the
pieces between them loose.

Right::

    - role: cleat
      kind: continuous

Wrong::

    - role: cleat
      kind: intermittent
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.remedy import AddPart, Remedy
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="CP06",
    name="continuous cleat",
    title="A continuous cleat holds the outer leg of a metal coping",
    severity=Severity.RISK,
    applies_to="cleat",
    reason="The cleat carries the wind load of the face over its whole length.",
    basis=("cleat.continuous",),
    remedy="Hold the outer leg with a continuous cleat, one gauge heavier than the coping.",
)
REMEDIES: tuple[Remedy, ...] = ((AddPart("cleat", "continuous", before=("coping",)),),)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Presence and kind of the cleat."""
    coping, cleat = wall.part("coping"), wall.part("cleat")
    if coping is None or not wall.kind(coping).metal:
        yield not_applicable("no metal coping is described")
    elif cleat is None:
        yield fail("no cleat holds the outer leg of the coping", coping.mark, coping.id)
    else:
        yield hold(wall, "cleat.kind", cleat, f"the cleat of the coping is {cleat.kind}")
