"""DL04: the drainage layer runs without a break.

Looks at `continuous`: from the top to the outlet, and around inside and outside corners. Water stops where
the gap stops.

Right::

    - role: drainage layer
      kind: dimpled sheet
      continuous: yes

Wrong::

    - role: drainage layer
      kind: dimpled sheet
      continuous: no
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="DL04",
    name="drainage layer continuous",
    title="The drainage layer runs without a break",
    severity=Severity.DEFECT,
    applies_to="drainage layer",
    reason="Water stops where the gap stops, and enters there.",
    basis=("drainage.continuous",),
    remedy="Run the drainage layer from the top to the outlet, and around every corner.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated continuity."""
    layer = wall.part("drainage layer")
    if layer is None:
        yield not_applicable("no drainage layer is described")
    else:
        wrong = "the drainage layer does not run unbroken from the top to the outlet"
        yield hold(wall, "drainage.continuous", layer, wrong)
