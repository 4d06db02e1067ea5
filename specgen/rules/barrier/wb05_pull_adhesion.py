"""WB05: a bonded barrier holds to its substrate.

Holds the stated pull adhesion against its requirement. The field tests of the section repeat it on the wall.

Right::

    - role: barrier
      kind: self-adhered
      pull_adhesion: 40 psi

Wrong::

    - role: barrier
      kind: self-adhered
      pull_adhesion: 10 psi
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="WB05",
    name="barrier adhesion",
    title="A bonded barrier holds to its substrate",
    severity=Severity.DEFECT,
    applies_to="barrier",
    reason="A bonded barrier keeps a leak where it starts; one that lets go spreads it.",
    basis=("barrier.pull_adhesion",),
    remedy="Use a primer or a barrier that reaches the value on this substrate, and state the test result.",
    options=(Option("adhesion", "pressure", "barrier.pull_adhesion", "least pull adhesion"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated pull adhesion."""
    barrier = wall.barrier
    if barrier is None or wall.requirement("barrier.pull_adhesion") is None:
        yield not_applicable("no bonded barrier is described")
    else:
        yield hold(wall, "barrier.pull_adhesion", barrier)
