"""WB13: open parapet tops are covered at the end of each day.

Looks at `temporary_cover`. Between sheathing and coping the wall stands open to the sky.

Right::

    - role: barrier
      kind: self-adhered
      temporary_cover: yes

Wrong::

    - role: barrier
      kind: self-adhered
      temporary_cover: no
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="WB13",
    name="temporary cover",
    title="Open parapet tops are covered at the end of each day",
    severity=Severity.RISK,
    applies_to="barrier",
    reason="Rain into an open top fills the wall before the coping is set.",
    basis=("barrier.temporary_cover",),
    remedy="Plan a cover of each open top for the end of each day, and name who sets it.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Whether the cover is planned."""
    barrier = wall.barrier
    if barrier is None or wall.requirement("barrier.temporary_cover") is None:
        yield not_applicable("no barrier is described")
    else:
        wrong = "open parapet tops are not covered at the end of the day"
        yield hold(wall, "barrier.temporary_cover", barrier, wrong)
