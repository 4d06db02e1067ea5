"""WB06: the maker of the barrier approves its substrate in writing.

Looks at `substrate_approved`. Without the letter the bond to this substrate is a hope.

Right::

    - role: barrier
      kind: self-adhered
      substrate_approved: yes

Wrong::

    - role: barrier
      kind: self-adhered
      substrate_approved: no
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="WB06",
    name="substrate of the barrier",
    title="The maker of the barrier approves its substrate in writing",
    severity=Severity.QUERY,
    applies_to="barrier",
    reason="A barrier that is bonded depends on what it is bonded to.",
    basis=("barrier.substrate_approved",),
    remedy="Ask the maker for the letter, and name the substrate and the primer in it.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Whether the letter is there."""
    barrier = wall.barrier
    if barrier is None or wall.requirement("barrier.substrate_approved") is None:
        yield not_applicable("no bonded barrier is described")
    else:
        wrong = "the maker of the barrier has not approved the substrate in writing"
        yield hold(wall, "barrier.substrate_approved", barrier, wrong)
